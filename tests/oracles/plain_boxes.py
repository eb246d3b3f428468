"""Boxes in a zone, placed again by brute force: every turn, every position against a wall, obstacle or row of boxes.

A gap of g half millimetres all round is the same as boxes g longer in a room g shorter (and obstacles g longer
towards the low side). If boxes go in at all, they go in pushed low until each touches something; then every
coordinate is a face of the room or of an obstacle plus the sum of some of the other boxes. Parts with faces
that need no gap are outside what this covers.
"""

from __future__ import annotations

import math
from functools import cache
from itertools import combinations, product

from configurator.brief.bay import Bay
from configurator.parts.kinds import Exchanger, RigidPart

Triple = tuple[int, int, int]
MOST_HALF_MM = 50


def clearance_mm(bay: Bay, zone: str, parts: tuple[RigidPart, ...]) -> float | None:
    """The largest gap round every part, counted to 25 mm in steps of half a millimetre; None where they do not fit."""
    assert not any(part.mounts for part in parts)
    room = tuple(math.floor(float(v) * 1000 + 1e-6) for v in _extent(bay.zones[zone]))
    return _largest(room, _blocks(bay, zone), tuple(_turned(part) for part in parts))


@cache
def _largest(
    room: Triple, blocks: tuple[tuple[Triple, Triple], ...], bodies: tuple[tuple[Triple, ...], ...]
) -> float | None:
    fits = -1
    for bit in (32, 16, 8, 4, 2, 1):  # the largest g of 0 to 50 that fits, by halving 0 to 63
        if fits + bit <= MOST_HALF_MM and _fits(room, blocks, bodies, fits + bit):
            fits += bit
    return None if fits < 0 else fits / 2


def _extent(box) -> tuple[float, float, float]:
    return box.deep_m, box.wide_m, box.high_m


def _blocks(bay: Bay, zone: str) -> tuple[tuple[Triple, Triple], ...]:
    found = []
    for block in bay.obstacles:
        if block.zone != zone:
            continue
        off, low, high = block.off, [], []
        grow = {"hot": 50, "moving": 25}.get(block.kind, 0)
        if grow and block.clearance_m is not None:
            grow = math.ceil(float(block.clearance_m) * 1000 - 1e-6)
        sides = ((off.front_m, off.back_m), (off.left_m, off.right_m), (off.floor_m, off.top_m))
        for (near, far), extent, of_zone in zip(sides, _extent(block), _extent(bay.zones[zone]), strict=True):
            start = float(near) if near is not None else float(of_zone) - float(far) - float(extent)
            low.append(math.floor(start * 1000 + 1e-6) - grow)
            high.append(math.ceil((start + float(extent)) * 1000 - 1e-6) + grow)
        found.append((tuple(low), tuple(high)))
    return tuple(found)


def _turned(part: RigidPart) -> tuple[Triple, ...]:
    """Every size [mm] that a part takes along x, y, z of the car in one of its turns."""
    size = {axis: math.ceil(float(getattr(part.size, f"{axis}_m")) * 1000 - 1e-6) for axis in "xyz"}
    fronts = part.turns.front or ("+x", "-x", "+y", "-y", "+z", "-z")
    air = part.turns.air or (("+x", "-x") if isinstance(part, Exchanger) else None)
    found = set()
    for up, front in product(part.turns.up, fronts):
        if up[1] == front[1] or (air is not None and front not in air):
            continue
        (third,) = set("xyz") - {up[1], front[1]}
        found.add((size[front[1]], size[third], size[up[1]]))
    return tuple(sorted(found))


def _fits(
    room: Triple, blocks: tuple[tuple[Triple, Triple], ...], bodies: tuple[tuple[Triple, ...], ...], gap: int
) -> bool:
    """Whether all bodies go in with a gap [half mm]."""
    inside = tuple(2 * v - gap for v in room)
    solid = [(tuple(2 * v - gap for v in low), tuple(2 * v for v in high)) for low, high in blocks]
    for sizes in product(*bodies):
        grown = [tuple(2 * v + gap for v in size) for size in sizes]
        starts = [sorted({0, *(high[k] for _, high in solid if high[k] >= 0)}) for k in range(3)]
        if _place(inside, solid, grown, starts, ()):
            return True
    return False


def _place(inside, solid, grown, starts, placed) -> bool:
    if len(placed) == len(grown):
        return True
    size = grown[len(placed)]
    others = [g for k, g in enumerate(grown) if k != len(placed)]
    places = []
    for k in range(3):
        sums = {sum(g[k] for g in some) for n in range(len(others) + 1) for some in combinations(others, n)}
        places.append(sorted({s + t for s in starts[k] for t in sums if s + t + size[k] <= inside[k]}))
    for low in product(*places):
        high = tuple(low[k] + size[k] for k in range(3))
        if all(_apart(low, high, *other) for other in (*solid, *placed)) and _place(
            inside, solid, grown, starts, (*placed, (low, high))
        ):
            return True
    return False


def _apart(low, high, other_low, other_high) -> bool:
    return any(high[k] <= other_low[k] or other_high[k] <= low[k] for k in range(3))
