"""Searches of a changed brief after the one that found nothing: of a few parts, or of the whole shelf, counted."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from configurator.foundations.verdicts import Verdict
from configurator.joining.hose_joint import HoseJoiner
from configurator.parts.layouts import kind_of_slot
from configurator.parts.shelf import Catalogue
from configurator.questions.changed_brief import Asked, gives_up_room, with_changes
from configurator.questions.few_parts import best_of, few, with_parts
from configurator.questions.searches import Searched, around_cores, hose_joiner, is_large, kept, make_job, search
from configurator.search.best_so_far import BestSoFar, Order
from configurator.search.fill import Candidate
from configurator.search.job import Job
from configurator.search.loosening import SOFT, Change, Limit, Wanting, limits_of, wanting
from configurator.search.patience import UNHURRIED, Patience

WHOLE_S = 5.0
"""How long one search of the whole of a large shelf may take [s]."""

SEARCHES = 4
"""So many searches of the whole shelf, beside the one that found nothing, before the rest is left untried."""

SEARCHES_AGAIN = 4
"""So many at least for what the conflict names and few parts know no way out of."""


def coolest_first(scores: Any) -> tuple[Any, ...]:
    """Kits by their margin, then by price."""
    return -scores.margin_k, scores.price_cents, scores.ids


def whole_shelf(
    job: Job,
    tell: Callable[[str], None],
    joiner: HoseJoiner | None = None,
    order: Order = coolest_first,
    patience: Patience = UNHURRIED,
) -> tuple[Searched, ...]:
    """A search of the whole shelf; of a large one for the first kit of an order alone, as far as time goes.

    That is `WHOLE_S`, or what `patience` leaves. A small shelf is always looked at whole, for a part of it says little.
    """
    if not is_large(job):
        return search(job, tell, joiner, bands=False)
    return search(job, tell, joiner, patience.at_most(WHOLE_S), bands=False, best=BestSoFar(order, 1))


@dataclass
class Further:
    """One brief's further searches, as far as `patience` goes; `best`: parts of the best kits that they found."""

    job: Job
    tell: Callable[[str], None]
    patience: Patience = UNHURRIED
    left: int = SEARCHES
    not_tried: list[str] = field(default_factory=list)
    joiners: dict[object, HoseJoiner] = field(default_factory=dict)
    best: set[str] = field(default_factory=set)

    @property
    def asked(self) -> Asked:
        """The brief as it is, with its driving: what a change starts from."""
        return self.job.brief, self.job.driving

    @property
    def spent(self) -> bool:
        """Whether the whole shelf is not to be searched once more."""
        return self.left <= 0 or self.patience.over()

    @property
    def limits(self) -> dict[str, Limit]:
        """The limits of the brief that kits are held against, each by its name."""
        return limits_of(self.job)

    def job_of(self, asked: Asked, catalogue: Catalogue | None = None) -> Job | None:
        """The job of a changed brief; a room that is given up makes the liquid stand no higher."""
        brief, driving = asked
        job = make_job(brief, driving, self.job.own, catalogue or self.job.catalogue, self.job.tables)
        return replace(job, liquid=self.job.liquid) if job is not None and gives_up_room(brief) else job

    def few(self, found: Sequence[Searched], zones: Sequence[str] = ()) -> Catalogue:
        """The parts of the kits that come nearest, and those of the best kits met on the way."""
        return with_parts(self.job.catalogue, few(self.job.catalogue, found, zones), self.best)

    def with_best(self, shelf: Catalogue, kits: Sequence[Candidate]) -> Catalogue:
        """The few parts of a shelf, and those of the best of these kits, which come in from now on."""
        self.best |= best_of(kits)
        return with_parts(self.job.catalogue, shelf, self.best)

    def whole(self, asked: Asked, order: Order = coolest_first) -> tuple[Searched, ...]:
        """A search of the whole shelf, or of a large one for its first kit."""
        self.left -= 1
        job = self.job_of(asked)
        return () if job is None else whole_shelf(job, self.tell, self._joiner(job), order, self.patience)

    def aside(self, asked: Asked) -> tuple[Searched, ...]:
        """The same of loops that lack a kind of part, not counted: it takes a small part of the time of the others.

        Beside a large shelf it has no more time than a search of that, though without the kind it may be a small one.
        """
        job = self.job_of(asked)
        if job is None:
            return ()
        if is_large(self.job) and not is_large(job):
            return search(job, self.tell, self._joiner(job), self.patience.at_most(WHOLE_S), bands=False)
        return whole_shelf(job, self.tell, self._joiner(job), patience=self.patience)

    def look_again(self) -> None:
        """Searches of the whole shelf for what few parts know no way out of, though the others are spent."""
        self.left = max(self.left, SEARCHES_AGAIN)

    def is_large(self, asked: Asked) -> bool:
        """Whether the shelf is too large for a changed brief to be looked at whole."""
        job = self.job_of(asked)
        return job is not None and is_large(job)

    def of_few(self, asked: Asked, shelf: Catalogue) -> tuple[Searched, ...]:
        """A search of a few parts, which is not counted."""
        job = self.job_of(asked, shelf)
        return () if job is None else search(job, self.tell, self._joiner(job), bands=False)

    def any_of(self, asked: Asked, shelf: Catalogue) -> list[Candidate]:
        """The kits that a few parts make."""
        return kept(self.of_few(asked, shelf))

    def _joiner(self, job: Job) -> HoseJoiner:
        """What joins hoses for every search with the same small parts: few shelves lack none of them."""
        added = tuple(part for part in job.catalogue.parts if part not in self.job.catalogue.parts)
        key = (job.brief.without, job.brief.in_stock, added)
        if key not in self.joiners:
            self.joiners[key] = hose_joiner(job)
        return self.joiners[key]

    def wanting(self, found: Sequence[Searched]) -> list[Wanting]:
        """What each kit that breaks nothing but limits needs, where it can be joined at the aim that it needs."""
        limits = self.limits
        listed: list[Wanting] = []
        for one in found:
            kits = [kit for kit in (*one.kits.kept, *one.kits.missing) if set(kit.missed) <= set(SOFT)]
            judged = wanting(self.job.brief, limits, one.job, one.parts, kits)
            joined = self._joined_when_warmer(one, kits, judged)
            listed += [needs for kit, needs in zip(kits, judged, strict=True) if joined(kit, needs)]
        return listed

    def _joined_when_warmer(
        self, one: Searched, kits: Sequence[Candidate], judged: Sequence[Wanting]
    ) -> Callable[[Candidate, Wanting], bool]:
        """Whether couplers stand the charge behind the core at the aim that a kit needs."""
        warmest: dict[str, int] = {}
        known: dict[tuple[str, int], bool] = {}
        cores = {core.id: core for core in one.parts.cores}

        def stands(core: str, aim: int) -> bool:
            if (core, aim) not in known:
                looser = self.job_of(with_changes(self.asked, [replace(self._aim(), after=aim)]))
                assert looser is not None
                known[core, aim] = not isinstance(around_cores(one, looser)(cores[core]), Verdict)
            return known[core, aim]

        def core_of(kit: Candidate) -> str:
            return next(part for slot, part in kit.kit.parts if kind_of_slot(slot) == "core")

        for kit, needs in zip(kits, judged, strict=True):
            if "aim" in needs.needs:
                warmest[core_of(kit)] = max(warmest.get(core_of(kit), -1000), needs.needs["aim"])

        def joined(kit: Candidate, needs: Wanting) -> bool:
            core, aim = core_of(kit), needs.needs.get("aim")
            return aim is None or stands(core, warmest[core]) or stands(core, aim)

        return joined

    def _aim(self) -> Change:
        limit = self.limits["aim"]
        return Change("aim", limit.figure, limit.figure, limit.unit)

    def sound(self, changes: Sequence[Change], relaxed: Sequence[Searched], found: Sequence[Searched]) -> bool:
        """Whether a looser aim changes no joint behind a core, so that the kits are those of a search without limits.

        Else by search, first of the few parts that come nearest, with limits (`found`) and without.
        """
        if all(change.what != "aim" for change in changes):
            return True
        asked = with_changes(self.asked, changes)
        looser = self.job_of(asked)
        assert looser is not None
        for one in relaxed:
            then, now = around_cores(one, looser), around_cores(one, one.job)
            if any(then(core) != now(core) for core in one.parts.cores):
                if any(self.any_of(asked, few(self.job.catalogue, near)) for near in (found, relaxed)):
                    return True
                if self.spent:
                    self.not_tried.append("aim")
                    return False
                return bool(kept(self.whole(asked)))
        return True
