"""The command starts light: help loads nothing that only computing needs."""

from __future__ import annotations

import re
import subprocess
import sys

import pytest

from tests.house.checkout import ROOT, kitwright

HEAVY = ("numpy", "scipy", "jinja2", "yaml", "rich.table", "constraint")
LOADED = """
import sys
from configurator.cli.start import run
sys.argv = ["kitwright", *sys.argv[1:]]
try:
    run()
except SystemExit:
    pass
print("loaded:", *[name for name in {heavy!r} if name in sys.modules])
"""


def loaded_by(*arguments: str, heavy: tuple[str, ...] = HEAVY) -> list[str]:
    """Which of the heavy libraries are in memory after a command."""
    script = LOADED.format(heavy=heavy)
    command = [sys.executable, "-c", script, *arguments]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, encoding="utf-8", check=True)
    return done.stdout.splitlines()[-1].removeprefix("loaded:").split()


COMMANDS = ("suggest", "ask", "mate", "check", "why", "sheet", "shelf")
SHELF_COMMANDS = ("list", "show", "check", "prices", "gaps", "add")


def test_these_are_the_commands() -> None:
    for arguments, names in (((), COMMANDS), (("shelf",), SHELF_COMMANDS)):
        below = kitwright(*arguments, "--help").stdout.split("Commands:\n", 1)[1]
        assert set(re.findall(r"^  ([a-z]+)", below, re.MULTILINE)) == set(names)


@pytest.mark.parametrize(
    "arguments",
    [("--help",), *((name, "--help") for name in COMMANDS), *(("shelf", name, "-h") for name in SHELF_COMMANDS)],
    ids=" ".join,
)
def test_help_loads_nothing_heavy(arguments: tuple[str, ...]) -> None:
    assert loaded_by(*arguments, heavy=(*HEAVY, "pydantic", "rich", "multiprocessing")) == []


def test_the_version_loads_nothing_heavy() -> None:
    assert loaded_by("--version") == []


def test_help_is_the_same_on_the_usual_way() -> None:
    """Words before `--help` lead away from the short cut: the group above reads the options first."""
    for names, option in ((("ask",), "--force"), (("shelf", "list"), "--json")):
        short, usual = kitwright(*names, "--help"), kitwright(*names, option, "--help")
        assert short.stdout.startswith(f"Usage: kitwright {' '.join(names)} ")
        assert short.stdout == usual.stdout
    assert kitwright("nonsense", "--help").returncode == 2
    assert kitwright("suggest", "--nonsense", "--help").returncode == 2


WATCHED = """
import io, sys
from configurator.cli.start import run
class Terminal(io.StringIO):
    def isatty(self): return True
    def write(self, text):
        print(repr(text.strip()), *[name for name in ("typer", "numpy") if name in sys.modules], flush=True)
sys.stderr = Terminal()
sys.argv = ["kitwright", *sys.argv[1:]]
try:
    run()
except SystemExit:
    pass
"""


def watched(*words: str) -> list[str]:
    """What is written to a person's error stream, each with the libraries that were loaded by then."""
    command = [sys.executable, "-c", WATCHED, *words]
    return subprocess.run(command, cwd=ROOT, capture_output=True, encoding="utf-8", check=True).stdout.splitlines()


@pytest.mark.parametrize("words", ["suggest", "check", "why", "sheet -o x"])
def test_a_person_is_told_that_it_starts_before_anything_is_loaded(words: str) -> None:
    """Once more before the whole tool is; and the line is gone before the next is written."""
    told = watched(*words.split(), "no-such-brief.yaml")
    assert told[:3] == ["'starting'", "'' typer", "'starting' typer"] and told[3] in ("'' typer numpy", "'' typer")
    assert "'starting'" not in " ".join(told[4:]) and "no-such-brief.yaml" in told[4]


def test_that_it_starts_is_gone_before_a_wrong_option_is_told() -> None:
    told = watched("suggest", "--nonsense")
    assert told[:2] == ["'starting'", "'' typer"] and "starting" not in " ".join(told[2:])
    assert "Usage" in " ".join(told[2:])


INTERRUPTED = """
import sys
from configurator.cli.start import run
class CtrlC:
    def find_spec(self, name, *_):
        if name == "typer":
            raise KeyboardInterrupt
sys.meta_path.insert(0, CtrlC())
run()
"""


def test_ctrl_c_while_it_starts_ends_it_without_a_traceback() -> None:
    done = subprocess.run([sys.executable, "-c", INTERRUPTED], cwd=ROOT, capture_output=True, check=False)
    assert (done.returncode, done.stdout, done.stderr) == (130, b"", b"")


def test_what_answers_at_once_does_not_say_that_it_starts() -> None:
    for words in ("--help", "suggest --help", "suggest -h", "--version", "sugest", "mate orb:-10"):
        assert "starting" not in " ".join(watched(*words.split())), words


SEARCHING = ("search", "ranking", "fitting", "reasons")
COMPUTING = (*SEARCHING, "joining", "physics", "prediction")
DOES_WITHOUT = {
    "mate orb:-10:male flare37:-10:female:swivel": (*SEARCHING, "prediction", "constraint", "rich"),
    "shelf list pump": ("search", "ranking", "fitting", "reasons", "physics", "prediction", "numpy", "constraint"),
    "shelf add pump": (*COMPUTING, "numpy", "constraint"),
    "shelf show pump-50-medium": (*SEARCHING, "constraint"),
    "shelf check": (*SEARCHING, "constraint"),
    "ask --force": (*SEARCHING, "joining", "constraint"),
}
"""Commands, and the rooms and libraries that what they do does not need."""


def in_full(names: tuple[str, ...]) -> tuple[str, ...]:
    """Rooms by the names under which they are imported."""
    return tuple(f"configurator.{name}" if (ROOT / "configurator" / name).is_dir() else name for name in names)


@pytest.mark.parametrize("command", DOES_WITHOUT)
def test_a_command_loads_nothing_that_it_does_without(command: str) -> None:
    """Whoever looks at a shelf of thousands of parts, or at two ends, waits for that alone."""
    assert loaded_by(*command.split(), heavy=in_full(DOES_WITHOUT[command])) == []


def test_computing_does_load_it() -> None:
    """The case that shows the tests above can fail: a brief that is not there is looked for by the whole tool."""
    names = in_full((*COMPUTING, "numpy", "yaml", "constraint"))
    assert loaded_by("suggest", "no-such-brief.yaml", heavy=names) == list(names)


def test_help_helps() -> None:
    for arguments in (("--help",), ("-h",), ()):
        done = kitwright(*arguments)
        told = done.stdout if arguments else done.stderr
        assert "Usage: kitwright" in told and "Suggest complete kits" in told
    told = kitwright("suggest", "--help").stdout
    assert "kitwright suggest --new my-car.yaml" in told and "--json" in told


def test_a_wrong_command_line_is_told_and_ends_with_2() -> None:
    done = kitwright("sugest")
    assert done.returncode == 2 and "suggest" in done.stderr
    done = kitwright("suggest")
    assert done.returncode == 2 and "--new" in done.stderr
    done = kitwright("suggest", "examples/hatch.yaml", "--order", "colour")
    assert done.returncode == 2 and "margin" in done.stderr
