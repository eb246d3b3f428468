"""The family of errors. Each has a stable code; only the command line turns them into messages.

KitwrightError
├── BadInput         one or more problems in what the user wrote, each with file, line and column
├── CatalogueMissing no catalogue folder could be found
├── CannotWrite      a file to be written is there already, or its folder cannot be written to
└── TooManyKits      a question for which every kit is looked at, of a shelf that has too many

A broken rule is a value (`foundations.verdicts`), never one of these. "No kit" and "not decided" are answers.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, order=True)
class Problem:
    """One thing wrong in a user's file: where, which key, and a sentence with the way out."""

    file: str
    line: int
    column: int
    key: str
    text: str
    source_line: str = ""


class KitwrightError(Exception):
    """Any error that is told to the user as a sentence, without a traceback."""

    code = "kitwright-error"


class BadInput(KitwrightError):
    """What the user wrote cannot be used; carries every problem found, not just the first."""

    code = "bad-input"

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        super().__init__(f"{len(problems)} problem(s) in the input")
        self.problems = problems


class CatalogueMissing(KitwrightError):
    """There is no catalogue folder at the place named, nor a shipped one."""

    code = "catalogue-missing"


class CannotWrite(KitwrightError):
    """A file that was to be written is there already, or its folder cannot be written to."""

    code = "cannot-write"


class TooManyKits(KitwrightError):
    """A question for which every kit is looked at, asked of a shelf that has too many of them."""

    code = "too-many-kits"
