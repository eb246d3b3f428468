"""The retailer's question: which complete kit suits this car? One call a line; follow any of them to its room."""

from __future__ import annotations

from collections.abc import Callable

from configurator.brief.driving import Driving
from configurator.brief.request import Brief
from configurator.brief.tables import Tables
from configurator.foundations.verdicts import Verdict
from configurator.joining.hose_joint import HoseJoiner
from configurator.parts.kinds import Adapter, Clamp, Hose
from configurator.parts.own import OwnPart
from configurator.parts.shelf import Catalogue
from configurator.prediction.conditions import choose_coolant, make_conditions
from configurator.questions.answer import Answer, Counts, Outcome
from configurator.questions.assumptions import assumptions, not_checked
from configurator.questions.general_cautions import general_cautions
from configurator.questions.offer import offers
from configurator.questions.sizes import sizes_to_measure
from configurator.ranking.order import ranked
from configurator.ranking.short_list import one_per_choice
from configurator.search.charge_pipes import ChargePipes
from configurator.search.fill import Candidate, Filled, fill
from configurator.search.job import Job
from configurator.search.left_out import left_out
from configurator.search.sieve import sieve
from configurator.search.skeletons import SkeletonMaker

CLOSEST = 3
_FREEZES = "No coolant that the brief welcomes survives its coldest night: allow a glycol in `coolant: kinds`."


def suggest(
    brief: Brief,
    driving: Driving,
    own: tuple[OwnPart, ...],
    fingerprint: str,
    catalogue: Catalogue,
    tables: Tables,
    *,
    order: str = "default",
    top: int = 5,
    all_variants: bool = False,
    tell: Callable[[str], None] = lambda words: None,
) -> Answer:
    """Suggest complete kits for a brief, best first, with reasons for every part that is left out.

    `order` is a key of `ranking.order.ORDERS`; `top` kits are told; `all_variants` lists every kit and not one per
    core + exchanger choice; `tell` hears how far the work has come.
    """
    job = make_job(brief, driving, own, catalogue, tables)
    if job is None:
        return _no_coolant(brief, driving, fingerprint, catalogue)
    parts = sieve(job)
    maker = SkeletonMaker(job, parts, hose_joiner(job))
    kits = fill(job, parts, maker.skeletons(), charge_pipes(job), tell)
    in_order = ranked(kits.kept, order, job.conditions.enough_k)
    listed = in_order[:top] if all_variants else one_per_choice(in_order)[:top]
    nearest = one_per_choice(sorted(kits.missing, key=_by_what_is_missed))[:CLOSEST]
    return Answer(
        outcome=_outcome(kits, brief),
        brief_name=brief.brief,
        brief_fingerprint=fingerprint,
        catalogue_parts=len(catalogue.parts),
        catalogue_fingerprint=catalogue.fingerprint,
        currency=brief.currency,
        ceiling_k=job.conditions.ceiling_k,
        air_k=job.conditions.ambient_k,
        driving_name=driving.name or driving.id or "the driving of the brief",
        coolant=job.conditions.coolant,
        kits=offers(job, kits.bench, listed),
        closest=offers(job, kits.bench, nearest),
        exclusions=(*parts.exclusions, *left_out(job, parts, kits, maker.apart())),
        not_checked=not_checked(job),
        assumed=assumptions(job),
        cautions=general_cautions(job),
        counts=_counts(kits),
        sizes_to_measure=sizes_to_measure(job, listed),
    )


def make_job(
    brief: Brief, driving: Driving, own: tuple[OwnPart, ...], catalogue: Catalogue, tables: Tables
) -> Job | None:
    """Brief, shelf and conditions side by side; None where no welcome coolant survives the coldest night."""
    coolant = choose_coolant(brief)
    if coolant is None:
        return None
    conditions = make_conditions(brief, driving, tables, coolant)
    worse = make_conditions(brief, driving, tables, coolant, common_error=True)
    layout = next(layout for layout in catalogue.layouts if layout.id == "single")
    return Job(brief, driving, own, catalogue, tables, layout, conditions, worse)


def hose_joiner(job: Job) -> HoseJoiner:
    """Joins coolant ends with the hoses, adapters and clamps of the job's shelf."""
    coolant = [adapter for adapter in job.serving(Adapter) if adapter.medium == "coolant"]
    return HoseJoiner(job.serving(Hose), coolant, job.serving(Clamp))


def charge_pipes(job: Job) -> ChargePipes:
    """Joins the core to charger and throttle with the couplers and clamps of the job's shelf."""
    charge = [adapter for adapter in job.serving(Adapter) if adapter.medium == "charge"]
    return ChargePipes(job, charge, job.serving(Clamp))


def _by_what_is_missed(kit: Candidate) -> tuple[object, ...]:
    """Fewest demands missed, least short of the aim, cheapest."""
    return (len(kit.missed), -min(kit.margin_k, 0.0), kit.price_cents, kit.ids)


def _outcome(kits: Filled, brief: Brief) -> Outcome:
    if not kits.kept:
        return "no_kit"
    undecided = brief.bay is None or not any(kit.fit_decided for kit in kits.kept)
    return "not_decided" if undecided or not any(kit.proven for kit in kits.kept) else "kits"


def _counts(kits: Filled) -> Counts:
    kept = {kit.choice for kit in kits.kept}
    return Counts(kits.loops, len(kept | {kit.choice for kit in kits.missing}), len(kept), len(kits.kept))


def _no_coolant(brief: Brief, driving: Driving, fingerprint: str, catalogue: Catalogue) -> Answer:
    return Answer(
        outcome="no_kit",
        brief_name=brief.brief,
        brief_fingerprint=fingerprint,
        catalogue_parts=len(catalogue.parts),
        catalogue_fingerprint=catalogue.fingerprint,
        currency=brief.currency,
        ceiling_k=brief.ceiling_k,
        air_k=float(brief.site.air_k),
        driving_name=driving.name or driving.id or "the driving of the brief",
        coolant=None,
        kits=(),
        closest=(),
        exclusions=(),
        not_checked=(),
        assumed=(),
        cautions=(),
        counts=Counts(0, 0, 0, 0),
        blocked=Verdict("freeze", "broken", tuple(brief.coolant.kinds), text=_FREEZES),
    )
