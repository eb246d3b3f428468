"""The way of one hose from end to end: legs along the axes, round everything that must stay clear.

A hose leaves each end straight along the end's axis and turns in quarter circles. Of all such ways the shortest
along its corner points is taken, of those the one with the fewest turns, then the first in a fixed order.

**What is exact.** Take any way and hold the order and directions of its legs, and the side on which each leg passes
each solid. Then its length is linear in the coordinates of its legs, and what they must keep (a face on one side, a
least length between two) bounds one coordinate or the difference of two on the same axis. So a shortest way lies at
a vertex: each coordinate is that of a grown face or of an end, plus or less so many least legs. Without least legs
the grid of faces and ends holds a shortest way; with them the grid holds every vertex at which no leg hangs by more
than `FACE_STEPS` tight legs on one axis off a face, or `END_STEPS` off an end. A way that needs a longer row of
tight legs is not on it: the result is the shortest on that grid. Where it is as long as the straight distances add
up to, nothing is shorter. The fewest turns are those on the grid, too.

A way keeps off its own straight pieces at either end. Else it may cross itself, where ends lie so near each other
that only a loop leads from one to the other, and says so. Hoses are not kept off each other, nor bundled. What a
solid is, the caller says.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final, Literal

from configurator.fitting.route_grid import Grid, Search, Triple, shortest_on
from configurator.parts.ends import Face

Point = tuple[float, float, float]

FACE_STEPS: Final = 1
END_STEPS: Final = 2
"""So many least legs to either side of each face, and of each end, the grid has lines."""

_UM_PER_MM: Final = 1000


@dataclass(frozen=True)
class KeepOut:
    """A box that no hose goes through: lowest and highest corner [mm]."""

    low: Point
    high: Point


@dataclass(frozen=True)
class HoseEnd:
    """Where a hose's middle line starts or ends [mm], and the way that its end looks there.

    `straight_mm`: how far it goes on that way, at the least, before the corner of its first turn. `elbow`: an elbow
    turns it exactly there.
    """

    at_mm: Point
    out: Face
    straight_mm: float
    elbow: bool = False


@dataclass(frozen=True)
class HoseShape:
    """Outside diameter and bend radius [mm]; the radius is to the inside of the bend."""

    across_mm: float
    bend_mm: float


@dataclass(frozen=True)
class Route:
    """A way found: its corner points from end to end [mm], its turns, its length along the middle line [mm].

    `length_mm` counts each bend of the hose as a quarter circle; an elbow's corner is sharp. What was
    made least is the length from corner to corner, an upper bound of it. `crosses_itself`: two of its legs come
    nearer than the hose is thick, so that one has to be laid beside the other.
    """

    corners_mm: tuple[Point, ...]
    turns: int
    length_mm: float
    crosses_itself: bool


@dataclass(frozen=True)
class NoRoute:
    """No way: the straight piece before the start or the finish is not free, or nothing leads from one to the other."""

    why: Literal["start", "finish", "between"]


def shortest_route(solids: Sequence[KeepOut], start: HoseEnd, finish: HoseEnd, hose: HoseShape) -> Route | NoRoute:
    """The shortest way of a hose along the axes, see above; lengths in mm.

    `solids` keep half the hose's outside away from its middle line. Between two turns lie two bend radii at the
    least, before the first and after the last the end's straight length, one bend radius at the least. Those radii
    are the middle line's. A straight hose between two ends that face each other is as long as the longer straight.
    """
    radius = math.ceil(_um(hose.across_mm) / 2)
    middle = math.ceil(_um(hose.bend_mm) + _um(hose.across_mm) / 2)
    boxes = [(_triple(solid.low), _triple(solid.high)) for solid in solids]
    one, other = _Tip(start, middle), _Tip(finish, middle)
    straight = _straight(one, other, boxes, radius)
    if straight is not None:
        return straight
    grown = [(_moved(low, -radius), _moved(high, radius)) for low, high in boxes]
    if not one.free(boxes, grown, radius):
        return NoRoute("start")
    if not other.free(boxes, grown, radius):
        return NoRoute("finish")
    pieces = (*one.piece(radius), *other.piece(radius))
    if len(pieces) > 1 and _overlap(*pieces):
        return NoRoute("between")
    grown += [(_moved(low, -radius), _moved(high, radius)) for low, high in pieces]
    corners = _corners(grown, one, other, 2 * middle)
    if corners is None:
        return NoRoute("between")
    return _route((one.at, *corners, other.at), middle, radius, int(start.elbow) + int(finish.elbow))


class _Tip:
    """An end in whole micrometres: its point, its axis and sense, and the first place where its hose may turn."""

    def __init__(self, end: HoseEnd, least: int) -> None:
        self.at = _triple(end.at_mm)
        self.axis = "xyz".index(end.out[1])
        self.sense = 1 if end.out[0] == "+" else -1
        self.elbow = end.elbow
        self.straight = _um(end.straight_mm) if end.elbow else max(_um(end.straight_mm), least)
        self.turn = self.ahead(self.straight)

    def ahead(self, by: int) -> Triple:
        """The point so far ahead of the end."""
        x, y, z = (at + (by * self.sense if k == self.axis else 0) for k, at in enumerate(self.at))
        return x, y, z

    def straight_box(self, far: Triple, radius: int) -> tuple[Triple, Triple]:
        """The box round a straight hose with flat ends from here to a point ahead."""
        wide = [0 if k == self.axis else radius for k in range(3)]
        low_x, low_y, low_z = (min(a, b) - w for a, b, w in zip(self.at, far, wide, strict=True))
        high_x, high_y, high_z = (max(a, b) + w for a, b, w in zip(self.at, far, wide, strict=True))
        return (low_x, low_y, low_z), (high_x, high_y, high_z)

    def clear(self, boxes: Sequence[tuple[Triple, Triple]], far: Triple, radius: int) -> bool:
        """Whether a hose goes from here straight to a point. What lies behind the end is no matter."""
        straight = self.straight_box(far, radius)
        return not any(_overlap(straight, box) for box in boxes)

    def piece(self, radius: int) -> tuple[tuple[Triple, Triple], ...]:
        """The straight piece of hose that every way has here, up to the side of the leg that may turn off it."""
        length = self.straight - radius
        return (self.straight_box(self.ahead(length), radius),) if length > 0 else ()

    def free(
        self, boxes: Sequence[tuple[Triple, Triple]], grown: Sequence[tuple[Triple, Triple]], radius: int
    ) -> bool:
        """Whether the straight piece is clear, and a turn at its far end."""
        inside = any(all(low[k] < self.turn[k] < high[k] for k in range(3)) for low, high in grown)
        return not inside and self.clear(boxes, self.turn, radius)


def _straight(one: _Tip, other: _Tip, boxes: Sequence[tuple[Triple, Triple]], radius: int) -> Route | None:
    """The way without a turn, where the ends face each other on one line."""
    apart = [(b - a) for a, b in zip(one.at, other.at, strict=True)]
    length = apart[one.axis] * one.sense
    facing = one.axis == other.axis and one.sense == -other.sense and sum(step != 0 for step in apart) == 1
    if not facing or one.elbow or other.elbow or length < max(one.straight, other.straight):
        return None
    return _route((one.at, other.at), 0, radius, 0) if one.clear(boxes, other.at, radius) else None


def _corners(grown: Sequence[tuple[Triple, Triple]], one: _Tip, other: _Tip, least: int) -> tuple[Triple, ...] | None:
    """The corner points of the shortest way: first on the faces alone, then with steps of the least leg."""
    search = Search(one.turn, one.axis, one.sense, one.elbow, other.turn, other.axis, other.sense, other.elbow, least)
    shortest = sum(abs(a - b) for a, b in zip(one.turn, other.turn, strict=True))
    found = shortest_on(Grid(_lines(grown, one, other, least, 0, 0, None), grown), search, None)
    if found is None or found[0] > shortest:
        bound = None if found is None else found[0] - shortest
        lines = _lines(grown, one, other, least, FACE_STEPS, END_STEPS, bound)
        found = shortest_on(Grid(lines, grown), search, None if found is None else found[0]) or found
    return None if found is None else found[1]


def _lines(
    grown: Sequence[tuple[Triple, Triple]],
    one: _Tip,
    other: _Tip,
    least: int,
    face_steps: int,
    end_steps: int,
    detour: int | None,
) -> tuple[list[int], list[int], list[int]]:
    """The grid's lines on each axis; those that no way within the detour can reach are left out."""
    lines = []
    for k in range(3):
        ends = {tip[k] for tip in (one.at, one.turn, other.at, other.turn)}
        faces = {face[k] for box in grown for face in box}
        found = {at + step * least for at in faces for step in range(-face_steps, face_steps + 1)}
        found |= {at + step * least for at in ends for step in range(-end_steps, end_steps + 1)}
        low, high = sorted((one.turn[k], other.turn[k]))
        if detour is not None:
            found = {at for at in found if 2 * max(low - at, at - high) <= detour}
        lines.append(sorted(found))
    return lines[0], lines[1], lines[2]


