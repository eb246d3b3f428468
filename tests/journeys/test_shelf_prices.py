"""`kitwright shelf prices`: a look first; written, exactly the lines of the list change, in all files or in none."""

from __future__ import annotations

import difflib
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from rich.cells import cell_len

from configurator.files import price_list
from tests.files.test_edit_in_place import HAND
from tests.journeys.kitwright import CATALOGUE, CHECKOUT, EXAMPLES, Run, command

FILES = ("caps.yaml", "fuses.yaml", "relays.yaml", "hoses.yaml", "sources.yaml")
MAP = """\
decimal: comma
columns: {id: Part, price: Net, stock: Qty, lead: Days, discontinued: End}
discontinued: [EOL]
"""
HEAD = "Part;Net;Qty;Days;End\n"
LIST = HEAD + "cap-32-0.5;9,99;4;;\nfuse-05;6;;;EOL\nhose-rubber-19;7,20;20;14;\nrelay-20;20;;;\nnobody;1;;;\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    made = tmp_path / "shelf"
    made.mkdir()
    for name in FILES:
        (made / name).write_bytes((CATALOGUE / name).read_bytes())
    return made


def take_in(folder: Path, text: str, *options: str, map_text: str = MAP) -> Run:
    (folder.parent / "list.csv").write_text(text, encoding="utf-8")
    (folder.parent / "map.yaml").write_text(map_text, encoding="utf-8")
    files = (folder.parent / "list.csv", "--map", folder.parent / "map.yaml")
    return command("shelf", "prices", *files, "--catalogue", folder, *options)


