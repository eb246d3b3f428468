"""The guide's part from a supplier's sheet, followed to the letter on a small shelf: it says what the guide shows."""

from __future__ import annotations

import re
import shlex
import shutil
from pathlib import Path

import pytest

from tests.house.checkout import GUIDE, ROOT
from tests.journeys.kitwright import Run, command, shipped_part, small_shelf, written

CHAPTER = (GUIDE / "catalogue.md").read_text(encoding="utf-8").split("## One part, step by step", 1)[1]
CARRIED = {"exchangers": "exchanger-380-slim", "pumps": "pump-40-small", "reservoirs": "reservoir-8-cube"}


def blocks() -> list[tuple[str, str]]:
    """Every fenced block of the chapter: its language and what it holds."""
    return re.findall(r"^```(\w+)\n(.*?)^```$", CHAPTER, re.MULTILINE | re.DOTALL)


def small_copy(folder: Path) -> None:
    """A small shelf in place of the copy of the whole: one core as it is written, else what the car needs."""
    folder.mkdir()
    cores = (ROOT / "catalogue" / "cores.yaml").read_text(encoding="utf-8")
    entry = next(text for text in cores.split("  - id: ") if text.startswith("core-260-short\n"))
    (folder / "cores.yaml").write_text(f"cores:\n  - id: {entry}", encoding="utf-8")
    shutil.copy(ROOT / "catalogue" / "sources.yaml", folder)
    rest = small_shelf(**{section: [shipped_part(part)] for section, part in CARRIED.items()})
    (folder / "rest.yaml").write_text(written(rest), encoding="utf-8")


def changed(text: str, diff: str) -> str:
    """A file after a step: its last line of that wording is another, or lines come behind it."""
    old, new = ("".join(line[1:] for line in diff.splitlines(True) if line[0] == mark) for mark in "-+")
    before, found, after = text.rpartition(old) if old else (text, "", "")
    assert not old or found, diff
    return before + new + after


def shown_by(run: Run, said: str) -> bool:
    """Whether all that the guide shows of an answer is in it, in that order."""
    at = 0
    for piece in said.split("...\n"):
        at = run.out.find(piece.rstrip("\n"), at)
        if at < 0:
            return False
    return True


@pytest.fixture(scope="module")
def answers(tmp_path_factory: pytest.TempPathFactory) -> list[tuple[str, str, Run]]:
    """Each command of the chapter that answers, what the guide shows of that, and what it says."""
    here = tmp_path_factory.mktemp("counter")
    followed: list[tuple[str, str, Run]] = []
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(here)
        patch.setenv("COLUMNS", "80")
        for language, text in blocks():
            if language == "diff":
                cores = here / "my-shelf" / "cores.yaml"
                cores.write_text(changed(cores.read_text(encoding="utf-8"), text), encoding="utf-8")
            elif language == "yaml" and text.startswith("id:"):
                (here / "my-core.yaml").write_text(text, encoding="utf-8")
            elif language == "yaml":
                with (here / "my-car.yaml").open("a", encoding="utf-8") as car:
                    car.write(text)
            elif language == "console":
                for step in re.split(r"^\$ ", text, flags=re.MULTILINE)[1:]:
                    line, _, said = step.partition("\n")
                    words = shlex.split(line)
                    if words[:3] == ["cp", "-r", "catalogue"]:
                        small_copy(here / words[3])
                    elif words[0] == "cp":
                        shutil.copy(ROOT / words[1], here / words[2])
                    else:
                        assert words[0] == "kitwright", line
                        followed.append((line, said, command(*words[1:])))
    return followed


def test_every_step_says_what_the_guide_shows(answers: list[tuple[str, str, Run]]) -> None:
    for line, said, run in answers:
        assert said.strip() and shown_by(run, said), f"{line}\n{run.out[:3000]}{run.err}"
        assert run.code == (1 if "shelf check" in line else 0), line


def test_the_chapter_uses_each_command_that_it_promises(answers: list[tuple[str, str, Run]]) -> None:
    used = " / ".join(line for line, _, _ in answers)
    for words in ("shelf add core", "shelf show", "shelf check", "mate", "suggest"):
        assert f"kitwright {words} " in used, words


def test_one_part_of_a_loop_is_no_parts(answers: list[tuple[str, str, Run]]) -> None:
    told = next(run.out for line, _, run in answers if "shelf show" in line)
    assert "by hose alone: 1 part of a" in " ".join(told.split()) and "1 parts" not in " ".join(told.split())


def test_a_figure_that_the_tool_did_not_say_is_noticed(answers: list[tuple[str, str, Run]]) -> None:
    line, said, run = answers[-1]
    assert "suggest" in line and not shown_by(run, said.replace("469.27", "469.28"))
