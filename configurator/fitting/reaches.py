"""What a part needs besides its own box: room before its ends, sides that they face, heights to keep.

All in the part's own frame as drawn, in whole millimetres from its lowest corner, rounded outwards.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final, Literal

from configurator.brief.bay import Medium
from configurator.brief.bay import Side as Wall
from configurator.foundations.boxes import Box, Triple, millimetres_down, millimetres_up
from configurator.parts.ends import End, Face

HAND_MM: Final = 15
"""Room for a hand or a spanner on each side of a fitting or hose (common practice, no source)."""

PUMP_UNDER_MM: Final = 100
"""How far a pump's inlet lies under the liquid's surface, at the least (common practice, no source)."""

_NOISE: Final = 1e-6
"""Far above the error of a float that holds a share of a height, far below any tape measure."""

Side = Literal["front", "back", "left", "right", "floor", "top"]
Facing = tuple[Face, frozenset[Side]]


@dataclass(frozen=True)
class Reach:
    """Room that must stay free before one end of a part. `joint`: what the end takes part in."""

    end: str
    face: Face
    box: Box
    joint: str


@dataclass(frozen=True)
class Heights:
    """How a part's height hangs together with the liquid's surface.

    `filled`: for a reservoir the share of its height that the liquid fills; `inlet_mm`: for a pump its inlet, as a
    point in the part's frame; `bled_by`: for what must be bled, the faces which, when they point up, carry a
    bleed of its own. Each None where the part has no such.
    """

    filled: float | None = None
    inlet_mm: Triple | None = None
    bled_by: frozenset[Face] | None = None

    def in_turn(self, size: Triple, up: Face) -> tuple[int | None, int | None]:
        """Height of the surface, and the height that must not stand above one [mm above the part's floor]."""
        k = "xyz".index(up[1])
        level = None if self.filled is None else math.floor(self.filled * size[k] + _NOISE)
        below = None
        if self.inlet_mm is not None:
            below = (self.inlet_mm[k] if up[0] == "+" else size[k] - self.inlet_mm[k]) + PUMP_UNDER_MM
        elif self.bled_by is not None and up not in self.bled_by:
            below = size[k]
        return level, below


@dataclass(frozen=True)
class Needs:
    """What one part of a kit needs: reaches, heights, and which faces its ends of each medium are used on."""

    reaches: tuple[Reach, ...] = ()
    heights: Heights | None = None
    used: tuple[tuple[Medium, Face], ...] = ()

    def __hash__(self) -> int:
        """Kept: a search asks for it once a row, and there is much in it."""
        return self._kept_hash

    @cached_property
    def _kept_hash(self) -> int:
        return hash((self.reaches, self.heights, self.used))

    def facing(self, walls: Mapping[Medium, Sequence[Wall]]) -> tuple[Facing, ...]:
        """The faces that must look to some sides, where a zone names those for a medium."""
        return tuple(
            (face, frozenset(_SIDE_OF[wall] for wall in walls[medium])) for medium, face in self.used if medium in walls
        )


NOTHING: Final = Needs()

_SIDE_OF: Final[dict[Wall, Side]] = {
    "front": "front", "back": "back", "left": "left", "right": "right", "up": "top", "down": "floor",
}  # fmt: skip


def reach_before(end: End, size: Triple, depth_m: float, across_m: float, joint: str) -> Reach | None:
    """The reach before an end of a part of this size [mm]: `across_m` is the hose or fitting, with room for a hand.

    None where the end's place on the part is not known.
    """
    if end.face is None or end.at is None:
        return None
    half_m = across_m / 2 + HAND_MM / 1000
    given = (end.at.x_m, end.at.y_m, end.at.z_m)
    low, high = [0, 0, 0], [0, 0, 0]
    for k, axis in enumerate("xyz"):
        place = given[k]
        if axis == end.face[1]:
            depth = millimetres_up(depth_m)
            low[k], high[k] = (size[k], size[k] + depth) if end.face[0] == "+" else (-depth, 0)
        elif place is None:
            return None
        else:
            low[k], high[k] = millimetres_down(float(place) - half_m), millimetres_up(float(place) + half_m)
    return Reach(end.name, end.face, Box((low[0], low[1], low[2]), (high[0], high[1], high[2])), joint)
