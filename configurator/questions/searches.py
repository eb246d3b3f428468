"""Every layout that a brief can host, searched; and what they found together."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from configurator.brief.driving import Driving
from configurator.brief.request import Brief
from configurator.brief.tables import Tables
from configurator.errors import TooManyKits
from configurator.foundations.verdicts import Verdict
from configurator.joining.hose_joint import HoseJoiner
from configurator.parts.kinds import JOINING, NEEDED_TO_JOIN, PART_KINDS, Adapter, Clamp, Core, Hose, Wye
from configurator.parts.kit import Joint
from configurator.parts.layouts import Layout
from configurator.parts.own import OwnPart
from configurator.parts.shelf import Catalogue
from configurator.prediction.conditions import choose_coolant, make_conditions
from configurator.search.best_first import BestFirst
from configurator.search.best_so_far import BestSoFar
from configurator.search.charge_pipes import ChargePipes
from configurator.search.circuit import unwanted
from configurator.search.fill import Candidate, Filled, fill
from configurator.search.hosts import hosted
from configurator.search.job import Exclusion, Job
from configurator.search.left_out import left_out, missed, nearest_kits
from configurator.search.liquid_height import liquid_over
from configurator.search.patience import UNHURRIED, Patience
from configurator.search.sieve import Admissible, offered, sieve
from configurator.search.skeletons import SkeletonMaker

RIGID = ("core", "exchanger", "pump", "reservoir")
LOOKED_AT_WHOLE = 100_000
"""So many choices of core, exchanger, pump and reservoir are all looked at, and every part that is out gets its reason.
A shelf of more is searched for the best alone."""

MOST_WHOLE = 2_000_000
"""Choices of parts of which every kit is still looked at: some ten minutes."""

LARGE_S = 60.0
"""How long a large shelf is searched where nobody says: beyond that it may take hours, and gigabytes."""


@dataclass(frozen=True)
class Searched:
    """One layout's job, its admissible parts, what joins what, its kits, and why parts are out."""

    job: Job
    parts: Admissible
    maker: SkeletonMaker
    kits: Filled
    exclusions: tuple[Exclusion, ...]


@dataclass(frozen=True)
class LeftOfKind:
    """How many parts of a kind pass by themselves, and why others do not. `needed`: no kit does without the kind."""

    kind: str
    count: int
    out: tuple[Exclusion, ...]
    needed: bool = True

    @property
    def lacking(self) -> bool:
        """Whether there is no part of the kind at all."""
        return not self.count and not self.out


def make_job(
    brief: Brief,
    driving: Driving,
    own: tuple[OwnPart, ...],
    catalogue: Catalogue,
    tables: Tables,
    head_m: float | None = None,
) -> Job | None:
    """Brief, shelf and conditions side by side; None where no welcome coolant survives the coldest night.

    `head_m`: the liquid above the lowest part, where it is stated [m]; else it follows from the brief.
    """
    coolant = choose_coolant(brief)
    if coolant is None:
        return None
    conditions = make_conditions(brief, driving, tables, coolant)
    worse = make_conditions(brief, driving, tables, coolant, common_error=True)
    layout = min(catalogue.layouts, key=_plainest)
    liquid = liquid_over(brief, own, head_m)
    return Job(brief, driving, own, catalogue, tables, layout, conditions, worse, liquid)


def _plainest(layout: Layout) -> tuple[int, bool, int, str]:
    """The least of it is the loop to speak of before any is searched: no twins, no bypass, an exchanger if there is
    one."""
    return len(layout.twins), layout.bypass is not None, -layout.count("exchanger"), layout.id


