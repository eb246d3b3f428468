"""A kit in its zones, judged again: room before ends, sides to face, the way in, heights over the liquid's surface.

Common practice, no source: 15 mm on each side of a hose or fitting for a hand, 100 mm over a filler cap, 40 mm of
straight pipe on a charge end that nothing is bought for, and a pump's inlet 100 mm under the surface.
"""

from __future__ import annotations

import math
from collections.abc import Container, Iterable, Mapping
from dataclasses import dataclass
from itertools import permutations, product
from typing import Literal

from configurator.brief.bay import Bay, Zone
from configurator.parts.ends import End
from configurator.parts.kinds import Exchanger, Part, RigidPart
from configurator.parts.passages import Passage
from tests.oracles.plain_boxes import MOST_HALF_MM, Solid, Space, Stance, goes_in, largest_gap, most

FACES = ("+x", "-x", "+y", "-y", "+z", "-z")
HAND, OVER_CAP, GRIP, UNDER = 0.015, 0.100, 0.040, 0.100
SIDES = {"front": (0, False), "back": (0, True), "left": (1, False), "right": (1, True), "down": (2, False),
         "up": (2, True)}  # fmt: skip


@dataclass(frozen=True)
class Ask:
    """Straight room that a run or pipe takes before one end of a part: how deep and how wide it is [m]."""

    end: End
    deep: float
    wide: float
    joint: str


@dataclass(frozen=True)
class Placed:
    """The clearance of a whole kit [mm, counted to 25], None where it does not go in; then the zones that are full.

    `why`: what the first of them is too full for.
    """

    clearance: float | None
    full: frozenset[str] = frozenset()
    why: Literal["", "turns", "bodies", "reaches", "heights"] = ""


def end_of(passage: Passage, role: str) -> End:
    """The first end of a role; of ends that may be either, the first is the way in and the second the way out."""
    exact = [end for end in passage.ends if end.role == role]
    either = [end for end in passage.ends if end.role == "either"]
    return exact[0] if exact else either[1 if role == "out" else 0]


def column_metres(bay: Bay | None, absent: Container[str]) -> float:
    """The highest column of liquid: from the roof of a tank's zone down to a floor of what it feeds; half a metre else.

    Counted in tenths of a millimetre. Within a zone its height is the column whatever is known of the car. Never under
    half a metre: common practice, no source. What stays in the car or is not wanted (`absent`) is in no zone.
    """
    columns = [5000]
    zones = {} if bay is None else bay.zones
    for (roofed, roof), (floored, floor) in product(zones.items(), repeat=2):
        holds_tank = "reservoir" in roof.takes and "reservoir" not in absent
        if not holds_tank or not any(k in floor.takes and k not in absent for k in ("pump", "core", "exchanger")):
            continue
        ups = (roof.at.up_m, floor.at.up_m)
        if roofed == floored or None not in ups:
            apart = 0.0 if roofed == floored else float(ups[0]) - float(ups[1])
            columns.append(round(1e4 * (apart + float(roof.high_m))))
    return max(columns) / 1e4


def hose_metres(bay: Bay | None, one: str, other: str) -> float:
    """Stated; half a metre in one zone; along the axes with a tenth and 0.3 m more; else 1.5 m."""
    if bay is None or one not in bay.zones or other not in bay.zones:
        return 1.5
    for pair in (f"{one}-{other}", f"{other}-{one}"):
        if pair in bay.runs:
            return float(bay.runs[pair])
    if one == other:
        return 0.5
    centres = []
    for zone in (bay.zones[one], bay.zones[other]):
        corner = (zone.at.back_m, zone.at.right_m, zone.at.up_m)
        if None in corner:
            return 1.5
        centres.append([float(low) + extent / 2 for low, extent in zip(corner, _extent(zone), strict=True)])
    return round(1.1 * sum(abs(a - b) for a, b in zip(*centres, strict=True)) + 0.3, 2)


def place(bay: Bay, parts: Mapping[str, Part], zones: Mapping[str, str], asks: Mapping[str, Iterable[Ask]]) -> Placed:
    """Place every part that stands in a zone of the bay. `asks`: by slot, what its joints ask for."""
    inside: dict[str, dict[str, Part]] = {}
    for name in bay.zones:
        there = {slot: part for slot, part in parts.items() if zones.get(slot) == name}
        if there:
            inside[name] = there
    spaces = {name: _space(bay, name) for name in inside}
    bodies = {
        name: tuple(_stances(bay.zones[name], part, tuple(asks.get(slot, ()))) for slot, part in there.items())
        for name, there in inside.items()
    }
    gaps = {name: largest_gap(spaces[name], bodies[name]) for name in inside}
    full = frozenset(name for name, gap in gaps.items() if gap is None)
    if full:
        first = min(full)
        return Placed(None, full, _why(spaces[first], bodies[first]))
    tank = next((name for name, there in inside.items() if "reservoir" in there), None)
    hung = [
        name
        for name, there in bodies.items()
        if name != tank
        and bay.zones[name].at.up_m is not None
        and any(stance.below is not None for stances in there for stance in stances)
    ]
    least = min(gaps.values(), default=MOST_HALF_MM)
    if tank is None or bay.zones[tank].at.up_m is None or not hung:
        return Placed(least / 2)
    level = _Level(bay, tank, hung, spaces, bodies)
    too_high = level.too_high(0)
    if too_high:
        return Placed(None, frozenset({tank, *too_high}), "heights")
    gap = most(lambda gap: not level.too_high(gap), least)
    assert gap is not None
    return Placed(gap / 2)


