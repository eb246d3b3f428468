"""What is said of each posture in a room, and of any two postures together, as plain numbers at a gap."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache
from typing import NamedTuple

from configurator.fitting.axes import Bound
from configurator.fitting.narrowing import Difference, Narrowed, narrowed
from configurator.fitting.pairs import STEPS_PER_MM, Bodies, bounds_of, levels_between
from configurator.fitting.room import Room
from configurator.fitting.turns import Posture
from configurator.foundations.boxes import Box, Triple

_EVERY_SIDE = (True,) * 6
_Posture = tuple[int, int]
"""A body and the index of one of its postures."""
_Limits = tuple[tuple[tuple[int, int], ...], tuple[tuple[int, int], ...]]
"""Along one axis: lengths, each with so many gaps, that hold a body's lowest corner from below and from above."""


class _Solid(NamedTuple):
    """A solid in half millimetres, from its body's coordinates or, for an obstacle, from the room's corner."""

    joint: str | None
    low: Triple
    high: Triple
    needs_gap: tuple[bool, ...]


class Said:
    """Works out what is said of bodies in one room, each once. Coordinate 3 x body + axis is a body's lowest corner."""

    def __init__(self, room: Room, bodies: Bodies) -> None:
        """Bodies by their postures. What stays put has a coordinate of its own behind all others, at 0."""
        self._room, self._bodies = room, bodies
        self._pinned = 3 * len(bodies)
        self._alike = [[one == other for other in bodies] for one in bodies]
        self._obstacles = [_solid(None, box, _EVERY_SIDE) for box in room.obstacles]
        self._solids: dict[_Posture, list[_Solid]] = {}
        self._limits: dict[_Posture, tuple[_Limits, ...]] = {}
        self._alone: dict[tuple[int, _Posture], Narrowed | None] = {}

    def nothing(self) -> Narrowed:
        """Nothing is placed."""
        return Narrowed([0] * (self._pinned + 1), [0] * (self._pinned + 1), [], [])

    def alike(self, one: int, other: int) -> bool:
        """Whether two bodies are alike in everything."""
        return self._alike[one][other]

    def alone(self, gap: int, posture: _Posture) -> Narrowed | None:
        """One body in one posture among walls and obstacles, narrowed; None where it does not go in."""
        key = (gap, posture)
        if key not in self._alone:
            self._alone[key] = self._in_the_room(gap, posture)
        return self._alone[key]

    def with_body(self, gap: int, known: Narrowed, chosen: Mapping[int, int], posture: _Posture) -> Narrowed | None:
        """One more body, in one of its postures, beside those that are chosen; None where it does not go in.

        Of two bodies alike in everything, in the same posture, the first is never the farther back.
        """
        alone = self.alone(gap, posture)
        if alone is None:
            return None
        body, index = posture
        own = slice(3 * body, 3 * body + 3)
        least, most = known.least.copy(), known.most.copy()
        least[own], most[own] = alone.least[own], alone.most[own]
        wider = Narrowed(least, most, [*known.held, *alone.held], [*known.pairs, *alone.pairs])
        for other, taken in chosen.items():
            wider.held.extend(self._levels(body, index, other, taken))
            if taken == index and self._alike[body][other]:
                wider.held.append((3 * min(body, other), 3 * max(body, other), 0))
            if not _keep_apart(gap, wider, self._coordinates(body), self._of(posture), self._coordinates(other),
                               self._of((other, taken))):
                return None
        return narrowed(wider)

    def _in_the_room(self, gap: int, posture: _Posture) -> Narrowed | None:
        """What walls, heights and obstacles leave of a body."""
        body, index = posture
        if posture not in self._limits:
            self._limits[posture] = _limits_of(self._room, self._bodies[body][index])
        known = self.nothing()
        for k, (low, high) in enumerate(self._limits[posture]):
            known.least[3 * body + k] = max(length + gaps * gap for length, gaps in low)
            known.most[3 * body + k] = min(length - gaps * gap for length, gaps in high)
            if known.least[3 * body + k] > known.most[3 * body + k]:
                return None
        put = (self._pinned,) * 3
        if not _keep_apart(gap, known, self._coordinates(body), self._of(posture), put, self._obstacles):
            return None
        return narrowed(known)

    def _levels(self, body: int, index: int, other: int, taken: int) -> Iterable[Difference]:
        levels = levels_between(body, self._bodies[body][index], other, self._bodies[other][taken])
        return [(3 * level.first + 2, 3 * level.second + 2, level.length) for level in levels]

    def _coordinates(self, body: int) -> Triple:
        return (3 * body, 3 * body + 1, 3 * body + 2)

    def _of(self, posture: _Posture) -> list[_Solid]:
        if posture not in self._solids:
            self._solids[posture] = _solids(self._bodies[posture[0]][posture[1]])
        return self._solids[posture]


@lru_cache(maxsize=65536)
def _limits_of(room: Room, posture: Posture) -> tuple[_Limits, ...]:
    """What walls and heights say of a posture along x, y and z; the same few come up in every search of a room."""
    lowest, highest = bounds_of(room, 0, posture)
    return tuple((_holding(low, max), _holding(high, min)) for low, high in zip(lowest, highest, strict=True))


def _holding(bounds: Iterable[Bound], strictest: Callable[[int, int], int]) -> tuple[tuple[int, int], ...]:
    """Of bounds with as many gaps the one that holds: its length, and the gaps."""
    lengths: dict[int, int] = {}
    for bound in bounds:
        lengths[bound.gaps] = strictest(bound.length, lengths.get(bound.gaps, bound.length))
    return tuple((length, gaps) for gaps, length in lengths.items())


def _solids(posture: Posture) -> list[_Solid]:
    return [_solid(solid.joint, solid.box, solid.needs_gap) for solid in posture.solids]


def _solid(joint: str | None, box: Box, needs_gap: tuple[bool, ...]) -> _Solid:
    (a, b, c), (d, e, f) = box.low, box.high
    n = STEPS_PER_MM
    return _Solid(joint, (n * a, n * b, n * c), (n * d, n * e, n * f), needs_gap)


def _keep_apart(
    gap: int, known: Narrowed, here: Triple, solids: list[_Solid], there: Triple, others: list[_Solid]
) -> bool:
    """Add every pair of solids that may still lie in each other, with the ways that it has; False where one has none.

    `here` and `there` are the coordinates that the solids hang on. Reaches of one joint may lie in each other.
    """
    least, most, _, pairs = known
    for one in solids:
        for other in others:
            if one.joint is not None and one.joint == other.joint:
                continue
            ways: list[Difference] = []
            for k in range(3):
                near, far = here[k], there[k]
                behind = other.high[k] - one.low[k]
                if one.needs_gap[2 * k] and other.needs_gap[2 * k + 1]:
                    behind += gap
                if least[far] + behind <= most[near]:
                    if most[far] + behind <= least[near]:
                        break
                    ways.append((far, near, behind))
                before = one.high[k] - other.low[k]
                if one.needs_gap[2 * k + 1] and other.needs_gap[2 * k]:
                    before += gap
                if least[near] + before <= most[far]:
                    if most[near] + before <= least[far]:
                        break
                    ways.append((near, far, before))
            else:
                if not ways:
                    return False
                pairs.append(tuple(ways))
    return True
