"""The builder's question: which part goes in which gap, and which way round? Heat and joints are not asked."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from configurator.brief.request import Brief
from configurator.fitting.placing import Placement, fit_zone
from configurator.fitting.reaches import Needs
from configurator.fitting.why_not import Miss, why_not
from configurator.parts.kinds import PART_KINDS, RigidPart
from configurator.parts.own import OwnPart
from configurator.parts.shelf import Catalogue
from configurator.search.job import lets_in, wanted_of
from configurator.search.needs import faces_used

SLOTS = ("core", "exchanger", "pump", "reservoir", "fan")


@dataclass(frozen=True)
class ZonedPart:
    """One part in one zone: how it goes in, with the room left round it [mm], or what keeps it out."""

    slot: str
    part: RigidPart
    zone: str
    place: Placement | None
    room_mm: float | None
    miss: Miss | None

    @property
    def fits(self) -> bool:
        """Whether it goes in."""
        return self.place is not None


@dataclass(frozen=True)
class Fits:
    """Every part that a zone takes in every such zone, by slot; `gaps`: without a measured bay, what to measure for."""

    brief_name: str
    measured: bool
    tolerance_mm: float | None
    entries: tuple[ZonedPart, ...]
    gaps: tuple[tuple[str, RigidPart], ...]

    def of(self, slot: str) -> tuple[ZonedPart, ...]:
        """One slot's entries: parts that go in first, then those that miss least."""
        return tuple(sorted((entry for entry in self.entries if entry.slot == slot), key=_in_order))

    @property
    def slots(self) -> tuple[str, ...]:
        """The slots that some zone takes."""
        return tuple(slot for slot in SLOTS if any(entry.slot == slot for entry in self.entries))

    @property
    def every_slot_fits(self) -> bool:
        """Whether each slot that a zone takes has a part that goes in."""
        return all(any(entry.fits for entry in self.of(slot)) for slot in self.slots)


def fits_only(brief: Brief, own: tuple[OwnPart, ...], catalogue: Catalogue) -> Fits:
    """Try every part of the shelf, and those that the customer has, alone in every zone that takes its kind.

    Where ends must face some sides, the faces of the ends that a loop uses count. Room before ends and the company of
    other parts belong to a kit and are not asked. Parts fitted in the car already need no zone.
    """
    tried = tuple(_tried(brief, own, catalogue))
    bay = brief.bay
    tolerance = None if bay is None or bay.tolerance_m is None else float(bay.tolerance_m) * 1000
    if bay is None:
        return Fits(brief.brief, False, None, (), tuple(sorted(tried, key=_by_size)))
    entries = []
    for slot, part in tried:
        for name, zone in bay.zones.items():
            if slot in zone.takes:
                needs: dict[str, Needs] = {slot: Needs(used=faces_used(part))}
                miss = why_not(bay, name, ((slot, part),), needs)
                found = None if miss is not None else fit_zone(bay, name, ((slot, part),), needs=needs)
                place = None if found is None or not found.placements else found.placements[0]
                room = None if found is None else found.clearance_mm
                entries.append(ZonedPart(slot, part, name, place, room, miss))
    return Fits(brief.brief, True, tolerance, tuple(entries), ())


def _tried(brief: Brief, own: tuple[OwnPart, ...], catalogue: Catalogue) -> Iterator[tuple[str, RigidPart]]:
    """Slots with the parts in question, by id: what is not wanted, or not there, is not."""
    asked = [layout for layout in catalogue.layouts if layout.id in brief.layouts and layout.bypass is not None]
    unwelcome = brief.without if asked or brief.ice is None else (*brief.without, "exchanger")
    for slot in SLOTS:
        if slot in unwelcome or any(held.fitted and held.part.kind == slot for held in own):
            continue
        wanted = wanted_of(brief, own, catalogue, slot)
        mine = {held.part.id: held.part for held in own if held.part.kind == slot}
        shelf = {part.id: part for part in catalogue.of(PART_KINDS[slot]) if lets_in(brief, own, part)}
        for _, part in sorted({**shelf, **mine}.items()):
            if isinstance(part, RigidPart) and (not wanted or part.id in wanted):
                yield slot, part


def sides_mm(part: RigidPart) -> tuple[int, int, int]:
    """A part's three sides, the longest first [mm, rounded up]."""
    size = part.size
    sides = sorted((math.ceil(float(side) * 1000 - 1e-6) for side in (size.x_m, size.y_m, size.z_m)), reverse=True)
    return (sides[0], sides[1], sides[2])


def _by_size(entry: tuple[str, RigidPart]) -> tuple[object, ...]:
    slot, part = entry
    return (SLOTS.index(slot), sides_mm(part), part.id)


def _in_order(entry: ZonedPart) -> tuple[object, ...]:
    missed = math.inf if entry.miss is None or entry.miss.miss_mm is None else entry.miss.miss_mm
    return (not entry.fits, -(entry.room_mm or 0.0) if entry.fits else missed, entry.part.id, entry.zone)