def search(
    job: Job,
    tell: Callable[[str], None],
    joiner: HoseJoiner | None = None,
    patience: Patience = UNHURRIED,
    *,
    bands: bool = True,
    best: BestSoFar | None = None,
    beyond: int = 0,
    every_cut: bool = False,
    most_s: float | None = None,
) -> tuple[Searched, ...]:
    """Search every layout that the job's brief can host, by id.

    `joiner`: one of the same hoses, adapters and clamps, which keeps the runs that it has found. When `patience` ends
    first, a part that is in no kit may only not have been looked at: then the sieve's reasons alone are told. Without
    `bands` no kit is told its low margin: enough where only whether there is a kit is in question. `best`: where
    there are more than `beyond` choices of parts, look for these kits alone, the most hopeful first; `every_cut`: and
    keep each group of kits that was left out; `most_s`: how long that may take where `patience` has no end [s]. Raises
    TooManyKits where everything would have to be looked at.
    """
    layouts = hosted(job)
    sieved = _sieved(layouts)
    choices = _choices(layouts, sieved)
    found = []
    if best is not None and choices <= beyond:
        best = None
    if best is None and choices > MOST_WHOLE and patience.ends_s is None:
        raise TooManyKits(_too_many(choices))
    if best is not None and patience.ends_s is None:
        patience = Patience.of(most_s)
    for place, one in enumerate(layouts):
        parts = sieved[_alike(one)]
        maker = SkeletonMaker(one, parts, joiner or hose_joiner(one))
        hurry = patience.share(place, len(layouts))
        if best is None:
            kits = fill(one, parts, maker.skeletons(hurry), charge_pipes(one), tell, hurry, bands=bands)
        else:
            kits = BestFirst(one, parts, maker, charge_pipes(one), best, every_cut=every_cut).run(tell, hurry)
        whole = not kits.cut and kits.proof is None
        out = left_out(one, parts, kits, maker.apart(), maker.without_suction_hose()) if whole else ()
        found.append(Searched(one, parts, maker, kits, (*parts.exclusions, *out)))
    return tuple(found)


def _alike(one: Job) -> tuple[int, bool]:
    """What of a layout the sieve looks at."""
    return one.cores, one.layout.bypass is None


def is_large(job: Job) -> bool:
    """Whether a job has more choices than are all looked at."""
    return all_choices(job) > LOOKED_AT_WHOLE


def all_choices(job: Job) -> int:
    """How many choices of one part of each kind there are in all layouts, whether they go together or not."""
    layouts = hosted(job)
    return _choices(layouts, _sieved(layouts))


def _sieved(layouts: Iterable[Job]) -> dict[tuple[int, bool], Admissible]:
    """What the sieve leaves of each layout, by what it looks at."""
    found: dict[tuple[int, bool], Admissible] = {}
    for one in layouts:
        if _alike(one) not in found:
            found[_alike(one)] = sieve(one)
    return found


def _choices(layouts: Iterable[Job], sieved: Mapping[tuple[int, bool], Admissible]) -> int:
    return sum(choices_of(one, sieved[_alike(one)]) for one in layouts)


def choices_of(one: Job, parts: Admissible) -> int:
    """How many choices of one part of each kind a layout has, whether they go together or not."""
    kinds = {slot.kind for slot in one.layout.slots if slot.kind in RIGID}
    return math.prod(max(len(parts.of(kind)), 1) for kind in kinds)


def _too_many(choices: int) -> str:
    return (
        f"This shelf has {choices:,} choices of core, exchanger, pump and reservoir for the brief, and this question "
        f"looks at every kit: it takes at most {MOST_WHOLE:,}. `kitwright suggest` looks for the best alone, and "
        "answers; `kitwright why BRIEF PART` tells of single parts. Or name what is not wanted in `without`, or what "
        "is there already in `own`."
    )


def kept(searched: Iterable[Searched]) -> list[Candidate]:
    """All kits that keep every demand."""
    return [kit for one in searched for kit in one.kits.kept]


def missing(searched: Iterable[Searched]) -> list[Candidate]:
    """All kits that miss some demand."""
    return [kit for one in searched for kit in one.kits.missing]


def cut(searched: Iterable[Searched]) -> bool:
    """Whether time ran out before everything was looked at."""
    return any(one.kits.cut for one in searched)


