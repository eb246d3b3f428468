"""Do these parts fit this zone? One call to `fit_zone`; a whole kit is placed by `fit_kit` in the room beside.

Clearance is the largest gap, in half millimetres, that can be kept at once round every body in the zone: to the
other bodies, to walls and to what must stay clear. Faces that a part names as its mounts need no gap, nor does the
room before its ends.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Final, Literal, NamedTuple

from configurator.brief.bay import Bay
from configurator.fitting.packing import Packing, may_pack, pack
from configurator.fitting.pairs import STEPS_PER_MM, Bodies
from configurator.fitting.reaches import NOTHING, Needs
from configurator.fitting.room import NamedRoom, Room, corner_mm, room_of
from configurator.fitting.tightest import tightest
from configurator.fitting.turns import postures
from configurator.parts.ends import Face
from configurator.parts.kinds import RigidPart

NODE_LIMIT: Final = 20_000
"""Several seconds of search. Three parts in a zone take a hundred nodes or two, six in a tight one some thousands."""

State = Literal["fits", "does not fit", "not decided"]


@dataclass(frozen=True)
class Placement:
    """Where a part sits: lowest corner and size as placed [mm] along x (back), y (right), z (up); its turn.

    `at_mm` is in the frame of the car where the zone's place is known, else from the zone's
    front-left-floor corner. `up` and `front` are the part's faces that point up and to the front of the
    car.
    """

    part: str
    slot: str
    zone: str
    at_mm: tuple[float, float, float]
    size_mm: tuple[int, int, int]
    up: Face
    front: Face
    frame: Literal["car", "zone"]


@dataclass(frozen=True)
class ZoneFit:
    """One zone, judged, with the clearance if it fits and the pair of names that sets it.

    `surface_mm`: the liquid's surface of a reservoir in it, above the zone's floor; `highest_mm`: the highest height
    in it that must lie below such a surface. None where there is no such.
    """

    state: State
    clearance_mm: float | None = None
    set_by: tuple[str, str] | None = None
    placements: tuple[Placement, ...] = ()
    surface_mm: float | None = None
    highest_mm: float | None = None


class Surfaces(NamedTuple):
    """The liquid's surface in other zones: what must lie below it, or above it, in this one.

    Both above its floor [half mm]."""

    below: int | None = None
    at_least: int | None = None


_NO_SURFACES: Final = Surfaces()


def fit_zone(
    bay: Bay,
    zone_name: str,
    items: tuple[tuple[str, RigidPart], ...],
    node_limit: int = NODE_LIMIT,
    clearance_cap_mm: float | None = None,
    needs: Mapping[str, Needs] | None = None,
    surfaces: Surfaces = _NO_SURFACES,
) -> ZoneFit:
    """Place every (slot, part) in one zone, at its canonical placement.

    That is: at the largest clearance, the smallest coordinates (x, y, z of the first part, then of the
    next; parts in order of id, then slot), ties in the order of turns; where nodes run out in the search for
    those, another placement at the largest clearance. With `clearance_cap_mm` clearances
    above it count as equal to it: the clearance is the smaller of the exact one and the cap, and the
    placement canonical at that. `needs`: by slot, what a part needs besides its box.
    """
    named = room_of(bay, zone_name)
    named = replace(named, room=replace(named.room, surface=surfaces.below, surface_from=surfaces.at_least))
    ordered = _ordered(items)
    bodies = bodies_of(bay, zone_name, ordered, needs or {})
    found = pack(named.room, bodies, _most_gap(named.room, clearance_cap_mm), node_limit)
    if found.state != "fits":
        return ZoneFit(found.state)
    return _placed(bay, zone_name, named, ordered, bodies, found)


def may_go_in(
    bay: Bay, zone_name: str, items: tuple[tuple[str, RigidPart], ...], needs: Mapping[str, Needs]
) -> bool:
    """Whether `fit_zone` says anything but "does not fit" of (slot, part)s in a zone, in much less time."""
    bodies = bodies_of(bay, zone_name, _ordered(items), needs)
    return may_pack(room_of(bay, zone_name).room, bodies, NODE_LIMIT)


def _ordered(items: tuple[tuple[str, RigidPart], ...]) -> tuple[tuple[str, RigidPart], ...]:
    return tuple(sorted(items, key=lambda item: (item[1].id, item[0])))


def bodies_of(
    bay: Bay, zone_name: str, ordered: tuple[tuple[str, RigidPart], ...], needs: Mapping[str, Needs]
) -> Bodies:
    """The postures of each part in a zone, with what it needs there."""
    walls = bay.zones[zone_name].ends
    asked = [needs.get(slot, NOTHING) for slot, _ in ordered]
    return tuple(
        postures(part, need.reaches, need.facing(walls), need.heights)
        for (_, part), need in zip(ordered, asked, strict=True)
    )


def _placed(
    bay: Bay,
    zone_name: str,
    named: NamedRoom,
    ordered: tuple[tuple[str, RigidPart], ...],
    bodies: Bodies,
    found: Packing,
) -> ZoneFit:
    corner = corner_mm(bay.zones[zone_name])
    placements = []
    surface: float | None = None
    highest: float | None = None
    for (slot, part), body, index, low in zip(ordered, bodies, found.chosen, found.corners, strict=True):
        own = [low[k] / STEPS_PER_MM for k in range(3)]
        at = tuple(own[k] + (corner[k] if corner else 0.0) for k in range(3))
        posture = body[index]
        if posture.level is not None:
            surface = own[2] + posture.level
        if posture.below is not None:
            highest = max(own[2] + posture.below, -1e9 if highest is None else highest)
        placements.append(
            Placement(
                part.id, slot, zone_name, (round(at[0], 3), round(at[1], 3), round(at[2], 3)), posture.size,
                posture.turn.up, posture.turn.front, "car" if corner else "zone",
            )
        )
    set_by = tightest(named, tuple(part.id for _, part in ordered), bodies, found)
    return ZoneFit("fits", found.gap / STEPS_PER_MM, set_by, tuple(placements), surface, highest)


def _most_gap(room: Room, cap_mm: float | None) -> int:
    """The largest gap to ask for [half mm]; none can be larger than the room is long."""
    longest = STEPS_PER_MM * max(room.size)
    return longest if cap_mm is None else min(longest, int(cap_mm * STEPS_PER_MM))
