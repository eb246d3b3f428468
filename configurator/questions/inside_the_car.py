"""Whether a kit's reservoir sits where people or luggage may be: in cabin or boot."""

from __future__ import annotations

import re
from collections.abc import Mapping

from configurator.brief.bay import Bay
from configurator.parts.layouts import kind_of_slot
from configurator.reasons.thresholds import ENGINE_BAY_M

INSIDE = ("boot", "trunk", "frunk", "cabin", "cockpit", "interior", "luggage", "cargo", "footwell", "seat", "parcel")
"""How words begin that name a place inside a car. Common practice, no source."""


def reservoir_inside(bay: Bay | None, zones: Mapping[str, str]) -> tuple[str, float | None] | None:
    """The zone of a reservoir that may be among people, and how far it begins behind the bumper face [m].

    `zones`: by slot. The distance is None where the zone's name says so already. By its place a zone counts that begins
    behind `ENGINE_BAY_M`, unless the core lies there too, for then the engine does not stand in front. None for a
    reservoir elsewhere, or of which nobody says where it is.
    """
    zone = next((name for slot, name in zones.items() if kind_of_slot(slot) == "reservoir"), None)
    if bay is None or zone not in bay.zones:
        return None
    if any(word.startswith(INSIDE) for word in re.findall("[a-z]+", zone.lower())):
        return zone, None
    back_m = bay.zones[zone].at.back_m
    if back_m is None or back_m <= ENGINE_BAY_M or any(_of_core(slot) and _behind(bay, zones[slot]) for slot in zones):
        return None
    return zone, float(back_m)


def _of_core(slot: str) -> bool:
    return kind_of_slot(slot) == "core"


def _behind(bay: Bay, zone: str) -> bool:
    back_m = bay.zones[zone].at.back_m if zone in bay.zones else None
    return back_m is not None and back_m > ENGINE_BAY_M
