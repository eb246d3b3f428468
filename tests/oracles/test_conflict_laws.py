"""Two laws of a conflict, on many impossible jobs: its demands alone leave no kit, and without any one there is one.

All kits of a shelf are tried once for each set of other demands that is dropped; what their figures say of limits is
reckoned here.
"""

from __future__ import annotations

import copy
from collections import Counter
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from functools import cache
from random import Random
from typing import Any

import pytest

from configurator.joining.hose_joint import HoseJoiner
from configurator.questions import further
from configurator.questions.conflict import Demand
from configurator.questions.further import Further
from configurator.questions.searches import hose_joiner, make_job, search
from configurator.questions.ways_out import Way, demands_and_limits
from configurator.search.job import Job
from tests.oracles.plain_kit import PlainKit, breaks
from tests.oracles.shelves import Shelf
from tests.oracles.spread_shelves import LIMITS, asked, drawn_limits, spread, tried, with_brief
from tests.oracles.test_ways_out import changed, one_step_less, without
from tests.oracles.try_everything import Tried

DRAWS = 74

AT_LEAST = {
    30: (9, 12, 11, 23),
    97: (6, 17, 8, 35),
    72: (9, 11, 7, 6),
    113: (9, 21, 6, 3),
    123: (10, 9, 7, 18),
    161: (9, 7, 14, 21),
    163: (4, 4, 5, 20),
    18: (7, 12, 7, 27),
}
"""Of each shelf how many jobs at least whose conflict has one demand, two, three, and more."""
OTHERS = ("without", "in_stock", "power", "driving")


@dataclass(frozen=True)
class Told:
    """A shelf that has no kit, and what the program says of it."""

    shelf: Shelf
    conflict: tuple[Demand, ...]
    ways: tuple[Way, ...]
    not_tried: tuple[str, ...]


@cache
def told(seed: int) -> tuple[Told, ...]:
    """Impossible jobs of a shelf, some limits tight in each; no search of the same brief is made twice."""
    known: dict[tuple[str, ...], object] = {}

    def once(job: Job, *more: Any, **how: Any) -> Any:
        key = (repr(job.brief), repr(job.driving), *job.catalogue.parts)
        if key not in known:
            known[key] = search(job, *more, **how)
        return known[key]

    of = spread(seed)
    job = make_job(of.brief, of.driving, of.own, of.catalogue, of.tables)
    assert job is not None
    joiner = hose_joiner(job)
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(further, "search", once)
        return tuple(_told(of, joiner) for of in impossible(seed))


def impossible(seed: int) -> Iterator[Shelf]:
    """Shelves without a kit; how many limits it takes is drawn."""
    r = Random(f"impossible {seed}")
    for draw in range(DRAWS):
        limits = drawn_limits(seed, r, (1, 2, 3, 2, 4, 3, 3)[draw % 7])
        of = None if limits is None else asked(seed, limits)
        if of is not None and not some_kit(tried(seed), of, LIMITS):
            yield of


def _told(of: Shelf, joiner: HoseJoiner) -> Told:
    job = make_job(of.brief, of.driving, of.own, of.catalogue, of.tables)
    assert job is not None
    searched = search(job, lambda words: None, joiner, bands=False)
    assert not any(one.kits.kept for one in searched)
    more = Further(job, lambda words: None)
    demands, ways = demands_and_limits(more, searched)
    return Told(of, demands, tuple(ways), tuple(more.not_tried))


@cache
def kits_without(seed: int, dropped: frozenset[Demand]) -> Tried:
    """Every kit of a shelf where demands that are no limits are dropped."""
    brief = copy.deepcopy(spread(seed).written["brief"])
    for demand in dropped:
        (brief,) = without(brief, "front area" if demand.zones else demand.code, demand.zones)
    return Tried(with_brief(spread(seed), brief))


