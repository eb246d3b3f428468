"""Which briefs a shelf cannot serve and what would serve them, in the terminal."""

from __future__ import annotations

from pathlib import Path

from configurator.presentation.harmless import hanging, harmless
from configurator.presentation.lines import WIDTH
from configurator.presentation.shelf_list_text import aligned
from configurator.questions.shelf_gaps import Gaps


def shelf_gaps_text(gaps: Gaps, next_command: str) -> str:
    """The whole screen."""
    blocks = ["\n".join(hanging(_sentence(gaps), WIDTH))]
    if gaps.unserved:
        lines = [f"Without a kit ({len(gaps.unserved)} of {len(gaps.briefs)}):"]
        for brief in gaps.unserved:
            lines += hanging(f"{harmless(brief.file)}: {harmless(brief.name)}", WIDTH, "  ", "    ")
        blocks.append("\n".join(lines))
    if gaps.unserved and gaps.candidates:
        rows = [("candidate", "price", "serves", "which")]
        for one in gaps.candidates:
            which = ", ".join(harmless(Path(file).name, 60) for file in one.serves) or "-"
            rows.append((one.part.id, f"{one.part.price:,.2f}", str(len(one.serves)), which))
        blocks.append("\n".join(aligned(rows, right=(1, 2))))
    return "\n\n".join([*blocks, f"Next: {next_command}"]) + "\n"


def _sentence(gaps: Gaps) -> str:
    count, missing = len(gaps.briefs), len(gaps.unserved)
    if not missing:
        return f"This shelf has a kit for {'the brief' if count == 1 else f'each of the {count} briefs'}."
    said = f"This shelf has no kit for {missing} of {count} {'brief' if count == 1 else 'briefs'}."
    best = gaps.best
    if best is None:
        return f"{said} No candidate helps: with none of the {len(gaps.candidates)} alone would any of them have a kit."
    name = f"{harmless(best.part.name)} [{best.part.id}], {best.part.price:,.2f}"
    alike = sum(len(one.serves) == len(best.serves) for one in gaps.candidates) - 1
    more = f" {alike} {'other serves' if alike == 1 else 'others serve'} as many, none for less." if alike else ""
    return f"{said} {name}, would serve {len(best.serves)} of them, the most that one candidate does.{more}"
