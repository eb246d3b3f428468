"""The exact search: bodies into one room with the largest gap round all of them, at the smallest coordinates.

Why it is complete. In any packing, each two solids (and each solid and obstacle) lie apart along at least one of
the six directions. Once a direction is chosen for each such pair, what is left is "this coordinate is at least that
one plus a length" and bounds from walls, obstacles and heights; least coordinates that keep all of it, if any do, are
found by pushing. So at a given gap the search begins with walls alone, narrows what is left of each coordinate and of
each pair's directions, and branches on the directions of a pair that lies too close at the least coordinates. It
ends in a packing, at least coordinates with no pair too close, or has ruled every case out.

The largest gap. Bodies that go in with a gap go in with any smaller one, at the same places. So halving finds the
largest gap at which anything goes in; each gap is decided as above, part after part: postures of the first few parts
that do not go in by themselves are not tried with those of more.

Why the packing found is the canonical one. At the largest gap, a case's key is its least coordinates, body by body,
and its turns; of bodies whose posture is not chosen yet, the least that any of their postures has. Choosing, narrowing
and branching only raise them, so no packing of a case has a key below the case's. Cases are taken by smallest key,
and the first with all bodies and without a pair too close is the answer.

A reach is one more solid of its part's rigid group, which open walls do not bound; a part's coordinates are still
bounded by the walls that hold its body.

Of bodies alike in everything the earlier one is never the farther back: swapping two such bodies changes
nothing but the names, and the smallest coordinates go to the earlier one.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from functools import lru_cache, partial
from typing import Literal, NamedTuple

from configurator.fitting.narrowing import Difference, Narrowed, Ways, branches, close_pairs, narrowed
from configurator.fitting.pairs import Bodies
from configurator.fitting.room import Room
from configurator.fitting.said import Said
from configurator.foundations.boxes import Triple

Corners = tuple[int, ...]


@dataclass(frozen=True)
class Packing:
    """How it came out, nodes looked at, gap [half mm]; each body's posture by index and corner [half mm]."""

    state: Literal["fits", "does not fit", "not decided"]
    nodes: int
    gap: int = 0
    chosen: tuple[int, ...] = ()
    corners: tuple[Triple, ...] = ()


class _OutOfNodes(Exception):
    """The search has looked at as many nodes as it may; only `pack` sees this."""


@lru_cache(maxsize=65536)
def pack(room: Room, bodies: Bodies, most_gap: int, node_limit: int) -> Packing:
    """Put every body into the room in one of its postures.

    Gaps above `most_gap` [half mm] are not told apart. After `node_limit` nodes the answer is "not decided"; where the
    largest gap is settled by then, it stands, with the packing that was found at it in place of the canonical one.
    """
    if _too_full(room, bodies):
        return Packing("does not fit", 0)
    search = _Search(room, bodies, node_limit)
    try:
        widest = search.widest(most_gap)
    except _OutOfNodes:
        return Packing("not decided", search.nodes)
    if widest is None:
        return Packing("does not fit", search.nodes)
    gap, placed = widest
    with suppress(_OutOfNodes):
        placed = search.smallest(gap, placed)
    corners = zip(*(iter(placed.corners),) * 3, strict=True)
    return Packing("fits", search.nodes, gap, placed.chosen, tuple(corners))


@lru_cache(maxsize=65536)
def may_pack(room: Room, bodies: Bodies, node_limit: int) -> bool:
    """Whether `pack` says anything but "does not fit": soon known, for neither gap nor placement is looked for."""
    if _too_full(room, bodies):
        return False
    with suppress(_OutOfNodes):
        return _Search(room, bodies, node_limit).packed(0) is not None
    return True


def _too_full(room: Room, bodies: Bodies) -> bool:
    """Whether a body has no posture that it may take, or all of them have more volume than the room."""
    return not all(bodies) or sum(body[0].solids[0].box.volume for body in bodies) > math.prod(room.size)


class _Placed(NamedTuple):
    """Bodies placed: their postures by index, and their corners, body by body."""

    chosen: tuple[int, ...]
    corners: Corners


class _Case(NamedTuple):
    """A case of the canonical search: the first few bodies, or all, in chosen postures.

    Cases sort by their first three members, of which the first two are the key.
    """

    least: Corners
    turns: tuple[int, ...]
    made: int
    chosen: tuple[int, ...]
    known: Narrowed


