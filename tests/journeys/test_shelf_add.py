"""`kitwright shelf add`: a part more in its section, the rest of the folder byte for byte, or nothing at all."""

from __future__ import annotations

import io
import shutil
import sys
from pathlib import Path

import pytest
import yaml

from tests.files.test_edit_in_place import HAND
from tests.journeys.kitwright import CATALOGUE, Run, command

RELAY = "# For big fans.\nid: relay-60   # by the piece\nname: Plug relay, 60 A\nprice: 12.5\nrated: 60 A\nvolts: 12\n"

STANDS = (CATALOGUE / "relays.yaml").read_text(encoding="utf-8").splitlines().index("  - id: relay-40") + 1
"""The line of a part that is on the shelf."""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    made = tmp_path / "shelf"
    made.mkdir()
    for name in ("relays.yaml", "fuses.yaml", "sources.yaml"):
        (made / name).write_bytes((CATALOGUE / name).read_bytes())
    return made


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir()) if path.is_file()}


def add(folder: Path, kind: str, text: str) -> Run:
    (folder.parent / "part.yaml").write_text(text, encoding="utf-8")
    return command("shelf", "add", kind, "--from", folder.parent / "part.yaml", "--catalogue", folder)


def test_it_stands_behind_the_others_with_its_comments(folder: Path) -> None:
    before = contents(folder)
    run = add(folder, "relay", RELAY)
    assert run.code == 0 and "added relay-60 at" in run.out and "shelf show relay-60" in run.out
    after = contents(folder)
    put = b"  # For big fans.\n  - id: relay-60   # by the piece\n    name: Plug relay, 60 A\n    price: 12.5\n"
    assert after["relays.yaml"] == before["relays.yaml"] + put + b"    rated: 60 A\n    volts: 12\n"
    assert {**after, "relays.yaml": b""} == {**before, "relays.yaml": b""}
    assert (folder / "backup-1" / "relays.yaml").read_bytes() == before["relays.yaml"]
    line = next(n for n, text in enumerate(after["relays.yaml"].splitlines(), 1) if b"relay-60" in text)
    assert f"relays.yaml:{line}" in run.out
    assert command("shelf", "show", "relay-60", "--catalogue", folder).code == 0


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_a_file_headed_by_the_section_with_one_entry_is_that_entry(folder: Path, newline: str) -> None:
    """As a file of candidates has it; `shelf add` said nine missing keys of it."""
    before = contents(folder)["relays.yaml"]
    entry = "".join(f"    {line}\n" for line in RELAY.splitlines()[1:]).replace("    id:", "  - id:")
    text = f"relays:\n  # For big fans.\n{entry}".replace("\n", newline)
    (folder.parent / "part.yaml").write_bytes(text.encode())
    run = command("shelf", "add", "relay", "--from", folder.parent / "part.yaml", "--catalogue", folder)
    assert run.code == 0 and "added relay-60 at" in run.out
    put = b"  # For big fans.\n  - id: relay-60   # by the piece\n    name: Plug relay, 60 A\n    price: 12.5\n"
    assert (folder / "relays.yaml").read_bytes() == before + put + b"    rated: 60 A\n    volts: 12\n"


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_in_the_middle_of_a_hand_written_file(folder: Path, newline: str) -> None:
    """Another section follows, with comments and empty lines between them, and the dash stands far in."""
    one = "relays:\n     - {id: r-1, name: One,\n        price: 5, rated: 20 A, volts: 12}  # small\n"
    hand = f"{one}\n# Fuses now.\n\nfuses: []\n"
    (folder / "relays.yaml").write_bytes(hand.replace("\n", newline).encode())
    assert add(folder, "relays", RELAY).code == 0
    text = (folder / "relays.yaml").read_bytes().decode()
    head, _, tail = hand.replace("\n", newline).partition(f"# small{newline}")
    assert text.startswith(f"{head}# small{newline}     # For big fans.{newline}     - id: relay-60")
    assert text.endswith(f"volts: 12{newline}{tail}") and text.count("\n") == text.count(newline)


def test_a_kind_that_the_folder_lacks_gets_a_file(folder: Path) -> None:
    ends = "coolant: {ends: [{name: cap, form: neck, size: 32 mm, sex: female}]}\n"
    cap = f"id: cap-x\nname: Cap\nprice: 8\nopens: 0.9 bar\n{ends}"
    assert add(folder, "cap", cap).code == 0
    assert (folder / "caps.yaml").read_text(encoding="utf-8").startswith("caps:\n  - id: cap-x\n    name: Cap\n")
    assert not (folder / "backup-1").exists()


