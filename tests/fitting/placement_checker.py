"""An independent judge of placements: inside, clear, apart, turn allowed. It shares no code with the program."""

from __future__ import annotations

from itertools import combinations, permutations, product

from tests.fitting.plain_cases import PlainCase, PlainPart

SIDES = ("front", "back", "left", "right", "floor", "top")
OUTWARD = {"front": (0, -1), "back": (0, 1), "left": (1, -1), "right": (1, 1), "floor": (2, -1), "top": (2, 1)}


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


def faults(case: PlainCase, placements, clearance_mm: float) -> list[str]:
    """Everything wrong with placements in the zone's own frame; an empty list where all is well."""
    found = []
    drawn = {part.id: part for part in case.parts}
    bodies = []
    for placed in placements:
        part = drawn[placed.part]
        looks = [r for r in allowed(part) if (r["top"], r["front"]) == (placed.up, placed.front)]
        if not looks:
            found.append(f"{part.id}: turn {placed.up} up, {placed.front} front is not allowed")
            continue
        if turned_size(part, looks[0]) != tuple(placed.size_mm):
            found.append(f"{part.id}: turned, it is not {placed.size_mm}")
        low = placed.at_mm
        high = tuple(low[k] + placed.size_mm[k] for k in range(3))
        mounted = {side for side in SIDES if looks[0][side] in part.mounts}
        bodies.append((part.id, low, high, mounted))
    if len(placements) != len(case.parts):
        found.append("not every part is placed")
    for name, low, high, mounted in bodies:
        for side, (axis, sign) in OUTWARD.items():
            room = low[axis] if sign < 0 else case.zone[axis] - high[axis]
            if room < (0 if side in mounted else clearance_mm):
                found.append(f"{name}: {room} mm from wall {side}")
    blocks = [(f"block {k}", low, high, set()) for k, (low, high) in enumerate(case.obstacles)]
    for one, other in [*combinations(bodies, 2), *product(bodies, blocks)]:
        if not _apart(one, other, clearance_mm):
            found.append(f"{one[0]} and {other[0]} are too close")
    return found


def _apart(one, other, clearance_mm: float) -> bool:
    for axis, (low_side, high_side) in enumerate((("front", "back"), ("left", "right"), ("floor", "top"))):
        for near, far in ((one, other), (other, one)):
            exempt = high_side in near[3] or low_side in far[3]
            if far[1][axis] - near[2][axis] >= (0 if exempt else clearance_mm):
                return True
    return False
