"""One axis of a packing: which coordinates bound which, and the least coordinates that keep all of it.

Lengths are half millimetres. A bound that needs a gap grows by the gap that is asked for, so the same axis
can be settled at any gap.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

WALL = -1
"""Stands for a wall where an obstacle's index may stand."""


@dataclass(frozen=True)
class Bound:
    """The lowest or highest coordinate of a body, less or more one gap if it needs one; set by an obstacle
    or WALL.
    """

    body: int
    length: int
    gaps: int
    by: int


@dataclass(frozen=True)
class Order:
    """The second body's coordinate is at least the first's plus a length, plus one gap if it needs one."""

    first: int
    second: int
    length: int
    gaps: int


@dataclass(frozen=True)
class Axis:
    """All that holds along one axis."""

    lowest: tuple[Bound, ...]
    highest: tuple[Bound, ...]
    orders: tuple[Order, ...] = ()

    def at_least(self, bound: Bound) -> Axis:
        """With one more lowest coordinate."""
        return replace(self, lowest=(*self.lowest, bound))

    def at_most(self, bound: Bound) -> Axis:
        """With one more highest coordinate."""
        return replace(self, highest=(*self.highest, bound))

    def ordered(self, order: Order) -> Axis:
        """With one more order of two bodies."""
        return replace(self, orders=(*self.orders, order))


@dataclass(frozen=True)
class Least:
    """The least coordinates at a gap, the gaps counted on the way to each, and the chain that does not go in.

    `chain` lists what each body on it was pushed by, from the body that is too far back to the wall: a body's
    index, then the bound or order that set it. Empty when all goes in; `over` is by how much it does not.
    """

    coordinates: tuple[int, ...]
    over: int = 0
    gaps_in_chain: int = 0
    chain: tuple[Bound | Order, ...] = ()


def least_coordinates(axis: Axis, bodies: int, gap: int) -> Least:
    """Push every body as low as the axis lets it at this gap (longest paths from the walls)."""
    at = [-(1 << 60)] * bodies
    gaps = [0] * bodies
    pushed_by: list[Bound | Order | None] = [None] * bodies
    for low in axis.lowest:
        reach = low.length + low.gaps * gap
        if reach > at[low.body]:
            at[low.body], gaps[low.body], pushed_by[low.body] = reach, low.gaps, low
    moving = True
    while moving:
        for high in axis.highest:
            over = at[high.body] - high.length + high.gaps * gap
            if over > 0:
                return Least(tuple(at), over, gaps[high.body] + high.gaps, _chain(high, pushed_by))
        moving = False
        for order in axis.orders:
            reach = at[order.first] + order.length + order.gaps * gap
            if reach > at[order.second]:
                at[order.second], gaps[order.second] = reach, gaps[order.first] + order.gaps
                pushed_by[order.second] = order
                moving = True
    return Least(tuple(at))


def settle(axis: Axis, bodies: int, most_gap: int) -> tuple[int, tuple[int, ...]] | None:
    """The largest gap up to `most_gap` that the axis allows, with its least coordinates; None if it allows
    none.

    Each chain that does not go in says how far the gap must fall at the least: its excess over its gaps.
    """
    gap = most_gap
    while True:
        least = least_coordinates(axis, bodies, gap)
        if not least.over:
            return gap, least.coordinates
        if not least.gaps_in_chain:
            return None
        gap -= -(-least.over // least.gaps_in_chain)
        if gap < 0:
            return None


def _chain(high: Bound, pushed_by: list[Bound | Order | None]) -> tuple[Bound | Order, ...]:
    links: list[Bound | Order] = [high]
    link = pushed_by[high.body]
    while link is not None and link not in links:
        links.append(link)
        link = pushed_by[link.first] if isinstance(link, Order) else None
    return tuple(links)
