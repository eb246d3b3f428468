"""The exact search: bodies into one room with the largest gap round all of them, at the smallest coordinates.

Why it is complete. In any packing, each two solids (and each solid and obstacle) lie apart along at least
one of the six directions. Once a direction is chosen for each such pair, what is left is "this coordinate
is at least that one plus a length" and bounds from walls and obstacles. Pushing every body to the front, to
the left and down as far as those go leads to one least solution: each coordinate is then a wall or an
obstacle's far face plus the lengths and gaps of a chain of bodies (the normal patterns), and no packing
with the same directions has any smaller coordinate. So it is enough to look at least solutions. The search
begins with walls alone; where the least solution leaves a pair too close, it branches on the six directions
of that pair. A node that leaves no pair too close is a packing; every packing lies under one of the
branches.

Why the first packing found is the canonical one. A node's key is its largest gap (falling), the coordinates
of its least solution at that gap, body by body, and its turns. A further direction can only lower the gap
or, at equal gap, raise coordinates, so no key below a node is smaller than the node's. Nodes are taken by
smallest key.

Reaches and heights change nothing of this. A reach is one more solid of its part's rigid group, which open walls
do not bound; a part's coordinates are then still pushed low by the walls that hold its body. A height that must not
stand above a liquid's surface says "this coordinate is at least that one plus a length" too, and needs no branch.

Of bodies alike in everything the earlier one is never the farther back: swapping two such bodies changes
nothing but the names, and the smallest coordinates go to the earlier one.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations, product
from typing import Final, Literal, NamedTuple, TypeVar

from configurator.fitting.axes import WALL, Axis, Bound, Order, least_coordinates, settle
from configurator.fitting.room import Room
from configurator.fitting.turns import Posture, Solid
from configurator.foundations.boxes import Box, Triple

STEPS_PER_MM: Final = 2
"""Gaps, and coordinates with them, move in half millimetres."""

T = TypeVar("T")
Bodies = tuple[tuple[Posture, ...], ...]
_EVERY_SIDE: Final = (True,) * 6


@dataclass(frozen=True)
class Packing:
    """How it came out, nodes looked at, gap [half mm]; each body's posture by index and corner [half mm]."""

    state: Literal["fits", "does not fit", "not decided"]
    nodes: int
    gap: int = 0
    chosen: tuple[int, ...] = ()
    corners: tuple[Triple, ...] = ()