@pytest.mark.parametrize(
    ("text", "place", "said"),
    [
        (RELAY.replace("relay-60 ", "relay-40 "), "part.yaml:2:5", f"relays.yaml:{STANDS} by hand"),
        (RELAY.replace("60 A\nvolts", "60\nvolts"), "part.yaml:5:", "unit"),
        (RELAY.replace("price: 12.5\n", ""), "part.yaml:", "price"),
        (RELAY.replace("12.5", "12.505"), "part.yaml:4:8", "12.505 is not a price: two decimals at most"),
        ("relays:\n  - id: relay-60\n    name: N\n    price: 5\n    rated: 60\n", "part.yaml:5:12", "unit"),
        ("relays: [{id: a, name: b, price: 1, rated: 5 A, volts: 12}]", "part.yaml:1:1", "one relay is expected here"),
        ("relays:\n  - id: a\n  - id: b\n", "part.yaml:1:1", "or 'relays:' with it alone"),
        ("fuses:\n  - id: a\n", "part.yaml:1:1", "or 'relays:' with it alone"),
        ("relays: 5\n", "part.yaml:1:1", "one relay is expected here"),
        (RELAY + "source: nobody-knows\n", "part.yaml:7:9: source: ", "nobody-knows"),
        (RELAY.replace("rated: 60 A", "rated: {value: 60 A, source: nobody-knows}"), "part.yaml:5:30: ", "source"),
        (RELAY.replace("price: 12.5", "price: 12,5\nprce: 1"), "part.yaml:5:1", "prce"),
        ("- " + RELAY.replace("\n", "\n  ").strip(), "part.yaml:", ""),
        ("", "part.yaml:1:1", "empty"),
        ("---\n" + RELAY, "relays.yaml:", "unusual"),
    ],
)
def test_what_is_wrong_is_told_with_its_place_and_nothing_is_written(
    folder: Path, text: str, place: str, said: str
) -> None:
    before = contents(folder)
    run = add(folder, "relay", text)
    assert run.code == 3 and place in run.err and said in run.err and contents(folder) == before
    assert not (folder / "backup-1").exists()


WYE = """id: wye-x
name: Wye
price: 10
shape: wye
medium: coolant
loss_factor: 0.6
through:
  ends:
    - {name: stem, form: spigot, size: 25 mm, barb: true}
    - {name: left, form: spigot, size: 19 mm, barb: true}
    - {name: right, form: spigot, size: 19 mm, barb: true}
"""


@pytest.mark.parametrize("size", ["3/4", "51", "51 furlong", "1,5 mm", "1/0 mm", "1e9 mm", "51 L", "1 m", None])
def test_a_branch_of_a_wye_whose_size_is_no_length_is_told_as_any_end(folder: Path, size: str | None) -> None:
    """That it is not like the other branch, with which no such size can be compared, is not said as well."""
    told = "name: right, form: spigot" + ("" if size is None else f", size: {size}")
    run = add(folder, "wye", WYE.replace("name: right, form: spigot, size: 19 mm", told))
    place = f"part.yaml:11:{7 if size is None else 41}: through.ends[2].size: "
    assert run.code == 3 and place in run.err and "1 problem to mend" in run.err


def test_a_branch_of_a_wye_whose_bore_is_no_length_is_told_once(folder: Path) -> None:
    run = add(folder, "wye", WYE.replace("right, form", "right, bore: 15 bar, form"))
    assert run.code == 3 and "part.yaml:11:27: through.ends[2].bore" in run.err and "1 problem to mend" in run.err


def test_a_source_that_is_not_listed_is_told_with_all_else_in_the_file_that_was_written(folder: Path) -> None:
    """A part of a kind that the folder lacks, too."""
    timer = "id: timer-x\nname: Timer\nprice: 8\nmass: 2 bar\nruns: 5 min\nvolts: 12\nsource: inventxed\n"
    run = add(folder, "timer", timer)
    assert run.code == 3 and "2 problems to mend" in run.err and str(folder) not in run.err
    assert "part.yaml:4:7: mass: " in run.err and "part.yaml:7:9: source: " in run.err
    assert "did you mean 'invented'?" in run.err


def test_without_a_list_of_sources_any_is_believed(folder: Path) -> None:
    (folder / "sources.yaml").unlink()
    text = (folder / "relays.yaml").read_text(encoding="utf-8")
    assert add(folder, "relay", RELAY + "source: my-own\n").code == 0
    assert len((folder / "relays.yaml").read_text(encoding="utf-8")) > len(text)


def test_a_section_in_brackets_is_refused(folder: Path) -> None:
    text = "relays: [{id: a, name: b, price: 1, rated: 5 A, volts: 12}]\n"
    (folder / "relays.yaml").write_text(text, encoding="utf-8")
    before = contents(folder)
    run = add(folder, "relay", RELAY)
    assert run.code == 3 and "no list whose entries begin" in run.err and contents(folder) == before


