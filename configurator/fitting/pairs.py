"""What holds solids where they may be: walls, heights, and pairs that must lie apart in one of six directions.

Lengths are half millimetres.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, product
from typing import Final

from configurator.fitting.axes import WALL, Axis, Bound, Order
from configurator.fitting.room import Room
from configurator.fitting.turns import Posture, Solid
from configurator.foundations.boxes import Box, Triple

STEPS_PER_MM: Final = 2
"""Gaps, and coordinates with them, move in half millimetres."""

Bodies = tuple[tuple[Posture, ...], ...]
_EVERY_SIDE: Final = (True,) * 6


@dataclass(frozen=True)
class Pair:
    """Two solids that must be apart: of two bodies, or of a body and an obstacle, which stays put.

    `gaps` says for each of the six directions from the first to the second (in the order of SIDES) whether
    a gap is needed between them: 1, or 0 where one of the two faces is mounted, or a reach.
    """

    first: int
    second: int
    fixed: bool
    first_low: Triple
    first_high: Triple
    second_low: Triple
    second_high: Triple
    gaps: tuple[int, ...]

    def apart(self, corners: tuple[int, ...], direction: int) -> int:
        """How far the second lies in this direction from the first; negative where it does not."""
        axis = direction // 2
        first = corners[3 * self.first + axis]
        second = 0 if self.fixed else corners[3 * self.second + axis]
        if direction % 2:
            return second + self.second_low[axis] - first - self.first_high[axis]
        return first + self.first_low[axis] - second - self.second_high[axis]

    def kept_apart(self, axis: Axis, direction: int) -> Axis:
        """The axis of a direction, with the second kept in that direction from the first."""
        lowest, highest, orders = axis
        k, gaps = direction // 2, self.gaps[direction]
        behind = self.first_high[k] - self.second_low[k]
        before = self.second_high[k] - self.first_low[k]
        if self.fixed and direction % 2:
            return Axis(lowest, (*highest, Bound(self.first, -behind, gaps, self.second)), orders)
        if self.fixed:
            return Axis((*lowest, Bound(self.first, before, gaps, self.second)), highest, orders)
        if direction % 2:
            return Axis(lowest, highest, (*orders, Order(self.first, self.second, behind, gaps)))
        return Axis(lowest, highest, (*orders, Order(self.second, self.first, before, gaps)))


def postures_of(bodies: Bodies, chosen: tuple[int, ...]) -> tuple[Posture, ...]:
    """The posture chosen for each body."""
    return tuple(body[index] for body, index in zip(bodies, chosen, strict=True))


def walls(room: Room, postures: tuple[Posture, ...]) -> tuple[Axis, ...]:
    """What walls and heights alone say along x, y and z."""
    held = [bounds_of(room, body, posture) for body, posture in enumerate(postures)]
    levels = tuple(
        level
        for (i, first), (j, second) in combinations(enumerate(postures), 2)
        for level in levels_between(i, first, j, second)
    )
    return tuple(
        Axis(
            tuple(bound for lowest, _ in held for bound in lowest[k]),
            tuple(bound for _, highest in held for bound in highest[k]),
            levels if k == 2 else (),
        )
        for k in range(3)
    )


def bounds_of(
    room: Room, body: int, posture: Posture
) -> tuple[tuple[tuple[Bound, ...], ...], tuple[tuple[Bound, ...], ...]]:
    """Along x, y and z: what a body's coordinate must not lie below, and what it must not lie above.

    Walls hold bodies, those that are not open reaches. A reservoir stands high enough for what must lie below its
    surface in other rooms; what must lie below the surface of a reservoir in another room does.
    """
    n = STEPS_PER_MM
    lowest: tuple[list[Bound], ...] = ([], [], [])
    highest: tuple[list[Bound], ...] = ([], [], [])
    for solid in posture.solids:
        box, needs_gap = solid.box, solid.needs_gap
        for k in range(3):
            if solid.joint is None or not room.open[2 * k]:
                lowest[k].append(Bound(body, -n * box.low[k], int(needs_gap[2 * k]), WALL))
            if solid.joint is None or not room.open[2 * k + 1]:
                highest[k].append(Bound(body, n * (room.size[k] - box.high[k]), int(needs_gap[2 * k + 1]), WALL))
    if room.surface_from is not None and posture.level is not None:
        lowest[2].append(Bound(body, room.surface_from - n * posture.level, 0, WALL))
    if room.surface is not None and posture.below is not None:
        highest[2].append(Bound(body, room.surface - n * posture.below, 0, WALL))
    return tuple(map(tuple, lowest)), tuple(map(tuple, highest))


def levels_between(i: int, first: Posture, j: int, second: Posture) -> Iterator[Order]:
    """No height that must lie below the liquid's surface of a reservoir in the same room stands above it."""
    for low, below, high, level in ((i, first.below, j, second.level), (j, second.below, i, first.level)):
        if below is not None and level is not None:
            yield Order(low, high, STEPS_PER_MM * (below - level), 0)


def pairs_of(room: Room, postures: tuple[Posture, ...]) -> Iterator[Pair]:
    """Every two solids that must be apart: those of two parts first, then those of a part and obstacles.

    Reaches of one joint may lie in each other: its hose goes through both.
    """
    for (i, first), (j, second) in combinations(enumerate(postures), 2):
        for one, other in product(first.solids, second.solids):
            if one.joint is None or one.joint != other.joint:
                yield _pair(i, one, j, other, False)
    for i, posture in enumerate(postures):
        for solid, (o, box) in product(posture.solids, enumerate(room.obstacles)):
            yield _pair(i, solid, o, Solid(box, _EVERY_SIDE), True)


def _pair(first: int, one: Solid, second: int, other: Solid, fixed: bool) -> Pair:
    gaps = tuple(int(one.needs_gap[d] and other.needs_gap[d ^ 1]) for d in range(6))
    return Pair(first, second, fixed, *_half_mm(one.box), *_half_mm(other.box), gaps)


def _half_mm(box: Box) -> tuple[Triple, Triple]:
    (a, b, c), (d, e, f) = box.low, box.high
    n = STEPS_PER_MM
    return (n * a, n * b, n * c), (n * d, n * e, n * f)