@dataclass(frozen=True)
class Pair:
    """Two solids that must be apart [half mm]: of two bodies, or of a body and an obstacle, which stays put.

    `gaps` says for each of the six directions from the first to the second (in the order of SIDES) whether
    a gap is needed between them: 1, or 0 where one of the two faces is mounted.
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
        """How far the second lies in this direction from the first [half mm]; negative where it does not."""
        axis = direction // 2
        first = corners[3 * self.first + axis]
        second = 0 if self.fixed else corners[3 * self.second + axis]
        if direction % 2:
            return second + self.second_low[axis] - first - self.first_high[axis]
        return first + self.first_low[axis] - second - self.second_high[axis]

    def clear(self, corners: tuple[int, ...], gap: int) -> bool:
        """Whether the two are far enough apart in one direction or another."""
        return any(self.apart(corners, d) >= self.gaps[d] * gap for d in (1, 3, 5, 0, 2, 4))

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


class _Node(NamedTuple):
    """A state of the search. Nodes sort by their first four members; `made` tells equal ones apart."""

    lost: int
    corners: tuple[int, ...]
    turns: tuple[int, ...]
    made: int
    chosen: tuple[int, ...]
    axes: tuple[Axis, ...]
    least: tuple[tuple[int, ...], ...]


class _Way(NamedTuple):
    """One way to keep a close pair apart: the axis it lies along, narrowed, with its gap and least coordinates."""

    k: int
    axis: Axis
    gap: int
    lowest: tuple[int, ...]


@lru_cache(maxsize=65536)
def pack(room: Room, bodies: Bodies, most_gap: int, node_limit: int) -> Packing:
    """Put every body into the room in one of its postures.

    Gaps above `most_gap` [half mm] are not told apart. After `node_limit` nodes the answer is "not decided".
    """
    if sum(body[0].solids[0].box.volume for body in bodies if body) > math.prod(room.size):
        return Packing("does not fit", 0)
    open_nodes = list(_roots(room, bodies, most_gap))
    heapq.heapify(open_nodes)
    made = len(open_nodes)
    pairs: dict[tuple[int, ...], tuple[Pair, ...]] = {}
    nodes = 0
    while open_nodes:
        if nodes == node_limit:
            return Packing("not decided", nodes)
        nodes += 1
        node = heapq.heappop(open_nodes)
        if node.chosen not in pairs:
            pairs[node.chosen] = tuple(pairs_of(room, postures_of(bodies, node.chosen)))
        close = [pair for pair in pairs[node.chosen] if not pair.clear(node.corners, -node.lost)]
        if not close:
            x, y, z = node.least
            return Packing("fits", nodes, -node.lost, node.chosen, tuple(zip(x, y, z, strict=True)))
        for child in _branches(node, close):
            made += 1
            heapq.heappush(open_nodes, child._replace(made=made))
    return Packing("does not fit", nodes)


def _roots(room: Room, bodies: Bodies, most_gap: int) -> Iterator[_Node]:
    """One node for each choice of postures, with walls alone."""
    within = [[k for k, posture in enumerate(body) if _within_walls(room, posture)] for body in bodies]
    for made, chosen in enumerate(product(*within)):
        postures = postures_of(bodies, chosen)
        axes = walls(room, postures, _alike(bodies, chosen))
        gap = most_gap
        for axis in axes:
            settled = settle(axis, len(bodies), gap)
            if settled is None:
                break
            gap = settled[0]
        else:
            least = tuple(least_coordinates(axis, len(bodies), gap).coordinates for axis in axes)
            turns = tuple(posture.turn.order for posture in postures)
            yield _Node(-gap, _body_by_body(least), turns, made, chosen, axes, least)


@lru_cache(maxsize=65536)
def _within_walls(room: Room, posture: Posture) -> bool:
    """Whether the walls let a part in alone in this posture: if not, they let it in beside none."""
    return all(settle(axis, 1, 0) is not None for axis in walls(room, (posture,), ()))


def _branches(node: _Node, close: list[Pair]) -> Iterator[_Node]:
    """Branch on that close pair which costs the most at the least: in gap, else in coordinates, else in ways."""
    gap = -node.lost
    worst: tuple[int, tuple[int, ...], int] | None = None
    chosen: list[_Way] = []
    for pair in close:
        ways = list(_ways(node, pair, gap))
        if not ways:
            return
        widest = max(way.gap for way in ways)
        corners = min(_body_by_body(_swapped(node.least, way.k, way.lowest)) for way in ways if way.gap == widest)
        cost = (-widest, corners if widest == gap else (), -len(ways))
        if worst is None or cost > worst:
            worst, chosen = cost, ways
    for way in chosen:
        axes = _swapped(node.axes, way.k, way.axis)
        if way.gap == gap:
            least = _swapped(node.least, way.k, way.lowest)
        else:
            least = tuple(least_coordinates(axis, len(node.chosen), way.gap).coordinates for axis in axes)
        yield _Node(-way.gap, _body_by_body(least), node.turns, 0, node.chosen, axes, least)


def _ways(node: _Node, pair: Pair, gap: int) -> Iterator[_Way]:
    """The ways to keep a pair apart that leave a gap of 0 or more."""
    for direction in range(6):
        k = direction // 2
        axis = pair.kept_apart(node.axes[k], direction)
        settled = settle(axis, len(node.chosen), gap)
        if settled is not None:
            yield _Way(k, axis, *settled)


def _swapped(members: tuple[T, ...], k: int, member: T) -> tuple[T, ...]:
    return (*members[:k], member, *members[k + 1 :])


def postures_of(bodies: Bodies, chosen: tuple[int, ...]) -> tuple[Posture, ...]:
    """The posture chosen for each body."""
    return tuple(body[index] for body, index in zip(bodies, chosen, strict=True))


def walls(room: Room, postures: tuple[Posture, ...], alike: tuple[tuple[int, int], ...]) -> tuple[Axis, ...]:
    """What the walls alone say along x, y and z; of two alike bodies the first is not behind the second."""
    n = STEPS_PER_MM
    found = []
    for k in range(3):
        lowest, highest = [], []
        for body, posture in enumerate(postures):
            for box, needs_gap, held in ((s.box, s.needs_gap, _held(s, room)) for s in posture.solids):
                if held[2 * k]:
                    lowest.append(Bound(body, -n * box.low[k], int(needs_gap[2 * k]), WALL))
                if held[2 * k + 1]:
                    highest.append(Bound(body, n * (room.size[k] - box.high[k]), int(needs_gap[2 * k + 1]), WALL))
        orders = tuple(Order(first, second, 0, 0) for first, second in alike) if k == 0 else ()
        if k == 2:
            lowest += _raised(room, postures)
            highest += _kept_low(room, postures)
            orders = _levels(postures)
        found.append(Axis(tuple(lowest), tuple(highest), orders))
    return tuple(found)


def _held(solid: Solid, room: Room) -> tuple[bool, ...]:
    """Which of SIDES hold a solid: every wall a body, those that are not open a reach."""
    return _EVERY_SIDE if solid.joint is None else tuple(not opened for opened in room.open)


def _levels(postures: tuple[Posture, ...]) -> tuple[Order, ...]:
    """No height that must lie below the liquid's surface of a reservoir in the same room stands above it."""
    return tuple(
        Order(low, high, STEPS_PER_MM * (below - level), 0)
        for low, below in ((k, posture.below) for k, posture in enumerate(postures))
        for high, level in ((k, posture.level) for k, posture in enumerate(postures))
        if below is not None and level is not None
    )


def _raised(room: Room, postures: tuple[Posture, ...]) -> list[Bound]:
    """A reservoir stands high enough for what must lie below its surface in other rooms."""
    if room.surface_from is None:
        return []
    levels = ((body, posture.level) for body, posture in enumerate(postures))
    return [Bound(b, room.surface_from - STEPS_PER_MM * level, 0, WALL) for b, level in levels if level is not None]


def _kept_low(room: Room, postures: tuple[Posture, ...]) -> list[Bound]:
    """What must lie below the surface of a reservoir in another room does."""
    if room.surface is None:
        return []
    belows = ((body, posture.below) for body, posture in enumerate(postures))
    return [Bound(b, room.surface - STEPS_PER_MM * below, 0, WALL) for b, below in belows if below is not None]


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


def _alike(bodies: Bodies, chosen: tuple[int, ...]) -> tuple[tuple[int, int], ...]:
    return tuple(
        (i, j)
        for i, j in combinations(range(len(bodies)), 2)
        if chosen[i] == chosen[j] and bodies[i] == bodies[j]
    )


def _body_by_body(least: tuple[tuple[int, ...], ...]) -> tuple[int, ...]:
    """x, y and z of the first body, then of the next."""
    return tuple(value for corner in zip(*least, strict=True) for value in corner)
