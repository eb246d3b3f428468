"""The sieve: every part of the shelf judged on its own against the brief. Kept parts, and why the others are out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import TypeVar, get_args

import numpy as np

from configurator.brief.bay import Bay
from configurator.fitting.reaches import Needs
from configurator.fitting.why_not import Cause, Miss, why_not
from configurator.joining.ratings import cap_short_of_pa_gauge, charge_design_pa_gauge
from configurator.parts.ends import Face
from configurator.parts.kinds import PART_KINDS, Cap, Core, Exchanger, Fan, Part, Pump, Reservoir, RigidPart, Timer
from configurator.parts.passages import Passage
from configurator.prediction.charge import charge_at
from configurator.prediction.frost import FROST_FREE_NIGHT_K
from configurator.prediction.surface_figures import Surface
from configurator.prediction.surfaces import core_surface, exchanger_surface
from configurator.search.bill import ADDED
from configurator.search.circuit import unwanted
from configurator.search.ice_rules import ice_reason
from configurator.search.job import Exclusion, Job, out_of_stock
from configurator.search.needs import faces_used

P = TypeVar("P", bound=Part)

UNMEASURED = "(unmeasured)"
FITTED = "(fitted)"
"""Zone words for parts that need no zone: the bay has not been measured, or the part is in the car already."""

SIX_FACES: tuple[Face, ...] = get_args(Face)


@dataclass(frozen=True)
class Admissible:
    """Parts that pass on their own, by kind and id order, and the zones each rigid part fits when alone."""

    cores: tuple[Core, ...]
    exchangers: tuple[Exchanger, ...]
    pumps: tuple[Pump, ...]
    reservoirs: tuple[Reservoir, ...]
    caps: tuple[Cap, ...]
    zones: Mapping[str, tuple[str, ...]]
    exclusions: tuple[Exclusion, ...]
    fans: tuple[Fan, ...] = ()
    timers: tuple[Timer, ...] = ()

    def of(self, kind: str) -> tuple[Part, ...]:
        """The admissible parts of one kind."""
        by_kind: dict[str, tuple[Part, ...]] = {
            "core": self.cores,
            "exchanger": self.exchangers,
            "pump": self.pumps,
            "reservoir": self.reservoirs,
            "cap": self.caps,
            "fan": self.fans,
            "timer": self.timers,
        }
        return by_kind[kind]


def sieve(job: Job) -> Admissible:
    """Judge every part of the kinds that fill slots. Each part that is out carries its first reason.

    Fans and timers are in question only where the brief lets the car stand.
    """
    kept: dict[str, list[Part]] = {kind: [] for kind in kinds_in_question(job)}
    zones: dict[str, tuple[str, ...]] = {}
    exclusions: list[Exclusion] = []
    for kind, parts in kept.items():
        for part in offered(job, kind):
            reason = next(_reasons(job, part), None)
            if reason is None and isinstance(part, RigidPart):
                zones[part.id], misses = _zones(job, part)
                reason = None if zones[part.id] else misses[0]
            if reason is None:
                parts.append(part)
            else:
                exclusions.append(reason)
    return Admissible(
        cores=_only(Core, kept["core"]),
        exchangers=_only(Exchanger, kept["exchanger"]),
        pumps=_only(Pump, kept["pump"]),
        reservoirs=_only(Reservoir, kept["reservoir"]),
        caps=_only(Cap, kept["cap"]),
        zones=zones,
        exclusions=tuple(sorted(exclusions, key=lambda exclusion: exclusion.part)),
        fans=_only(Fan, kept.get("fan", ())),
        timers=_only(Timer, kept.get("timer", ())),
    )


def kinds_in_question(job: Job) -> tuple[str, ...]:
    """The kinds of parts that this job's kits may hold."""
    loop = ("core", "exchanger", "pump", "reservoir", "cap")
    if job.conditions.standing is None:
        return loop
    timers = ("timer",) if job.brief.after_run_s is None else ()
    return (*loop, "fan", *timers)


def charge_of_core(job: Job, surface: Surface) -> tuple[float, float]:
    """Charge temperature in front of a core at full power [K], and the pressure it takes [Pa], at the flow it sees."""
    none = np.zeros(1)
    charge = charge_at(job.conditions, 1.0, surface, none, none, 0.0, job.cores)
    return float(charge.in_k[0]), float(charge.core_loss_pa[0])


def _only(kind: type[P], parts: Iterable[Part]) -> tuple[P, ...]:
    return tuple(part for part in parts if isinstance(part, kind))


