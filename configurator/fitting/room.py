"""The room of a zone: its free box and what stands in it, in whole millimetres from its lowest corner."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from configurator.brief.bay import Bay, Obstacle, Zone
from configurator.brief.zones import KEEP_OFF_M
from configurator.foundations.boxes import Box, Triple, millimetres_down, millimetres_up

KEEP_OFF_MM: Final = {kind: round(length_m * 1000) for kind, length_m in KEEP_OFF_M.items()}
"""How far bodies stay off hot and moving things without a stated clearance (common practice, no source)."""

CLEARANCE_COUNTED_MM: Final = 25.0
"""The order counts clearance up to here, so the search looks no further; what is told of a kit is exact."""

_FAR_MM: Final = 100_000
"""Farther than any car is long."""

_WALLS: Final = ("front", "back", "left", "right", "down", "up")


@dataclass(frozen=True)
class Room:
    """The size of a free box [mm] and the boxes in it that must stay clear [mm, from its lowest corner].

    `open`: which of its six sides (front, back, left, right, floor, top) a reach may go through. `surface`: the
    liquid's surface of a reservoir in another room, below which some heights must stay; `surface_from`: the least
    height of the surface of a reservoir in this one. Both above this room's floor [half mm]; None where nothing asks.
    """

    size: Triple
    obstacles: tuple[Box, ...]
    open: tuple[bool, ...] = (False,) * 6
    surface: int | None = None
    surface_from: int | None = None


@dataclass(frozen=True)
class NamedRoom:
    """A room with the names of its obstacles, in the same order."""

    room: Room
    names: tuple[str, ...]


def room_of(bay: Bay, zone_name: str) -> NamedRoom:
    """The room of a zone: the zone rounded down, its obstacles outwards to whole millimetres.

    Hot and moving obstacles are grown by their clearance on every side; plain and crash ones stand as they
    are. An obstacle that stands neither in the zone nor behind one of its open walls leaves it as it is.
    """
    zone = bay.zones[zone_name]
    size = (millimetres_down(zone.deep_m), millimetres_down(zone.wide_m), millimetres_down(zone.high_m))
    opened = tuple(side in zone.open for side in _WALLS)
    in_reach = _with_what_is_open(size, opened)
    standing = [
        (obstacle.name, box)
        for obstacle in bay.obstacles
        if obstacle.zone == zone_name and (box := _kept_clear(zone, obstacle)).overlaps(in_reach)
    ]
    return NamedRoom(Room(size, tuple(box for _, box in standing), opened), tuple(name for name, _ in standing))


def _with_what_is_open(size: Triple, opened: tuple[bool, ...]) -> Box:
    """The free box, and what lies behind its open walls as far as room before an end may go."""
    low = tuple(-_FAR_MM if opened[2 * k] else 0 for k in range(3))
    high = tuple(size[k] + _FAR_MM if opened[2 * k + 1] else size[k] for k in range(3))
    return Box((low[0], low[1], low[2]), (high[0], high[1], high[2]))


def corner_mm(zone: Zone) -> tuple[float, float, float] | None:
    """The zone's front-left-floor corner in the car [mm], if all three of its coordinates are known."""
    back, right, up = zone.at.back_m, zone.at.right_m, zone.at.up_m
    if back is None or right is None or up is None:
        return None
    return (float(back) * 1000, float(right) * 1000, float(up) * 1000)


def _kept_clear(zone: Zone, obstacle: Obstacle) -> Box:
    off = obstacle.off
    spans = (
        _span(off.front_m, off.back_m, obstacle.deep_m, zone.deep_m),
        _span(off.left_m, off.right_m, obstacle.wide_m, zone.wide_m),
        _span(off.floor_m, off.top_m, obstacle.high_m, zone.high_m),
    )
    box = Box((spans[0][0], spans[1][0], spans[2][0]), (spans[0][1], spans[1][1], spans[2][1]))
    if obstacle.kind not in KEEP_OFF_MM:
        return box
    stated = obstacle.clearance_m
    return box.grown(KEEP_OFF_MM[obstacle.kind] if stated is None else millimetres_up(stated))


def _span(
    from_low_m: float | None, from_high_m: float | None, extent_m: float, zone_m: float
) -> tuple[int, int]:
    """Low and high face [mm] of an obstacle that is measured off one of the two walls, rounded outwards."""
    low_m = from_low_m if from_low_m is not None else zone_m - (from_high_m or 0.0) - extent_m
    return millimetres_down(low_m), millimetres_up(low_m + extent_m)
