"""Files, folders and streams that are not what a command expects: a plain sentence, the right exit code, no traceback.

Processes of their own where it is the process that is ill-treated; root is put under the rights of files first.
"""

from __future__ import annotations

import ctypes
import json
import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tests.journeys.kitwright import CATALOGUE, CHECKOUT, command, example_text, written

MATE = ("mate", "orb:-10:male", "flare37:-10:female:swivel")
NO_SUCH_LETTER = {"PYTHONIOENCODING": "ascii"}
PR_CAPBSET_DROP, CAP_DAC_OVERRIDE, CAP_DAC_READ_SEARCH = 24, 1, 2  # linux/prctl.h, linux/capability.h


@pytest.fixture(scope="module")
def shelf(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("places") / "shelf"
    folder.mkdir()
    for name in ("relays.yaml", "fuses.yaml", "sources.yaml"):
        (folder / name).write_bytes((CATALOGUE / name).read_bytes())
    command("shelf", "list", "--catalogue", folder)  # kept from now on
    return folder


def apart(*words: str | Path, before: Any = None, shell: str = "", **known: str) -> subprocess.CompletedProcess[str]:
    """A process of its own, which a shell may ill-treat by what is written behind the command; never a traceback."""
    line = [sys.executable, "-m", "configurator", *map(str, words)]
    if shell:
        line = ["bash", "-c", f'"$@" {shell}', "bash", *line]
    environment = {**os.environ, "PYTHONPATH": str(CHECKOUT), "NO_COLOR": "1", **known}
    done = subprocess.run(
        line, capture_output=True, text=True, env=environment, timeout=60, preexec_fn=before, check=False
    )
    assert "Traceback" not in done.stderr and "Exception ignored" not in done.stderr, done.stderr
    return done


def bound_by_rights() -> None:
    """Root reads everything by two capabilities, which no program started from here has; others never had them."""
    library = ctypes.CDLL(None)
    for capability in (CAP_DAC_OVERRIDE, CAP_DAC_READ_SEARCH):
        library.prctl(PR_CAPBSET_DROP, capability, 0, 0, 0)


@pytest.mark.parametrize(
    ("name", "said"),
    [("folder", "Is a directory"), ("to-folder", "Is a directory"), ("broken", "No such file"), ("loop", "Too many"),
     ("pipe", "empty"), ("x" * 300, "too long"), ("zeros", "larger than 1 MiB"), ("utf-16", "UTF-8"),
     ("latin-1", "UTF-8"), ("nul", "U+0000")],
)  # fmt: skip
def test_a_brief_that_is_none(tmp_path: Path, shelf: Path, name: str, said: str) -> None:
    (tmp_path / "folder").mkdir()
    os.mkfifo(tmp_path / "pipe")
    for link, target in (("to-folder", "folder"), ("broken", "none"), ("loop", "loop"), ("zeros", "/dev/zero")):
        (tmp_path / link).symlink_to(target)
    (tmp_path / "utf-16").write_text("brief: é\n", encoding="utf-16")
    (tmp_path / "latin-1").write_text("brief: é\n", encoding="latin-1")
    (tmp_path / "nul").write_bytes(b"brief: a\0b\n")
    run = command("suggest", tmp_path / name, "--catalogue", shelf)
    assert run.code == 3 and said in run.err and run.out == ""
    assert run.err.endswith("1 problem to mend; nothing was computed.\n")


@pytest.mark.parametrize(
    ("name", "said"),
    [("empty", "holds no .yaml file"), ("file", "is not a folder"), ("x" * 300, "is not a folder"),
     ("loop", "is not a folder"), ("\x1b[31mred\n\u202e", "?[31mred??")],
)  # fmt: skip
def test_a_catalogue_that_is_none(tmp_path: Path, name: str, said: str) -> None:
    (tmp_path / "empty").mkdir()
    (tmp_path / "file").write_text("", encoding="utf-8")
    (tmp_path / "loop").symlink_to("loop")
    run = command("shelf", "list", "--catalogue", tmp_path / name)
    assert run.code == 3 and said in run.err and run.err.count("\n") == 1 and run.out == ""


def test_what_nobody_may_read_or_write(tmp_path: Path, shelf: Path) -> None:
    """One process each: a brief, a file of the catalogue, a folder to write into, a cache."""
    secret, folder = tmp_path / "secret.yaml", tmp_path / "folder"
    secret.write_text(example_text("hatch"), encoding="utf-8")
    folder.mkdir()
    (folder / "relays.yaml").write_bytes((shelf / "relays.yaml").read_bytes())
    (folder / "mine.yaml").write_text("fuses: []\n", encoding="utf-8")
    secret.chmod(0)
    (folder / "mine.yaml").chmod(0)
    folder.chmod(0o555)
    locked = {"before": bound_by_rights, "XDG_CACHE_HOME": str(folder)}
    for words, code, said in (
        (("suggest", secret, "--catalogue", shelf), 3, f"{secret}:1:1: cannot be read: Permission denied"),
        (("shelf", "list", "--catalogue", folder), 3, "mine.yaml:1:1: cannot be read: Permission denied"),
        (("suggest", "--new", folder / "new.yaml"), 3, "cannot be written: Permission denied"),
        (("shelf", "list", "--catalogue", shelf), 0, ""),
    ):
        done = apart(*words, **locked)
        assert done.returncode == code and said in done.stderr, (words, done.stderr)
    assert sorted(path.name for path in folder.iterdir()) == ["mine.yaml", "relays.yaml"]


@pytest.mark.parametrize(
    ("shell", "code", "said"),
    [
        ("--json >/dev/full", 3, "kitwright: stopped: No space left on device\n"),
        (">/dev/full 2>/dev/full", 3, ""),
        (">&-", 0, ""),
        ("--catalogue none 2>&-", 3, ""),
        ("<&- >&- 2>&-", 0, ""),
        ("| true; exit ${PIPESTATUS[0]}", 0, ""),
    ],
)
def test_streams_that_are_full_closed_or_no_longer_read(shelf: Path, shell: str, code: int, said: str) -> None:
    done = apart("shelf", "list", "--catalogue", shelf, shell=shell)
    assert (done.returncode, done.stderr, done.stdout) == (code, said, "")


def test_letters_that_the_terminal_lacks_are_escaped() -> None:
    plain, poor = (apart(*MATE, PYTHONIOENCODING=letters) for letters in ("utf-8", "ascii"))
    assert plain.returncode == poor.returncode == 1
    assert "37°" in plain.stdout and "37\\u00b0" in poor.stdout and poor.stdout.isascii()
    assert json.loads(apart(*MATE, "--json", **NO_SUCH_LETTER).stdout)["why"].count("37°") == 2


def test_names_steer_no_screen(tmp_path: Path) -> None:
    """Escapes of YAML bring in what may not stand in the file itself."""
    name = '"<script>\\e[31m [/red] ]]> \\u202e\\u2066\\u200f %s \\0"'
    text = example_text("hatch").replace("brief: Hill-climb hatch", f"brief: {name}")
    (tmp_path / "b.yaml").write_text(text, encoding="utf-8")
    run = command("suggest", tmp_path / "b.yaml", "--fits-only")
    assert run.code == 0 and run.out.startswith("<script>?[31m [/red] ]]> ??? %s ?")
    assert not {"\u202e", "\u2066", "\u200f", "\x1b", "\0"} & set(run.out)


@pytest.mark.parametrize(
    "words",
    [("--time-limit", "0"), ("--time-limit", "-1"), ("--time-limit", "nan"), ("--top", "0"), ("--top", "-5"),
     ("--top", "1001"), ("--kit", "0"), ("--order", "x"), ("--nothing",)],
)  # fmt: skip
def test_figures_of_the_command_line_out_of_range(words: tuple[str, ...]) -> None:
    run = command("suggest", "none.yaml", *words)
    assert run.code == 2 and run.out == ""


@pytest.mark.parametrize("option", ["--trace", "--bill", "--draw", "--chart"])
def test_a_file_that_is_there_stays(tmp_path: Path, option: str) -> None:
    """Told before anything is computed; the course of a kit was written over whatever stood there."""
    mine = tmp_path / "mine"
    mine.write_text("mine", encoding="utf-8")
    run = command("suggest", "none.yaml", option, mine)
    assert run.code == 3 and "is there already" in run.err and mine.read_text(encoding="utf-8") == "mine"


def test_two_price_lists_written_at_once(tmp_path: Path, shelf: Path) -> None:
    """On one shelf and one cache: each list is written whole, or says that it was not."""
    folder = tmp_path / "shelf"
    folder.mkdir()
    for path in shelf.glob("*.yaml"):
        (folder / path.name).write_bytes(path.read_bytes())
    (tmp_path / "map.yaml").write_text("decimal: point\ncolumns: {id: Part, price: Net}\n", encoding="utf-8")
    lists = {"one": {"fuse-05": "41.5", "relay-40": "42"}, "two": {"fuse-10": "43.5", "relay-20": "44"}}
    running = {}
    for name, prices in lists.items():
        rows = "".join(f"{part},{price}\n" for part, price in prices.items())
        (tmp_path / f"{name}.csv").write_text(f"Part,Net\n{rows}", encoding="utf-8")
        words = ("prices", tmp_path / f"{name}.csv", "--map", tmp_path / "map.yaml", "--write", "--catalogue", folder)
        environment = {**os.environ, "PYTHONPATH": str(CHECKOUT), "XDG_CACHE_HOME": str(tmp_path / "cache")}
        line = [sys.executable, "-m", "configurator", "shelf", *map(str, words)]
        pipes = {"stdout": subprocess.DEVNULL, "stderr": subprocess.PIPE}
        running[name] = subprocess.Popen(line, **pipes, text=True, env=environment)
    codes = {}
    for name, process in running.items():
        _, told = process.communicate(timeout=60)
        codes[name] = process.returncode
        assert codes[name] == 0 or (codes[name] == 3 and "changed while it was being read" in told), told
    after = {name: (folder / name).read_text(encoding="utf-8") for name in ("relays.yaml", "fuses.yaml")}
    assert 0 in codes.values()
    for name, prices in lists.items():
        for price in prices.values():
            assert (f"price: {price}\n" in "".join(after.values())) == (codes[name] == 0), (name, price, codes)


@pytest.mark.parametrize(
    "words",
    [
        ("suggest", "car.yaml", "--draw", "car.yaml"),
        ("suggest", "car.yaml", "--draw", "one.svg", "--chart", "./one.svg"),
        ("sheet", "car.yaml", "-o", "car.yaml"),
        ("sheet", "car.yaml", "-o", "one.html", "--mail", "one.html"),
        ("ask", "--answers", "box.yaml", "-o", "box.yaml"),
        ("check", "box.yaml", "--brief", "car.yaml", "--commission", "box.yaml"),
    ],
)
def test_no_output_goes_over_what_is_read_or_over_another_output(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...]
) -> None:
    """With `--force` too: the brief, and the first of two outputs of one name, once were lost without a word."""
    monkeypatch.chdir(tmp_path)
    texts = {"car.yaml": example_text("hatch"), "box.yaml": written({"kit": "k", "parts": ["core-260-short"]})}
    for name, text in texts.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    ran = command(*words, "--force")
    assert ran.code == 3 and "nothing was written" in ran.err
    assert {path.name: path.read_text(encoding="utf-8") for path in tmp_path.iterdir()} == texts


