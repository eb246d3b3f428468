"""A checker of the room round the parts of a kit, from the JSON answer, the brief and the YAML parts alone.

Before each used end lies straight room: what sits on the end, then 30 mm of hose and its bend to the outside (an elbow
turns half way along), or a pipe and one bore more; as wide as the hose or pipe and 15 mm on each side for a hand. A
hand needs 100 mm over a filler cap. A pump's inlet lies 100 mm under the liquid's surface, and nothing stands above it
but what has a bleed on top, or in a side within a quarter of its height below. All common practice, no source. Nothing
is rounded here, so what is rounded outwards passes.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, permutations

from tests.independent.plain import part_in, si, stub_metres
from tests.journeys.kitwright import Tree, shelf_part

HAND, GRIP, OVER_CAP, STUB, UNDER = 15.0, 30.0, 100.0, 100.0, 100.0
UPPER = 0.75
CHARGE_GRIP, USUAL_WALL = 40.0, 4.5
SIDES = {"front": (0, -1), "back": (0, 1), "left": (1, -1), "right": (1, 1), "down": (2, -1), "up": (2, 1)}
Span = tuple[float, float]
Straight = tuple[float, float]


@dataclass(frozen=True)
class Place:
    """A placed part: its slot and record, its box in the zone [mm], and the car's axis and way of each of its axes."""

    slot: str
    part: Tree
    zone: str
    box: tuple[Span, ...]
    axes: tuple[tuple[int, int], ...]

    def looks(self, face: str) -> tuple[int, int]:
        """The car's axis and way (-1 or 1) that a face looks along."""
        axis, way = self.axes["xyz".index(face[1])]
        return axis, way if face[0] == "+" else -way

    def before(self, end: Tree, deep: float, wide: float) -> tuple[Span, ...]:
        """The room before an end."""
        out, way = self.looks(end["face"])
        room: list[Span] = [(0.0, 0.0)] * 3
        for k in range(3):
            axis, along = self.axes[k]
            low, high = self.box[axis]
            if axis == out:
                room[axis] = (high, high + deep) if way > 0 else (low - deep, low)
            else:
                at = si(end["at"]["xyz"[k]]) * 1000
                middle = low + at if along > 0 else high - at
                room[axis] = (middle - wide / 2 - HAND, middle + wide / 2 + HAND)
        return tuple(room)


def room_faults(brief: Tree, kit: Tree) -> Iterator[str]:
    """Everything wrong with the room before ends, sides to face, ways in and heights."""
    places = {place["slot"]: _place(brief, kit, place) for place in kit["fit"]["placements"]}
    yield from _reaches(brief, kit, places)
    yield from _facing(brief, places)
    yield from _ways_in(brief, places)
    yield from _heights(brief, places)


def _place(brief: Tree, kit: Tree, told: Tree) -> Place:
    zone = brief["bay"]["zones"][told["zone"]]
    corner = [si(zone["at"][key]) * 1000 if told["frame"] == "car" else 0.0 for key in ("back", "right", "up")]
    box = tuple((a - c, a - c + s) for a, c, s in zip(told["at_mm"], corner, told["size_mm"], strict=True))
    high, fore = told["up"], told["front"]
    axes: list[tuple[int, int]] = [(1, 0)] * 3
    axes["xyz".index(high[1])] = (2, 1 if high[0] == "+" else -1)
    axes["xyz".index(fore[1])] = (0, -1 if fore[0] == "+" else 1)
    third = next(k for k in range(3) if axes[k][1] == 0)
    # A part is turned, never mirrored: the way of its third axis makes the determinant of the turn one.
    order = tuple(axis for axis, _ in axes)
    even = order in {(0, 1, 2), (1, 2, 0), (2, 0, 1)}
    others = axes[(third + 1) % 3][1] * axes[(third + 2) % 3][1]
    axes[third] = (1, others if even else -others)
    return Place(told["slot"], part_in(brief, kit, told["slot"].split("-")[0]), told["zone"], box, tuple(axes))


# --- room before ends -------------------------------------------------------------------------------------------------


def end_for(passage: Tree, role: str) -> Tree | None:
    """The first end of a role; of ends without one, the second is the way out."""
    exact = [end for end in passage["ends"] if role in (end.get("role"), end["name"] if "role" not in end else None)]
    either = [end for end in passage["ends"] if "role" not in end and end["name"] not in ("in", "out", "bleed", "fill",
              "drain", "cap")]  # fmt: skip
    return dict(exact[0]) if exact else dict(either[1 if role == "out" else 0]) if either else None


