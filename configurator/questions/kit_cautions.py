"""Cautions that belong to one kit: its weakest members, its high points, its look-alikes."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from configurator.foundations.verdicts import Caution
from configurator.parts.kinds import Part
from configurator.questions.answer import Pressure
from configurator.questions.look_alikes import look_alikes_of_pieces
from configurator.questions.whole_bill import Made
from configurator.reasons.cautions import TIGHT, UNPROVEN, look_alike, reservoir_below, thin_margin, vacuum_fill

LEAST_MARGIN = 1.25
"""Rating over design pressure from which nothing is said. Common practice, no source."""


def kit_cautions(
    made: Made,
    sides: Sequence[tuple[str, Pressure]],
    part_of: Callable[[str], Part],
    *,
    proven: bool,
    tight: bool = False,
) -> tuple[Caution, ...]:
    """Everything that must be said beside this kit and not beside every other."""
    said = [UNPROVEN] if not proven else []
    if tight:
        said.append(TIGHT)
    for side, pressure in sides:
        lowest = pressure.lowest
        if lowest is None or lowest.margin is None or lowest.margin >= LEAST_MARGIN:
            continue
        said.append(thin_margin(side, part_of(lowest.part or "").name, lowest.place or "", lowest.margin))
    for piece, place, mating in look_alikes_of_pieces(made, part_of):
        said.append(look_alike(piece.name, place, mating.why, mating.hazard))
    if portless := [bleed.slot for bleed in made.bleeds if bleed.port is None]:
        said.append(vacuum_fill(portless))
    if above := [bleed.slot for bleed in made.bleeds if bleed.above_reservoir]:
        said.append(reservoir_below(above))
    return tuple(said)