@pytest.mark.parametrize(
    "words",
    [
        ("suggest", "car.yaml", "--bill", "shelf/relays.yaml"),
        ("suggest", "car.yaml", "--bill", "linked/relays.yaml"),
        ("suggest", "car.yaml", "--draw", "shelf/../shelf/fuses.yaml"),
        ("suggest", "car.yaml", "--trace", "linked.csv"),
        ("suggest", "car.yaml", "--chart", "shelf/new.yaml"),
        ("sheet", "car.yaml", "-o", "shelf/relays.yaml"),
        ("sheet", "car.yaml", "-o", "one.html", "--mail", "linked/new.YML"),
        ("shelf", "show", "fuse-05", "--draw", "shelf/relays.yaml"),
        ("check", "box.yaml", "--brief", "car.yaml", "--commission", "shelf/relays.yaml"),
        ("ask", "--answers", "box.yaml", "-o", "shelf/relays.yaml"),
    ],
)
def test_no_output_goes_over_a_file_of_the_catalogue_or_becomes_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, shelf: Path, words: tuple[str, ...]
) -> None:
    """With `--force` too, through a link or another spelling: the shelf could not be read any more."""
    monkeypatch.chdir(tmp_path)
    shutil.copytree(shelf, "shelf")
    Path("linked").symlink_to("shelf")
    Path("linked.csv").symlink_to("shelf/relays.yaml")
    for name, text in {"car.yaml": example_text("hatch"), "box.yaml": written({"kit": "k", "parts": []})}.items():
        Path(name).write_text(text, encoding="utf-8")
    ran = command(*words, "--force", "--catalogue", "shelf")
    assert ran.code == 3 and "nothing was written: choose another name" in ran.err
    assert {path.name: path.read_bytes() for path in Path("shelf").iterdir()} == {
        path.name: path.read_bytes() for path in shelf.iterdir()
    }


