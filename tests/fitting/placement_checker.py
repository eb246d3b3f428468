"""An independent judge of placements: inside, clear, apart, turn allowed, room before ends free, sides faced, heights
kept. It shares no code with the program.

Turns are signed permutation matrices; a point of a part is carried by one about the part's middle.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import combinations, permutations, product

from tests.fitting.plain_cases import PlainCase, PlainPart, PlainReach

SIDES = ("front", "back", "left", "right", "floor", "top")
OUTWARD = {"front": (0, -1), "back": (0, 1), "left": (1, -1), "right": (1, 1), "floor": (2, -1), "top": (2, 1)}
PUMP_UNDER = 100


def rotations() -> list[dict[str, str]]:
    """The 24 rotations as {side of the car: face of the part that looks there}, from signed permutation matrices."""
    found = []
    for axes in permutations(range(3)):
        parity = 1 if axes in {(0, 1, 2), (1, 2, 0), (2, 0, 1)} else -1
        for signs in product((1, -1), repeat=3):
            if parity * signs[0] * signs[1] * signs[2] != 1:
                continue
            looks = {}
            for side, (axis, sign) in OUTWARD.items():
                looks[side] = ("+" if signs[axis] * sign > 0 else "-") + "xyz"[axes[axis]]
            found.append(looks)
    return found


def allowed(part: PlainPart) -> list[dict[str, str]]:
    """The rotations that a part's turns let it have."""
    return [looks for looks in rotations() if looks["top"] in part.ups and looks["front"] in part.fronts]


def turned_size(part: PlainPart, looks: dict[str, str]) -> tuple[int, int, int]:
    """Size along x, y, z of the car."""
    return tuple(part.size["xyz".index(looks[side][1])] for side in ("back", "right", "top"))


def carried(part: PlainPart, looks: dict[str, str], point: tuple[int, int, int]) -> tuple[float, float, float]:
    """Where a point of a part as drawn lies from its lowest corner once turned: rotated about the part's middle."""
    found = []
    for side, length in zip(("back", "right", "top"), turned_size(part, looks), strict=True):
        axis = "xyz".index(looks[side][1])
        from_middle = point[axis] - part.size[axis] / 2
        found.append(length / 2 + (from_middle if looks[side][0] == "+" else -from_middle))
    return tuple(found)


def turned_reach(part: PlainPart, looks: dict[str, str], reach: PlainReach):
    """Lowest and highest corner of the room before an end, from the turned part's lowest corner."""
    corners = carried(part, looks, reach.low), carried(part, looks, reach.high)
    return tuple(map(min, *corners)), tuple(map(max, *corners))


def faces_well(case: PlainCase, part: PlainPart, looks: dict[str, str]) -> bool:
    """Whether every end in use faces one of the sides that the zone names for its medium."""
    named = dict(case.ends)
    return all(
        any(looks[side] == face for side in named[medium]) for medium, face in part.used if medium in named
    )