def test_a_file_to_fill_in_is_a_part_of_the_shelf_as_it_is_written(tmp_path: Path) -> None:
    shelf = tmp_path / "shelf"
    shelf.mkdir()
    hand = HAND.split("  -   price: 7")[0]
    (shelf / "caps.yaml").write_text(hand, encoding="utf-8")
    new = tmp_path / "new.yaml"
    words = ("shelf", "add", "cap", "--new", new, "--catalogue", shelf)
    assert command(*words, "--like", "cap-a").code == 0
    lines = hand[hand.index("id: cap-a") :].splitlines()[:6]
    assert new.read_text(encoding="utf-8").splitlines() == [lines[0], *(line[4:] for line in lines[1:])]
    assert command(*words).code == 3, "a file that is there is not replaced"
    new.write_text(new.read_text(encoding="utf-8").replace("cap-a", "cap-z"), encoding="utf-8")
    assert command("shelf", "add", "cap", "--from", new, "--catalogue", shelf).code == 0
    assert "id: cap-z      # the good one" in (shelf / "caps.yaml").read_text(encoding="utf-8")


@pytest.mark.parametrize("said", ["an exchanger", "an adapter", "a pump"])
def test_a_file_to_fill_in_is_named_by_its_kind(said: str, tmp_path: Path) -> None:
    kind = said.split()[1]
    run = command("shelf", "add", kind, "--new", tmp_path / "new.yaml")
    assert run.code == 0 and f", {said} as the shelf has one" in " ".join(run.err.split())
    run = command("shelf", "add", kind, "--new", tmp_path / "other.yaml", "--like", "nothing")
    assert run.code == 2 and f"is not {said} of this shelf" in " ".join(run.err.split())


