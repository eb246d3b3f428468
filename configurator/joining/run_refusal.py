"""What a coolant run must stand, and which of it a pair of ways does not meet, in words."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from configurator.foundations.verdicts import Verdict
from configurator.joining.bore_steps import area_ratio
from configurator.joining.chains import SUCTION_AREA_RATIO
from configurator.joining.mating_verdict import LIMITS, UNWIRED_MOST
from configurator.joining.run_ways import HalfRun, Piece, coldest_of_k, member_of, stands_vacuum
from configurator.joining.words import bars_apart, celsius_words, mm_words
from configurator.parts.kinds import Hose

DEMANDS: Final = ("too-cold", "too-hot", "rating-below-pressure", "suction-hose", "suction-step", "no-clamp")
"""What a run must meet, in the order in which it is judged."""


@dataclass(frozen=True)
class RunConditions:
    """What a run must stand: coolant temperatures [K], design pressure [Pa gauge], pump suction or not.

    `tight`: the run that needs the least room ahead of its ends is wanted, for a cramped bay.
    """

    hottest_k: float
    coldest_k: float
    design_pa_gauge: float = 0.0
    suction: bool = False
    tight: bool = False


def _broken(rule: str, found: float | str, limit: float | str, unit: str, text: str) -> Verdict:
    return Verdict(rule, "broken", (), found, limit, unit, text)


def miss(out: HalfRun, into: HalfRun, conditions: RunConditions) -> tuple[int, float]:
    """How far a pair of ways comes through `DEMANDS` (less is further), and how far it misses the next."""
    colder = max(out.coldest_k, into.coldest_k) - conditions.coldest_k
    if colder > 0:
        return 0, colder
    hotter = conditions.hottest_k - min(out.hottest_k, into.hottest_k)
    if hotter > 0:
        return -1, hotter
    above = conditions.design_pa_gauge - min(out.rated_pa_gauge, into.rated_pa_gauge)
    if above > 0:
        return -2, above
    if conditions.suction:
        if _flattened(out, into):
            return -3, 0.0
        ratio = _least_area_ratio(out, into)
        if ratio < SUCTION_AREA_RATIO:
            return -4, -ratio
    if out.bare_od_m is not None or into.bare_od_m is not None:
        return -5, 0.0
    return -6, 0.0


def refusal(out: HalfRun, into: HalfRun, conditions: RunConditions) -> Verdict:
    """The demand that a pair of ways does not meet, in words."""
    rule = DEMANDS[-miss(out, into, conditions)[0]]
    if rule == "too-cold":
        stands, part = max(
            (coldest, part.id)
            for part in (out.hose, *out.parts, *into.parts)
            if (coldest := coldest_of_k(part)) is not None
        )
        return _too_cold(part, stands, conditions.coldest_k)
    members = (*out.members, *into.members)
    if rule == "too-hot":
        stands, part = min((m.hottest_k, m.part) for m in members if m.hottest_k is not None)
        return _too_hot(part, stands, conditions.hottest_k)
    if rule == "rating-below-pressure":
        rated, part = min((m.working_pa_gauge, m.part) for m in members if m.working_pa_gauge is not None)
        return _too_weak(part, rated, conditions.design_pa_gauge)
    if rule == "suction-hose":
        return _sucked_flat(_flattened(out, into)[0])
    if rule == "suction-step":
        ratio, before, after = _least_area_ratio(out, into), *_steepest(out, into)
        text = (
            f"before the pump the bore steps from {before} to {after}, which is {ratio:.0%} of its area (at least "
            f"{SUCTION_AREA_RATIO:.0%}): the pump is starved and cavitates"
        )
        return _broken(rule, ratio, SUCTION_AREA_RATIO, "", text)
    bare = out.bare_od_m if out.bare_od_m is not None else into.bare_od_m
    assert bare is not None
    text = f"no coolant clamp closes on {mm_words(bare)}, the outside of '{out.hose.id}' as fitted"
    return _broken(rule, bare, "", "m", text)


def refusal_of_piece(part: Piece, conditions: RunConditions, *, vacuum_unsaid: bool = False) -> Verdict | None:
    """The demand that one piece of a run does not meet, in words; None where it meets each.

    What a piece does not state it meets; but a wide hose that says nothing of vacuum lies before the pump only with
    `vacuum_unsaid`.
    """
    member, coldest = member_of(part), coldest_of_k(part)
    if coldest is not None and coldest > conditions.coldest_k:
        return _too_cold(part.id, coldest, conditions.coldest_k)
    if member.hottest_k is not None and member.hottest_k < conditions.hottest_k:
        return _too_hot(part.id, member.hottest_k, conditions.hottest_k)
    if member.working_pa_gauge is not None and member.working_pa_gauge < conditions.design_pa_gauge:
        return _too_weak(part.id, member.working_pa_gauge, conditions.design_pa_gauge)
    if not conditions.suction or not isinstance(part, Hose):
        return None
    stands = stands_vacuum(part)
    return None if stands or (stands is None and vacuum_unsaid) else _sucked_flat(part)


def _too_cold(part: str, stands_k: float, sees_k: float) -> Verdict:
    text = f"'{part}' stands cold down to {celsius_words(stands_k)}, the run sees {celsius_words(sees_k)}"
    return _broken("too-cold", sees_k, stands_k, "K", text)


def _too_hot(part: str, stands_k: float, sees_k: float) -> Verdict:
    text = f"'{part}' stands {celsius_words(stands_k)}, the run sees {celsius_words(sees_k)}"
    return _broken("too-hot", sees_k, stands_k, "K", text)


def _too_weak(part: str, rated_pa: float, design_pa: float) -> Verdict:
    text = "'{}' is good for {}, the run may see {}".format(part, *bars_apart(rated_pa, design_pa))
    return _broken("rating-below-pressure", rated_pa, design_pa, "Pa", text)


def _sucked_flat(hose: Hose) -> Verdict:
    lacks = "is neither wired nor rated" if hose.vacuum is False else "is not said to be wired or rated"
    text = f"'{hose.id}' {lacks} for vacuum: before the pump a plain hose over {UNWIRED_MOST} is sucked flat"
    return _broken("suction-hose", float(hose.bore_m), LIMITS.unwired_suction_m, "m", text)


def _least_area_ratio(out: HalfRun, into: HalfRun) -> float:
    """Least area ratio of the steps between fittings [-]; the hose itself is left out."""
    bores = (*out.chain.fitting_bores_m, *into.chain.fitting_bores_m[::-1])
    return min(area_ratio(before, after) for before, after in pairwise(bores))


def _steepest(out: HalfRun, into: HalfRun) -> tuple[str, str]:
    """The two bores of the worst step, the wide one first, each with the piece whose it is."""
    leaving = ["the outlet", *(f"'{adapter.id}'" for adapter in out.chain.adapters)]
    entering = ["the inlet", *(f"'{adapter.id}'" for adapter in into.chain.adapters)]
    named = [
        *zip(out.chain.fitting_bores_m, leaving, strict=True),
        *zip(into.chain.fitting_bores_m[::-1], entering[::-1], strict=True),
    ]
    worst = min(pairwise(named), key=lambda step: area_ratio(step[0][0], step[1][0]))
    narrow, wide = sorted(worst)
    return f"{mm_words(wide[0])} ({wide[1]})", f"{mm_words(narrow[0])} ({narrow[1]})"


def _flattened(out: HalfRun, into: HalfRun) -> list[Hose]:
    """Hoses of a pair of ways of which nobody says that they stand the pump's suction."""
    return [hose for hose in (out.hose, *out.chain.stubs, *into.chain.stubs) if not stands_vacuum(hose)]