def contents(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


def diff(old: bytes, new: bytes) -> list[str]:
    lines = difflib.unified_diff(old.decode().splitlines(), new.decode().splitlines(), n=0, lineterm="")
    return [line for line in lines if line[:2] not in ("--", "++", "@@")]


def test_a_look_tells_everything_and_changes_nothing(folder: Path) -> None:
    before = contents(folder)
    run = take_in(folder, LIST)
    assert run.code == 0 and contents(folder) == before
    words = " ".join(run.out.split())
    for told in ("5 rows: 5 changes of 4 parts", "nobody (line 6)", "nothing is written yet", "+900.0 % !", "--write"):
        assert told in words, told
    assert max(cell_len(line) for line in run.out.splitlines() if not line.startswith("Next: ")) <= 80
    answer = take_in(folder, LIST, "--json").answer
    assert answer["written"] is False and answer["backup"] is None and answer["discontinued"] == ["fuse-05"]
    first = {"part": "cap-32-0.5", "key": "price", "old": 8.5, "new": 9.99, "jumps": False, "line": 2}
    assert answer["changes"][0] == first
    assert answer["not_on_shelf"] == [{"named": "nobody", "line": 6}]
    assert "cap-45-0.5" in answer["not_in_list"] and "cap-32-0.5" not in answer["not_in_list"]


def test_written_exactly_the_told_lines_change(folder: Path) -> None:
    before = contents(folder)
    run = take_in(folder, LIST, "--write", "--json")
    assert run.code == 0 and run.answer["written"]
    after = contents(folder)
    assert diff(before["caps.yaml"], after["caps.yaml"]) == ["-    price: 8.5", "+    price: 9.99", "+    stock: 4"]
    assert diff(before["hoses.yaml"], after["hoses.yaml"]) == ["+    lead: 14"]
    assert diff(before["relays.yaml"], after["relays.yaml"]) == ["-    price: 6.5", "+    price: 20"]
    assert after["sources.yaml"] == before["sources.yaml"]
    changed = {name for name in FILES if after[name] != before[name]}
    assert {Path(run.answer["backup"]).name} == {"backup-1"}
    assert {f"backup-1/{name}": before[name] for name in changed} == {
        name: content for name, content in after.items() if "/" in name
    }
    again = take_in(folder, LIST, "--write", "--json").answer
    assert again["changes"] == [] and again["written"] is False and contents(folder) == after


def test_a_hand_written_file_keeps_its_hand(folder: Path) -> None:
    (folder / "caps.yaml").unlink()
    hand = HAND.replace("  -   price: 7", "  - coolant: {ends: [{name: cap, form: neck, size: 32 mm, sex: female}]}\n"
                        "    opens: 1 bar\n    name: Third\n    price: 7").replace("\n      id", "\n    id")
    hand = hand.replace("\n      stock", "\n    stock").replace("\n      lead", "\n    lead")  # fmt: skip
    (folder / "mine.yaml").write_bytes(b"\xef\xbb\xbf" + hand.replace("\n", "\r\n").encode())
    before = contents(folder)
    run = take_in(folder, HEAD + "cap-a;9,95;1;;\ncap-b;8,5;2;;\ncap-c;7;3;9;\n", "--write")
    assert run.code == 0, run.err
    assert diff(before["mine.yaml"], contents(folder)["mine.yaml"]) == [
        "-    price:   9.50   # since March", "+    price:   9.95   # since March", "+    stock: 1",
        "-  - {id: cap-b, name: Narrow cap, price: 8, opens: 0.9 bar,  # braces",
        "+  - {id: cap-b, name: Narrow cap, price: 8.5, stock: 2, opens: 0.9 bar,  # braces",
        "-    lead: 2 # days", "+    lead: 9 # days",
    ]  # fmt: skip
    new = contents(folder)["mine.yaml"]
    assert new.startswith(b"\xef\xbb\xbf") and new.count(b"\n") == new.count(b"\r\n")


def prices_as_written(folder: Path) -> dict[str, str]:
    """Id and price of every entry, read line by line."""
    found = {}
    for name in FILES[:-1]:
        part = ""
        for line in (folder / name).read_text(encoding="utf-8").splitlines():
            key, _, value = line.strip(" -").partition(": ")
            if key == "id":
                part = value
            elif key == "price":
                found[part] = value
    return found


def test_old_prices_written_back_give_the_same_bytes(folder: Path) -> None:
    before, old = contents(folder), prices_as_written(folder)
    assert len(old) > 30
    new = HEAD + "".join(f"{part};{n + 1},{n:02d};;;\n" for n, part in enumerate(old))
    assert take_in(folder, new, "--write").code == 0
    assert prices_as_written(folder) == {part: f"{n + 1}.{n:02d}" for n, part in enumerate(old)}
    back = HEAD + "".join(f"{part};{price.replace('.', ',')};;;\n" for part, price in old.items())
    assert take_in(folder, back, "--write").code == 0
    assert {name: content for name, content in contents(folder).items() if "/" not in name} == before


@pytest.mark.parametrize("failing", [1, 2, 3, 4])
def test_a_write_that_fails_leaves_every_file_as_it_was(
    folder: Path, monkeypatch: pytest.MonkeyPatch, failing: int
) -> None:
    """Of four files that take their new names one after the other, each in turn cannot."""
    before, replace, calls = contents(folder), Path.replace, [0]

    def fails(self: Path, target: Path) -> Path:
        calls[0] += 1
        if calls[0] == failing:
            raise OSError(28, "No space left on device")
        return replace(self, target)

    monkeypatch.setattr(Path, "replace", fails)
    run = take_in(folder, LIST, "--write")
    assert run.code == 3 and "No space left" in run.err and "every file is as it was" in run.err
    assert contents(folder) == before


def test_one_that_is_stopped_by_hand_is_put_back(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before, replace, calls = contents(folder), Path.replace, [0]

    def stops(self: Path, target: Path) -> Path:
        calls[0] += 1
        if calls[0] == 3:
            raise KeyboardInterrupt
        return replace(self, target)

    monkeypatch.setattr(Path, "replace", stops)
    take_in(folder, LIST, "--write")
    assert contents(folder) == before


def test_a_process_that_is_killed_in_mid_write_loses_nothing(folder: Path) -> None:
    """Killed between two files: each is whole, old or new, the old ones are kept, and the same list ends the work."""
    before = contents(folder)
    take_in(folder, LIST)
    script = """
import os, signal, sys
from pathlib import Path
replace, calls = Path.replace, [0]
def kills(self, target):
    calls[0] += 1
    if calls[0] == 3:
        os.kill(os.getpid(), signal.SIGKILL)
    return replace(self, target)
Path.replace = kills
from configurator.cli.start import run
sys.argv = ["kitwright", "shelf", "prices", *sys.argv[1:], "--write"]
run()
"""
    words = [folder.parent / "list.csv", "--map", folder.parent / "map.yaml", "--catalogue", folder]
    environment = {**os.environ, "PYTHONPATH": str(CHECKOUT)}
    done = subprocess.run([sys.executable, "-c", script, *map(str, words)], env=environment, check=False)
    assert done.returncode == -signal.SIGKILL
    killed = contents(folder)
    whole = {name: {before[name]} for name in FILES}
    assert take_in(folder, LIST, "--write").code == 0
    after = contents(folder)
    for name in FILES:
        whole[name].add(after[name])
        assert killed[name] in whole[name]
    assert sum(killed[name] != before[name] for name in FILES) == 2
    assert all(killed[f"backup-1/{name}"] == before[name] for name in FILES if after[name] != before[name])
    assert b"9.99" in after["caps.yaml"] and b"price: 20\n" in after["relays.yaml"]


def test_a_catalogue_that_would_not_be_valid_is_not_written(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A price that only the catalogue refuses, more than a million."""
    before = contents(folder)
    monkeypatch.setattr(price_list, "MOST_PRICE", price_list.MOST_PRICE * 10)
    run = take_in(folder, HEAD + "cap-32-0.5;9,99;;;\nfuse-05;2000000;;;\n", "--write")
    assert run.code == 3 and f"{folder / 'fuses.yaml'}:" in run.err and contents(folder) == before


def test_bad_lists_and_maps_leave_it_untouched(folder: Path) -> None:
    before = contents(folder)
    for text in (HEAD, HEAD + "cap-32-0.5;=1+1;;;\nfuse-05;7;;;\n", HEAD + "fuse-05;7;;;\nfuse-05;8;;;\n"):
        run = take_in(folder, text, "--write")
        assert run.code == 3 and "list.csv:" in run.err and not run.out
    run = take_in(folder, LIST, "--write", map_text="decimal: comma\n")
    assert run.code == 3 and "map.yaml:" in run.err and contents(folder) == before


def test_writing_names_its_folder(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("KITWRIGHT_CATALOGUE", raising=False)
    run = command("shelf", "prices", "x.csv", "--map", "x.yaml", "--write")
    assert run.code == 2 and "--catalogue DIR" in run.err


def test_hostile_cells_stay_harmless(folder: Path) -> None:
    """In the table, among the unknown, and in an error."""
    odd = "<script>alert(1)</script>\u202e[red]" + "x" * 10_000
    run = take_in(folder, HEAD + f"{odd};5;;;\n")
    assert run.code == 0 and "\u202e" not in run.out
    assert max(cell_len(line) for line in run.out.splitlines() if not line.startswith("Next: ")) <= 80
    run = take_in(folder, HEAD + f"fuse-05;{odd};;;\n")
    assert run.code == 3 and "\u202e" not in run.err and len(run.err) < 5000


def test_two_thousand_rows_take_seconds(folder: Path) -> None:
    """A generous bound: it is a matter of seconds, not of minutes, on any machine."""
    shelf = {f"fuse-no-{n}": n for n in range(2000)}
    entries = [f"  - {{id: {name}, name: Fuse, price: 1, rated: 5 A}}\n" for name in shelf]
    (folder / "many.yaml").write_text("fuses:\n" + "".join(entries), encoding="utf-8")
    text = HEAD + "".join(f"{name};2,{n % 100:02d};{n % 7};;\n" for name, n in shelf.items())
    start = time.process_time()
    run = take_in(folder, text, "--write", "--json")
    assert run.code == 0 and len(run.answer["changes"]) == 4000
    assert time.process_time() - start < 30


def test_a_number_that_the_map_lacks_is_told_apart_from_an_id_that_the_shelf_lacks(folder: Path) -> None:
    numbered = "decimal: comma\ncolumns: {number: Part, price: Net}\nnumbers: {'4711': cap-32-0.5}\n"
    run = take_in(folder, "Part;Net\n4711;9,99\ncap-45-0.5;5\n9999;5\n", map_text=numbered)
    words = " ".join(run.out.split())
    assert "In the list, not under numbers: of the map (2):" in words and "9999 (line 4)" in words
    assert "cap-45-0.5 (line 3, an id of this shelf)" in words
    assert "In the list, not on this shelf" not in words
    assert "In the list, not on this shelf (1): nobody (line 6)" in " ".join(take_in(folder, LIST).out.split())


def test_a_bill_read_back_as_a_price_list_changes_nothing(tmp_path: Path) -> None:
    """Its unit prices are those of the shelf; rows without a part, the sum and cautions are no prices of parts."""
    bill, price_map = tmp_path / "bill.csv", tmp_path / "map.yaml"
    price_map.write_text("decimal: point\ncolumns: {id: part, price: unit_price}\n", encoding="utf-8")
    assert command("suggest", EXAMPLES / "hatch.yaml", "--bill", bill).code == 0
    ran = command("shelf", "prices", bill, "--map", price_map, "--json")
    assert ran.code == 0 and ran.answer["changes"] == []
    shelf = [row["part"] for row in command("shelf", "list", "--json").answer["parts"]]
    bought = set(shelf) - set(ran.answer["not_in_list"])
    assert len(bought) > 10 and "core-260-short" in bought
