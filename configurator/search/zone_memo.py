"""Placing the kits of one search: the same few parts meet in the same zone again and again."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from configurator.brief.bay import Bay
from configurator.fitting.kit_fit import Items, KitFit, judge_zones
from configurator.fitting.placing import Surfaces, ZoneFit, fit_zone, may_go_in
from configurator.fitting.reaches import Needs
from configurator.fitting.room import CLEARANCE_COUNTED_MM
from configurator.parts.kinds import Part, RigidPart


@dataclass(frozen=True)
class RowFit:
    """Whether a row's parts can be placed, and the room left (up to what is counted); the zones that do not fit."""

    decided: bool
    fits: bool
    clearance_mm: float
    misses: tuple[str, ...] = ()


@dataclass(frozen=True)
class Crowd:
    """Parts that do not go into a zone as they are joined."""

    zone: str
    items: Items
    needs: Mapping[str, Needs]


class ZoneMemo:
    """Places kits in one bay, and remembers each zone that it has judged and one crowd for each part that missed."""

    def __init__(self, bay: Bay | None) -> None:
        self._bay = bay
        self._known: dict[tuple[object, ...], ZoneFit] = {}
        self._may: dict[tuple[object, ...], bool] = {}
        self.crowds: dict[str, Crowd] = {}

    def fit(self, parts: Mapping[str, Part], zones: Mapping[str, str], needs: Mapping[str, Needs]) -> RowFit:
        """Place the rigid parts of one row in their zones; without a measured bay nothing is decided."""
        bay = self._bay
        if bay is None:
            return RowFit(decided=False, fits=False, clearance_mm=0.0)
        items = tuple(
            (slot, part, zones[slot])
            for slot, part in parts.items()
            if isinstance(part, RigidPart) and zones.get(slot) in bay.zones
        )
        found = judge_zones(bay, items, lambda zone, inside, surfaces: self._fit(bay, zone, inside, surfaces, needs))
        if not found.fits:
            self._note(found, items, needs)
            return RowFit(found.decided, fits=False, clearance_mm=0.0, misses=found.misses)
        room = CLEARANCE_COUNTED_MM if found.clearance_mm is None else found.clearance_mm
        return RowFit(decided=True, fits=True, clearance_mm=min(room, CLEARANCE_COUNTED_MM))

    def goes_in(self, parts: Mapping[str, Part], zones: Mapping[str, str], needs: Mapping[str, Needs]) -> bool:
        """Whether parts of one zone may go into it; where they do not, the crowd is noted."""
        bay = self._bay
        items = tuple((slot, part) for slot, part in parts.items() if isinstance(part, RigidPart))
        if bay is None or not items or zones[items[0][0]] not in bay.zones:
            return True
        zone = zones[items[0][0]]
        key = (zone, *((slot, part.id, needs[slot]) for slot, part in items))
        if key not in self._may:
            self._may[key] = may_go_in(bay, zone, items, needs)
        if self._may[key]:
            return True
        for _, part in items:
            self.crowds.setdefault(part.id, Crowd(zone, items, needs))
        return False

    def rooms(
        self, parts: Mapping[str, Part], zones: Mapping[str, str], needs: Mapping[str, Needs]
    ) -> dict[str, float]:
        """The room in every zone that holds nothing but these parts, by name: a bound; less than none where they miss.

        `zones`: of every slot of the kit. A zone that is not decided leaves as much room as is counted.
        """
        bay = self._bay
        found: dict[str, float] = {}
        for zone in {zones[slot] for slot in parts}:
            slots = [slot for slot in zones if zones[slot] == zone]
            items = tuple((slot, part) for slot, part in parts.items() if slot in slots and isinstance(part, RigidPart))
            if bay is not None and zone in bay.zones and len(items) == len(slots):
                fit = self._fit(bay, zone, items, Surfaces(), needs)
                room = CLEARANCE_COUNTED_MM if fit.clearance_mm is None else fit.clearance_mm
                found[zone] = -1.0 if fit.state == "does not fit" else min(room, CLEARANCE_COUNTED_MM)
        return found

    def _fit(
        self, bay: Bay, zone: str, inside: Items, surfaces: Surfaces, needs: Mapping[str, Needs]
    ) -> ZoneFit:
        key = (zone, surfaces, *((slot, part.id, needs[slot]) for slot, part in inside))
        if key not in self._known:
            self._known[key] = fit_zone(
                bay, zone, inside, clearance_cap_mm=CLEARANCE_COUNTED_MM, needs=needs, surfaces=surfaces
            )
        return self._known[key]

    def _note(
        self, found: KitFit, items: tuple[tuple[str, RigidPart, str], ...], needs: Mapping[str, Needs]
    ) -> None:
        for zone in found.misses:
            inside = tuple((slot, part) for slot, part, where in items if where == zone)
            for _, part in inside:
                self.crowds.setdefault(part.id, Crowd(zone, inside, needs))