def surface_over_floor(part: PlainPart) -> dict[str, int]:
    """For a reservoir, by the face that points up: whole millimetres from its floor to its liquid's surface."""
    return {} if part.filled is None else {f: part.filled * part.size["xyz".index(f[1])] // 100 for f in _ALL}


def height_to_keep(part: PlainPart, looks: dict[str, str]) -> float | None:
    """How high above the part's floor it must not stand over the surface; None where nothing asks."""
    if part.inlet is not None:
        return carried(part, looks, part.inlet)[2] + PUMP_UNDER
    if part.bled_by is not None and looks["top"] not in part.bled_by:
        return turned_size(part, looks)[2]
    return None


_ALL = ("+x", "-x", "+y", "-y", "+z", "-z")


@dataclass
class _Found:
    """What stands in one zone, part by part, and the heights in it above its floor."""

    bodies: list[tuple] = field(default_factory=list)
    reaches: list[tuple] = field(default_factory=list)
    surfaces: list[tuple[str, float]] = field(default_factory=list)
    below: list[tuple[str, float]] = field(default_factory=list)
    wrong: list[str] = field(default_factory=list)


def faults(case: PlainCase, placements, clearance_mm: float) -> list[str]:
    """Everything wrong with placements in the zone's own frame; an empty list where all is well."""
    stand = _stand(case, placements)
    found = list(stand.wrong)
    if len(placements) != len(case.parts):
        found.append("not every part is placed")
    for name, low, high, mounted in stand.bodies:
        for side, (axis, sign) in OUTWARD.items():
            room = low[axis] if sign < 0 else case.zone[axis] - high[axis]
            if room < (0 if side in mounted else clearance_mm):
                found.append(f"{name}: {room} mm from wall {side}")
    blocks = [(f"block {k}", low, high, set()) for k, (low, high) in enumerate(case.obstacles)]
    for one, other in [*combinations(stand.bodies, 2), *product(stand.bodies, blocks)]:
        if not _apart(one, other, clearance_mm):
            found.append(f"{one[0]} and {other[0]} are too close")
    found += _reach_faults(case, stand, blocks)
    return found + _height_faults(stand.surfaces, stand.below)


def kit_faults(cases: dict[str, PlainCase], placements, clearance_mm: float) -> list[str]:
    """The same for zones at heights above the ground, placements in their zones' own frames, with heights across."""
    found, surfaces, below = [], [], []
    for name, case in cases.items():
        inside = [placed for placed in placements if placed.zone == name]
        found += faults(case, inside, clearance_mm)
        stand = _stand(case, inside)
        surfaces += [(part, case.up + height) for part, height in stand.surfaces if case.up is not None]
        below += [(part, case.up + height) for part, height in stand.below if case.up is not None]
    return found + _height_faults(surfaces, below)


def _stand(case: PlainCase, placements) -> _Found:
    drawn = {part.id: part for part in case.parts}
    stand = _Found()
    for placed in placements:
        part = drawn[placed.part]
        looks = [r for r in allowed(part) if (r["top"], r["front"]) == (placed.up, placed.front)]
        if not looks:
            stand.wrong.append(f"{part.id}: turn {placed.up} up, {placed.front} front is not allowed")
            continue
        if turned_size(part, looks[0]) != tuple(placed.size_mm):
            stand.wrong.append(f"{part.id}: turned, it is not {placed.size_mm}")
        if not faces_well(case, part, looks[0]):
            stand.wrong.append(f"{part.id}: an end faces a wrong side")
        low = placed.at_mm
        high = tuple(low[k] + placed.size_mm[k] for k in range(3))
        mounted = {side for side in SIDES if looks[0][side] in part.mounts}
        stand.bodies.append((part.id, low, high, mounted))
        for reach in part.reaches:
            near, far = turned_reach(part, looks[0], reach)
            corners = tuple(low[k] + near[k] for k in range(3)), tuple(low[k] + far[k] for k in range(3))
            stand.reaches.append((part.id, f"{part.id} {reach.end}", reach.joint, *corners))
        if part.filled is not None:
            stand.surfaces.append((part.id, low[2] + surface_over_floor(part)[placed.up]))
        height = height_to_keep(part, looks[0])
        if height is not None:
            stand.below.append((part.id, low[2] + height))
    return stand


def _reach_faults(case: PlainCase, stand: _Found, blocks) -> list[str]:
    found = []
    for part, name, _, low, high in stand.reaches:
        for side, (axis, sign) in OUTWARD.items():
            if side not in case.open and (low[axis] < 0 if sign < 0 else high[axis] > case.zone[axis]):
                found.append(f"{name} goes through wall {side}")
        for other, near, far, _ in [*stand.bodies, *blocks]:
            if other != part and _share(low, high, near, far):
                found.append(f"{name} reaches into {other}")
    for one, other in combinations(stand.reaches, 2):
        if one[0] != other[0] and one[2] != other[2] and _share(*one[3:], *other[3:]):
            found.append(f"{one[1]} and {other[1]} reach into each other")
    return found


def _height_faults(surfaces, below) -> list[str]:
    return [
        f"{low} stands above the liquid in {high}"
        for high, surface in surfaces
        for low, top in below
        if top > surface
    ]


def _share(low, high, near, far) -> bool:
    return all(low[k] < far[k] and near[k] < high[k] for k in range(3))


def _apart(one, other, clearance_mm: float) -> bool:
    for axis, (low_side, high_side) in enumerate((("front", "back"), ("left", "right"), ("floor", "top"))):
        for near, far in ((one, other), (other, one)):
            exempt = high_side in near[3] or low_side in far[3]
            if far[1][axis] - near[2][axis] >= (0 if exempt else clearance_mm):
                return True
    return False
