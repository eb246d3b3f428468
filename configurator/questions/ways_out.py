"""Where there is no kit: which demands together leave none, and by how much each of them would have to give way.

Limits follow from the figures of the kits that there are (`search/loosening.py`). Everything else is searched for: by
halving over the few parts that come nearest, and then, with every part, at one step less, where there must be no kit.
Never in question: ratings, mating rules, cap, freezing, boiling, wire, obstacles; and never more power or boost.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace

from configurator.joining.hose_joint import HoseJoiner
from configurator.parts.layouts import kind_of_slot
from configurator.parts.shelf import Catalogue
from configurator.questions.changed_brief import Asked, dropped, with_changes, without_limits
from configurator.questions.few_parts import few, holds_all, kept_out, warm_kits, with_best
from configurator.questions.levers import Lever, levers
from configurator.questions.searches import Searched, charge_pipes, hose_joiner, kept, make_job, search
from configurator.search.fill import Candidate
from configurator.search.job import Job
from configurator.search.loosening import (
    SOFT,
    Change,
    Limit,
    Wanting,
    limits_of,
    looser_limits,
    smallest_conflict,
    wanting,
)

SEARCHES = 4
"""So many searches of the whole shelf, beside the one that found nothing, before the rest is left untried."""

_LIMIT_CODES = {"price-over-limit", "mass-over-limit", "current-over-limit", "charge-loss-over-limit"}


@dataclass(frozen=True)
class Way:
    """One way out: what has to change, all of it together."""

    changes: tuple[Change, ...]


@dataclass(frozen=True)
class Demand:
    """A demand of the brief as a conflict names it; `zones`: of which, where it is one on room or air."""

    code: str
    zones: tuple[str, ...] = ()


@dataclass(frozen=True)
class WaysOut:
    """A smallest set of demands that leave no kit, the nearest ways out, and what was not tried for want of time.

    `conflict` is empty where no limit that may give way stands in the way: then the shelf itself has no kit.
    """

    conflict: tuple[Demand, ...]
    ways: tuple[Way, ...]
    not_tried: tuple[str, ...]


def ways_out(job: Job, found: Sequence[Searched], tell: Callable[[str], None]) -> WaysOut:
    """Why a search found no kit, and what would; `found` is that search."""
    finder = _Finder(job, tell)
    relaxed = found
    if any(exclusion.code in _LIMIT_CODES for one in found for exclusion in one.parts.exclusions):
        relaxed = finder.whole(without_limits(finder.asked))
    kits = finder.wanting(relaxed)
    conflict = finder.conflict(kits, found)
    ways = [Way(changes) for changes in looser_limits(finder.limits, kits) if finder.sound(changes, relaxed)]
    singles = [way for way in ways if len(way.changes) == 1]
    single_ways = [*singles, *finder.single_ways(found)]
    return WaysOut(conflict, tuple(single_ways or ways), tuple(finder.not_tried))


@dataclass
class _Finder:
    """One brief's searches, counted."""

    job: Job
    tell: Callable[[str], None]
    left: int = SEARCHES
    not_tried: list[str] = field(default_factory=list)
    joiners: dict[object, HoseJoiner] = field(default_factory=dict)

    @property
    def asked(self) -> Asked:
        return self.job.brief, self.job.driving

    @property
    def limits(self) -> dict[str, Limit]:
        return limits_of(self.job)

    def job_of(self, asked: Asked, catalogue: Catalogue | None = None) -> Job | None:
        """The job of a changed brief."""
        brief, driving = asked
        return make_job(brief, driving, self.job.own, catalogue or self.job.catalogue, self.job.tables)

    def whole(self, asked: Asked) -> tuple[Searched, ...]:
        """A search of the whole shelf."""
        self.left -= 1
        job = self.job_of(asked)
        return () if job is None else search(job, self.tell, self._joiner(job))

    def any_of(self, asked: Asked, shelf: Catalogue) -> list[Candidate]:
        """The kits that a few parts make."""
        job = self.job_of(asked, shelf)
        return [] if job is None else kept(search(job, self.tell, self._joiner(job)))

    def _joiner(self, job: Job) -> HoseJoiner:
        """What joins hoses for every search with the same small parts: few shelves lack none of them."""
        key = (job.brief.without, job.brief.in_stock)
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
                slots = [slot.slot for slot in one.job.layout.slots if slot.kind == "core"]
                pipes = charge_pipes(replace(looser, layout=one.job.layout))
                known[core, aim] = not isinstance(pipes.around(cores[core], slots), str)
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

    def sound(self, changes: Sequence[Change], found: Sequence[Searched]) -> bool:
        """Whether a looser aim changes no joint behind a core, so that the kits are those found; else by search."""
        if all(change.what != "aim" for change in changes):
            return True
        looser = self.job_of(with_changes(self.asked, changes))
        assert looser is not None
        for one in found:
            slots = [slot.slot for slot in one.job.layout.slots if slot.kind == "core"]
            then = charge_pipes(replace(looser, layout=one.job.layout))
            now = charge_pipes(one.job)
            if any(then.around(core, slots) != now.around(core, slots) for core in one.parts.cores):
                return bool(self.left > 0 and kept(self.whole(with_changes(self.asked, changes))))
        return True

    # --- the conflict ---

    def conflict(self, kits: Sequence[Wanting], found: Sequence[Searched]) -> tuple[Demand, ...]:
        """A smallest set: each demand is dropped in turn, and named where there is a kit without it.

        A demand that makes no difference stays dropped. Where kits break limits, the size of a zone is named if a
        larger one has a kit of the parts that come nearest; if none is found, it goes unnamed as part of the car.
        """
        asked, named = self.asked, list[Demand]()
        waiting = [*self._groups(together=not kits)]
        while waiting:
            group = waiting.pop(0)
            if group[0].zones and kits and not (kept_out(found, group[0].zones) or warm_kits(found)):
                continue
            less = asked
            for demand in group:
                less = dropped(less, demand.code, demand.zones)
            zones = tuple(zone for demand in group for zone in demand.zones)
            some = bool(self.any_of(less, few(self.job.catalogue, found, zones)))
            if not some and zones and kits:
                continue
            if not some and self.left <= 0:
                self.not_tried += [demand.code for demand in group]
                continue
            if not some:
                wider = self.whole(without_limits(less))
                of_wider = self.wanting(wider)
                some = any(not needs.needs for needs in of_wider)
                if not some:
                    asked, kits, found = less, of_wider, wider
            if some and len(group) > 1:
                waiting = [*((demand,) for demand in group), *waiting]
            elif some:
                named.append(group[0])
        limits = smallest_conflict(kits) if kits else ()
        return (*(Demand(code) for code in limits), *named)

    def _groups(self, *, together: bool) -> Iterator[tuple[Demand, ...]]:
        """The demands that are no limits; those of a group are dropped at once before each by itself."""
        brief = self.job.brief
        if brief.without:
            yield (Demand("without"),)
        if brief.in_stock:
            yield (Demand("in_stock"),)
        yield (Demand("power"), Demand("driving"))
        zones = {} if brief.bay is None else brief.bay.zones
        fronts = tuple(name for name, zone in zones.items() if "exchanger" in zone.takes)
        rooms = [Demand("room", (name,)) for name in zones if name not in fronts]
        of_zones = (*((Demand("front area", fronts),) if fronts else ()), *rooms)
        if together:
            yield of_zones
        else:
            yield from ((demand,) for demand in of_zones)

    # --- single ways that take a search ---

    def single_ways(self, found: Sequence[Searched]) -> Iterator[Way]:
        """Every lever that alone gives a kit, moved as little as it can be."""
        warm = warm_kits(found)
        for lever in levers(self.job):
            if not (kept_out(found, lever.zones) if lever.of_room else warm):
                continue
            changes = self._least(lever, few(self.job.catalogue, found, lever.zones))
            if changes is not None:
                yield Way(changes)

    def _least(self, lever: Lever, shelf: Catalogue) -> tuple[Change, ...] | None:
        """The least move of a lever at which there is a kit; one step less, the whole shelf has none."""
        none, some = lever.first, lever.last
        if none == some or not self.any_of(self._moved(lever, some), shelf):
            return None
        while True:
            while abs(some - none) > 1:
                middle = (some + none) // 2
                if self.any_of(self._moved(lever, middle), shelf):
                    some = middle
                else:
                    none = middle
            if none == lever.first or holds_all(self.job.catalogue, shelf):
                return lever.changes(some)
            if self.left <= 0:
                self.not_tried.append(lever.words)
                return None
            better = kept(self.whole(self._moved(lever, none)))
            if not better:
                return lever.changes(some)
            shelf = with_best(self.job.catalogue, shelf, better)
            some, none = none, lever.first

    def _moved(self, lever: Lever, step: int) -> Asked:
        return with_changes(self.asked, lever.changes(step))
