"""What may be changed in one kit, one thing at a time: each trial is a brief, a small shelf and what to look for in it.

All other slots are held: their parts are the only ones of their kinds on the trial's shelf, so one search of few parts
finds every whole kit that differs in one thing. Never tried: more boost or power, another rating, cap or obstacle.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from configurator.brief.tables import Tables
from configurator.foundations.coolants import smallest_share
from configurator.foundations.units import celsius
from configurator.parts.kinds import Hose, Part
from configurator.parts.layouts import HEAT_KINDS, Layout, kind_of_slot
from configurator.parts.own import OwnPart
from configurator.parts.shelf import Catalogue, make_catalogue
from configurator.prediction.conditions import choose_coolant
from configurator.prediction.frost import frost_of
from configurator.prediction.zone_air import SEALED_RAM_SHARE, ram_share
from configurator.questions.answer import OfferedKit
from configurator.questions.changed_brief import Asked, figure, with_changes
from configurator.questions.levers import COLDEST_START_C, start_change
from configurator.search.circuit import circuit_of
from configurator.search.job import Job
from configurator.search.loosening import Change

SLOT_KINDS = ("core", "exchanger", "pump", "reservoir", "cap", "fan", "timer")
READY_MIXED = 0.5
"""Antifreeze as it is often sold and filled without asking; common practice, no source."""

MORE_ICE = (1.25, 1.5, 2.0)


@dataclass(frozen=True)
class Trial:
    """One search: of `asked`, in which the parts of `kinds` may be others than the kit's.

    `change`: what of the brief is changed, for one that changes no part. `bore_mm`: hose of
    this bore wherever the ends take it.
    """

    kind: str
    asked: Asked
    kinds: tuple[str, ...] = ()
    change: Change | None = None
    bore_mm: float | None = None


@dataclass(frozen=True)
class Ground:
    """The kit that is changed, and all that it was found with: brief without limits, shelf, what the customer has."""

    job: Job
    kit: OfferedKit
    own: tuple[OwnPart, ...]
    catalogue: Catalogue
    tables: Tables

    @property
    def asked(self) -> Asked:
        """The brief held to the kit's own layout."""
        return _in_layouts((self.job.brief, self.job.driving), (self.kit.layout,))

    @property
    def layout(self) -> Layout:
        """The kit's own layout."""
        return next(layout for layout in self.catalogue.layouts if layout.id == self.kit.layout)

    def part_of(self, kind: str) -> str | None:
        """The kit's part of a kind; of twins the one that both are."""
        return next((part for slot, part in self.kit.parts if kind_of_slot(slot) == kind), None)

    def stays(self, kind: str) -> bool:
        """Whether a part of this kind is fitted in the car."""
        return any(held.fitted and held.part.kind == kind for held in self.own)

    def shuts_out(self, kind: str) -> bool:
        """Whether a valve keeps the coolant out of the kit's part of a kind: another there changes no drive."""
        return circuit_of(self.job.brief, self.layout).shut_out == kind

    def shelf(self, trial: Trial) -> Catalogue:
        """The kit's parts, every part of the kinds in question, and all that joins and wires."""
        ids = {part for _, part in self.kit.parts}
        parts = [part for part in self.catalogue.parts.values() if self._on_shelf(part, trial, ids)]
        return make_catalogue(parts, self.catalogue.layouts)

    def owned(self, trial: Trial) -> tuple[OwnPart, ...]:
        """What the customer has, as far as it is in the kit, stays, or is in question."""
        ids = {part for _, part in self.kit.parts}
        return tuple(
            held
            for held in self.own
            if held.fitted or held.part.id in ids or held.part.kind in trial.kinds
        )

    def _on_shelf(self, part: Part, trial: Trial, ids: set[str]) -> bool:
        kind = part.kind
        return kind not in SLOT_KINDS or part.id in ids or kind in trial.kinds


def bore_mm(hose: Hose) -> float:
    """A hose's bore [mm], to a tenth: bores of one size are one."""
    return round(float(hose.bore_m) * 1e3, 1)


def trials(ground: Ground) -> Iterator[Trial]:
    """Every change that is tried: parts first, then what of the brief a customer may change."""
    yield from _swaps(ground)
    yield from _seconds(ground)
    yield from _hoses(ground)
    yield from _coolants(ground)
    yield from _ducts(ground)
    yield from _starts(ground)
    yield from _ices(ground)


def _swaps(ground: Ground) -> Iterator[Trial]:
    """Another part of one kind; a reservoir takes its cap along, a fan and a timer are tried together and alone."""
    asked, brief = ground.asked, ground.job.brief
    for kind in ("exchanger", "core", "pump"):
        if ground.part_of(kind) is not None and not ground.stays(kind) and not ground.shuts_out(kind):
            yield Trial(kind, asked, (kind,))
    if not ground.stays("reservoir"):
        yield Trial("reservoir", asked, ("reservoir",) if ground.stays("cap") else ("reservoir", "cap"))
    if ground.job.conditions.standing is not None:
        kinds = tuple(kind for kind in ("fan", "timer") if not ground.stays(kind))
        if kinds:
            yield Trial("fan", asked, kinds)
    if ground.part_of("exchanger") is None and brief.ice is None and "exchanger" in brief.without:
        wanted = tuple(kind for kind in brief.without if kind != "exchanger")
        fronted = (brief.model_copy(update={"without": wanted, "layouts": asked[0].layouts}), asked[1])
        yield Trial("first exchanger", fronted, ("exchanger",))


