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
from configurator.cli.main import run
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
from configurator.cli.main import run
class Terminal(io.StringIO):
    def isatty(self): return True
    def write(self, text):
        print(repr(text.strip()), "numpy" in sys.modules, flush=True)
sys.stderr = Terminal()
sys.argv = ["kitwright", *sys.argv[1:]]
try:
    run()
except SystemExit:
    pass
"""


def test_a_person_is_told_that_it_starts_before_anything_heavy_is_loaded() -> None:
    """And the line is gone before the next is written."""
    for name in ("suggest", "sheet"):
        command = [sys.executable, "-c", WATCHED, name, "no-such-brief.yaml", *(("-o", "x") if name == "sheet" else ())]
        done = subprocess.run(command, cwd=ROOT, capture_output=True, encoding="utf-8", check=True)
        assert done.stdout.splitlines()[:2] == ["'starting' False", "'' True"], name


def test_a_list_of_the_shelf_loads_no_search() -> None:
    """Whoever looks at a shelf of thousands of parts waits for the parts alone."""
    heavy = ("numpy", "constraint", "configurator.questions.answer", "configurator.search.job")
    assert loaded_by("shelf", "list", "pump", heavy=heavy) == []
    assert loaded_by("suggest", "no-such-brief.yaml", heavy=heavy) == list(heavy)


def test_computing_does_load_it() -> None:
    """The case that shows the test above can fail: a brief that is not there is looked for by the whole tool."""
    assert {"numpy", "yaml"} <= set(loaded_by("suggest", "no-such-brief.yaml"))


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