def some_kit(tried: Tried, of: Shelf, held: Collection[str]) -> bool:
    """Whether a kit keeps these limits; without the aim among them, at any warmer aim that some kit needs."""
    ceiling_k = of.brief.ceiling_k
    if "aim" in held:
        return any(breaks(kit, of.brief).isdisjoint(held) for kit in tried.at(ceiling_k))
    warmer = sorted({max(ceiling_k, kit.worst_k + 0.005) for kit in tried.at(ceiling_k)})
    return any(_keeps_at(kit, of, held, aim_k) for aim_k in warmer for kit in tried.at(aim_k))


def _keeps_at(kit: PlainKit, of: Shelf, held: Collection[str], aim_k: float) -> bool:
    return round(aim_k - kit.worst_k, 2) >= 0 and breaks(kit, of.brief).isdisjoint(held)


def unnamed(one: Told) -> frozenset[Demand]:
    """The demands of a brief that are no limits, and that its conflict does not name."""
    there = [code for code in OTHERS if code in ("power", "driving") or one.shelf.written["brief"].get(code)]
    return frozenset(Demand(code) for code in there) - {*one.conflict}


def spared(one: Told, demand: Demand) -> list[frozenset[Demand]]:
    """Which demands are dropped where one is: of a zone it may take that those not named are larger too."""
    alone = unnamed(one) | ({demand} if demand.code not in LIMITS else set())
    if not demand.zones:
        return [alone]
    held = {zone for other in one.conflict if other != demand for zone in other.zones}
    zones = tuple(sorted(set(one.shelf.written["brief"]["bay"]["zones"]) - held))
    return [alone, unnamed(one) | {Demand("room", zones)}]


@pytest.mark.parametrize("seed", AT_LEAST)
def test_conflicts_and_amounts_of_a_shelf_are_what_trying_everything_finds(seed: int) -> None:
    """All jobs of a shelf, whose searches they share; of each size of conflict, and of ways, as many as are told."""
    jobs = told(seed)
    for one in jobs:
        named_alone_leave_no_kit_and_without_any_there_is_one(seed, one)
        looser_by_what_is_told_there_is_a_kit_and_a_step_less_there_is_none(seed, one)
        assert not one.not_tried
    sizes = Counter(min(len(one.conflict), 4) for one in jobs)
    assert all(sizes[size] >= least for size, least in zip((1, 2, 3, 4), AT_LEAST[seed], strict=True)), sizes
    named = {demand.code for one in jobs for demand in one.conflict}
    assert named >= {"aim", "price", "mass", "charge loss", "driving", "power"}, named
    ways = Counter(min(len(way.changes), 3) for one in jobs for way in one.ways)
    assert all(ways[size] >= 3 for size in (1, 2)) and ways.total() >= len(jobs), ways


def named_alone_leave_no_kit_and_without_any_there_is_one(seed: int, one: Told) -> None:
    codes = {demand.code for demand in one.conflict}
    case = (seed, one.shelf.written["brief"], one.conflict)
    assert not some_kit(kits_without(seed, unnamed(one)), one.shelf, codes & {*LIMITS}), case
    for demand in one.conflict:
        held = codes & {*LIMITS} - {demand.code}
        assert any(some_kit(kits_without(seed, less), one.shelf, held) for less in spared(one, demand)), case


def looser_by_what_is_told_there_is_a_kit_and_a_step_less_there_is_none(seed: int, one: Told) -> None:
    assert one.ways
    brief = one.shelf.written["brief"]
    for way in one.ways:
        looser = copy.deepcopy(brief)
        for change in way.changes:
            looser = changed(looser, change, change.after)
        case = (seed, brief, way)
        assert some_kit(tried(seed), with_brief(one.shelf, looser), LIMITS), case
        for held in range(len(way.changes)):
            short = one_step_less(copy.deepcopy(brief), way.changes, held)
            assert not some_kit(tried(seed), with_brief(one.shelf, short), LIMITS), (*case, held)


def test_the_jobs_are_many_and_their_conflicts_of_every_size() -> None:
    """Each shelf is held above to at least these."""
    each = [sum(sizes) for sizes in zip(*AT_LEAST.values(), strict=True)]
    assert sum(each) >= 300 and min(each) >= 30, each