def _seconds(ground: Ground) -> Iterator[Trial]:
    """A second exchanger or core like the first, in every layout that has one more of it."""
    for kind in HEAT_KINDS:
        if ground.part_of(kind) is None or ground.stays(kind) or ground.shuts_out(kind):
            continue
        wanted = {other: ground.layout.count(other) + (other == kind) for other in HEAT_KINDS}
        ids = tuple(
            layout.id
            for layout in ground.catalogue.layouts
            if layout.bypass == ground.layout.bypass
            and all(layout.count(other) == count for other, count in wanted.items())
        )
        if ids:
            yield Trial(f"second {kind}", _in_layouts(ground.asked, ids))


def _hoses(ground: Ground) -> Iterator[Trial]:
    """Hose of a wider bore, wherever the ends of the loop take it."""
    shelf = [hose for hose in ground.job.serving(Hose) if "coolant" in hose.media]
    had = [bore_mm(hose) for hose in shelf if hose.id in {joint.hose for joint in ground.kit.joints}]
    for bore in sorted({bore_mm(hose) for hose in shelf if bore_mm(hose) > max(had, default=0.0)}):
        yield Trial("hose", ground.asked, bore_mm=bore)


def _coolants(ground: Ground) -> Iterator[Trial]:
    """Less antifreeze as far as the coldest night lets, plain water where it never freezes, and the ready mix."""
    brief, driving = ground.asked
    now = ground.job.conditions.coolant
    if brief.ice is not None or now.kind == "water":
        return
    coldest_k = None if brief.site.coldest_k is None else frost_of(brief).night_k
    least = None if coldest_k is None else smallest_share(now.kind, coldest_k)
    shares = {READY_MIXED, *([] if least is None else [least])} - {round(now.glycol_by_volume, 4)}
    for share in sorted(shares):
        settled = {"kinds": (now.kind,), "glycol_by_volume": figure(100 * share, "%", "share")}
        changed = brief.model_copy(update={"coolant": brief.coolant.model_copy(update=settled)})
        if choose_coolant(changed) is not None:
            change = Change("antifreeze", 100 * now.glycol_by_volume, 100 * share, "%")
            yield Trial("coolant", (changed, driving), change=change)
    if coldest_k is not None and smallest_share("water", coldest_k) is not None:
        plain = {"kinds": ("water",), "glycol_by_volume": None}
        changed = brief.model_copy(update={"coolant": brief.coolant.model_copy(update=plain)})
        yield Trial("coolant", (changed, driving), change=Change("antifreeze", 100 * now.glycol_by_volume, 0.0, "%"))


def _ducts(ground: Ground) -> Iterator[Trial]:
    """A duct sealed to the fins, where ram air comes through a grille and nothing stands before it."""
    brief, driving = ground.asked
    through = not ground.shuts_out("exchanger")
    zones = [zone for slot, zone in ground.kit.zones if kind_of_slot(slot) == "exchanger" and through]
    for name in dict.fromkeys(zones):
        bay = brief.bay
        zone = None if bay is None else bay.zones.get(name)
        if bay is None or zone is None or zone.air is None or zone.air.kind != "ram":
            continue
        before = ram_share(zone)
        if zone.air.sealed or zone.air.behind is not None or before >= SEALED_RAM_SHARE:
            continue
        air = zone.air.model_copy(update={"sealed": True, "share": None})
        zones_with = {**bay.zones, name: zone.model_copy(update={"air": air})}
        changed = brief.model_copy(update={"bay": bay.model_copy(update={"zones": zones_with})})
        change = Change("duct", round(100 * before, 4), 100 * SEALED_RAM_SHARE, "%", name)
        yield Trial("duct", (changed, driving), change=change)


def _starts(ground: Ground) -> Iterator[Trial]:
    """The coolant chilled before the drive; nobody chills it for one that ends with a standstill."""
    start_c = celsius(ground.job.conditions.start_k)
    if ground.job.conditions.ice is None and ground.job.conditions.standing is None and start_c > COLDEST_START_C + 1:
        change = start_change(ground.job, COLDEST_START_C)
        yield Trial("start", with_changes(ground.asked, [change]), change=change)


def _ices(ground: Ground) -> Iterator[Trial]:
    """More ice in the same tank, as far as it goes in."""
    brief = ground.job.brief
    if brief.ice is None:
        return
    for times in MORE_ICE:
        before = float(brief.ice.mass_kg)
        change = Change("ice", before, times * before, "kg", written=brief.ice.mass_kg.unit)
        yield Trial("ice", with_changes(ground.asked, [change]), change=change)


def _in_layouts(asked: Asked, ids: Sequence[str]) -> Asked:
    return asked[0].model_copy(update={"layouts": tuple(ids)}), asked[1]