def exclusions(searched: Sequence[Searched]) -> tuple[Exclusion, ...]:
    """One reason for every part that no kept kit of any layout holds: what the nearest kit of all layouts misses.

    Of a part that is in no kit at all: the reason of the first layout in which it is out only in company, else of the
    first. Where time ran out, only what is out by itself in every layout.
    """
    if len(searched) == 1:
        return searched[0].exclusions
    if cut(searched):
        out = [{exclusion.part for exclusion in one.exclusions} for one in searched]
        always = set.intersection(*out)
        return tuple(exclusion for exclusion in searched[0].exclusions if exclusion.part in always)
    used = {part for kit in kept(searched) for _, part in kit.kit.parts}
    nearest = nearest_kits(missing(searched), used)
    alone: dict[str, Exclusion] = {}
    reasons: dict[str, Exclusion] = {}
    for one in searched:
        by_itself = {exclusion.part for exclusion in one.parts.exclusions}
        for exclusion in one.exclusions:
            part = exclusion.part
            if part not in used:
                (alone if part in by_itself else reasons).setdefault(part, exclusion)
    reasons = {**alone, **reasons}
    return tuple(
        missed(searched[0].job, part, nearest[part]) if part in nearest else reason for part, reason in reasons.items()
    )


def left_by_themselves(searched: Sequence[Searched]) -> tuple[LeftOfKind, ...]:
    """Of each kind that a layout needs how many parts pass by themselves, in the layout that leaves most of it; and of
    what joins them each kind of which there is none.
    """
    found = []
    for kind in RIGID:
        needing = [one for one in searched if kind in {slot.kind for slot in one.job.layout.slots}]
        if needing and any(kind not in unwanted(one.job.brief, one.job.layout) for one in needing):
            one = max(needing, key=lambda one: len(one.parts.of(kind)))
            of_kind = {part.id for part in offered(one.job, kind)}
            out = tuple(exclusion for exclusion in one.parts.exclusions if exclusion.part in of_kind)
            for_ice = tuple(exclusion for exclusion in out if exclusion.code != "not-for-ice")
            found.append(LeftOfKind(kind, len(one.parts.of(kind)), for_ice or out))
    for small in JOINING if searched else ():
        if not searched[0].job.catalogue.of(PART_KINDS[small]):
            found.append(LeftOfKind(small, 0, (), needed=small in NEEDED_TO_JOIN))
    return tuple(found)


def hose_joiner(job: Job) -> HoseJoiner:
    """Joins coolant ends with the hoses, adapters and clamps of the job's shelf."""
    return HoseJoiner(job.serving(Hose), coolant_adapters(job), job.serving(Clamp))


def coolant_adapters(job: Job) -> list[Adapter]:
    """The adapters of the job's shelf that a hose may be joined with."""
    return [adapter for adapter in job.serving(Adapter) if adapter.medium == "coolant"]


def charge_pipes(job: Job) -> ChargePipes:
    """Joins the core to charger and throttle with the couplers, wyes and clamps of the job's shelf."""
    return ChargePipes(job, job.serving(Adapter), job.serving(Wye), job.serving(Clamp))


def around_cores(one: Searched, job: Job) -> Callable[[Core], tuple[Joint, ...] | Verdict]:
    """How each core of a searched layout would be joined to the engine under a job's brief, or why it cannot be."""
    pipes = charge_pipes(replace(job, layout=one.job.layout))
    return lambda core: pipes.around(core, _cores_of(one))


def piece_around(one: Searched) -> Callable[[Adapter | Wye, Core], tuple[Verdict, ...]]:
    """A coupler or charge wye between a core of a searched layout and the engine, wherever it goes there."""
    pipes = charge_pipes(one.job)
    return lambda piece, core: pipes.judged(piece, core, _cores_of(one))


def _cores_of(one: Searched) -> list[str]:
    return [slot.slot for slot in one.job.layout.slots if slot.kind == "core"]