class _Search:
    """One search, with its count of nodes."""

    def __init__(self, room: Room, bodies: Bodies, node_limit: int) -> None:
        self.room, self.bodies, self.limit = room, bodies, node_limit
        self.nodes = 0
        self.said = Said(room, bodies)
        volumes = [math.prod(body[0].size) for body in bodies]
        self.by_volume = sorted(range(len(bodies)), key=lambda body: -volumes[body])

    def widest(self, most_gap: int) -> tuple[int, _Placed] | None:
        """The largest gap at which all goes in, and some packing at it."""
        packed = self.packed(0)
        if packed is None:
            return None
        widest = self.packed(most_gap)
        if widest is not None:
            return most_gap, widest
        gap, too_wide = 0, most_gap
        while too_wide - gap > 1:
            middle = (gap + too_wide) // 2
            found = self.packed(middle)
            if found is None:
                too_wide = middle
            else:
                gap, packed = middle, found
        return gap, packed

    def smallest(self, gap: int, placed: _Placed) -> _Placed:
        """The canonical packing at the largest gap; its first coordinate is at most that of another packing at it."""
        lowest = self._lowest(gap)
        cases = [_Case(*_key(self.bodies, lowest, (), self.said.nothing()), 0, (), self.said.nothing())]
        made = 0
        while True:
            self._look()
            case = heapq.heappop(cases)
            close = close_pairs(case.known)
            if close:
                ways = max(close, key=partial(_pushes, case.known))
                found = [(case.chosen, known) for known in branches(case.known, ways, ways)]
            elif len(case.chosen) < len(self.bodies):
                found = [*self._one_more(gap, case, placed)]
            else:
                return _Placed(case.chosen, case.least)
            for chosen, known in found:
                made += 1
                heapq.heappush(cases, _Case(*_key(self.bodies, lowest, chosen, known), made, chosen, known))

    def _lowest(self, gap: int) -> list[tuple[Corners, int]]:
        """For each body the least that any of its postures has: x, y and z, and the order of its turn."""
        found = []
        for body, postures in enumerate(self.bodies):
            alone = [(at, self.said.alone(gap, (body, at))) for at in range(len(postures))]
            fit = [(postures[at].turn.order, known.least[3 * body : 3 * body + 3]) for at, known in alone if known]
            least = tuple(min(corner[k] for _, corner in fit) for k in range(3))
            found.append((least, min(order for order, _ in fit)))
        return found

    def _one_more(self, gap: int, case: _Case, placed: _Placed) -> Iterator[tuple[tuple[int, ...], Narrowed]]:
        """A case with one more body, in each posture with which those so far go in."""
        body = len(case.chosen)
        for index in range(len(self.bodies[body])):
            known = self.said.with_body(gap, case.known, dict(enumerate(case.chosen)), (body, index))
            if known is not None and body == 0:
                known.most[0] = min(known.most[0], placed.corners[0])
                known = narrowed(known)
            if known is not None and self._goes_in(known) is not None:
                yield (*case.chosen, index), known

    def packed(self, gap: int) -> _Placed | None:
        """Some packing at this gap."""
        return self._with_more(gap, {}, self.said.nothing(), ())

    def _with_more(self, gap: int, chosen: dict[int, int], known: Narrowed, corners: Corners) -> _Placed | None:
        if len(chosen) == len(self.bodies):
            return _Placed(tuple(chosen[body] for body in range(len(chosen))), corners)
        body = self.by_volume[len(chosen)]
        alike = [index for other, index in chosen.items() if self.said.alike(other, body)]
        for index in range(max(alike, default=0), len(self.bodies[body])):
            wider = self.said.with_body(gap, known, chosen, (body, index))
            found = None if wider is None else self._goes_in(wider)
            if wider is not None and found is not None:
                whole = self._with_more(gap, {**chosen, body: index}, wider, found)
                if whole is not None:
                    return whole
        return None

    def _goes_in(self, known: Narrowed) -> Corners | None:
        """The corners of some packing that is left."""
        self._look()
        close = close_pairs(known)
        if not close:
            return tuple(known.least[:-1])
        spare = partial(_spare, known)
        ways = min(close, key=lambda ways: (len(ways), max(map(spare, ways))))
        for case in branches(known, ways, sorted(ways, key=spare, reverse=True)):
            found = self._goes_in(case)
            if found is not None:
                return found
        return None

    def _look(self) -> None:
        if self.nodes == self.limit:
            raise _OutOfNodes
        self.nodes += 1


def _key(
    bodies: Bodies, lowest: list[tuple[Corners, int]], chosen: tuple[int, ...], known: Narrowed
) -> tuple[Corners, tuple[int, ...]]:
    """Least coordinates and turns of a case; of bodies that are still to come the least that they may have."""
    to_come = lowest[len(chosen) :]
    least = (*known.least[: 3 * len(chosen)], *(at for corner, _ in to_come for at in corner))
    turns = (body[index].turn.order for body, index in zip(bodies, chosen, strict=False))
    return least, (*turns, *(order for _, order in to_come))


def _spare(known: Narrowed, way: Difference) -> int:
    """How much room a way leaves, taken now."""
    before, after, length = way
    return known.most[after] - known.least[before] - length


def _pushes(known: Narrowed, ways: Ways) -> tuple[int, int]:
    """How far the mildest of some ways pushes a key up; only the order of the search hangs on it."""
    least = known.least
    return min((-after, least[before] + length - least[after]) for before, after, length in ways)
