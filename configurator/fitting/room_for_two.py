"""The most room that two parts can have in one zone, for many pairs at once: a bound, not a placement.

Two bodies lie apart along one of three axes, one way round or the other; the largest gap of each way is read off what
stands in a row there: wall, reach, body, gap, body, reach, wall. Any placement at a gap keeps one of these ways, and
what walls and the liquid's surface ask of each body. Obstacles, and one's body in the other's reach, are not looked
at: without those the bound is the clearance itself.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import product
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from configurator.fitting.pairs import STEPS_PER_MM
from configurator.fitting.room import Room
from configurator.fitting.turns import Posture
from configurator.foundations.numbers import Array

NO_ROOM = -1.0
_NOISE = 1e-6
"""Far above the error of a float that holds millimetres, far below half of one."""


class _Outlines(NamedTuple):
    """Postures as the last axis of a table; lengths in mm, three columns are along x, y and z."""

    table: Array

    @property
    def of(self) -> NDArray[np.intp]:
        """The body of each."""
        return self.table[..., 0].astype(np.intp)

    @property
    def size(self) -> Array:
        """The body's box."""
        return self.table[..., 1:4]

    @property
    def gap_low(self) -> Array:
        """1 where its low face needs a gap."""
        return self.table[..., 4:7]

    @property
    def gap_high(self) -> Array:
        """1 where its high face needs a gap."""
        return self.table[..., 7:10]

    @property
    def low(self) -> Array:
        """What it holds free beyond its box towards low walls that are shut."""
        return self.table[..., 10:13]

    @property
    def high(self) -> Array:
        """What it holds free beyond its box towards high walls that are shut."""
        return self.table[..., 13:16]

    @property
    def level(self) -> Array:
        """The liquid's surface over its floor; infinite where there is none."""
        return self.table[..., 16]

    @property
    def below(self) -> Array:
        """The height that must not stand above a surface; less than any where there is none."""
        return self.table[..., 17]


def room_for_two(
    room: Room, firsts: Sequence[tuple[Posture, ...]], seconds: Sequence[tuple[Posture, ...]], cap_mm: float
) -> Array:
    """The most clearance that each of some bodies has beside each of others, shape (firsts, seconds) [mm].

    In half millimetres, up to `cap_mm`; NO_ROOM where the two never go into the room together. Each body is given by
    its postures (`fitting/turns.py`).
    """
    found = np.full((len(firsts), len(seconds)), NO_ROOM)
    one, two = (_that_go_in(room, _outlines(room, bodies), cap_mm) for bodies in (firsts, seconds))
    if len(one.of) and len(two.of):
        pairs = _room_mm(room, _Outlines(one.table[:, None]), two, cap_mm)
        starts = [np.flatnonzero(np.diff(outlines.of, prepend=-1)) for outlines in (one, two)]
        best = np.maximum.reduceat(np.maximum.reduceat(pairs, starts[0], axis=0), starts[1], axis=1)
        found[np.ix_(one.of[starts[0]], two.of[starts[1]])] = best
    steps = np.floor(found * STEPS_PER_MM + _NOISE) / STEPS_PER_MM
    return np.where(found < 0, NO_ROOM, steps)


def _outlines(room: Room, bodies: Sequence[tuple[Posture, ...]]) -> _Outlines:
    """Postures that differ in what is looked at here, body by body."""
    rows = [(body, *outline) for body, postures in enumerate(bodies) for outline in _differing(room, postures)]
    return _Outlines(np.array(rows, dtype=float).reshape(len(rows), 18))


def _differing(room: Room, postures: Iterable[Posture]) -> list[tuple[float, ...]]:
    return list(dict.fromkeys(_outline(room, posture) for posture in postures))


