"""Every layout that a brief can host, searched; and what they found together."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from configurator.brief.driving import Driving
from configurator.brief.request import Brief
from configurator.brief.tables import Tables
from configurator.joining.hose_joint import HoseJoiner
from configurator.parts.kinds import Adapter, Clamp, Hose, Wye
from configurator.parts.own import OwnPart
from configurator.parts.shelf import Catalogue
from configurator.prediction.conditions import choose_coolant, make_conditions
from configurator.search.charge_pipes import ChargePipes
from configurator.search.fill import Candidate, Filled, fill
from configurator.search.hosts import hosted
from configurator.search.job import Exclusion, Job
from configurator.search.left_out import left_out
from configurator.search.sieve import Admissible, sieve
from configurator.search.skeletons import SkeletonMaker


@dataclass(frozen=True)
class Searched:
    """One layout's job, its admissible parts, its kits, and why parts are out."""

    job: Job
    parts: Admissible
    kits: Filled
    exclusions: tuple[Exclusion, ...]


def make_job(
    brief: Brief, driving: Driving, own: tuple[OwnPart, ...], catalogue: Catalogue, tables: Tables
) -> Job | None:
    """Brief, shelf and conditions side by side; None where no welcome coolant survives the coldest night."""
    coolant = choose_coolant(brief)
    if coolant is None:
        return None
    conditions = make_conditions(brief, driving, tables, coolant)
    worse = make_conditions(brief, driving, tables, coolant, common_error=True)
    layout = min(catalogue.layouts, key=lambda layout: (layout.id != "single", layout.id))
    return Job(brief, driving, own, catalogue, tables, layout, conditions, worse)


def search(
    job: Job, tell: Callable[[str], None], joiner: HoseJoiner | None = None
) -> tuple[Searched, ...]:
    """Search every layout that the job's brief can host, by id.

    `joiner`: one of the same hoses, adapters and clamps, which keeps the runs that it has found.
    """
    sieved: dict[int, Admissible] = {}
    found = []
    for one in hosted(job):
        if one.cores not in sieved:
            sieved[one.cores] = sieve(one)
        parts = sieved[one.cores]
        maker = SkeletonMaker(one, parts, joiner or hose_joiner(one))
        kits = fill(one, parts, maker.skeletons(), charge_pipes(one), tell)
        out = left_out(one, parts, kits, maker.apart(), maker.without_suction_hose())
        found.append(Searched(one, parts, kits, (*parts.exclusions, *out)))
    return tuple(found)


def kept(searched: Iterable[Searched]) -> list[Candidate]:
    """All kits that keep every demand."""
    return [kit for one in searched for kit in one.kits.kept]


def missing(searched: Iterable[Searched]) -> list[Candidate]:
    """All kits that miss some demand."""
    return [kit for one in searched for kit in one.kits.missing]


def exclusions(searched: Sequence[Searched]) -> tuple[Exclusion, ...]:
    """One reason for every part that no kept kit of any layout holds: that of the first layout which names one."""
    if len(searched) == 1:
        return searched[0].exclusions
    used = {part for kit in kept(searched) for _, part in kit.kit.parts}
    reasons: dict[str, Exclusion] = {}
    for exclusion in (reason for one in searched for reason in one.exclusions):
        if exclusion.part not in used:
            reasons.setdefault(exclusion.part, exclusion)
    return tuple(reasons.values())


def hose_joiner(job: Job) -> HoseJoiner:
    """Joins coolant ends with the hoses, adapters and clamps of the job's shelf."""
    coolant = [adapter for adapter in job.serving(Adapter) if adapter.medium == "coolant"]
    return HoseJoiner(job.serving(Hose), coolant, job.serving(Clamp))


def charge_pipes(job: Job) -> ChargePipes:
    """Joins the core to charger and throttle with the couplers, wyes and clamps of the job's shelf."""
    return ChargePipes(job, job.serving(Adapter), job.serving(Wye), job.serving(Clamp))
