"""The bay as the brief states it: of each zone its size, walls, way in and air, and what stands in it."""

from __future__ import annotations

from collections.abc import Iterator

from configurator.brief.bay import Bay, Obstacle, StatedAir, WayIn, Zone
from configurator.foundations.units import Figure
from configurator.presentation.drawing.lengths import typed


def own(value: object) -> str:
    """A figure as its user wrote it."""
    return value.text if isinstance(value, Figure) and value.text else str(value)


def bay_rows(bay: Bay) -> Iterator[tuple[str, str]]:
    """A row for each zone, then what is stated of hoses and of the tape measure."""
    for name, zone in bay.zones.items():
        inside = [_obstacle(one) for one in bay.obstacles if one.zone == name]
        stays = ["the front exchanger that stays is in its air"] if name == bay.front_in else []
        yield f"zone {name}", "; ".join([*_zone(zone), *stays, *([f"in it: {', '.join(inside)}"] if inside else [])])
    if bay.runs:
        yield "hose runs", ", ".join(f"{between} {own(length)}" for between, length in bay.runs.items())
    if bay.tolerance_m is not None:
        yield "tape measure", f"sure to {own(bay.tolerance_m)}"


def _zone(zone: Zone) -> Iterator[str]:
    yield f"{_opening(zone)}, {typed(zone.deep_m)} deep, takes {', '.join(zone.takes)}"
    if zone.open:
        yield f"open: {', '.join(zone.open)}"
    for medium, sides in zone.ends.items():
        yield f"{medium} ends face {' or '.join(sides)}"
    if zone.way_in is not None:
        yield f"way in {_opening(zone.way_in)}"
    if zone.air is not None:
        yield f"air: {', '.join(_air(zone.air))}"


def _air(air: StatedAir) -> Iterator[str]:
    if air.face_speed_m_per_s is not None:
        yield f"face speed {own(air.face_speed_m_per_s)}"
    else:
        yield str(air.kind) if air.share is None else f"{air.kind}, {own(air.share)} of road speed"
    if air.sealed is not None:
        yield "sealed" if air.sealed else "not sealed"
    if air.behind is not None:
        yield f"behind {air.behind}"
    if air.preheat_k is not None:
        yield f"{own(air.preheat_k)} warmer"


def _obstacle(one: Obstacle) -> str:
    clear = "" if one.clearance_m is None else f", {typed(one.clearance_m)} clear"
    return f"{one.name} ({one.kind}, {_opening(one)}, {typed(one.deep_m)} deep{clear})"


def _opening(of: Zone | WayIn | Obstacle) -> str:
    return f"{typed(of.wide_m)} wide, {typed(of.high_m)} high"
