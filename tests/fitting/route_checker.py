"""A slow judge of hose routes on a plain lattice, and a checker of single routes. Neither shares code with the program.

Cases are drawn with all lengths, grown by half the hose, on one lattice: there a shortest way lies on the lattice,
for a shortest way along the axes hangs by faces, ends and least legs alone.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

Point = tuple[int, int, int]
Block = tuple[Point, Point]
WAYS = {"+x": (1, 0, 0), "-x": (-1, 0, 0), "+y": (0, 1, 0), "-y": (0, -1, 0), "+z": (0, 0, 1), "-z": (0, 0, -1)}


def along_mm(corners: Sequence[tuple[float, float, float]]) -> float:
    """Length of a way along the axes from corner to corner, which a shortest way makes least [mm]."""
    return sum(abs(a - b) for here, there in pairwise(corners) for a, b in zip(here, there, strict=True))


@dataclass(frozen=True)
class PlainEnd:
    """A point, the way it looks, how far a hose goes straight there, and whether an elbow turns it just there."""

    at: Point
    out: str
    straight: int
    elbow: bool = False


@dataclass(frozen=True)
class PlainWay:
    """Blocks that stay clear, two ends, the hose's outside and its bend radius to the inside. Millimetres."""

    blocks: tuple[Block, ...]
    start: PlainEnd
    finish: PlainEnd
    across: int
    bend: int

    @property
    def leg(self) -> int:
        """Between two turns: twice the radius of the middle line."""
        return 2 * self.bend + self.across

    def first(self, end: PlainEnd) -> int:
        """Straight before an end's turn."""
        return end.straight if end.elbow else max(end.straight, self.leg // 2)


def pieces(case: PlainWay) -> tuple[Block, ...]:
    """The hose itself before its first turn and after its last, short of the leg that turns off."""
    found = []
    for end in (case.start, case.finish):
        length = case.first(end) - case.across // 2
        if length > 0:
            wide = [0 if WAYS[end.out][k] else case.across // 2 for k in range(3)]
            far = moved(end.at, end.out, length)
            found.append((
                tuple(min(a, b) - w for a, b, w in zip(end.at, far, wide, strict=True)),
                tuple(max(a, b) + w for a, b, w in zip(end.at, far, wide, strict=True)),
            ))
    return tuple(found)


def pieces_meet(case: PlainWay) -> bool:
    """Whether the hose's two straight pieces would be in each other."""
    if len(held := pieces(case)) < 2:
        return False
    (low, high), (floor, top) = held
    return all(min(high[k], top[k]) > max(low[k], floor[k]) for k in range(3))


def random_way(seed: int, step: int = 5) -> PlainWay:
    """A case on a lattice of `step` mm: up to four blocks between two ends, any way they look."""
    draw = random.Random(seed)

    def point(low: int, high: int) -> Point:
        return tuple(step * draw.randint(low, high) for _ in range(3))

    blocks = []
    for _ in range(draw.randint(0, 4)):
        low = point(-2, 7)
        blocks.append((low, tuple(at + step * draw.randint(1, 7) for at in low)))
    ends = []
    for _ in range(2):
        elbow = draw.random() < 0.2
        ends.append(PlainEnd(point(0, 8), draw.choice(sorted(WAYS)), step * draw.randint(1, 4), elbow))
    # Half the outside and the bend are whole steps, so faces grown and least legs stay on the lattice.
    return PlainWay(tuple(blocks), ends[0], ends[1], 2 * step, step * draw.randint(0, 2))


def inside(point: tuple[float, ...], blocks: tuple[Block, ...], by: float) -> bool:
    """Whether a point lies inside a block that is thicker by so much on every side."""
    return any(all(low[k] - by < point[k] < high[k] + by for k in range(3)) for low, high in blocks)


def piece_is_clear(one: tuple[float, ...], two: tuple[float, ...], blocks: tuple[Block, ...], by: float) -> bool:
    """Whether no point between two lies inside a thicker block, looked at every half millimetre."""
    length = sum(abs(a - b) for a, b in zip(one, two, strict=True))
    count = max(2, 2 * round(length))
    return not any(
        inside(tuple(a + (b - a) * (i + 0.5) / count for a, b in zip(one, two, strict=True)), blocks, by)
        for i in range(count)
    )


def flat_is_clear(one: tuple[float, ...], two: tuple[float, ...], blocks: tuple[Block, ...], by: float) -> bool:
    """The same for a straight piece with a flat end at each of its points: thicker across, not along."""
    along = next(k for k in range(3) if one[k] != two[k])
    for low, high in blocks:
        crossed = all(low[k] - by < one[k] < high[k] + by for k in range(3) if k != along)
        if crossed and low[along] < max(one[along], two[along]) and high[along] > min(one[along], two[along]):
            return False
    return True


def moved(point: Point, out: str, by: int) -> Point:
    """A point so far on some way."""
    return tuple(at + by * step for at, step in zip(point, WAYS[out], strict=True))


def lattice_length(case: PlainWay, step: int) -> int | None:
    """The least length from corner to corner on the lattice, one step at a time; None where nothing leads there."""
    by = case.across // 2
    a, b = case.first(case.start), case.first(case.finish)
    turn, into = moved(case.start.at, case.start.out, a), moved(case.finish.at, case.finish.out, b)
    lengths = []
    apart = [q - p for p, q in zip(case.start.at, case.finish.at, strict=True)]
    ahead = sum(d * w for d, w in zip(apart, WAYS[case.start.out], strict=True))
    facing = case.finish.out == opposite(case.start.out) and not case.start.elbow and not case.finish.elbow
    straight = facing and sum(map(abs, apart)) == ahead >= max(a, b)
    if straight and flat_is_clear(case.start.at, case.finish.at, case.blocks, by):
        lengths.append(ahead)
    if not pieces_meet(case) and all(
        flat_is_clear(end.at, far, case.blocks, by) and not inside(far, case.blocks, by)
        for end, far in ((case.start, turn), (case.finish, into))
    ):
        found = _walk(replace(case, blocks=(*case.blocks, *pieces(case))), step, turn, into)
        if found is not None:
            lengths.append(found + a + b)
    return min(lengths, default=None)


def _walk(case: PlainWay, step: int, turn: Point, into: Point) -> int | None:
    """From the first turning place to the last, all states at once: each round is one step of the lattice.

    A state is a place, the way it is gone along, and how far straight since the last turn, counted up to what the
    next turn needs. It ends where a turn leads onto the finish's own line. Three least legs round all that there is
    are room enough.
    """
    least = case.leg // step
    corners = [turn, into, *(corner for block in case.blocks for corner in block)]
    low = [min(corner[k] for corner in corners) // step - 3 * least for k in range(3)]
    shape = [max(corner[k] for corner in corners) // step + 3 * least - low[k] + 1 for k in range(3)]
    clear = {way: _clear(case, step, low, shape, way) for way in WAYS}
    home = tuple(at // step - floor for at, floor in zip(into, low, strict=True))
    goals = {home: 0}
    while not case.finish.elbow and clear[case.finish.out][home]:
        there = moved(home, case.finish.out, 1)
        goals[there], home = goals[home] + step, there
    front = {way: np.zeros((least + 1, *shape), dtype=bool) for way in WAYS}
    front[case.start.out][least, *(at // step - floor for at, floor in zip(turn, low, strict=True))] = True
    seen = {way: here.copy() for way, here in front.items()}
    length, shortest = 0, None
    while any(here.any() for here in front.values()) and (shortest is None or length < shortest):
        for way, here in front.items():
            for goal, more in goals.items():
                if way[1] != case.finish.out[1] and here[(least, *goal)]:
                    shortest = min(length + more, length + more if shortest is None else shortest)
        following = {}
        for way in WAYS:
            sides = [front[other][least] for other in WAYS if other[1] != way[1]]
            on = np.zeros_like(front[way])
            on[1] = np.logical_or.reduce(sides)
            if length or not case.start.elbow:
                on[2:] |= front[way][1:-1]
                on[least] |= front[way][least]
            on &= clear[way]
            axis = "xyz".index(way[1]) + 1
            following[way] = np.roll(on, sum(WAYS[way]), axis=axis) & ~seen[way]
        for way in WAYS:
            seen[way] |= following[way]
        front, length = following, length + step
    return shortest


def _clear(case: PlainWay, step: int, low: list[int], shape: list[int], way: str) -> np.ndarray:
    """From which places of the lattice one step on a way is clear, and does not leave it."""
    axis, by = "xyz".index(way[1]), case.across / 2
    middles = [(np.arange(shape[k]) + low[k] + WAYS[way][k] / 2) * step for k in range(3)]
    found = np.ones(shape, dtype=bool)
    for floor, top in case.blocks:
        x, y, z = ((floor[k] - by < middles[k]) & (middles[k] < top[k] + by) for k in range(3))
        found &= ~(x[:, None, None] & y[None, :, None] & z[None, None, :])
    edge = [slice(None)] * 3
    edge[axis] = slice(-1, None) if way[0] == "+" else slice(0, 1)
    found[tuple(edge)] = False
    return found


def faults(case: PlainWay, points: tuple[tuple[float, ...], ...]) -> list[str]:
    """Everything wrong with the corner points of a route; an empty list where all is well."""
    found = []
    by = case.across / 2
    legs = list(pairwise(points))
    if points[0] != case.start.at or points[-1] != case.finish.at:
        found.append("it does not lead from end to end")
    ways = []
    for one, two in legs:
        step = [q - p for p, q in zip(one, two, strict=True)]
        if sum(d != 0 for d in step) != 1:
            return [*found, f"{one} to {two} is not along one axis"]
        axis = next(k for k in range(3) if step[k])
        ways.append(("+" if step[axis] > 0 else "-") + "xyz"[axis])
    if ways[0] != case.start.out or ways[-1] != opposite(case.finish.out):
        found.append("it does not leave an end along its axis")
    if any(one[1] == two[1] for one, two in pairwise(ways)):
        found.append("a corner that is no turn")
    lengths = [sum(abs(p - q) for p, q in zip(one, two, strict=True)) for one, two in legs]
    for k, length in enumerate(lengths):
        first, last = k == 0, k == len(lengths) - 1
        need = max(
            case.first(case.start) if first else 0,
            case.first(case.finish) if last else 0,
            0 if first or last else case.leg,
        )
        if length < need:
            found.append(f"leg {k} of {length} is shorter than {need}")
        for end, here in ((case.start, first), (case.finish, last)):
            if here and end.elbow and length != end.straight:
                found.append(f"leg {k} of {length} passes the elbow at {end.straight}")
    if len(legs) == 1:
        if not flat_is_clear(points[0], points[1], case.blocks, by):
            found.append("the straight hose goes through a block")
        return found
    if pieces_meet(case):
        found.append("its two straight pieces are in each other")
    turn = moved(case.start.at, case.start.out, case.first(case.start))
    into = moved(case.finish.at, case.finish.out, case.first(case.finish))
    if not flat_is_clear(case.start.at, turn, case.blocks, by):
        found.append("the start's straight piece goes through a block")
    if not flat_is_clear(case.finish.at, into, case.blocks, by):
        found.append("the finish's straight piece goes through a block")
    between = [turn, *points[1:-1], into]
    for one, two in pairwise(between):
        if one != two and not piece_is_clear(one, two, (*case.blocks, *pieces(case)), by):
            found.append(f"{one} to {two} goes through a block or its own end")
    return found


def crosses(points: tuple[tuple[float, ...], ...], across: float) -> bool:
    """Whether two legs that do not meet at a corner come nearer than the hose is thick, as boxes round their lines."""
    legs = list(pairwise(points))
    for i, one in enumerate(legs):
        for other in legs[i + 2 :]:
            gaps = [max(min(one[0][k], one[1][k]) - max(other[0][k], other[1][k]),
                        min(other[0][k], other[1][k]) - max(one[0][k], one[1][k])) for k in range(3)]  # fmt: skip
            if max(gaps) < across:
                return True
    return False


def opposite(out: str) -> str:
    """The opposite way."""
    return ("-" if out[0] == "+" else "+") + out[1]