def _why(space: Space, bodies: tuple[tuple[Stance, ...], ...]) -> Literal["turns", "bodies", "reaches", "heights"]:
    """What keeps parts out of a zone: way in or sides to face, else the bodies alone, else reaches, else heights."""
    if () in bodies:
        return "turns"
    if not goes_in(space, tuple(tuple(Stance(s.solids[:1]) for s in stances) for stances in bodies), 0):
        return "bodies"
    low = tuple(tuple(Stance(s.solids) for s in stances) for stances in bodies)
    return "heights" if goes_in(space, low, 0) else "reaches"


@dataclass
class _Level:
    """A reservoir in one zone, and others in which something must lie below its surface."""

    bay: Bay
    tank: str
    hung: list[str]
    spaces: dict[str, Space]
    bodies: dict[str, tuple[tuple[Stance, ...], ...]]

    def too_high(self, gap: int) -> list[str]:
        """The zones in which something stands above the highest surface that goes with a gap [half mm]."""
        tank, high = self.spaces[self.tank], 2 * self.spaces[self.tank].size[2]
        surface = most(lambda raised: goes_in(tank, self.bodies[self.tank], gap, None, raised), high)
        assert surface is not None
        over = {name: 2000 * (float(self.bay.zones[self.tank].at.up_m) - float(self.bay.zones[name].at.up_m))
                for name in self.hung}  # fmt: skip
        return [
            name
            for name in self.hung
            if not goes_in(self.spaces[name], self.bodies[name], gap, math.floor(surface + over[name] + 1e-6))
        ]


def _mm(length: float, up: bool) -> int:
    return math.ceil(length * 1000 - 1e-6) if up else math.floor(length * 1000 + 1e-6)


def _space(bay: Bay, name: str) -> Space:
    zone = bay.zones[name]
    blocks = []
    for block in bay.obstacles:
        if block.zone != name:
            continue
        off, low, high = block.off, [], []
        grow = {"hot": 50, "moving": 25}.get(block.kind, 0)
        if grow and block.clearance_m is not None:
            grow = _mm(float(block.clearance_m), True)
        sides = ((off.front_m, off.back_m), (off.left_m, off.right_m), (off.floor_m, off.top_m))
        for (near, far), extent, of_zone in zip(sides, _extent(block), _extent(zone), strict=True):
            start = float(near) if near is not None else of_zone - float(far) - extent
            low.append(_mm(start, False) - grow)
            high.append(_mm(start + extent, True) + grow)
        blocks.append((tuple(low), tuple(high)))
    size = tuple(_mm(length, False) for length in _extent(zone))
    return Space(size, frozenset(SIDES[side] for side in zone.open), tuple(blocks))


def _extent(box) -> tuple[float, float, float]:
    return float(box.deep_m), float(box.wide_m), float(box.high_m)


def _stances(zone: Zone, part: RigidPart, asks: tuple[Ask, ...]) -> tuple[Stance, ...]:
    """Every way in which a part may stand in a zone; none where it does not come in or its ends would face wrong."""
    assert not part.mounts
    size = tuple(_mm(float(getattr(part.size, f"{axis}_m")), True) for axis in "xyz")
    if zone.way_in is not None:
        wide, high = _mm(float(zone.way_in.wide_m), False), _mm(float(zone.way_in.high_m), False)
        if not any(a <= wide and b <= high for a, b in permutations(size, 2)):
            return ()
    reaches = [box for ask in (*asks, *_besides(part, asks)) if (box := _reach(size, ask)) is not None]
    fronts = part.turns.front or FACES
    air = part.turns.air or (("+x", "-x") if isinstance(part, Exchanger) else FACES)
    found = {}
    for up, front in product(part.turns.up, fronts):
        if up[1] != front[1] and front in air:
            frame = _Frame(size, up, front)
            if all(_faces(zone, passage, medium, frame) for medium, passage in part.passages().items()):
                found[_stance(part, size, frame, reaches)] = None
    return tuple(found)


def _faces(zone: Zone, passage: Passage, medium: str, frame: _Frame) -> bool:
    """Whether way in and way out of a passage look to sides that the zone names for them."""
    named = zone.ends.get(medium)
    ends = [end_of(passage, role) for role in ("in", "out")] if named is not None else []
    return all(end.face is None or frame.looks(end.face) in {SIDES[side] for side in named} for end in ends)