def _outline(room: Room, posture: Posture) -> tuple[float, ...]:
    body, *reaches = posture.solids
    low, high = [0, 0, 0], [0, 0, 0]
    for solid in reaches:
        for k in range(3):
            if not room.open[2 * k]:
                low[k] = max(low[k], -solid.box.low[k])
            if not room.open[2 * k + 1]:
                high[k] = max(high[k], solid.box.high[k] - posture.size[k])
    level = math.inf if posture.level is None else posture.level
    below = -math.inf if posture.below is None else posture.below
    return (*posture.size, *body.needs_gap[::2], *body.needs_gap[1::2], *low, *high, level, below)


def _that_go_in(room: Room, outlines: _Outlines, cap_mm: float) -> _Outlines:
    """The postures that the walls leave room for."""
    rooms = [_between_walls(room, outlines, k, cap_mm) for k in range(3)]
    return _Outlines(outlines.table[np.min(rooms, axis=0) >= 0])


def _room_mm(room: Room, one: _Outlines, two: _Outlines, cap_mm: float) -> Array:
    """The most room of every posture of one with every one of two."""
    walls = np.full(np.broadcast_shapes(one.level.shape, two.level.shape), cap_mm)
    apart = np.full(walls.shape, NO_ROOM)
    for outlines in (one, two):
        for k in range(3):
            walls = np.minimum(walls, _between_walls(room, outlines, k, cap_mm))
    for under, over in ((one, two), (two, one)):
        walls = np.minimum(walls, _under_the_surface(room, under, over, cap_mm))
        for k in range(3):
            in_a_row = _in_a_row(room, under, over, k, cap_mm)
            if k == 2:  # what must lie below a surface stands on no reservoir
                in_a_row = np.where(np.isfinite(under.level) & np.isfinite(over.below), NO_ROOM, in_a_row)
            apart = np.maximum(apart, in_a_row)
    return np.asarray(np.minimum(walls, apart))


def _between_walls(room: Room, body: _Outlines, k: int, cap_mm: float) -> Array:
    free = room.size[k] - body.size[..., k]
    low, high = body.low[..., k], body.high[..., k]
    return _widest(free, (low, body.gap_low[..., k]), 0.0, (high, body.gap_high[..., k]), cap_mm)


def _in_a_row(room: Room, first: _Outlines, second: _Outlines, k: int, cap_mm: float) -> Array:
    """One body before the other along an axis."""
    free = room.size[k] - first.size[..., k] - second.size[..., k]
    between = first.gap_high[..., k] * second.gap_low[..., k]
    low, high = (first.low[..., k], first.gap_low[..., k]), (second.high[..., k], second.gap_high[..., k])
    return _widest(free, low, between, high, cap_mm)


def _under_the_surface(room: Room, under: _Outlines, reservoir: _Outlines, cap_mm: float) -> Array:
    """What must lie below a surface as low as can be, and the reservoir as high; the cap where nothing must."""
    free = room.size[2] - reservoir.size[..., 2] + reservoir.level - under.below
    low = (under.low[..., 2], under.gap_low[..., 2])
    high = (reservoir.high[..., 2], reservoir.gap_high[..., 2])
    return _widest(free, low, 0.0, high, cap_mm)


def _widest(
    free: Array, low: tuple[Array, Array], between: Array | float, high: tuple[Array, Array], cap_mm: float
) -> Array:
    """The largest gap g with max(low, g) + g + max(high, g) in what is free, each g only where one is needed.

    `low`, `high`: what is held free there, and whether a gap is needed. Less than none where there is not so much.
    """
    found: Array = np.asarray(cap_mm)
    for (held_low, gap_low), (held_high, gap_high) in product(_held_or_gap(*low), _held_or_gap(*high)):
        spare = free - held_low - held_high
        gaps = gap_low + between + gap_high
        without = np.where(spare < 0, NO_ROOM, cap_mm)
        found = np.minimum(found, np.where(gaps > 0, spare / np.maximum(gaps, 1.0), without))
    return found


def _held_or_gap(held: Array, gap: Array) -> list[tuple[Array | float, Array | float]]:
    """A side as what is held free there, and as a gap: the larger counts. Where nothing is held, as a gap alone."""
    return [(held, 0.0), (0.0, gap)] if held.any() else [(0.0, gap)]