def test_by_questions(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An empty answer where one is needed, and one that is no YAML, are asked again."""
    answers = ["", "relay-60", "[", "Plug relay", "12.5", "", "4", "", "", "", "60 A", "12"]
    monkeypatch.setattr(sys, "stdin", io.StringIO("\n".join(answers) + "\n"))
    run = command("shelf", "add", "relay", "--catalogue", folder)
    assert run.code == 0, run.err + run.out
    put = "  - id: relay-60\n    name: Plug relay\n    price: 12.5\n    stock: 4\n    rated: 60 A\n    volts: 12\n"
    assert (folder / "relays.yaml").read_text(encoding="utf-8").endswith(put)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("relai",), "did you mean 'relay'"),
        (("relay", "--from", "x", "--new", "y"), "leave one of them out"),
        (("relay", "--like", "relay-4"), "did you mean 'relay-40'"),
    ],
)
def test_a_wrong_command_line(folder: Path, words: tuple[str, ...], said: str) -> None:
    run = command("shelf", "add", *words, "--catalogue", folder)
    assert run.code == 2 and said in run.err


def by_questions(folder: Path, monkeypatch: pytest.MonkeyPatch, kind: str, answers: list[str]) -> Run:
    """The drafts of what is typed lie beside the shelf."""
    monkeypatch.chdir(folder.parent)
    monkeypatch.setattr(sys, "stdin", io.StringIO("".join(f"{answer}\n" for answer in answers)))
    return command("shelf", "add", kind, "--catalogue", folder)


def test_each_answer_is_checked_when_it_is_given(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Also whether the id is free; what was said before a step back is kept by Enter."""
    wrong = ["back", "relay-40", "Relay 60", "relay-60", "?", "Relay", "12,5", "back", "", "12.5", "", "4", "", "", ""]
    run = by_questions(folder, monkeypatch, "relay", [*wrong, "60", "60 A", "12 V", "12"])
    assert run.code == 0, run.err + run.out
    for words in (
        "! this is the first question",
        "! id 'relay-40' is a part of the catalogue already",
        "! 'Relay 60' cannot be an id",
        "  Written like name: ",
        "name, Enter keeps Relay\n",
        "! '60' has no unit",
        "! a bare number is expected here",
    ):
        assert words in run.out, words
    put = "  - id: relay-60\n    name: Relay\n    price: 12.5\n    stock: 4\n    rated: 60 A\n    volts: 12\n"
    assert (folder / "relays.yaml").read_text(encoding="utf-8").endswith(put)
    assert [*folder.parent.glob("*.yaml")] == []


def test_what_only_the_shelf_shows_is_told_by_the_question_and_asked_again(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A source that the catalogue does not explain is left out the second time."""
    answers = ["relay-60", "Relay", "12.5", "", "4", "", "", "nobody-knows", "60 A", "12", "-", "", ""]
    run = by_questions(folder, monkeypatch, "relay", answers)
    assert run.code == 0, run.err + run.out
    assert "! source: " in run.out and "answers:" not in run.out + run.err
    assert "nobody-knows" not in (folder / "relays.yaml").read_text(encoding="utf-8")


def test_what_was_typed_is_kept_where_it_stops(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = contents(folder)
    run = by_questions(folder, monkeypatch, "relay", ["relay-60", "Relay", "12.5", "stop"])
    assert run.code == 4 and contents(folder) == before
    assert f"kitwright shelf add relay --from relay.draft.yaml --catalogue {folder}" in run.err
    draft = folder.parent / "relay.draft.yaml"
    assert draft.read_text(encoding="utf-8") == "id: relay-60\nname: Relay\nprice: 12.5\n"
    run = by_questions(folder, monkeypatch, "relay", ["relay-70"])
    assert "kept in relay-2.draft.yaml" in run.err and "relay-60" in draft.read_text(encoding="utf-8")
    draft.write_text(draft.read_text(encoding="utf-8") + "rated: 60 A\nvolts: 12\n", encoding="utf-8")
    assert command("shelf", "add", "relay", "--from", "relay.draft.yaml", "--catalogue", folder).code == 0


def test_what_was_typed_in_the_folder_of_the_catalogue_is_no_file_of_it(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As `.draft.yaml` it kept the shelf from being read."""
    monkeypatch.chdir(folder)
    monkeypatch.setattr(sys, "stdin", io.StringIO("relay-60\nRelay\nstop\n"))
    run = command("shelf", "add", "relay", "--catalogue", ".")
    assert run.code == 4 and "shelf add relay --from relay.draft --catalogue ." in run.err
    assert (folder / "relay.draft").is_file() and command("shelf", "list", "--catalogue", ".").code == 0


def test_what_hangs_together_is_told_once_all_is_given(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ice asks for a vented tank: neither is refused at its own question, and both can be mended from there."""
    part = yaml.safe_load((CATALOGUE / "reservoirs.yaml").read_text(encoding="utf-8"))["reservoirs"][0]
    wanted = {**part, "id": "tank-x", "source": "", "vented": "false", "ice": "true"}
    keys = ("id", "name", "price", "mass", "stock", "lead", "note", "source", "size", "turns", "mounts", "coolant")
    answers = [_flow(wanted.get(key, "")) for key in (*keys, "air_space", "vented", "ice", "screen")]
    run = by_questions(folder, monkeypatch, "reservoir", [*answers, "back", "true", "", ""])
    assert run.code == 0, run.err + run.out
    assert run.out.count("! ") == 1 and "! ice: a tank that takes ice is vented" in run.out
    assert "vented: true\n    ice: true\n" in (folder / "reservoirs.yaml").read_text(encoding="utf-8")


def test_its_lines_are_as_wide_as_the_terminal(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Questions, explanations and refusals of a pump's long keys; commands to type and places stand whole."""
    folder = tmp_path / "shelf"
    shutil.copytree(CATALOGUE, folder)
    part = yaml.safe_load((CATALOGUE / "pumps.yaml").read_text(encoding="utf-8"))["pumps"][0]
    answers = ["pump-x", part["name"], "108", "", "", "", "", "", "?", "[{a: 1}]", _flow(part["size"]), "?", "", "?"]
    run = by_questions(folder, monkeypatch, "pump", [*answers, "", "?", "{working: 12, ends: 5, bore: 3 lots}", "stop"])
    lines = [line.removeprefix("> ") for line in run.out.splitlines()]
    assert run.code == 4 and max(map(len, lines)) <= 80, [line for line in lines if len(line) > 80]
    assert sum(line.startswith("! ") for line in lines) >= 2 and any(line.startswith("  Its keys: ") for line in lines)
    typed = [line for line in run.err.splitlines() if not line.startswith("  kitwright ")]
    assert max(map(len, typed)) <= 80
    wrote = command("shelf", "add", "pump", "--new", tmp_path / "new.yaml", "--catalogue", folder)
    assert wrote.code == 0 and wrote.err.splitlines()[-1].startswith("  kitwright shelf add pump --from ")


def _flow(value: object) -> str:
    """A value on one line, as it is typed."""
    if isinstance(value, str):
        return value
    return str(yaml.safe_dump(value, default_flow_style=True, width=9999)).split("\n")[0]


def test_at_the_end_of_input_it_says_that_nothing_was_written(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(folder.parent)
    before = contents(folder)
    monkeypatch.setattr(sys, "stdin", io.StringIO("relay-60\n"))
    run = command("shelf", "add", "relay", "--catalogue", folder)
    assert run.code == 4 and contents(folder) == before
    assert "nothing was written" in run.err and "Aborted" not in run.err
    assert f"kitwright shelf add relay --new part.yaml --catalogue {folder}" in run.err


def test_the_shipped_shelf_is_not_added_to_unasked(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("KITWRIGHT_CATALOGUE", raising=False)
    assert command("shelf", "add", "relay", "--from", "x.yaml").code == 2