def _reaches(brief: Tree, kit: Tree, places: dict[str, Place]) -> Iterator[str]:
    rooms: list[tuple[Place, str, str, tuple[Span, ...]]] = []
    for place, end, joint, straight in _asked(brief, kit, places):
        if straight is None:
            yield f"reach: {joint} does not go together, so nobody knows the room before {place.slot}.{end['name']}"
        else:
            rooms.append((place, f"{place.slot}.{end['name']}", joint, place.before(end, *straight)))
    for place, name, _, room in rooms:
        zone = brief["bay"]["zones"][place.zone]
        for side, (axis, way) in SIDES.items():
            wall = si(zone[("deep", "wide", "high")[axis]]) * 1000
            over = room[axis][1] - wall if way > 0 else -room[axis][0]
            if side not in zone.get("open", []) and over > 1e-6:
                yield f"reach: the room before {name} goes {over:.1f} mm through the {side} wall of {place.zone}"
        for obstacle in brief["bay"].get("obstacles", []):
            if obstacle["in"] == place.zone and _overlap(room, _obstacle(obstacle, zone)):
                yield f"reach: the {obstacle['name']} lies before {name}"
        for other in places.values():
            if other.zone == place.zone and other.slot != place.slot and _overlap(room, other.box):
                yield f"reach: '{other.part['id']}' lies before {name}"
    for (place, name, joint, room), (other, beside, other_joint, behind) in combinations(rooms, 2):
        apart = place.slot != other.slot and place.zone == other.zone and joint != other_joint
        if apart and _overlap(room, behind):
            yield f"reach: the room before {name} and before {beside} is the same"


def _asked(brief: Tree, kit: Tree, places: dict[str, Place]) -> Iterator[tuple[Place, Tree, str, Straight | None]]:
    """Place, end and joint of every room that must be free; its depth and width, None where no run can lie there."""
    taken = set()
    for joint in kit["joints"]:
        name = f"{joint['from']} to {joint['to']}"
        for word, side in (("from", 0), ("to", 1)):
            slot, end_name = joint[word].split(".", 1)
            if slot in places:
                passage = places[slot].part["coolant" if joint["hose"] else "charge"]
                end = next(end for end in passage["ends"] if end["name"] == end_name)
                taken.add((slot, "coolant" if joint["hose"] else "charge", end_name))
                yield places[slot], end, name, _straight(brief, kit, joint, end, side)
    for slot, place in places.items():
        for end in place.part.get("charge", {"ends": []})["ends"]:
            if (slot, "charge", end["name"]) not in taken and end["name"] in ("in", "out"):
                bore = si(end["size"]) * 1000
                yield place, end, f"pipe on {end['name']}", (CHARGE_GRIP + bore, bore)
        for end in place.part["coolant"]["ends"]:
            if end["form"] == "neck":
                yield place, end, "hand", (OVER_CAP, si(end["size"]) * 1000)


def _straight(brief: Tree, kit: Tree, joint: Tree, end: Tree, side: int) -> Straight | None:
    """How far a run goes straight ahead of one of its ends, and how wide it is; the least, where pieces may sit at
    either end of the hose. None where no share of the pieces sits on the two ends.
    """
    pieces = [piece for name in joint["through"] if len((piece := shelf_part(name))["through"]["ends"]) == 2]
    if not joint["hose"]:
        piece = pieces[-side]
        wide = max(si(e["size"]) for e in piece["through"]["ends"]) * 1000
        wide += 2 * (si(piece["wall"]) * 1000 if "wall" in piece else USUAL_WALL)
        long = si(piece["length"]) * 1000
        return ((long + wide) / 2 if piece["shape"] == "elbow" else long + wide), wide
    hose = shelf_part(joint["hose"])
    wide = (si(hose["bore"]) + 2 * si(hose["wall"])) * 1000
    found = []
    outward = pieces[::-1] if side else pieces
    beyond = _end_of(brief, kit, joint["from" if side else "to"])
    for count in range(len(pieces) + 1):
        if not _sits(end, outward[:count], stub_metres(joint)):
            continue
        if beyond is not None and not _sits(beyond, outward[count:][::-1], stub_metres(joint)):
            continue
        deep = 0.0
        turned = False
        here = end
        for piece in outward[:count]:
            if here["form"] == "spigot":
                deep += STUB
            long = si(piece["length"]) * 1000
            if piece["shape"] == "elbow":
                deep, turned = deep + (long + wide) / 2, True
                break
            deep += long
            here = _far(here, piece) or here
        found.append(deep if turned else deep + GRIP + si(hose["bend_radius"]) * 1000 + wide)
    return (min(found), wide) if found else None


def _end_of(brief: Tree, kit: Tree, word: str) -> Tree | None:
    """The coolant end of a part; None of a wye, which sits in the trunk's run."""
    slot, name = word.split(".", 1)
    kind = slot.rstrip("12").rstrip("-")
    if kind not in kit["parts"]:
        return None
    return next(dict(end) for end in part_in(brief, kit, kind)["coolant"]["ends"] if end["name"] == name)