def _route(corners: tuple[Triple, ...], middle: int, radius: int, elbows: int) -> Route:
    along = sum(
        sum(abs(a - b) for a, b in zip(here, there, strict=True))
        for here, there in pairwise(corners)
    )
    turns = len(corners) - 2
    length = along - (turns - elbows) * (2 - math.pi / 2) * middle
    points = tuple((x / _UM_PER_MM, y / _UM_PER_MM, z / _UM_PER_MM) for x, y, z in corners)
    return Route(points, turns, length / _UM_PER_MM, _crosses_itself(corners, 2 * radius))


def _crosses_itself(corners: Sequence[Triple], across: int) -> bool:
    legs = list(pairwise(corners))
    return any(_near(one, other, across) for i, one in enumerate(legs) for other in legs[i + 2 :])


def _near(one: tuple[Triple, Triple], other: tuple[Triple, Triple], across: int) -> bool:
    """Whether boxes round two legs, each half a hose thicker, share room."""
    return all(
        min(one[0][k], one[1][k]) - across < max(other[0][k], other[1][k])
        and min(other[0][k], other[1][k]) - across < max(one[0][k], one[1][k])
        for k in range(3)
    )


def _um(length_mm: float) -> int:
    return round(length_mm * _UM_PER_MM)


def _triple(point: Point) -> Triple:
    return _um(point[0]), _um(point[1]), _um(point[2])


def _overlap(one: tuple[Triple, Triple], other: tuple[Triple, Triple]) -> bool:
    """Whether two boxes share room; faces may touch."""
    return all(one[0][k] < other[1][k] and other[0][k] < one[1][k] for k in range(3))


def _moved(corner: Triple, by: int) -> Triple:
    return corner[0] + by, corner[1] + by, corner[2] + by