@pytest.mark.parametrize("words", [("suggest", "--new"), ("shelf", "add", "relay", "--new")])
def test_no_file_to_fill_in_goes_into_the_catalogue(tmp_path: Path, shelf: Path, words: tuple[str, ...]) -> None:
    """The next start would read it as one of its files."""
    mine = Path(shutil.copytree(shelf, tmp_path / "shelf"))
    ran = command(*words, mine / "new.yaml", "--catalogue", mine)
    assert ran.code == 3 and "would be read as a file of the catalogue" in ran.err
    assert not (mine / "new.yaml").exists()


def test_the_shipped_catalogue_stays_where_another_is_used(tmp_path: Path, shelf: Path) -> None:
    """A folder that lacks tables has them from there."""
    before = (CATALOGUE / "layouts.yaml").read_bytes()
    ran = command("sheet", "none.yaml", "-o", CATALOGUE / "layouts.yaml", "--force", "--catalogue", shelf)
    assert ran.code == 3 and "is what this command reads" in ran.err
    assert (CATALOGUE / "layouts.yaml").read_bytes() == before


@pytest.mark.parametrize("name", ["pumps.yml", "pumps.YAML"])
def test_a_file_that_is_nearly_named_as_one_of_a_catalogue_is_not_passed_over(
    tmp_path: Path, shelf: Path, name: str
) -> None:
    """Its parts were missing on the shelf without a word."""
    mine = tmp_path / "shelf"
    mine.mkdir()
    for file in shelf.iterdir():
        (mine / file.name).write_bytes(file.read_bytes())
    (mine / name).write_text("pumps: []", encoding="utf-8")
    run = command("shelf", "check", "--catalogue", mine)
    assert run.code == 3 and f"{name}:1:1" in run.err + run.out and "ends in .yaml" in run.err + run.out
