"""Shortest ways on a grid of uneven lines, turn by turn. Lengths are whole micrometres.

After so many turns each crossing of lines has the least length at which a way can arrive there along each axis. The
next turn goes out from there along the other two axes, as far as nothing is in the way, and may turn again after the
least leg. So a round of six sweeps over the grid adds a turn to all ways at once. A state is kept only if it beats
those of fewer turns and can still end shorter than the best way so far; when none is left, the best is the shortest,
with the fewest turns that this length takes.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

Triple = tuple[int, int, int]
Lengths = NDArray[np.int32]

_NEVER: Final = 1 << 30
"""Above every length: a kilometre."""


class Search(NamedTuple):
    """Where a way may turn first and last, the axis and sense of its ends there, and the least leg between turns.

    An elbow turns it exactly there; else it may go on straight as far as it likes.
    """

    start: Triple
    start_axis: int
    start_sense: int
    start_elbow: bool
    finish: Triple
    finish_axis: int
    finish_sense: int
    finish_elbow: bool
    least: int


class Grid:
    """Lines on three axes, and where solids cut the pieces between their crossings."""

    def __init__(self, lines: Sequence[Sequence[int]], solids: Sequence[tuple[Triple, Triple]]) -> None:
        """`solids`: lowest and highest corner of each; a way may touch a face, not go inside."""
        self.lines = [np.asarray(axis, dtype=np.int64) for axis in lines]
        self.shape = tuple(len(axis) for axis in self.lines)
        self.cut: list[NDArray[np.bool_]] = []
        """By axis: whether the piece before each crossing on that axis is cut; the axis is the first."""
        for axis in range(3):
            cut = np.zeros(self.shape, dtype=bool)
            for low, high in solids:
                spans = []
                for k, at in enumerate(self.lines):
                    first, behind = np.searchsorted(at, low[k], "right"), np.searchsorted(at, high[k], "left")
                    spans.append(slice(int(first), int(behind) + (k == axis)))
                cut[tuple(spans)] = True
            self.cut.append(np.ascontiguousarray(np.moveaxis(cut, axis, 0)))

    def index(self, point: Triple) -> Triple:
        """Where a point on the lines lies."""
        x, y, z = (int(np.searchsorted(at, value)) for at, value in zip(self.lines, point, strict=True))
        return x, y, z

    def point(self, index: Sequence[int]) -> Triple:
        """The point at an index."""
        x, y, z = (int(at[i]) for at, i in zip(self.lines, index, strict=True))
        return x, y, z

    def run(self, index: Triple, axis: int, sense: int) -> list[Triple]:
        """The crossings ahead of one that nothing cuts off, itself the first."""
        across = tuple(i for k, i in enumerate(index) if k != axis)
        found, i = [index], index[axis]
        while 0 <= i + sense < self.shape[axis] and not self.cut[axis][(max(i, i + sense), *across)]:
            i += sense
            x, y, z = (i if k == axis else at for k, at in enumerate(index))
            found.append((x, y, z))
        return found


def shortest_on(grid: Grid, search: Search, below: int | None) -> tuple[int, tuple[Triple, ...]] | None:
    """The shortest way between the two turning places, with its corner points; None where there is none.

    With `below` only a way that is shorter, or None. The corner points leave out the ends' own places.
    """
    start, finish = grid.index(search.start), grid.index(search.finish)
    away = _distances(grid, search.finish)
    first = grid.run(start, search.start_axis, search.start_sense)[: 1 if search.start_elbow else None]
    last = grid.run(finish, search.finish_axis, search.finish_sense)[: 1 if search.finish_elbow else None]
    best = _NEVER if below is None else below
    arrived = [np.full(grid.shape, _NEVER, dtype=np.int32) for _ in range(3)]
    for place in first:
        arrived[search.start_axis][place] = _apart(search.start, grid.point(place))
    rounds = [arrived]
    ends: tuple[int, int, Triple] | None = None
    seen = [lengths.copy() for lengths in arrived]
    while True:
        for axis in (k for k in range(3) if k != search.finish_axis):
            for place in last:
                length = int(arrived[axis][place]) + int(away[place])
                if length < best:
                    best, ends = length, (len(rounds) - 1, axis, place)
        arrived = [_leg(grid, rounds[-1], axis, search.least) for axis in range(3)]
        for lengths, before in zip(arrived, seen, strict=True):
            lengths[(lengths >= before) | (lengths + away >= best)] = _NEVER
            np.minimum(before, lengths, out=before)
        if all((lengths >= _NEVER).all() for lengths in arrived):
            break
        rounds.append(arrived)
    return None if ends is None else (best, tuple(_back(grid, rounds, *ends, search.least)))


def _distances(grid: Grid, point: Triple) -> Lengths:
    """Distance along the axes from every crossing to a point."""
    x, y, z = (np.abs(at - value) for at, value in zip(grid.lines, point, strict=True))
    return (x[:, None, None] + y[None, :, None] + z[None, None, :]).astype(np.int32)


def _turned(rounds: Sequence[Lengths], axis: int) -> Lengths:
    """The least length at which a way stands at each crossing, ready to turn along an axis."""
    one, other = (lengths for k, lengths in enumerate(rounds) if k != axis)
    return np.minimum(one, other)


def _leg(grid: Grid, arrived: Sequence[Lengths], axis: int, least: int) -> Lengths:
    """The least lengths after a turn and a leg along an axis, either way, to each place where it may turn again."""
    at = grid.lines[axis]
    from_here: Lengths = np.moveaxis(_turned(arrived, axis), axis, 0)
    cut = grid.cut[axis]
    found = _swept(from_here, at - at[0], cut, least)
    # Seen from the other end, a piece is cut before the crossing on its other side.
    behind = np.concatenate([cut[:1], cut[:0:-1]])
    back = _swept(from_here[::-1], at[-1] - at[::-1], behind, least)[::-1]
    return np.ascontiguousarray(np.moveaxis(np.minimum(found, back), 0, axis))


def _swept(from_here: Lengths, at: NDArray[np.int64], cut: NDArray[np.bool_], least: int) -> Lengths:
    """One sweep along the first axis: from every crossing onwards to those a least leg away and not cut off."""
    found = np.full(from_here.shape, _NEVER, dtype=np.int32)
    starts: NDArray[np.bool_] = np.any(from_here < _NEVER, axis=(1, 2))
    best = np.full(from_here.shape[1:], _NEVER, dtype=np.int32)
    since = np.zeros(from_here.shape[1:], dtype=np.int32)
    entering, any_yet = 0, False
    for i in range(len(at)):
        stopped = cut[i]
        since[stopped] = i
        best[stopped] = _NEVER
        while entering < i and at[entering] <= at[i] - least:
            if starts[entering]:
                ready = np.where(since <= entering, from_here[entering] - np.int32(at[entering]), _NEVER)
                np.minimum(best, ready, out=best)
                any_yet = True
            entering += 1
        if any_yet:
            np.minimum(best + np.int32(at[i]), _NEVER, out=found[i])
    return found


def _back(
    grid: Grid, rounds: Sequence[Sequence[Lengths]], turns: int, axis: int, place: Triple, least: int
) -> list[Triple]:
    """The corner points up to a place where a way arrives along an axis after so many turns."""
    corners = [place]
    for before in range(turns - 1, -1, -1):
        length = int(rounds[before + 1][axis][place])
        place, axis = next(
            (here, other)
            for sense in (-1, 1)
            for here in grid.run(place, axis, sense)
            if (leg := _apart(grid.point(here), grid.point(place))) >= least
            for other in range(3)
            if other != axis and int(rounds[before][other][here]) + leg == length
        )
        corners.append(place)
    return [grid.point(corner) for corner in reversed(corners)]


def _apart(one: Triple, other: Triple) -> int:
    return sum(abs(a - b) for a, b in zip(one, other, strict=True))


