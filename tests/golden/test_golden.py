"""Every kept screen is what the command says today, word for word. How to renew them: README.md beside this."""

from __future__ import annotations

import json
import re

import pytest

from tests.golden.screens import EXAMPLE, FOLDER, KEPT, README, SCREENS, first_of_no_kit, made, quoted, shown
from tests.house.checkout import ROOT


@pytest.mark.parametrize("name", KEPT)
def test_the_screen_is_as_kept(name: str) -> None:
    """A screen that differs is saved beside the kept one, with `.new` in its name, for a look at both."""
    new = FOLDER / name.replace(".", ".new.")
    new.unlink(missing_ok=True)
    screen = made(name)
    if screen != (FOLDER / name).read_text(encoding="utf-8"):
        new.write_text(screen, encoding="utf-8")
        pytest.fail(f"{name} is another; see {new.relative_to(ROOT)}. If it is right: python tests/golden/renew.py")


def test_readme_and_guide_show_what_the_command_prints() -> None:
    assert quoted(EXAMPLE, "screen") == shown(made("hatch.txt"))
    no = quoted(README, "no-kit")
    assert no == first_of_no_kit(made("no-kit.txt")) and "Ways out" in no and "Closest" not in no


def test_exit_codes() -> None:
    codes = {name: int(made(name).rsplit("[exit code ", 1)[1].removesuffix("]\n")) for name in SCREENS}
    assert codes == {
        "hatch.txt": 0,
        "no-kit.txt": 1,
        "bad-brief.txt": 3,
        "bad-brief.json": 3,
        "check.txt": 0,
        "commissioning.txt": 0,
        "why.txt": 1,
        "no-such-file.txt": 3,
    }


@pytest.mark.parametrize("name", ["hatch.txt", "no-kit.txt", "check.txt", "commissioning.txt", "why.txt"])
def test_an_answer_fits_80_columns_and_has_no_escapes(name: str) -> None:
    screen = made(name)
    assert max(len(line) for line in screen.splitlines()) <= 80
    assert "\x1b" not in screen and "Traceback" not in screen


def test_the_hatch_is_offered_five_choices_and_no_nearest() -> None:
    screen = made("hatch.txt")
    assert screen.startswith("Kit 1, ") and "\nCautions, of every kit above where none is named:\n" in screen
    assert len(re.findall("\n {40,}[+] exchanger-", screen)) >= 5
    assert "Closest" not in screen


def test_without_a_kit_the_nearest_are_shown() -> None:
    screen = made("no-kit.txt")
    assert screen.startswith("No kit on this shelf") and "Closest, but each misses" in screen


def test_all_mistakes_of_a_file_at_once_for_people_and_for_programs() -> None:
    """Six mistakes were put into the brief: no unit, decimal comma, wrong unit, unknown name, zero, unknown key."""
    assert made("bad-brief.txt").count("\n  ") == 12
    document = json.loads(shown(made("bad-brief.json")))
    assert document["outcome"] == "bad_input" and len(document["problems"]) == 6
    assert {problem["line"] for problem in document["problems"]} == {2, 3, 4, 8}
