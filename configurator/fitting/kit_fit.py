"""Does a whole kit fit its bay? Each zone on its own, then the heights that hang together across zones.

A pump's inlet, and what cannot be bled, must lie below the liquid's surface in the reservoir. In one zone that is
part of placing. Across zones: if the zones' own placements already keep it, they stand. Else the reservoir's zone
is asked for its highest surface (by halving: a surface that can be reached can be undercut); the other zones are
placed below that, and the reservoir's zone once more, no lower than they need. That decides: no placement has a
higher surface, so what does not go in below it goes in below none. The clearance is that of the zones so placed.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from configurator.brief.bay import Bay
from configurator.fitting.pairs import STEPS_PER_MM
from configurator.fitting.placing import NODE_LIMIT, Placement, Surfaces, ZoneFit, fit_zone
from configurator.fitting.reaches import Needs
from configurator.parts.kinds import RigidPart

Items = tuple[tuple[str, RigidPart], ...]
FitZone = Callable[[str, Items, Surfaces], ZoneFit]
_NO_SURFACES = Surfaces()
_NOISE = 1e-6
"""Far above the error of a float that holds a height, far below any tape measure."""


@dataclass(frozen=True)
class KitFit:
    """A whole kit, judged: the smallest clearance of its zones if it fits, else the zones that do not.

    `apart`: heights hold the kit back, though every zone would take its parts.
    """

    decided: bool
    fits: bool
    clearance_mm: float | None
    set_by: tuple[str, str] | None
    placements: tuple[Placement, ...]
    misses: tuple[str, ...]
    apart: bool = False


def fit_kit(
    bay: Bay,
    items: tuple[tuple[str, RigidPart, str], ...],
    node_limit: int = NODE_LIMIT,
    clearance_cap_mm: float | None = None,
    needs: Mapping[str, Needs] | None = None,
) -> KitFit:
    """Place every (slot, part, zone) of a kit. One zone that does not fit decides; else one undecided
    leaves the kit undecided.
    """

    def fit(zone: str, inside: Items, surfaces: Surfaces) -> ZoneFit:
        return fit_zone(bay, zone, inside, node_limit, clearance_cap_mm, needs, surfaces)

    return judge_zones(bay, items, fit)


def judge_zones(bay: Bay, items: tuple[tuple[str, RigidPart, str], ...], fit: FitZone) -> KitFit:
    """The same, with zones judged by `fit`, which may remember what it was asked before."""
    inside: dict[str, Items] = {}
    for name in bay.zones:
        of_zone = tuple((slot, part) for slot, part, zone in items if zone == name)
        if of_zone:
            inside[name] = of_zone
    fits = {name: fit(name, of_zone, _NO_SURFACES) for name, of_zone in inside.items()}
    if all(found.state == "fits" for found in fits.values()):
        levelled = _Levels(bay, inside, fit, fits).levelled()
        apart = levelled is not fits
        return _whole(levelled, apart)
    return _whole(fits, False)


def _whole(fits: Mapping[str, ZoneFit], apart: bool) -> KitFit:
    misses = tuple(name for name, found in fits.items() if found.state != "fits")
    if misses:
        decided = any(found.state == "does not fit" for found in fits.values())
        return KitFit(decided, False, None, None, (), misses, apart)
    placements = tuple(placement for found in fits.values() for placement in found.placements)
    roomy = [(found.clearance_mm, found.set_by) for found in fits.values() if found.clearance_mm is not None]
    clearance, set_by = min(roomy, key=lambda found: found[0], default=(None, None))
    return KitFit(True, True, clearance, set_by, placements, ())


@dataclass
class _Levels:
    """The zones of one kit, whose heights must hang together."""

    bay: Bay
    inside: Mapping[str, Items]
    fit: FitZone
    fits: dict[str, ZoneFit]
    undecided: bool = field(default=False)

    def levelled(self) -> dict[str, ZoneFit]:
        """The zones' own placements where they keep the heights, else others; with the zone that cannot."""
        home = next((name for name, found in self.fits.items() if found.surface_mm is not None), None)
        if home is None or self._floor_mm(home) is None:
            return self.fits
        below = [
            name
            for name, found in self.fits.items()
            if name != home and found.highest_mm is not None and self._floor_mm(name) is not None
        ]
        if all(self._height(home, self.fits[home].surface_mm) >= self._top(name) for name in below):
            return self.fits
        highest = self._highest_surface(home)
        found = dict(self.fits)
        for name in below:
            surface = math.floor(STEPS_PER_MM * (self._height(home, highest) - self._height(name, 0.0)) + _NOISE)
            found[name] = self.fit(name, self.inside[name], Surfaces(below=surface))
            if found[name].state == "does not fit" and self.undecided:
                found[name] = ZoneFit("not decided")
        if any(fit.state != "fits" for fit in found.values()):
            return found
        needed = max(self._height(name, found[name].highest_mm) for name in below) - self._height(home, 0.0)
        found[home] = self.fit(home, self.inside[home], Surfaces(at_least=math.ceil(STEPS_PER_MM * needed - _NOISE)))
        return found

    def _highest_surface(self, home: str) -> float:
        """The highest surface that the reservoir can have in its zone [mm above the zone's floor]."""
        reached = round(STEPS_PER_MM * (self.fits[home].surface_mm or 0.0))
        too_high = math.ceil(STEPS_PER_MM * float(self.bay.zones[home].high_m) * 1000) + 1
        while too_high - reached > 1:
            middle = (reached + too_high) // 2
            found = self.fit(home, self.inside[home], Surfaces(at_least=middle))
            if found.state == "fits":
                reached = middle
            else:
                self.undecided = self.undecided or found.state == "not decided"
                too_high = middle
        return reached / STEPS_PER_MM

    def _floor_mm(self, name: str) -> float | None:
        up = self.bay.zones[name].at.up_m
        return None if up is None else float(up) * 1000

    def _height(self, name: str, above_floor_mm: float | None) -> float:
        """A height above the ground [mm]."""
        return (self._floor_mm(name) or 0.0) + (above_floor_mm or 0.0)

    def _top(self, name: str) -> float:
        return self._height(name, self.fits[name].highest_mm)