def offered(job: Job, kind: str) -> Iterable[Part]:
    """The parts of a kind that are in question: the fitted one alone, else own parts and the shelf, by id."""
    fitted = job.fitted(kind)
    if fitted is not None:
        return (fitted.part,)
    own = {own.part.id: own.part for own in job.own if own.part.kind == kind}
    shelf = {part.id: part for part in job.catalogue.of(PART_KINDS[kind])}
    merged = {**shelf, **own}
    return tuple(merged[part_id] for part_id in sorted(merged))


def every_reason(job: Job, part: Part) -> tuple[Exclusion, ...]:
    """Every rule that a part breaks on its own, the sieve's own reason first: limits, ratings, each zone's walls."""
    reasons = [*_reasons(job, part)]
    if isinstance(part, RigidPart):
        zones, misses = _zones(job, part)
        reasons += () if zones else misses
    return tuple(reasons)


def zones_of(job: Job, part: RigidPart) -> tuple[str, ...]:
    """The zones that a rigid part fits when it is alone there."""
    return _zones(job, part)[0]


def _reasons(job: Job, part: Part) -> Iterator[Exclusion]:
    """The rules but for room that a part breaks on its own, in the order in which they are told."""
    brief = job.brief
    kind = part.kind
    own = job.is_own(part.id)
    iced = ice_reason(job, part)
    if iced is not None and isinstance(part, Exchanger):
        yield iced
    if {part.id, kind} & set(unwanted(brief, job.layout)):
        yield Exclusion(part.id, "not-wanted", None, None, "")
    if (wanted := job.wanted(kind)) and part.id not in wanted:
        yield Exclusion(part.id, "another-wanted", None, None, "", " or ".join(wanted))
    if out_of_stock(brief, job.own, part):
        yield Exclusion(part.id, "not-in-stock", 0, 1, "pieces")
    limits = brief.limits
    if limits.too_dear(part.price_cents) and not own:
        yield Exclusion(part.id, "price-over-limit", part.price, limits.price, "money")
    if limits.too_heavy(part.mass_g) and job.fitted(kind) is None:
        yield Exclusion(part.id, "mass-over-limit", part.mass_kg, limits.mass_dry_kg, "kg")
    coolant = getattr(part, "coolant", None)
    if isinstance(coolant, Passage) and job.conditions.coolant.kind in coolant.bans:
        yield Exclusion(part.id, "coolant-banned", job.conditions.coolant.kind, None, "", "coolant")
    yield from _too_cold(job, part)
    impossible = _impossible_point(part)
    if impossible is not None:
        yield impossible
    if iced is not None and not isinstance(part, Exchanger):
        yield iced
    if isinstance(part, Pump | Fan | Timer):
        yield from _volts_of_the_car(job, part)
    if isinstance(part, Cap) and (sees := cap_short_of_pa_gauge(part)) is not None:
        yield Exclusion(part.id, "cap-too-weak", part.coolant.rating.working_pa_gauge, sees, "Pa gauge")
    if isinstance(part, Core):
        yield from _core_reasons(job, part, known=impossible is None)
    if isinstance(part, Pump | Fan) and limits.too_hungry(part.current_a):
        yield Exclusion(part.id, "current-over-limit", part.current_a, limits.current_a, "A")


def _too_cold(job: Job, part: Part) -> Iterator[Exclusion]:
    """A part that does not stand the coldest that the car stands in."""
    night_k = job.brief.coldest_k(FROST_FREE_NIGHT_K)
    sides = part.passages().values() if isinstance(part, RigidPart) else [part.coolant] if isinstance(part, Cap) else ()
    stands_k = max((float(side.coldest_k) for side in sides if side.coldest_k is not None), default=0.0)
    if stands_k > night_k:
        yield Exclusion(part.id, "too-cold", night_k, stands_k, "K")


def _volts_of_the_car(job: Job, part: Pump | Fan | Timer) -> Iterator[Exclusion]:
    """Another voltage than that of a part which stays in the car and is in every kit."""
    beside = [kind for kind in ADDED if kind in kinds_in_question(job)] if isinstance(part, Pump) else ["pump"]
    for kind in beside:
        held = job.fitted(kind)
        if held is not None and isinstance(held.part, Pump | Fan | Timer) and held.part.volts != part.volts:
            words = f"the {kind} that stays in the car is for {held.part.volts:g} V"
            yield Exclusion(part.id, "voltages-differ", part.volts, held.part.volts, "V", words)


