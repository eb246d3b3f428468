"""By how much a limit that may give way must give way, and which limits together leave no kit, from kits' own figures.

Aim, price, mass, current and charge loss stand in no kit's way of being put together: every kit that joins and fits
has its figures, so what any looser limit would let in follows from them, without another search.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

from configurator.brief.request import Brief
from configurator.foundations.units import celsius
from configurator.prediction.surfaces import core_surface
from configurator.search.fill import Candidate
from configurator.search.job import Job
from configurator.search.sieve import Admissible, charge_of_core

SOFT = ("aim", "price", "mass", "current", "charge loss")
"""The limits that may give way; each is named as in a kit's `missed`."""

_NOISE = 1e-6

@dataclass(frozen=True)
class Limit:
    """A limit of the brief: its figure, how many steps make one unit, and the unit in which its user wrote it."""

    code: str
    figure: float
    unit: str
    steps: int
    written: str = ""


@dataclass(frozen=True)
class Wanting:
    """A kit's needs where it breaks limits: for each of these the least figure, in steps, that would let it in.

    `boil_margin_k`: how far below boiling its coolant stays.
    """

    needs: Mapping[str, int]
    boil_margin_k: float = math.inf

    @property
    def breaks(self) -> frozenset[str]:
        """The limits that it breaks."""
        return frozenset(self.needs)


@dataclass(frozen=True)
class Change:
    """One figure of the brief changed. `zone`: of which zone, where of one; `written`: its unit in the brief."""

    what: str
    before: float
    after: float
    unit: str
    zone: str = ""
    written: str = ""


@dataclass(frozen=True)
class Choice:
    """One thing for another where there is no amount: a coolant kind, or an adapter on the shelf by its two ends."""

    what: str
    before: str
    after: str


def limits_of(job: Job) -> dict[str, Limit]:
    """The limits that a brief sets, by code."""
    brief = job.brief
    ceiling, rise = brief.aim.charge_air_k, brief.aim.above_air_k
    aim = Limit("aim", round(celsius(ceiling), 6), "degC", 1, ceiling.unit) if ceiling is not None else None
    if rise is not None:
        aim = Limit("aim", float(rise), "K", 1)
    limits, loss = brief.limits, brief.aim.charge_loss_pa
    mass, current = limits.mass_dry_kg, limits.current_a
    found = (
        aim,
        None if limits.price is None else Limit("price", limits.price, "money", 1),
        None if mass is None else Limit("mass", float(mass), "kg", 100, mass.unit),
        None if current is None else Limit("current", float(current), "A", 10, current.unit),
        None if loss is None else Limit("charge loss", float(loss) / 1e3, "kPa", 10, loss.unit),
    )
    return {limit.code: limit for limit in found if limit is not None}


def wanting(
    asked: Brief, limits: Mapping[str, Limit], job: Job, parts: Admissible, kits: Iterable[Candidate]
) -> list[Wanting]:
    """What each kit needs; `asked` sets the limits, `job` and its parts made the kits, perhaps without limits."""
    alone_pa = {core.id: charge_of_core(job, core_surface(core))[1] for core in parts.cores}
    return [_wanting(asked, limits, alone_pa, kit) for kit in kits]


def _wanting(brief: Brief, limits: Mapping[str, Limit], alone_pa: Mapping[str, float], kit: Candidate) -> Wanting:
    core_pa = max(alone_pa.get(part, 0.0) for slot, part in kit.kit.parts if slot.startswith("core"))
    loss_pa = max(kit.charge_loss_pa, core_pa)
    asked = brief.limits
    needs: dict[str, int] = {}
    if kit.margin_k < 0:
        needs["aim"] = _up(limits["aim"].figure - kit.margin_k)
    if asked.too_dear(kit.price_cents):
        needs["price"] = _up(kit.price_cents / 100)
    if asked.too_heavy(kit.mass_g):
        needs["mass"] = _up(kit.mass_g / 10)
    if asked.too_hungry(kit.current_a):
        needs["current"] = _up(kit.current_a * 10)
    if brief.aim.loses_too_much(loss_pa):
        needs["charge loss"] = _up(round(loss_pa, 1) / 100)
    return Wanting(needs, kit.boil_margin_k)


def _up(figure: float) -> int:
    return math.ceil(figure - _NOISE)


def smallest_conflict(kits: Sequence[Wanting]) -> tuple[str, ...]:
    """A smallest set of limits of which every kit breaks one or more; of equally small ones the first of `SOFT`."""
    broken = {kit.breaks for kit in kits}
    for size in range(len(SOFT) + 1):
        for chosen in combinations(SOFT, size):
            if all(not one.isdisjoint(chosen) for one in broken):
                return chosen
    raise ValueError("a kit breaks no limit: there is no conflict")


def looser_limits(limits: Mapping[str, Limit], kits: Sequence[Wanting]) -> tuple[tuple[Change, ...], ...]:
    """The fewest limits that let a kit in when they alone give way, by how much: each way of so few, singles first.

    Of limits that must give way together the first gives way as little as it can, then the next beside it: one step
    less of any of them, and there is no kit.
    """
    fewest = min((len(kit.needs) for kit in kits), default=0)
    if fewest == 0:
        return ()
    ways = []
    for codes in combinations(SOFT, fewest):
        let_in = [kit.needs for kit in kits if kit.breaks == set(codes)]
        if let_in:
            least = min(tuple(needs[code] for code in codes) for needs in let_in)
            ways.append(tuple(_change(limits[code], steps) for code, steps in zip(codes, least, strict=True)))
    return tuple(ways)


def boil_margin_of(changes: Sequence[Change], limits: Mapping[str, Limit], kits: Sequence[Wanting]) -> float:
    """How far below boiling the coolant stays, at the least, of the kits that looser limits let in [K]."""
    steps = {change.what: round(change.after * limits[change.what].steps) for change in changes}
    let_in = (kit for kit in kits if all(needs <= steps.get(code, -math.inf) for code, needs in kit.needs.items()))
    return min((kit.boil_margin_k for kit in let_in), default=math.inf)


def _change(limit: Limit, steps: int) -> Change:
    return Change(limit.code, limit.figure, steps / limit.steps, limit.unit, written=limit.written)
