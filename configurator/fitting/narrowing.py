"""Bodies in given postures at one gap: what is known of their coordinates, narrowed, and whether all goes in.

Every coordinate has a least and a greatest value that is not yet ruled out; differences tie one to another. Each pair
has the ways in which it may still lie apart. A way whose two coordinates can no longer be so far apart is ruled out; a
pair without a way rules the whole out; a pair with one way left must take it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

Difference = tuple[int, int, int]
"""The second coordinate is at least the first plus a length."""

Ways = tuple[Difference, ...]


class Narrowed(NamedTuple):
    """What is known: least and greatest coordinates, differences that hold, pairs with the ways that are left."""

    least: list[int]
    most: list[int]
    held: list[Difference]
    pairs: list[Ways]


def narrowed(known: Narrowed) -> Narrowed | None:
    """The same without what is ruled out; None where nothing is left. Any solution of the one is one of the other."""
    least, most, held, pairs = known.least.copy(), known.most.copy(), known.held.copy(), known.pairs
    forced = True
    while forced:
        if not _tightened(least, most, held):
            return None
        forced = False
        left = []
        for ways in pairs:
            open_ways = []
            for way in ways:
                before, after, length = way
                if least[before] + length <= most[after]:
                    if most[before] + length <= least[after]:
                        break  # so far apart wherever they lie
                    open_ways.append(way)
            else:
                if len(open_ways) > 1:
                    left.append(ways if len(open_ways) == len(ways) else tuple(open_ways))
                elif open_ways:
                    held.append(open_ways[0])
                    forced = True
                else:
                    return None
        pairs = left
    return Narrowed(least, most, held, pairs)


def _tightened(least: list[int], most: list[int], held: list[Difference]) -> bool:
    """Raise least and lower greatest coordinates as far as the differences push them; False where they cross."""
    moving = True
    while moving:
        moving = False
        for before, after, length in held:
            raised = least[before] + length
            if raised > least[after]:
                if raised > most[after]:
                    return False
                least[after] = raised
                moving = True
            lowered = most[after] - length
            if lowered < most[before]:
                if lowered < least[before]:
                    return False
                most[before] = lowered
                moving = True
    return True


def close_pairs(known: Narrowed) -> list[Ways]:
    """Pairs that lie too close where every coordinate is at its least."""
    least = known.least
    found = []
    for ways in known.pairs:
        for before, after, length in ways:
            if least[before] + length <= least[after]:
                break
        else:
            found.append(ways)
    return found


def branches(known: Narrowed, pair: Ways, ordered: Iterable[Difference]) -> Iterator[Narrowed]:
    """One case for each way in which a pair may lie apart, in this order: for the first of them that holds.

    Cases do not overlap: in each the ways before it do not hold.
    """
    pairs = [other for other in known.pairs if other is not pair]
    held = known.held
    for way in ordered:
        case = narrowed(Narrowed(known.least, known.most, [*held, way], pairs))
        if case is not None:
            yield case
        before, after, length = way
        held = [*held, (after, before, 1 - length)]