def _impossible_point(part: Part) -> Exclusion | None:
    """A measured point that no exchanger of the stated arrangement can reach, however large."""
    try:
        if isinstance(part, Core):
            core_surface(part)
        elif isinstance(part, Exchanger):
            exchanger_surface(part)
    except ValueError as error:
        return Exclusion(part.id, "impossible-point", None, None, "", str(error))
    return None


def _core_reasons(job: Job, core: Core, *, known: bool) -> Iterator[Exclusion]:
    """What speaks against a core; only of a `known` one are heat and loss computed."""
    design = charge_design_pa_gauge(job.conditions.boost_pa)
    rating = core.charge.rating.working_pa_gauge
    if rating is not None and rating < design:
        yield Exclusion(core.id, "rating-below-pressure", rating, design, "Pa gauge", "charge")
    if not known:
        return
    charge_in, loss = charge_of_core(job, core_surface(core))
    hottest = core.charge.hottest_k
    if hottest is not None and hottest < charge_in:
        yield Exclusion(core.id, "too-hot", charge_in, float(hottest), "K", "charge")
    if job.brief.aim.loses_too_much(loss):
        yield Exclusion(core.id, "charge-loss-over-limit", loss, job.brief.aim.charge_loss_pa, "Pa")


def _zones(job: Job, part: RigidPart) -> tuple[tuple[str, ...], tuple[Exclusion, ...]]:
    """The zones a rigid part fits when it is alone there, and why not the others, the least missed first."""
    kind = part.kind
    nowhere = (Exclusion(part.id, "no-zone-takes-it", kind, None, ""),)
    if job.fitted(kind) is not None:
        return (FITTED,), ()
    bay = job.brief.bay
    if bay is None:
        return ((), nowhere) if kind == "fan" else ((UNMEASURED,), ())
    found: list[str] = []
    misses: list[tuple[str, Miss]] = []
    for name, zone in bay.zones.items():
        if kind in zone.takes:
            miss = why_not(bay, name, (("alone", part),), {"alone": Needs(used=faces_used(part))})
            if miss is None:
                found.append(name)
            else:
                misses.append((name, miss))
    told = []
    for name, miss in sorted(misses, key=lambda entry: _nearness(*entry)):
        turned = not found and part.up_unsaid and _goes_in_turned(bay, part, name, miss)
        told.append(replace(kept_out(part.id, name, miss), turned=turned))
    return tuple(found), tuple(told) if found or told else nowhere


def _goes_in_turned(bay: Bay, part: RigidPart, zone: str, miss: Miss) -> bool:
    """Whether a zone whose walls or sides keep a part out would take it if any of its faces might look up."""
    if miss.cause not in ("walls", "ends face"):
        return False
    free = part.model_copy(update={"turns": part.turns.model_copy(update={"up": SIX_FACES})})
    return why_not(bay, zone, (("alone", free),), {"alone": Needs(used=faces_used(free))}) is None


def kept_out(part: str, zone: str, miss: Miss) -> Exclusion:
    """A part that a zone keeps out, with what is in the way and by how many millimetres."""
    found = None if miss.miss_mm is None else float(miss.miss_mm)
    about, side = _about(part, zone, miss), miss.between[1] if miss.cause == "walls" else ""
    limit = None if found is None else 0.0
    return Exclusion(part, _KEPT_OUT[miss.cause], found, limit, "mm", about, side, zone=zone)


def _about(part: str, zone: str, miss: Miss) -> str:
    """What is in the way of a part, in a zone."""
    if miss.cause in ("walls", "way in", "heights"):
        return zone
    first, second = miss.between
    if miss.cause == "room before ends":
        return f"its {second} ({zone})" if first == part else f"the {second} of {first} beside it ({zone})"
    other = second if first == part else first
    return f"{'an end of its own or of ' if miss.cause == 'room before both' else ''}{other} ({zone})"


_KEPT_OUT: dict[Cause, str] = {
    "walls": "does-not-fit",
    "obstacle": "obstacle-in-the-way",
    "ends face": "ends-face-wrong",
    "way in": "way-in-too-small",
    "together": "no-room-together",
    "room before ends": "no-room-before-ends",
    "room before both": "no-room-before-ends",
    "heights": "too-high",
}


def _nearness(zone: str, miss: Miss) -> tuple[object, ...]:
    """An obstacle or a side to face before walls, and of walls the least missed."""
    return (miss.miss_mm is not None, miss.miss_mm or 0, zone)
