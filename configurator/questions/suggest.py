"""The retailer's question: which complete kit suits this car? One call a line; follow any of them to its room."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from configurator.brief.driving import Driving
from configurator.brief.request import Brief
from configurator.brief.tables import Tables
from configurator.foundations.coolants import Coolant, smallest_share
from configurator.foundations.verdicts import Verdict
from configurator.parts.kinds import Valve
from configurator.parts.own import OwnPart
from configurator.parts.shelf import Catalogue
from configurator.prediction.frost import Frost, frost_of
from configurator.questions.answer import Answer, BestAlone, Counts, Outcome, Stopped
from configurator.questions.assumptions import assumptions, not_checked, of_twins
from configurator.questions.best_alone import asked_for, best_alone, that_come_near
from configurator.questions.changed_brief import without_limits
from configurator.questions.fork import fork
from configurator.questions.further import Further
from configurator.questions.general_cautions import general_cautions
from configurator.questions.offer import offers
from configurator.questions.reach import coolest_k, least_cents
from configurator.questions.searches import (
    LARGE_S,
    LOOKED_AT_WHOLE,
    Searched,
    cut,
    exclusions,
    kept,
    left_by_themselves,
    make_job,
    missing,
    search,
)
from configurator.questions.sizes import sizes_to_measure
from configurator.questions.ways_on_large import ways_on_large
from configurator.questions.ways_out import WaysOut, kept_out_by_limits, ways_out, ways_out_of_frost
from configurator.ranking.front import front
from configurator.ranking.order import ranked
from configurator.ranking.short_list import one_per_choice
from configurator.search.fill import Candidate
from configurator.search.job import Job
from configurator.search.patience import Patience

CLOSEST = 3

_FREEZES = "No coolant that the brief welcomes survives {cold}: {cure}."
_SHARE_FREEZES = (
    "The settled share of {share} glycol does not survive {cold} with any coolant that the brief welcomes: {cure}."
)
_ICE_FREEZES = (
    "Ice goes with plain water, and that does not survive {cold}. No glycol in an ice tank: melting ice thins it with "
    "every pass."
)
_DRAIN_IT = " Drain the loop after the day, and state the coldest night that it is filled in (`site: coldest`)."
_MET = {"night": "the coldest night, {},", "day": "a day of {}", "start": "a start at {}"}
_NOT_HOSTED = "need two parts of a kind that the brief does not want, or that is fitted in the car already."


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
    look_further: bool = True,
    with_closest: bool = True,
    time_limit_s: float | None = None,
    prove: bool = False,
    front_alone: bool = False,
    head_m: float | None = None,
    tell: Callable[[str], None] = lambda words: None,
) -> Answer:
    """Suggest complete kits for a brief, best first, with reasons for every part that is left out.

    `order` is a key of `ranking.order.ORDERS`; `top` kits are told; `all_variants` lists every kit and not one per
    core + exchanger choice; `look_further`: search for ways out where there is no kit;
    `with_closest`: tell the kits that come near beside those that there are, too;
    `prove`: look for the best alone, as on a large shelf, and tell what bounds the rest;
    `front_alone`: list the kits that no other beats on margin, room, price and mass, for which every kit is looked at;
    `time_limit_s`: after about so long the best so far is told, with what bounds the rest; without it a large shelf
    is searched for `LARGE_S`, or with `prove` to the end;
    `head_m`: the liquid above the lowest part, where it is stated [m];
    `tell` hears how far the work has come.
    """
    patience = Patience.of(time_limit_s)
    bare = _bare(brief, driving, fingerprint, catalogue)
    job = make_job(brief, driving, own, catalogue, tables, head_m)
    if job is None:
        frost = ways_out_of_frost(brief, driving, own, catalogue, tables, tell, patience) if look_further else None
        return _blocked(bare, frozen(brief), ways=frost)
    best = None if front_alone else asked_for(job, order, top, all_variants=all_variants)
    beyond, most_s = (0, None) if prove else (LOOKED_AT_WHOLE, LARGE_S)
    found = search(job, tell, patience=patience, best=best, beyond=beyond, most_s=most_s)
    if not found:
        return _blocked(bare, no_layout(job), job.conditions.coolant)
    kits, missed = kept(found), missing(found)
    in_order = ranked(kits, order, job.conditions.enough_k)
    every = front(in_order) if front_alone else in_order if all_variants else one_per_choice(in_order)
    listed = every[:top]
    stopped = cut(found)
    alone = best_alone(job, found, order, every, top, all_variants=all_variants, prove=prove)
    if alone is not None and not kits and not stopped:
        found = that_come_near(job, CLOSEST, tell, patience)
        missed = missing(found)
    nearest = one_per_choice(sorted(missed, key=by_what_is_missed))[:CLOSEST]
    told, closest = offers(found, listed, nearest if with_closest or not listed else ())
    return replace(
        bare,
        outcome="stopped_early" if stopped else _outcome(kits, brief),
        coolant=job.conditions.coolant,
        kits=told,
        closest=closest,
        exclusions=exclusions(found),
        not_checked=not_checked(job),
        assumed=(*assumptions(job), *of_twins(job, {kit.kit.layout for kit in (*listed, *nearest)})),
        cautions=general_cautions(job),
        counts=_counts(found),
        sizes_to_measure=sizes_to_measure(job, listed),
        standstill_s=None if job.conditions.standing is None else job.conditions.standing.seconds,
        left=() if kits or missed else left_by_themselves(found),
        ways_out=None if kits or stopped or not look_further else _ways_out(Further(job, tell, patience), found, alone),
        fork=fork(found, [*zip(listed, told, strict=True)] or [*zip(nearest, closest, strict=True)]),
        stopped=_stopped(found, time_limit_s) if stopped else None,
        best_alone=alone,
        all_variants=all_variants or front_alone,
        on_the_front=len(every) if front_alone else None,
        wanted=brief.wanted,
        in_stock=brief.in_stock,
        own=own,
    )


def _ways_out(further: Further, found: Sequence[Searched], alone: BestAlone | None) -> WaysOut:
    """What would give a kit; `found`: every kit, or of a shelf searched for the best alone those that come near."""
    if alone is None and not (kept_out_by_limits(found) and further.is_large(without_limits(further.asked))):
        return ways_out(further, found)
    return ways_on_large(further, found)


def by_what_is_missed(kit: Candidate) -> tuple[object, ...]:
    """Fewest demands missed, least short of the aim, limits broken by the least, cheapest."""
    return (len(kit.missed), -min(kit.margin_k, 0.0), kit.excess, kit.price_cents, kit.ids)


def _outcome(kits: Sequence[Candidate], brief: Brief) -> Outcome:
    if not kits:
        return "no_kit"
    undecided = brief.bay is None or not any(kit.fit_decided for kit in kits)
    return "not_decided" if undecided or not any(kit.proven for kit in kits) else "kits"


def _stopped(found: Sequence[Searched], seconds: float | None) -> Stopped:
    coldest_k = found[0].job.conditions.coldest_coolant_k
    return Stopped(seconds or LARGE_S, coolest_k(found, coldest_k), least_cents(found))


def _counts(found: Sequence[Searched]) -> Counts:
    kits = kept(found)
    choices = {kit.choice for kit in kits}
    fitting = choices | {kit.choice for kit in missing(found)}
    return Counts(sum(one.kits.loops for one in found), len(fitting), len(choices), len(kits))


def frozen(brief: Brief) -> Verdict:
    """No coolant that the brief welcomes survives the coldest that it meets: night, day, or as it starts."""
    frost, settled = frost_of(brief), brief.coolant.glycol_by_volume
    spare = f" with {frost.spare_k:g} K to spare" if frost.spare_k else ""
    cold = f"{_MET[frost.when].format(frost.told)}{spare}"
    if brief.ice is not None:
        text = _ICE_FREEZES.format(cold=cold) + (_DRAIN_IT if frost.when == "night" else "")
    elif settled is None:
        text = _FREEZES.format(cold=cold, cure=_cure(brief, frost))
    else:
        text = _SHARE_FREEZES.format(share=settled.text, cold=cold, cure=_cure(brief, frost))
    return Verdict("freeze", "broken", tuple(brief.coolant.kinds), text=text)


def _cure(brief: Brief, frost: Frost) -> str:
    """What the customer can do about coolant that freezes."""
    settled, glycols = brief.coolant.glycol_by_volume, [kind for kind in brief.coolant.kinds if kind != "water"]
    shares = [share for kind in glycols if (share := smallest_share(kind, frost.night_k)) is not None]
    if glycols and not shares:
        return f"no share of {' or '.join(glycols)} does"
    if settled is None or not glycols:
        return f"{'' if settled is None else 'leave it out and '}allow a glycol in `coolant: kinds`"
    return f"settle {100 * min(shares):g} % or more in `coolant: glycol_by_volume`, or leave that out"


def no_layout(job: Job) -> Verdict:
    """The brief can host none of the layouts that are in question."""
    brief, bypasses = job.brief, [layout for layout in job.catalogue.layouts if layout.bypass is not None]
    named = ", ".join(brief.layouts) or "of the catalogue"
    if brief.layouts and {*brief.layouts} <= {layout.id for layout in bypasses} and not job.serving(Valve):
        text = f"The layouts {named} need a bypass valve, and there is none on the shelf that the brief allows."
        return Verdict("layout", "broken", brief.layouts, text=text)
    return Verdict("layout", "broken", brief.layouts, text=f"The layouts {named} {_NOT_HOSTED}")


def _blocked(bare: Answer, blocked: Verdict, coolant: Coolant | None = None, ways: WaysOut | None = None) -> Answer:
    """The answer where one rule stops every kit before any is looked at."""
    return replace(bare, blocked=blocked, coolant=coolant, ways_out=ways)


def _bare(brief: Brief, driving: Driving, fingerprint: str, catalogue: Catalogue) -> Answer:
    """What every answer to a brief says, with no kit and nothing looked at yet."""
    return Answer(
        outcome="no_kit",
        brief_name=brief.brief,
        brief_fingerprint=fingerprint,
        catalogue_parts=len(catalogue.parts),
        catalogue_fingerprint=catalogue.fingerprint,
        currency=brief.currency,
        ceiling_k=brief.ceiling_k,
        air_k=float(brief.site.air_k),
        power_w=float(brief.engine.power_w),
        driving_name=driving.name or driving.id or "the driving of the brief",
        coolant=None,
        kits=(),
        closest=(),
        exclusions=(),
        not_checked=(),
        assumed=(),
        cautions=(),
        counts=Counts(0, 0, 0, 0),
    )
