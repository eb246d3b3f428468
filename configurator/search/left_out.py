"""Why parts that passed the sieve are in no kit after all."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping

from configurator.fitting.why_not import why_not
from configurator.foundations.verdicts import Verdict
from configurator.joining.missing import EndsApart
from configurator.parts.kinds import Fan, Timer
from configurator.parts.layouts import kind_of_slot
from configurator.search.add_ons import covers
from configurator.search.bill import ADDED
from configurator.search.circuit import unwanted
from configurator.search.fill import Candidate, Filled
from configurator.search.job import Exclusion, Job
from configurator.search.sieve import Admissible, kept_out, kinds_in_question
from configurator.search.skeleton import loop_steps
from configurator.search.zone_memo import Crowd


def left_out(
    job: Job,
    admissible: Admissible,
    filled: Filled,
    apart: Mapping[str, EndsApart],
    without_suction_hose: Mapping[str, Verdict],
) -> tuple[Exclusion, ...]:
    """One reason for every admissible part that no kept kit holds, by id.

    `apart`: parts that meet no other for want of an adapter; `without_suction_hose`: those that only hose which
    must not lie before the pump joins; both as `SkeletonMaker` tells.
    """
    used = {part for kit in filled.kept for _, part in kit.kit.parts}
    best = nearest_kits(filled.missing, used)
    return tuple(sorted(_reasons(job, admissible, filled, apart, without_suction_hose, used, best)))


def _reasons(
    job: Job,
    admissible: Admissible,
    filled: Filled,
    apart: Mapping[str, EndsApart],
    without_suction_hose: Mapping[str, Verdict],
    used: set[str],
    best: dict[str, Candidate],
) -> Iterator[Exclusion]:
    slots = [slot for step in loop_steps(job.layout, unwanted(job.brief, job.layout)) for slot in step]
    lacking = [kind for kind in dict.fromkeys(map(kind_of_slot, slots)) if not admissible.of(kind)]
    for kind in kinds_in_question(job):
        for part in admissible.of(kind):
            if part.id in used:
                continue
            if part.id in best:
                yield missed(job, part.id, best[part.id])
            elif isinstance(part, Fan | Timer) and (other := _of_other_volts(part, admissible, filled)) is not None:
                yield other
            elif isinstance(part, Fan) and not any(covers(exchanger, part) for exchanger in admissible.exchangers):
                yield Exclusion(part.id, "fan-overhangs", None, None, "")
            elif isinstance(part, Fan) and part.id in filled.crowds:
                yield _crowded_out(job, part.id, filled.crowds[part.id])
            elif kind in ADDED:
                yield Exclusion(part.id, "no-loop", None, None, "")
            elif part.id in filled.unjoined_charge:
                yield not_joined(part.id, filled.unjoined_charge[part.id])
            elif part.id in apart and part.id not in filled.joined:
                yield _apart(part.id, apart[part.id])
            elif part.id in without_suction_hose and part.id not in filled.joined:
                refused = without_suction_hose[part.id]
                found, limit = (round(float(figure or 0.0) * 1000, 2) for figure in (refused.found, refused.limit))
                yield Exclusion(part.id, "suction-hose", found, limit, "mm", refused.text)
            elif lacking and (kind == "cap" or part.id not in filled.joined):
                yield Exclusion(part.id, "none-left", None, None, "", " and no ".join(lacking))
            elif kind == "cap" or part.id not in filled.joined:
                yield Exclusion(part.id, "joins-nothing", None, None, "")
            elif all(core.id in filled.unjoined_charge for core in admissible.cores):
                yield Exclusion(part.id, "no-core-joins", None, None, "")
            else:
                yield _crowded_out(job, part.id, filled.crowds.get(part.id))


def _of_other_volts(part: Fan | Timer, admissible: Admissible, filled: Filled) -> Exclusion | None:
    """A fan or timer that no pump of a loop is of one voltage with; the limit is the nearest of theirs."""
    joined = [pump.volts for pump in admissible.pumps if pump.id in filled.joined]
    volts = sorted(set(joined or [pump.volts for pump in admissible.pumps]))
    if not volts or part.volts in volts:
        return None
    nearest = min(volts, key=lambda other: abs(other - part.volts))
    words = f"every pump that is left is for {' or '.join(f'{other:g}' for other in volts)} V"
    return Exclusion(part.id, "voltages-differ", part.volts, nearest, "V", words)


def not_joined(part: str, verdict: Verdict) -> Exclusion:
    """A core that cannot be joined to the engine, by what its joint breaks."""
    cause = verdict.cause or verdict.rule
    return Exclusion(part, "ends-do-not-meet", None, None, "", verdict.text, cause=cause)


def _apart(part: str, verdict: EndsApart) -> Exclusion:
    """An end that meets nothing; found and limit are the two ends of the adapter to buy, where one would do."""
    near, far = verdict.missing[0].codes if len(verdict.missing) == 1 else (None, None)
    return Exclusion(part, "ends-do-not-meet", near, far, "", verdict.text, cause=verdict.cause)


def _crowded_out(job: Job, part: str, crowd: Crowd | None) -> Exclusion:
    """What was in the way in the first company in which a part did not go in."""
    bay = job.brief.bay
    if crowd is None or bay is None:
        return Exclusion(part, "no-kit-goes-in", None, None, "mm")
    miss = why_not(bay, crowd.zone, crowd.items, crowd.needs)
    zone_heights = Exclusion(part, "too-high", None, None, "mm", crowd.zone, zone=crowd.zone)
    return zone_heights if miss is None else kept_out(part, crowd.zone, miss)


def nearest_kits(missing: Iterable[Candidate], used: Collection[str]) -> dict[str, Candidate]:
    """The nearest of the kits that miss something, for each part in them that is not used in any other."""
    best: dict[str, Candidate] = {}
    for kit in missing:
        for _, part in kit.kit.parts:
            if part not in used and (part not in best or nearness(kit) < nearness(best[part])):
                best[part] = kit
    return best


def missed(job: Job, part: str, kit: Candidate) -> Exclusion:
    """What keeps a part out of which this is the nearest kit."""
    if "aim" in kit.missed:
        ceiling = job.conditions.ceiling_k
        besides = ", ".join(code for code in kit.missed if code != "aim")
        return Exclusion(part, "aim-missed", round(ceiling - kit.margin_k, 2), round(ceiling, 2), "K", besides)
    return Exclusion(part, "over-limits", None, None, "", ", ".join(kit.missed))


def nearness(kit: Candidate) -> tuple[object, ...]:
    """The nearest kit first: one that meets the aim and breaks the fewest limits, the cheapest; else the coolest."""
    if "aim" in kit.missed:
        return (1, -kit.margin_k, 0, kit.ids)
    return (0, len(kit.missed), kit.price_cents, kit.ids)
