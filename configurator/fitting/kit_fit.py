"""Does a whole kit fit its bay? Each zone on its own, then the heights that hang together across zones.

A pump's inlet, and what cannot be bled, must lie below the liquid's surface in the reservoir. In one zone that is
part of placing. Across zones: if the zones' own placements already keep it, they stand. Else a surface between the
zones is looked for: the reservoir must reach it, the others stay below it. The higher it is, the less clearance the
reservoir's zone has, and the more the others have; so the best clearance of the whole kit lies where the two cross,
which is found by halving. Where they do not cross the kit does not fit, for no placement has a higher surface.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from configurator.brief.bay import Bay
from configurator.fitting.pairs import STEPS_PER_MM
from configurator.fitting.placing import NODE_LIMIT, Placement, State, Surfaces, ZoneFit, fit_zone
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


def _room(found: ZoneFit) -> float:
    """The clearance of a zone, less than none where it does not fit and no bound where nothing is in it."""
    if found.state != "fits":
        return -1.0
    return math.inf if found.clearance_mm is None else found.clearance_mm


@dataclass
class _Levels:
    """The zones of one kit, whose heights must hang together."""

    bay: Bay
    inside: Mapping[str, Items]
    fit: FitZone
    fits: dict[str, ZoneFit]
    undecided: bool = field(default=False)

    def levelled(self) -> dict[str, ZoneFit]:
        """The zones' own placements where they keep the heights, else others; with the zones that cannot."""
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
        surface = self._crossing(home, below)
        found = max(
            (self._with_surface(home, below, at) for at in (surface, surface - 1)),
            key=lambda found: min(map(_room, found.values())),
        )
        misses = [name for name in (home, *below) if found[name].state != "fits"]
        if not misses:
            return found
        state: State = "not decided" if self.undecided else "does not fit"
        return {**self.fits, **{name: ZoneFit(state) for name in {home, *misses}}}

    def _crossing(self, home: str, below: list[str]) -> int:
        """The lowest surface with no less room below it than round the reservoir [half mm above its zone's floor]."""
        too_low = round(STEPS_PER_MM * (self.fits[home].surface_mm or 0.0)) - 1
        enough = math.ceil(STEPS_PER_MM * float(self.bay.zones[home].high_m) * 1000) + 1
        while enough - too_low > 1:
            middle = (too_low + enough) // 2
            found = self._with_surface(home, below, middle)
            if min(_room(found[name]) for name in below) >= _room(found[home]):
                enough = middle
            else:
                too_low = middle
        return enough

    def _with_surface(self, home: str, below: list[str], surface: int) -> dict[str, ZoneFit]:
        """The zones with the reservoir's surface at this height or higher, and the others below it."""
        found = dict(self.fits)
        found[home] = self.fit(home, self.inside[home], Surfaces(at_least=surface))
        for name in below:
            over = STEPS_PER_MM * (self._height(home, 0.0) - self._height(name, 0.0))
            found[name] = self.fit(name, self.inside[name], Surfaces(below=surface + math.floor(over + _NOISE)))
        self.undecided = self.undecided or any(fit.state == "not decided" for fit in found.values())
        return found

    def _floor_mm(self, name: str) -> float | None:
        up = self.bay.zones[name].at.up_m
        return None if up is None else float(up) * 1000

    def _height(self, name: str, above_floor_mm: float | None) -> float:
        """A height above the ground [mm]."""
        return (self._floor_mm(name) or 0.0) + (above_floor_mm or 0.0)

    def _top(self, name: str) -> float:
        return self._height(name, self.fits[name].highest_mm)
