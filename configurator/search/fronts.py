"""Which of a loop's two exchangers stands in the other one's air: by their zones, or by the room in one zone."""

from __future__ import annotations

from collections.abc import Sequence

from configurator.brief.bay import Bay
from configurator.fitting.room import room_of
from configurator.fitting.turns import postures
from configurator.parts.kinds import Exchanger, Part
from configurator.prediction.zone_air import shadows

IN_ONE_ZONE = (0.0, 1.0)
"""One behind the other in one zone: the first in the flow of the coolant stands in front, as placing puts it."""


def fronts_in_line(bay: Bay | None, exchanger: Part | None, zones: Sequence[str]) -> tuple[float, ...]:
    """Of each of a loop's exchangers the share of its face in the air of the other one; `zones`: where they sit.

    Two in one zone that cannot stand side by side there stand one behind the other, over all of the face; where they
    can, they are taken to.
    """
    in_one = len(zones) == 2 and zones[0] == zones[1]
    if bay is None or not isinstance(exchanger, Exchanger) or not in_one or zones[0] not in bay.zones:
        return shadows(bay, zones)
    size = room_of(bay, zones[0]).room.size
    fitting = [p.size for p in postures(exchanger) if all(a <= b for a, b in zip(p.size, size, strict=True))]
    beside = any(2 * min((turned[k] for turned in fitting), default=0) <= size[k] for k in (1, 2))
    return (0.0, 0.0) if beside else IN_ONE_ZONE
