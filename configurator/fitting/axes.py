"""One axis of a packing: which coordinates bound which, and the least coordinates that keep all of it.

Lengths are half millimetres. A bound that needs a gap grows by the gap that is asked for, so the same axis
serves at any gap.
"""

from __future__ import annotations

from typing import Final, NamedTuple

WALL: Final = -1
"""Stands for a wall where an obstacle's index may stand."""

_UNPUSHED: Final = -(1 << 60)


class Bound(NamedTuple):
    """A body's lowest (highest) coordinate: a length plus (less) so many gaps, off an obstacle or WALL."""

    body: int
    length: int
    gaps: int
    by: int


class Order(NamedTuple):
    """The second body's coordinate is at least the first's plus a length and so many gaps."""

    first: int
    second: int
    length: int
    gaps: int


class Axis(NamedTuple):
    """All that holds along one axis."""

    lowest: tuple[Bound, ...]
    highest: tuple[Bound, ...]
    orders: tuple[Order, ...]


class Least(NamedTuple):
    """At the least coordinates of a gap: by how much a body is then too far back, and why.

    `chain` holds the bound that is overrun, then what pushed its body, and so on back to the wall or obstacle
    at which the chain starts; empty where all goes in. `gaps` counts the gaps along it.
    """

    over: int
    gaps: int
    chain: tuple[Bound | Order, ...]


def least_coordinates(axis: Axis, bodies: int, gap: int) -> Least:
    """Push every body as low as the axis lets it at this gap (longest paths from the walls)."""
    at = [_UNPUSHED] * bodies
    counted = [0] * bodies
    pushed_by: list[Bound | Order | None] = [None] * bodies
    for low in axis.lowest:
        body, length, gaps, _ = low
        reach = length + gaps * gap
        if reach > at[body]:
            at[body], counted[body], pushed_by[body] = reach, gaps, low
    moving = True
    while moving:
        # Looked at in every round: an order that runs in a circle ends as soon as it leaves the room.
        for high in axis.highest:
            body, length, gaps, _ = high
            over = at[body] - length + gaps * gap
            if over > 0:
                return Least(over, counted[body] + gaps, _chain(high, pushed_by))
        moving = False
        for order in axis.orders:
            first, second, length, gaps = order
            reach = at[first] + length + gaps * gap
            if reach > at[second]:
                at[second], counted[second], pushed_by[second] = reach, counted[first] + gaps, order
                moving = True
    return Least(0, 0, ())


def _chain(high: Bound, pushed_by: list[Bound | Order | None]) -> tuple[Bound | Order, ...]:
    links: list[Bound | Order] = [high]
    link = pushed_by[high.body]
    while link is not None and link not in links[1:]:
        links.append(link)
        link = pushed_by[link.first] if isinstance(link, Order) else None
    return tuple(links)
