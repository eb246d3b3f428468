"""Where air gathers in a loop and where it is drained: from the heights of its parts, as far as they are known."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from configurator.brief.bay import Bay
from configurator.fitting.placing import Placement
from configurator.parts.ends import OPPOSITE, End, Face
from configurator.parts.kinds import RigidPart
from configurator.parts.vents import vents
from configurator.search.needs import size_mm

HOLDS_AIR = ("core", "exchanger")
"""Kinds that keep air where nobody knows how high they sit: wide boxes with level passages."""


@dataclass(frozen=True)
class Span:
    """Lowest and highest edge of a part above the ground [mm]."""

    floor_mm: float
    top_mm: float


@dataclass(frozen=True)
class Bleed:
    """A place where air gathers, the part's own port for it, if it has one, and whether it lies above the reservoir.

    `tower`: it is the highest of those above it, and of equal ones the last: one fill tower there stands over all of
    them, for the loop joins them.
    """

    slot: str
    port: End | None
    above_reservoir: bool
    tower: bool = False


def spans_of(placements: Iterable[Placement], bay: Bay | None) -> dict[str, Span]:
    """The heights of placed parts by slot; a part in a zone whose height is not known is not in it."""
    spans = {}
    for place in placements:
        low = place.at_mm[2]
        if place.frame == "zone":
            zone = None if bay is None else bay.zones.get(place.zone)
            if zone is None or zone.at.up_m is None:
                continue
            low += float(zone.at.up_m) * 1000
        spans[place.slot] = Span(low, low + place.size_mm[2])
    return spans


def spans_of_two(one: str, other: str, spans: Mapping[str, Span], placements: Iterable[Placement]) -> dict[str, Span]:
    """The heights of two slots above one level: above the ground, or else the floor of the zone that both are in."""
    if one in spans and other in spans:
        return {one: spans[one], other: spans[other]}
    placed = {place.slot: place for place in placements if place.slot in (one, other)}
    if len({place.zone for place in placed.values()}) != 1:
        return {}
    return {slot: Span(place.at_mm[2], place.at_mm[2] + place.size_mm[2]) for slot, place in placed.items()}


def bleeds(
    flow: Sequence[tuple[str, RigidPart]], spans: Mapping[str, Span], ups: Mapping[str, Face], used: Iterable[str]
) -> tuple[Bleed, ...]:
    """A bleed for every local high point of a loop, and for every core and exchanger that has a port for it.

    `flow`: slots and parts in flow order; the loop closes. `ups`: the face that points up, by slot. `used`: ends that
    joints take, as `slot.end`. The top tank of a wide box keeps air whatever its neighbours do. A part is a high point
    where its top is not below its neighbours' tops; where one of the three heights is not known, cores and exchangers
    count as one. The reservoir itself holds the surface.
    """
    taken = set(used)
    surface = next((spans.get(slot) for slot, part in flow if part.kind == "reservoir"), None)
    found = []
    for index, (slot, part) in enumerate(flow):
        if part.kind == "reservoir":
            continue
        around = [spans.get(flow[(index + step) % len(flow)][0]) for step in (-1, 1)]
        own = spans.get(slot)
        tops = [span.top_mm for span in around if span is not None]
        if own is None or len(tops) < len(around):
            high = part.kind in HOLDS_AIR
        else:
            high = all(own.top_mm >= top for top in tops)
        port = next(iter(ports(slot, part, "bleed", ups.get(slot), taken)), None)
        if high or (port is not None and part.kind in HOLDS_AIR):
            above = own is not None and surface is not None and own.top_mm > surface.top_mm
            found.append(Bleed(slot, port, above))
    higher = [bleed for bleed in found if bleed.above_reservoir]
    highest = max(reversed(higher), key=lambda bleed: spans[bleed.slot].top_mm, default=None)
    return tuple(replace(bleed, tower=True) if bleed is highest else bleed for bleed in found)


def ports(slot: str, part: RigidPart, role: str, up: Face | None, used: Iterable[str]) -> tuple[End, ...]:
    """Idle coolant ends of a part that bleed or drain it as it sits: turned over, a drain is a bleed.

    A bleed in a side that lets no air out there does neither.
    """
    passage = part.passages().get("coolant")
    taken = set(used)
    found = []
    for end in () if passage is None else passage.ends:
        if end.role not in ("bleed", "drain") or f"{slot}.{end.name}" in taken:
            continue
        serves = end.role
        if up is not None and end.face == OPPOSITE[up]:
            serves = "drain"
        elif up is not None and vents(end, up, size_mm(part)):
            serves = "bleed"
        elif up is not None and serves == "bleed":
            continue
        if serves == role:
            found.append(end)
    return tuple(found)


def lowest(flow: Sequence[tuple[str, RigidPart]], spans: Mapping[str, Span]) -> str | None:
    """The slot that sits lowest, None where a height is missing."""
    if any(slot not in spans for slot, _ in flow):
        return None
    return min(flow, key=lambda entry: (spans[entry[0]].floor_mm, entry[0]))[0]
