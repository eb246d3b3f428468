"""Problems of a user's file, on stderr for people or on stdout as JSON for programs."""

from __future__ import annotations

import sys
from collections.abc import Sequence

from configurator.errors import Problem
from configurator.files.problems import render
from configurator.presentation.harmless import harmless
from configurator.presentation.problems_json import problems_json

MOST_CELLS = 2000


def tell_problems(problems: Sequence[Problem], *, as_json: bool, so: str = "nothing was computed") -> None:
    """All problems at once, each with its place and a caret, and what comes of them."""
    if as_json:
        sys.stdout.write(problems_json(problems) + "\n")
        return
    for problem in problems:
        lines = (harmless(line, MOST_CELLS) for line in render(problem))
        sys.stderr.write("\n".join(lines) + "\n")
    count = len(problems)
    sys.stderr.write(f"{count} {'problem' if count == 1 else 'problems'} to mend; {so}.\n")