def _sits(end: Tree, pieces: list[Tree], stubs: list[tuple[str, float]]) -> bool:
    """Whether pieces can be stacked on an end so that a spigot is left for the hose."""
    here: Tree | None = end
    for piece in pieces:
        assert here is not None
        if here["form"] == "spigot" and not stubs:
            return False
        here = _far(here, piece)
        if here is None:
            return False
    return here is not None and here["form"] == "spigot"


def _far(here: Tree, piece: Tree) -> Tree | None:
    """The other end of a piece that sits on an end: by its thread, or with a stub between two spigots."""
    for near, far in permutations(piece["through"]["ends"]):
        screws = near["form"] == here["form"] and str(near["size"]) == str(here["size"])
        if (screws and near.get("sex") != here.get("sex")) or near["form"] == here["form"] == "spigot":
            return dict(far)
    return None


def _obstacle(obstacle: Tree, zone: Tree) -> tuple[Span, ...]:
    off, box = obstacle["from"], []
    usual = {"hot": 50.0, "moving": 25.0}.get(obstacle["kind"], 0.0)
    keep = si(obstacle["clearance"]) * 1000 if usual and "clearance" in obstacle else usual
    for extent, low, high in (("deep", "front", "back"), ("wide", "left", "right"), ("high", "floor", "top")):
        long, wall = si(obstacle[extent]) * 1000, si(zone[extent]) * 1000
        at = si(off[low]) * 1000 if low in off else wall - si(off[high]) * 1000 - long
        box.append((at - keep, at + long + keep))
    return tuple(box)


def _overlap(one: tuple[Span, ...], other: tuple[Span, ...]) -> bool:
    return all(a < d - 1e-6 and c < b - 1e-6 for (a, b), (c, d) in zip(one, other, strict=True))


# --- sides to face, ways in, heights ----------------------------------------------------------------------------------


def _facing(brief: Tree, places: dict[str, Place]) -> Iterator[str]:
    for place in places.values():
        for medium, sides in brief["bay"]["zones"][place.zone].get("ends", {}).items():
            for role in ("in", "out"):
                end = end_for(place.part[medium], role) if medium in place.part else None
                if end is not None and place.looks(end["face"]) not in [SIDES[side] for side in sides]:
                    yield f"facing: {place.slot}.{end['name']} does not face {' or '.join(sides)}"


def _ways_in(brief: Tree, places: dict[str, Place]) -> Iterator[str]:
    for place in places.values():
        opening = brief["bay"]["zones"][place.zone].get("way_in")
        if opening is not None:
            wide, high = si(opening["wide"]) * 1000, si(opening["high"]) * 1000
            sides = [si(place.part["size"][axis]) * 1000 for axis in "xyz"]
            if not any(a <= wide + 1e-6 and b <= high + 1e-6 for a, b in permutations(sides, 2)):
                yield f"way in: '{place.part['id']}' does not pass the opening of {place.zone}"


def _heights(brief: Tree, places: dict[str, Place]) -> Iterator[str]:
    """Within one zone, and between zones of known height; half a millimetre for the rounding of an end's place."""
    tank = places.get("reservoir")
    if tank is None:
        return
    low, high = tank.box[2]
    surface = low + (high - low) * (1 - si(tank.part["air_space"]))
    for place in places.values():
        floors = [_floor(brief, one.zone) for one in (tank, place)]
        if place.zone != tank.zone and None in floors:
            continue
        over = 0.0 if place.zone == tank.zone else float(floors[0] or 0.0) - float(floors[1] or 0.0)
        must = _must_be_under(place)
        if must is not None and must > surface + over + 0.5 + 1e-6:
            yield f"height: '{place.part['id']}' stands {must - surface - over:.1f} mm too high over the surface"


def _floor(brief: Tree, zone: str) -> float | None:
    up = brief["bay"]["zones"][zone].get("at", {}).get("up")
    return None if up is None else si(up) * 1000


def _must_be_under(place: Place) -> float | None:
    """The height in its zone up to which a part must lie under the surface."""
    ends = place.part["coolant"]["ends"]
    if place.slot == "pump":
        inlet = end_for(place.part["coolant"], "in")
        if inlet is None:
            return None
        across = place.before(inlet, 0.0, -2 * HAND)
        return across[2][0] + UNDER
    if place.slot.split("-")[0] not in ("core", "exchanger"):
        return None
    for end in ends:
        role = end.get("role", end["name"])
        looks = place.looks(end["face"]) if "face" in end else None
        if looks == (2, 1) and role in ("bleed", "drain"):
            return None
        if role == "bleed" and looks is not None and looks[0] != 2:
            low, high = place.box[2]
            if place.before(end, 0.0, -2 * HAND)[2][0] >= low + UPPER * (high - low):
                return None
    return place.box[2][1]
