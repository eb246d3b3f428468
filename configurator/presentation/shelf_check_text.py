"""What is wrong with a shelf, in the terminal: code by code, each with the place to mend it at."""

from __future__ import annotations

from collections.abc import Sequence

from configurator.errors import Problem
from configurator.presentation.harmless import hanging, harmless
from configurator.presentation.lines import WIDTH
from configurator.questions.shelf_check import CODES, Finding

Placed = Sequence[tuple[Finding, Problem]]


def shelf_check_text(found: Placed, what: str, next_command: str) -> str:
    """The whole screen; `what` was looked at. Places stand whole in lines of their own: an editor can follow them."""
    counts = {code: sum(finding.code == code for finding, _ in found) for code in CODES}
    said = ", ".join(f"{count} × {code}" for code, count in counts.items() if count)
    head = f"{harmless(what)}, loaded without a problem; {said or 'nothing else found: all well'}."
    blocks = ["\n".join(hanging(head, WIDTH))]
    for code, count in counts.items():
        if count:
            lines = hanging(f"{CODES[code]}:", WIDTH)
            for finding, problem in found:
                if finding.code == code:
                    lines += placed(problem)
            blocks.append("\n".join(lines))
    return "\n\n".join([*blocks, f"Next: {next_command}"]) + "\n"


def placed(problem: Problem) -> list[str]:
    """A place, then what is to be said of it."""
    where = f"  {harmless(problem.file)}:{problem.line}:{problem.column}: {harmless(problem.key)}"
    return [where, *hanging(harmless(problem.text, 600), WIDTH, "      ", "      ")]
