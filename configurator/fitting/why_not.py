"""Why parts do not go into a zone: the walls, an obstacle, each other, room before ends, sides to face, heights."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from itertools import permutations
from typing import Final, Literal

from configurator.brief.bay import Bay
from configurator.fitting.packing import pack
from configurator.fitting.placing import NODE_LIMIT, bodies_of
from configurator.fitting.reaches import NOTHING, Needs
from configurator.fitting.room import NamedRoom, Room, room_of
from configurator.fitting.turns import postures
from configurator.foundations.boxes import Triple, millimetres_down, millimetres_up
from configurator.parts.kinds import RigidPart

Cause = Literal[
    "walls", "obstacle", "ends face", "way in", "together", "room before ends", "room before both", "heights"
]
Items = tuple[tuple[str, RigidPart], ...]

_FAR_WALLS: Final = ("wall back", "wall right", "wall top")


@dataclass(frozen=True)
class Miss:
    """What keeps parts out of a zone, the two that are in each other's way, and by how much [mm] where that is told.

    Of the room before ends the second is an end in words.
    """

    cause: Cause
    between: tuple[str, str]
    miss_mm: int | None = None


def why_not(bay: Bay, zone_name: str, items: Items, needs: Mapping[str, Needs] | None = None) -> Miss | None:
    """The first of all causes that keeps (slot, part)s out of a zone; None where they go in.

    In this order: the opening it must come in by, the walls (the part that misses most, in its best turn), the
    sides its ends must face, an obstacle, each other, the room before an end, heights.
    """
    asked = needs or {}
    ordered = tuple(sorted(items, key=lambda item: (item[1].id, item[0])))
    named = room_of(bay, zone_name)
    return (
        _through_the_way_in(bay, zone_name, ordered)
        or _out_of_walls(named, ordered)
        or _facing(bay, zone_name, named, ordered, asked)
        or _behind_an_obstacle(bay, zone_name, named, ordered, asked)
        or _together(bay, zone_name, named, ordered, asked)
    )


def goes_through(bay: Bay, zone_name: str, part: RigidPart) -> int:
    """By how many millimetres a part misses the opening it must come into a zone by, in its best turn; 0: it passes.

    A part passes where two of its three sides pass, in one of their two ways round (it is pushed in along the third).
    """
    way_in = bay.zones[zone_name].way_in
    if way_in is None:
        return 0
    opening = (millimetres_down(way_in.wide_m), millimetres_down(way_in.high_m))
    size = part.size
    box = (millimetres_up(size.x_m), millimetres_up(size.y_m), millimetres_up(size.z_m))
    return min(max(one - opening[0], other - opening[1], 0) for one, other in permutations(box, 2))


def _through_the_way_in(bay: Bay, zone_name: str, ordered: Items) -> Miss | None:
    misses = [(goes_through(bay, zone_name, part), part.id) for _, part in ordered]
    short, part_id = max(misses, default=(0, ""))
    return Miss("way in", (part_id, "way in"), short) if short > 0 else None


def _out_of_walls(named: NamedRoom, ordered: Items) -> Miss | None:
    worst: Miss | None = None
    for _, part in ordered:
        miss_mm, wall = _short_of_walls(named.room, part)
        if miss_mm > 0 and (worst is None or miss_mm > (worst.miss_mm or 0)):
            worst = Miss("walls", (part.id, wall), miss_mm)
    return worst


def _short_of_walls(room: Room, part: RigidPart) -> tuple[int, str]:
    """By how much the walls keep a part out in its best turn [mm], and which wall; 0 or less: they do not."""
    found = []
    for posture in postures(part):
        short = [size - have for size, have in zip(posture.size, room.size, strict=True)]
        found.append((max(short), _FAR_WALLS[short.index(max(short))]))
    return min(found, key=lambda miss: miss[0], default=(0, ""))


def _facing(
    bay: Bay, zone_name: str, named: NamedRoom, ordered: Items, needs: Mapping[str, Needs]
) -> Miss | None:
    """A part whose ends face the sides asked for in no turn in which the walls would take it."""
    walls = bay.zones[zone_name].ends
    for slot, part in ordered:
        need = needs.get(slot, NOTHING)
        sizes = [posture.size for posture in postures(part, facing=need.facing(walls))]
        if need.facing(walls) and not any(_within(size, named.room.size) for size in sizes):
            media = [medium for medium, _ in need.used if medium in walls]
            sides = " or ".join(walls[media[0]])
            return Miss("ends face", (part.id, f"{media[0]} ends {sides}"))
    return None


def _within(size: Triple, room: Triple) -> bool:
    return all(side <= have for side, have in zip(size, room, strict=True))


def _behind_an_obstacle(
    bay: Bay, zone_name: str, named: NamedRoom, ordered: Items, needs: Mapping[str, Needs]
) -> Miss | None:
    """The obstacle that keeps one part out: the first without which it would go in, else the first of all."""
    walls = bay.zones[zone_name].ends
    for slot, part in ordered:
        bodies = (postures(part, facing=needs.get(slot, NOTHING).facing(walls)),)
        if pack(named.room, bodies, 0, NODE_LIMIT).state != "does not fit":
            continue
        for k, name in enumerate(named.names):
            others = named.room.obstacles[:k] + named.room.obstacles[k + 1 :]
            if pack(replace(named.room, obstacles=others), bodies, 0, NODE_LIMIT).state == "fits":
                return Miss("obstacle", (part.id, name))
        if named.names:
            return Miss("obstacle", (part.id, named.names[0]))
    return None


def _together(
    bay: Bay, zone_name: str, named: NamedRoom, ordered: Items, needs: Mapping[str, Needs]
) -> Miss | None:
    """What is in the way of parts of which each goes in alone."""

    def state(asked: Mapping[str, Needs], some: Items = ordered) -> str:
        return pack(named.room, bodies_of(bay, zone_name, some, asked), 0, NODE_LIMIT).state

    both = (ordered[0][1].id, ordered[-1][1].id)
    bare = {slot: Needs(used=need.used) for slot, need in needs.items()}
    if state(bare) == "does not fit":
        return Miss("together", both)
    reaching = {slot: replace(need, heights=None) for slot, need in needs.items()}
    if state(reaching) == "does not fit":
        for slot, part in ordered:
            reaches = needs.get(slot, NOTHING).reaches
            for end, some in (*((f"end '{reach.end}'", (reach,)) for reach in reaches), ("ends together", reaches)):
                alone = {slot: replace(bare[slot], reaches=some)}
                if state(alone, ((slot, part),)) == "does not fit":
                    return Miss("room before ends", (part.id, end))
        return Miss("room before both", both)
    return Miss("heights", both) if state(needs) == "does not fit" else None
