"""The command starts light: help loads nothing that only computing needs."""

from __future__ import annotations

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


@pytest.mark.parametrize(
    "arguments", [("--help",), ("suggest", "--help"), ("mate", "--help"), ("ask", "--help"), ("--version",)]
)
def test_help_loads_nothing_heavy(arguments: tuple[str, ...]) -> None:
    assert loaded_by(*arguments) == []


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
