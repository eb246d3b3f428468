"""Why does kit 1 stand first, and which figure, moved by how little, would put another kit there?"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from configurator.brief.driving import Driving
from configurator.brief.request import Brief
from configurator.brief.tables import Tables
from configurator.foundations.units import celsius, read_figure
from configurator.parts.own import OwnPart
from configurator.parts.shelf import Catalogue
from configurator.prediction.bench import make_columns
from configurator.prediction.predict import margins, predict
from configurator.prediction.report import low_margins
from configurator.questions.changed_brief import Asked, with_changes
from configurator.questions.searches import Searched, around_cores, kept, make_job, search
from configurator.questions.why_answer import Behind, FirstKit, Flip, WhyFirst
from configurator.ranking.order import deciding_step, default_key, ranked
from configurator.ranking.short_list import one_per_choice
from configurator.search.fill import Candidate
from configurator.search.job import Job
from configurator.search.loosening import Change, limits_of

LISTED = 5
ENOUGH_K = 30
AIM_K = 10
AIR_K = 5
DRIVE_PERCENT = 20
"""So far is each figure moved, in whole steps of 1 K; of 5 % for the drive, which is only made milder."""


def why_first(
    brief: Brief,
    driving: Driving,
    own: tuple[OwnPart, ...],
    catalogue: Catalogue,
    tables: Tables,
    tell: Callable[[str], None] = lambda words: None,
) -> WhyFirst:
    """What puts kit 1 before each other kit of the short list, and the least moves that put another first."""
    job = make_job(brief, driving, own, catalogue, tables)
    found = () if job is None else search(job, tell)
    in_order = ranked(kept(found), "default", 0.0 if job is None else job.conditions.enough_k)
    if job is None or not in_order:
        return WhyFirst(brief.brief, brief.currency, (), ())
    order = _Order(job, found, in_order, one_per_choice(in_order)[:LISTED])
    return WhyFirst(brief.brief, brief.currency, order.told(), tuple(order.flips()))


def behind(first: Candidate, kit: Candidate, enough_k: float) -> Behind | None:
    """What puts the first of two kits before the other; None for equal ones."""
    step = deciding_step(first, kit, enough_k)
    if step is None:
        return None
    figures = {
        "margin": (first.margin_low_k, kit.margin_low_k),
        "room": (first.clearance_mm, kit.clearance_mm),
        "price": (float(first.price_cents), float(kit.price_cents)),
    }
    return Behind(step, *figures.get(step, (None, None)))


@dataclass(frozen=True)
class _Order:
    """The kits of one search in order, and the short list of them that is told."""

    job: Job
    found: Sequence[Searched]
    in_order: Sequence[Candidate]
    listed: Sequence[Candidate]

    @property
    def enough_k(self) -> float:
        """The margin from which more counts no further [K]."""
        return self.job.conditions.enough_k

    @property
    def first(self) -> Candidate:
        """Kit 1."""
        return self.in_order[0]

    def told(self) -> tuple[FirstKit, ...]:
        """The short list, each kit with what puts the first before it."""
        return tuple(
            FirstKit(
                self._searched(kit).job.layout.twins,
                kit.kit.parts,
                kit.margin_low_k,
                kit.clearance_mm,
                kit.price_cents,
                None if kit is self.first else behind(self.first, kit, self.enough_k),
            )
            for kit in self.listed
        )

    def flips(self) -> Iterator[Flip]:
        """The least move of each figure, either way, that puts another kit first."""
        yield from self._nearest(self._enough, _both(ENOUGH_K))
        yield from self._nearest(self._aim, _both(AIM_K))
        yield from self._nearest(self._air, _both(AIR_K))
        yield from self._nearest(self._drive, (range(-5, -DRIVE_PERCENT - 1, -5),))
        yield from self._prices()

    def _nearest(
        self, moved: Callable[[int], tuple[Change, Candidate] | None], ways: Iterable[Iterable[int]]
    ) -> Iterator[Flip]:
        for way in ways:
            for step in way:
                then = moved(step)
                if then is not None and then[1].choice != self.first.choice:
                    yield self._flip(*then)
                    break

    def _flip(self, change: Change, kit: Candidate, part: str = "") -> Flip:
        place = next((at for at, one in enumerate(self.listed, start=1) if one.kit == kit.kit), None)
        return Flip(change, self._searched(kit).job.layout.twins, kit.kit.parts, kit.price_cents, place, part)

    def _first_of(self, kits: Iterable[Candidate], enough_k: float) -> Candidate | None:
        return min(kits, key=lambda kit: default_key(kit, enough_k), default=None)

    # --- figures that change no kit: any kit may come first ---

    def _enough(self, step: int) -> tuple[Change, Candidate] | None:
        enough = self.enough_k + step
        if enough < 1:
            return None
        first = self._first_of(self.in_order, enough)
        assert first is not None
        return Change("enough", self.enough_k, enough, "K"), first

    def _aim(self, step: int) -> tuple[Change, Candidate] | None:
        limit = limits_of(self.job)["aim"]
        change = Change("aim", limit.figure, limit.figure + step, limit.unit)
        kits = [_shifted(kit, step) for kit in (*self.in_order, *(self._short_of_aim if step > 0 else ()))]
        first = self._first_of((kit for kit in kits if kit.margin_k >= 0), self.enough_k)
        return None if first is None or not self._joined_as_before(first, change) else (change, first)

    @cached_property
    def _short_of_aim(self) -> tuple[Candidate, ...]:
        """The kits that miss nothing but the aim, by little, with their low-end margin."""
        near: list[Candidate] = []
        for one in self.found:
            kits = [kit for kit in one.kits.missing if kit.missed == ("aim",) and kit.margin_k >= -AIM_K]
            if kits:
                columns = make_columns(one.kits.bench, [kit.loop for kit in kits])
                low = low_margins(one.kits.bench, columns, one.job.conditions)
                near += [replace(kit, margin_low_k=float(k)) for kit, k in zip(kits, low, strict=True)]
        return tuple(near)

    def _joined_as_before(self, kit: Candidate, change: Change) -> bool:
        """Whether the core is joined to the engine as it is now: its couplers meet the charge of the aim."""
        one = self._searched(kit)
        job = self._job_of(with_changes((self.job.brief, self.job.driving), (change,)))
        assert job is not None
        core = next(core for core in one.parts.cores if core.id in {part for _, part in kit.kit.parts})
        return around_cores(one, job)(core) == around_cores(one, one.job)(core)

    def _job_of(self, asked: Asked) -> Job | None:
        return make_job(*asked, self.job.own, self.job.catalogue, self.job.tables)

    def _searched(self, kit: Candidate) -> Searched:
        return next(one for one in self.found if one.job.layout.id == kit.kit.layout)

    # --- figures that every kit must be predicted anew for: among the short list ---

    def _air(self, step: int) -> tuple[Change, Candidate] | None:
        brief = self.job.brief
        air_c = celsius(brief.site.air_k)
        air = read_figure(f"{air_c + step:.10g} degC", "temperature")
        warmer = brief.model_copy(update={"site": brief.site.model_copy(update={"air_k": air})})
        return self._predicted((warmer, self.job.driving), Change("air", round(air_c, 6), air_c + step, "degC"))

    def _drive(self, step: int) -> tuple[Change, Candidate] | None:
        change = Change("driving", 100, 100 + step, "%")
        return self._predicted(with_changes((self.job.brief, self.job.driving), (change,)), change)

    def _predicted(self, asked: Asked, change: Change) -> tuple[Change, Candidate] | None:
        """The first of the short list under a changed brief that keeps its aim and does not boil."""
        job = self._job_of(asked)
        if job is None or job.conditions.coolant != self.job.conditions.coolant:
            return None
        kits: list[Candidate] = []
        for one in self.found:
            listed = [kit for kit in self.listed if kit.kit.layout == one.job.layout.id]
            if not listed:
                continue
            columns = make_columns(one.kits.bench, [kit.loop for kit in listed])
            before, then = (predict(one.kits.bench, columns, of.conditions) for of in (self.job, job))
            margin = margins(then, job.conditions)
            low = low_margins(one.kits.bench, columns, job.conditions, margin)
            boil = [kit.boil_margin_k for kit in listed] - (then.coolant_worst_k - before.coolant_worst_k)
            kits += [
                replace(kit, margin_k=float(margin[at]), margin_low_k=float(low[at]))
                for at, kit in enumerate(listed)
                if margin[at] >= 0 and np.min(boil[at]) >= 0
            ]
        first = self._first_of(kits, self.enough_k)
        return None if first is None else (change, first)

    # --- prices ---

    def _prices(self) -> Iterator[Flip]:
        """By how much each part of kit 1 would have to be dearer for a kit with fewer of it to cost less."""
        first, limit = self.first, self.job.brief.limits.price
        most = None if limit is None else round(limit * 100) - first.price_cents
        alike = [kit for kit in self.in_order if default_key(kit, self.enough_k)[:3] == self._leads]
        for part in dict.fromkeys(part for _, part in first.kit.parts if not self.job.is_own(part)):
            held = _count(first, part)
            dearer = [
                (-(-(kit.price_cents - first.price_cents + (kit.ids > first.ids)) // (held - _count(kit, part))), at)
                for at, kit in enumerate(alike)
                if _count(kit, part) < held
            ]
            cents, at = min(dearer, default=(0, 0))
            if cents > 0 and alike[at].choice != first.choice and (most is None or cents * held <= most):
                price = self.job.catalogue[part].price_cents
                yield self._flip(Change("price", price / 100, (price + cents) / 100, "money"), alike[at], part)

    @property
    def _leads(self) -> tuple[object, ...]:
        return default_key(self.first, self.enough_k)[:3]


def _both(most: int) -> tuple[range, range]:
    return range(1, most + 1), range(-1, -most - 1, -1)


def _shifted(kit: Candidate, step: int) -> Candidate:
    return replace(kit, margin_k=kit.margin_k + step, margin_low_k=kit.margin_low_k + step)


def _count(kit: Candidate, part: str) -> int:
    return sum(one == part for _, one in kit.kit.parts)