def _besides(part: RigidPart, asks: tuple[Ask, ...]) -> list[Ask]:
    """A hand over each filler cap; pipes on charge ends that no joint of the kit takes."""
    found = []
    if part.kind == "core":
        taken = {ask.end.name for ask in asks if ask.end in part.charge.ends}
        for end in (end_of(part.charge, "in"), end_of(part.charge, "out")):
            if end.name not in taken:
                found.append(Ask(end, GRIP + (end.size_m or 0.0), end.size_m or 0.0, f"pipe on {end.name}"))
    if part.kind == "reservoir":
        necks = [end for end in part.coolant.ends if end.form == "neck"]
        found += [Ask(end, OVER_CAP, end.size_m or 0.0, f"hand over {end.name}") for end in necks]
    return found


def _reach(size: tuple[int, ...], ask: Ask) -> tuple[list[int], list[int], str] | None:
    """The room before an end, as the part is drawn; None where the end's place is not known."""
    end, half = ask.end, ask.wide / 2 + HAND
    if end.face is None or end.at is None:
        return None
    low, high = [], []
    for k, axis in enumerate("xyz"):
        if axis == end.face[1]:
            deep = _mm(ask.deep, True)
            low.append(size[k] if end.face[0] == "+" else -deep)
            high.append(size[k] + deep if end.face[0] == "+" else 0)
            continue
        middle = getattr(end.at, f"{axis}_m")
        if middle is None:
            return None
        low.append(_mm(float(middle) - half, False))
        high.append(_mm(float(middle) + half, True))
    return low, high, ask.joint


class _Frame:
    """The axes of a turned part: which of its own the car's x, y and z run along, and which way round."""

    def __init__(self, size: tuple[int, ...], up: str, front: str) -> None:
        high, fore = _vector(up), _vector(front)
        back = tuple(-v for v in fore)
        right = (high[1] * back[2] - high[2] * back[1], high[2] * back[0] - high[0] * back[2],
                 high[0] * back[1] - high[1] * back[0])  # fmt: skip
        self.axes = (back, right, high)
        self.up, self.size = up, size

    def box(self, low: Iterable[int], high: Iterable[int]) -> tuple[tuple[int, ...], tuple[int, ...]]:
        """A box of the part, from the part's low corner as turned."""
        corners = [self._along(low), self._along(high)]
        ends = [self._along((0, 0, 0)), self._along(self.size)]
        zero = [min(a, b) for a, b in zip(*ends, strict=True)]
        found = [sorted(c[k] - zero[k] for c in corners) for k in range(3)]
        return tuple(f[0] for f in found), tuple(f[1] for f in found)

    def _along(self, point: Iterable[int]) -> list[int]:
        given = tuple(point)
        return [sum(a * b for a, b in zip(axis, given, strict=True)) for axis in self.axes]

    def looks(self, face: str) -> tuple[int, bool]:
        """The side of the car that a face looks to, as (axis, high or not)."""
        turned = self._along(_vector(face))
        (k,) = (k for k in range(3) if turned[k] != 0)
        return k, turned[k] > 0


def _vector(face: str) -> tuple[int, ...]:
    return tuple((1 if face[0] == "+" else -1) if axis == face[1] else 0 for axis in "xyz")


def _stance(part: RigidPart, size: tuple[int, ...], frame: _Frame, reaches) -> Stance:
    body = Solid(*frame.box((0, 0, 0), size))
    room = tuple(Solid(*frame.box(low, high), joint) for low, high, joint in reaches)
    return Stance((body, *room), *_heights(part, body.high[2], frame))


def _from_floor(end: End, frame: _Frame) -> float:
    """How far above its part's floor an end in a side lies [mm]; without limit where nobody says."""
    own = [getattr(end.at, f"{axis}_m", None) for axis in "xyz"]
    if own["xyz".index(frame.up[1])] is None:
        return math.inf
    point = [round(float(v or 0.0) * 1000) for v in own]
    return float(frame.box(point, point)[0][2])


def _heights(part: RigidPart, tall: int, frame: _Frame) -> tuple[int | None, int | None]:
    """The surface in a reservoir, and what must lie below one: a pump's inlet, the top of what bleeds nowhere."""
    if part.kind == "reservoir":
        return math.floor((1.0 - float(part.air_space)) * tall + 1e-6), None
    if part.kind == "pump":
        end = end_of(part.coolant, "in")
        if end.face is None or end.at is None:
            return None, None
        own = [getattr(end.at, f"{axis}_m") for axis in "xyz"]
        for k, axis in enumerate("xyz"):
            if axis == end.face[1]:
                own[k] = frame.size[k] / 1000 if end.face[0] == "+" else 0.0
        if None in own:
            return None, None
        point = [round(float(v) * 1000) for v in own]
        return None, frame.box(point, point)[0][2] + round(UNDER * 1000)
    bleeds = False
    for end in part.coolant.ends:
        looks = None if end.face is None else frame.looks(end.face)
        bleeds |= looks == (2, True) and end.role in ("bleed", "drain")
        if end.role == "bleed" and looks is not None and looks[0] != 2:
            bleeds |= _from_floor(end, frame) >= 0.75 * tall
    return None, None if bleeds else tall
