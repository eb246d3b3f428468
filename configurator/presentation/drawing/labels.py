"""Where labels go, so that none lies on another: in a row beside a dimension line, or somewhere near their mark."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from math import hypot
from typing import Final

from configurator.presentation.drawing.marks import Bounds, Spot, overlap

_NEAR: Final = (24.0, 1.5)
_FAR: Final = (90.0, 3.0)
"""How far from its mark a label may stand, and the steps in which a place is looked for [mm]."""
_EDGE: Final = 14.0
_FOREIGN: Final = 5.0
_CROSSED: Final = 15.0
"""What it counts, in millimetres of way, that a label lies on an edge or on another body, or its leader on a title."""


def spread(centres: Sequence[float], lengths: Sequence[float]) -> list[float]:
    """Middles of labels in a row: in order, none on another, as near to the wished middles as can be (least squares).

    Labels that push each other form a group that sits where its members wish on average; groups merge until none
    touch.
    """
    groups: list[tuple[float, list[int]]] = []
    offsets = [sum(lengths[:n]) + length / 2 for n, length in enumerate(lengths)]
    wishes = [centre - offset for centre, offset in zip(centres, offsets, strict=True)]
    for index, wish in enumerate(wishes):
        groups.append((wish, [index]))
        while len(groups) > 1 and groups[-2][0] > groups[-1][0]:
            _, last = groups.pop()
            _, first = groups.pop()
            members = first + last
            groups.append((sum(wishes[member] for member in members) / len(members), members))
    return [start + offsets[member] for start, members in groups for member in members]


def place(
    wide: float,
    high: float,
    anchor: Spot,
    taken: Sequence[Bounds],
    edges: Sequence[Bounds],
    foreign: Sequence[Bounds],
    titles: Sequence[Bounds],
) -> Spot | None:
    """The middle of a label near its anchor: never on what is taken, off edges and off other bodies where it can be.

    Its leader stays off `titles` where it can. None where nothing is free.
    """
    for reach in (_NEAR, _FAR):
        best: tuple[float, Spot] | None = None
        for away, dx, dy in _around(*reach):
            if best is not None and away >= best[0]:
                break
            x, y = anchor[0] + dx, anchor[1] + dy
            box = (x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)
            left, top, right, bottom = box
            if any(a < right and left < c and b < bottom and top < d for a, b, c, d in taken):
                continue
            cost = away + _EDGE * any(overlap(box, edge) for edge in edges)
            cost += _FOREIGN * sum(other[0] <= x <= other[2] and other[1] <= y <= other[3] for other in foreign)
            end = nearest_on(box, anchor)
            cost += _CROSSED * sum(crossed(anchor, end, one) for one in titles)
            if best is None or cost < best[0]:
                best = (cost, (x, y))
        if best is not None:
            return best[1]
    return None


@cache
def _around(reach: float, step: float) -> tuple[tuple[float, float, float], ...]:
    """Steps round an anchor, nearest first."""
    steps = int(reach / step)
    found = [
        (hypot(i, j) * step, i * step, j * step)
        for i in range(-steps, steps + 1)
        for j in range(-steps, steps + 1)
    ]
    return tuple(sorted(way for way in found if way[0] <= reach))


def edges_of(box: Bounds) -> tuple[Bounds, ...]:
    """The four edges of a box, as thin as lines."""
    left, top, right, bottom = box
    return (
        (left, top, left + 0.01, bottom), (right, top, right + 0.01, bottom),
        (left, top, right, top + 0.01), (left, bottom, right, bottom + 0.01),
    )  # fmt: skip


def nearest_on(box: Bounds, spot: Spot) -> Spot:
    """The point of a box nearest to a spot."""
    return min(max(spot[0], box[0]), box[2]), min(max(spot[1], box[1]), box[3])


def crossed(start: Spot, end: Spot, box: Bounds) -> bool:
    """Whether a line goes through a box: it enters before it leaves (Liang and Barsky's clipping of a line)."""
    enters, leaves = 0.0, 1.0
    for axis in (0, 1):
        low, high, way = box[axis] - start[axis], box[axis + 2] - start[axis], end[axis] - start[axis]
        if way == 0.0:
            if low >= 0.0 or high <= 0.0:
                return False
            continue
        near, far = sorted((low / way, high / way))
        enters, leaves = max(enters, near), min(leaves, far)
    return enters < leaves
