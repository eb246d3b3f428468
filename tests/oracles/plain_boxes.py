"""Solids in a zone, placed again: for every choice of turns, all ways of keeping overlapping solids apart.

A part is a rigid group of boxes: its body, and the room before its ends. Two boxes of which one must lie beside the
other, in one of six directions, say that one coordinate is at least another plus a length; so does a wall. Such
demands have a solution if no chain of them runs in a circle upwards, and then a least one: the longest chains from
the zone's corner. Where two boxes overlap in it, each of the six directions is tried in turn. Every packing keeps each
two boxes apart in some direction, so none is missed. Lengths are half millimetres; gaps are tried by halving.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from itertools import combinations, product

Triple = tuple[int, int, int]
Demand = tuple[int, int, int]
"""The second node's coordinate is at least the first's plus a length. Node 0 is the zone, parts are 1, 2, 3, ..."""

MOST_HALF_MM = 50


@dataclass(frozen=True)
class Solid:
    """A box of a part as it is turned [mm from its low corner]; `joint`: what a reach is for, None for a body."""

    low: Triple
    high: Triple
    joint: str | None = None


@dataclass(frozen=True)
class Stance:
    """A part in one turn; the height of its liquid's surface, and the height that must not stand above one [mm]."""

    solids: tuple[Solid, ...]
    level: int | None = None
    below: int | None = None


@dataclass(frozen=True)
class Space:
    """A zone: its size, its sides that a reach may go out by as (axis, high or not), what stands in it [mm]."""

    size: Triple
    open: frozenset[tuple[int, bool]]
    blocks: tuple[tuple[Triple, Triple], ...]


@cache
def goes_in(
    space: Space,
    bodies: tuple[tuple[Stance, ...], ...],
    gap: int,
    surface: int | None = None,
    raised: int | None = None,
) -> bool:
    """Whether all bodies go in with a gap [half mm]. `surface`, `raised`: heights over the zone's floor [half mm] that
    what hangs below a surface elsewhere must not stand above, and that a surface in here must reach.
    """
    return any(_apart(_walls(space, s, gap, surface, raised), _pairs(space, s), gap) for s in product(*bodies))


def largest_gap(space: Space, bodies: tuple[tuple[Stance, ...], ...]) -> int | None:
    """The largest gap [half mm], up to 25 mm, that goes in; None where not even none does."""
    return most(lambda gap: goes_in(space, bodies, gap), MOST_HALF_MM)


def most(holds, limit: int) -> int | None:
    """The largest whole number from 0 to a limit for which something holds that holds for all smaller ones."""
    if not holds(0):
        return None
    good, bad = 0, limit + 1
    while bad - good > 1:
        middle = (good + bad) // 2
        good, bad = (middle, bad) if holds(middle) else (good, middle)
    return good


def _walls(
    space: Space, stances: tuple[Stance, ...], gap: int, surface: int | None, raised: int | None
) -> tuple[list[Demand], ...]:
    """What walls and heights ask along x, y and z."""
    asked: tuple[list[Demand], ...] = ([], [], [])
    for node, stance in enumerate(stances, 1):
        for solid in stance.solids:
            for k in range(3):
                kept = gap if solid.joint is None else 0
                if solid.joint is None or (k, False) not in space.open:
                    asked[k].append((0, node, kept - 2 * solid.low[k]))
                if solid.joint is None or (k, True) not in space.open:
                    asked[k].append((node, 0, kept + 2 * solid.high[k] - 2 * space.size[k]))
        if stance.level is not None and raised is not None:
            asked[2].append((0, node, raised - 2 * stance.level))
        if stance.below is not None:
            if surface is not None:
                asked[2].append((node, 0, 2 * stance.below - surface))
            asked[2].extend(
                (node, other, 2 * stance.below - 2 * tank.level)
                for other, tank in enumerate(stances, 1)
                if tank.level is not None
            )
    return asked


def _pairs(space: Space, stances: tuple[Stance, ...]) -> list[tuple[int, Solid, int, Solid]]:
    """Each two solids that may not overlap: bodies first, they leave the least choice."""
    blocks = [Solid(*block) for block in space.blocks]
    found = [
        (node, solid, 0, block) for node, s in enumerate(stances, 1) for solid in s.solids for block in blocks
    ]
    for (node, one), (other, two) in combinations(enumerate(stances, 1), 2):
        for solid, beside in product(one.solids, two.solids):
            if solid.joint is None or solid.joint != beside.joint:
                found.append((node, solid, other, beside))
    return sorted(found, key=lambda pair: (pair[1].joint is not None) + (pair[3].joint is not None))


def _apart(asked: tuple[list[Demand], ...], pairs: list[tuple[int, Solid, int, Solid]], gap: int) -> bool:
    """Whether there is a way to keep all pairs apart."""
    nodes = 1 + max(node for demands in asked for a, b, _ in demands for node in (a, b))
    least = [_least(demands, nodes) for demands in asked]
    return None not in least and _try(asked, least, pairs, gap, nodes)


def _try(asked, least, pairs, gap: int, nodes: int) -> bool:
    close = next((pair for pair in pairs if not _clear(least, pair, gap)), None)
    if close is None:
        return True
    for k, demand in _ways(close, gap):
        narrower = [*asked[k], demand]
        found = _least(narrower, nodes)
        if found is not None:
            lists = (*asked[:k], narrower, *asked[k + 1 :])
            if _try(lists, [*least[:k], found, *least[k + 1 :]], pairs, gap, nodes):
                return True
    return False


def _ways(pair: tuple[int, Solid, int, Solid], gap: int) -> Iterator[tuple[int, Demand]]:
    """The six demands of which one must hold for two solids."""
    one, first, other, second = pair
    kept = _kept(first, second, gap)
    for k in range(3):
        yield k, (one, other, kept + 2 * first.high[k] - 2 * second.low[k])
        yield k, (other, one, kept + 2 * second.high[k] - 2 * first.low[k])


def _clear(least, pair: tuple[int, Solid, int, Solid], gap: int) -> bool:
    return any(least[k][b] >= least[k][a] + length for k, (a, b, length) in _ways(pair, gap))


def _kept(first: Solid, second: Solid, gap: int) -> int:
    """Bodies keep a gap between them and to what stands there, a reach to nothing."""
    return gap if first.joint is None and second.joint is None else 0


def _least(demands: list[Demand], nodes: int) -> list[int] | None:
    """The least coordinates, by the longest chains from the zone's corner; None where the demands go in a circle."""
    at = [0] + [-(10**9)] * (nodes - 1)
    for _ in range(nodes + 1):
        moved = False
        for a, b, length in demands:
            if at[a] + length > at[b]:
                if b == 0:
                    return None
                at[b], moved = at[a] + length, True
        if not moved:
            return at
    return None
