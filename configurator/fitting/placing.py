"""Do these parts fit this zone, this bay? Start reading here: `fit_kit` asks `fit_zone`, zone by zone.

A zone is one free box; zones do not join. Clearance is the largest gap, in half millimetres, that can be kept
at once round every body in the zone: to the other bodies, to walls and to what must stay clear. Faces that
a part names as its mounts need no gap. Room in front of ends is not looked at.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from configurator.brief.bay import Bay
from configurator.fitting.packing import STEPS_PER_MM, Packing, pack
from configurator.fitting.room import NamedRoom, Room, corner_mm, room_of
from configurator.fitting.tightest import tightest
from configurator.fitting.turns import postures
from configurator.parts.ends import Face
from configurator.parts.kinds import RigidPart

NODE_LIMIT: Final = 10_000
"""Several seconds of search. Three parts in a zone take a few hundred nodes, five in a tight one a few thousand."""

_FAR_WALLS: Final = ("wall back", "wall right", "wall top")

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
    """One zone, judged. `set_by` names the pair that sets the clearance or, where it does not fit, what is
    in the way.

    `miss_mm` is by how much the walls alone keep a part out; None where they would let each part in.
    """

    state: State
    clearance_mm: float | None = None
    set_by: tuple[str, str] | None = None
    placements: tuple[Placement, ...] = ()
    miss_mm: int | None = None


@dataclass(frozen=True)
class KitFit:
    """A whole kit, judged: the smallest clearance of its zones if it fits, else the zones that do not."""

    decided: bool
    fits: bool
    clearance_mm: float | None
    set_by: tuple[str, str] | None
    placements: tuple[Placement, ...]
    misses: tuple[tuple[str, ZoneFit], ...]


def fit_kit(
    bay: Bay,
    items: tuple[tuple[str, RigidPart, str], ...],
    node_limit: int = NODE_LIMIT,
    clearance_cap_mm: float | None = None,
) -> KitFit:
    """Place every (slot, part, zone) of a kit. One zone that does not fit decides; else one undecided
    leaves the kit undecided.
    """
    fits: list[tuple[str, ZoneFit]] = []
    for name in bay.zones:
        inside = tuple((slot, part) for slot, part, zone in items if zone == name)
        if inside:
            fits.append((name, fit_zone(bay, name, inside, node_limit, clearance_cap_mm)))
    misses = tuple((name, fit) for name, fit in fits if fit.state != "fits")
    if misses:
        decided = any(fit.state == "does not fit" for _, fit in misses)
        return KitFit(decided, False, None, None, (), misses)
    placements = tuple(placement for _, fit in fits for placement in fit.placements)
    roomy = [(fit.clearance_mm, fit.set_by) for _, fit in fits if fit.clearance_mm is not None]
    clearance, set_by = min(roomy, key=lambda found: found[0], default=(None, None))
    return KitFit(True, True, clearance, set_by, placements, ())


def fit_zone(
    bay: Bay,
    zone_name: str,
    items: tuple[tuple[str, RigidPart], ...],
    node_limit: int = NODE_LIMIT,
    clearance_cap_mm: float | None = None,
) -> ZoneFit:
    """Place every (slot, part) in one zone, at its canonical placement.

    That is: at the largest clearance, the smallest coordinates (x, y, z of the first part, then of the
    next; parts in order of id, then slot), ties in the order of turns. With `clearance_cap_mm` clearances
    above it count as equal to it: the clearance is the smaller of the exact one and the cap, and the
    placement canonical at that.
    """
    named = room_of(bay, zone_name)
    ordered = tuple(sorted(items, key=lambda item: (item[1].id, item[0])))
    bodies = tuple(postures(part) for _, part in ordered)
    found = pack(named.room, bodies, _most_gap(named.room, clearance_cap_mm), node_limit)
    ids = tuple(part.id for _, part in ordered)
    if found.state != "fits":
        return _no_placement(named, found, tuple(part for _, part in ordered), node_limit)
    corner = corner_mm(bay.zones[zone_name])
    placements = []
    for (slot, part), body, index, low in zip(ordered, bodies, found.chosen, found.corners, strict=True):
        at = tuple(low[k] / STEPS_PER_MM + (corner[k] if corner else 0.0) for k in range(3))
        posture = body[index]
        placements.append(
            Placement(
                part.id, slot, zone_name, (round(at[0], 3), round(at[1], 3), round(at[2], 3)), posture.size,
                posture.turn.up, posture.turn.front, "car" if corner else "zone",
            )
        )
    set_by = tightest(named, ids, bodies, found)
    return ZoneFit("fits", found.gap / STEPS_PER_MM, set_by, tuple(placements))


def alone(bay: Bay, zone_name: str, part: RigidPart) -> ZoneFit:
    """One part by itself in a zone: if it does not fit, by how much, or which obstacle is in the way."""
    return fit_zone(bay, zone_name, (("alone", part),))


def _most_gap(room: Room, cap_mm: float | None) -> int:
    """The largest gap to ask for [half mm]; none can be larger than the room is long."""
    longest = STEPS_PER_MM * max(room.size)
    return longest if cap_mm is None else min(longest, int(cap_mm * STEPS_PER_MM))


def _no_placement(named: NamedRoom, found: Packing, parts: tuple[RigidPart, ...], node_limit: int) -> ZoneFit:
    if found.state == "not decided":
        return ZoneFit("not decided")
    worst: ZoneFit | None = None
    for part in parts:
        miss_mm, wall = _short_of_walls(named.room, part)
        if miss_mm > 0 and (worst is None or miss_mm > (worst.miss_mm or 0)):
            worst = ZoneFit("does not fit", set_by=(part.id, wall), miss_mm=miss_mm)
    if worst is not None:
        return worst
    for part in parts:
        blocking = _blocking_obstacle(named, part, node_limit)
        if blocking is not None:
            return ZoneFit("does not fit", set_by=(part.id, blocking))
    return ZoneFit("does not fit", set_by=(parts[0].id, parts[1].id) if len(parts) > 1 else None)


def _short_of_walls(room: Room, part: RigidPart) -> tuple[int, str]:
    """By how much the walls keep a part out in its best turn [mm], and which wall; 0 or less: they do not."""
    found = []
    for posture in postures(part):
        short = [size - have for size, have in zip(posture.size, room.size, strict=True)]
        found.append((max(short), _FAR_WALLS[short.index(max(short))]))
    return min(found, key=lambda miss: miss[0], default=(0, ""))


def _blocking_obstacle(named: NamedRoom, part: RigidPart, node_limit: int) -> str | None:
    """The obstacle that keeps one part out: the first without which it would go in, else the first of all."""
    bodies = (postures(part),)
    if pack(named.room, bodies, 0, node_limit).state == "fits":
        return None
    for k, name in enumerate(named.names):
        others = named.room.obstacles[:k] + named.room.obstacles[k + 1 :]
        if pack(Room(named.room.size, others), bodies, 0, node_limit).state == "fits":
            return name
    return named.names[0] if named.names else None
