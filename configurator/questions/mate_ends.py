"""The counter's question: do these two ends go together, and if not, what has to be bought?"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import product
from typing import Final

from configurator.foundations.verdicts import Caution
from configurator.joining.mating import mate
from configurator.joining.mating_verdict import LIMITS, Mating, MatingMedium, ask
from configurator.joining.one_piece import Bridge, Service, cheapest_bridge, starved
from configurator.joining.refused_pieces import couplers_that_hold, what_is_missing
from configurator.joining.words import bar_words, celsius_words, end_words, mm_words
from configurator.parts.end_text import ToldEnd
from configurator.parts.ends import End
from configurator.parts.kinds import Adapter, Hose
from configurator.parts.shelf import Catalogue

CHARGE_FORMS: Final = frozenset({"coupler", "vband", "flange"})
HIGH_BOOST_PA_GAUGE: Final = 3e5
"""What stands for a boost that was not said, beside none at all [Pa gauge]."""

MOST_NAMED: Final = 3
"""Pieces of the shelf that a caution names."""


@dataclass(frozen=True)
class MateAnswer:
    """Two ends, what they serve, the verdict, and what joins them: a piece off the shelf or what is missing.

    `refused`: which pieces of the shelf fit and do not stand the service.
    """

    ends: tuple[End, End]
    service: Service
    medium_told: bool
    mating: Mating
    bridge: Bridge | None = None
    missing: str = ""
    refused: str = ""


def mate_ends(
    first: ToldEnd,
    second: ToldEnd,
    shelf: Callable[[], Catalogue],
    *,
    medium: MatingMedium | None = None,
    boost_pa_gauge: float | None = None,
    suction: bool = False,
    hottest_k: float | None = None,
    pressure_pa_gauge: float | None = None,
) -> MateAnswer:
    """Judge two ends as told, and look for what joins them; the shelf is only fetched where it is needed.

    `medium`: charge for couplers, V-bands, flanges and wherever a boost is told, else coolant. What is not told (a
    bead, the boost) is only asked for where the verdict hangs on it. `pressure_pa_gauge` is of coolant or fuel.
    """
    forms = {first.end.form, second.end.form}
    usual: MatingMedium = "charge" if forms & CHARGE_FORMS or boost_pa_gauge is not None else "coolant"
    service = Service(medium or usual, boost_pa_gauge or 0.0, suction, hottest_k, pressure_pa_gauge or 0.0)
    mating = _judge(first, second, service, boost_told=boost_pa_gauge is not None)
    ends = (first.end, second.end)
    if mating.verdict == "direct" and service.boost_pa_gauge and "coupler" in forms:
        mating = replace(mating, cautions=(*mating.cautions, *_ratings(ends, shelf(), service)))
    if mating.verdict in {"direct", "ask"} or mating.remedy:
        return MateAnswer(ends, service, medium is not None, mating)
    a, b = (_readings(told)[0] for told in (first, second))
    catalogue = shelf()
    pieces = catalogue.of(Adapter), catalogue.of(Hose)
    bridge = cheapest_bridge(a, b, *pieces, service)
    missing, refused = ("", "") if bridge is not None else what_is_missing(a, b, *pieces, service)
    return MateAnswer(ends, service, medium is not None, mating, bridge, missing, refused)


def _ratings(ends: tuple[End, End], catalogue: Catalogue, service: Service) -> tuple[Caution, ...]:
    """What the coupler must be rated for, where not every one of its size on the shelf is."""
    size_m = next(end.size_m or 0.0 for end in ends if end.form == "coupler")
    holding, of_size = couplers_that_hold(size_m, catalogue.of(Adapter), service)
    if of_size and len(holding) == of_size:
        return ()
    hot = "" if service.hottest_k is None else f" at {celsius_words(service.hottest_k)}"
    named = ", ".join(holding[:MOST_NAMED]) + (" and more" if len(holding) > MOST_NAMED else "")
    some = f"{len(holding)} of the {of_size} of {mm_words(size_m)} on the shelf do: {named}"
    text = (
        f"Take a coupler that holds {bar_words(service.design_pa_gauge)}{hot} (boost and a quarter of it, at least 0.3 "
        f"bar more): {some if holding else f'none of {mm_words(size_m)} on the shelf does'}."
    )
    return (Caution("coupler-rating", text),)


def _judge(first: ToldEnd, second: ToldEnd, service: Service, *, boost_told: bool) -> Mating:
    """The verdict that holds however the untold turns out; else the question."""
    boosts = (service.boost_pa_gauge,) if boost_told else (0.0, HIGH_BOOST_PA_GAUGE)
    found = [
        mate(
            a,
            b,
            medium=service.medium,
            boost_pa_gauge=boost,
            suction=service.suction,
            hottest_k=service.hottest_k,
            pressure_pa_gauge=service.pressure_pa_gauge,
        )
        for a, b, boost in product(_readings(first), _readings(second), boosts)
    ]
    step = starved(first.end, second.end, service)
    if step is not None and found[0].verdict in {"direct", "adapter"}:
        return step
    if len({mating.verdict for mating in found}) == 1:
        unsure = dict.fromkeys(_bead_wanted(told.end, service) for told in (first, second) if not told.holding_told)
        return replace(found[0], cautions=(*found[0].cautions, *unsure)) if found[0].verdict != "refuse" else found[0]
    pair = " and ".join(sorted((end_words(first.end), end_words(second.end))))
    for told in (first, second):
        if not told.holding_told:
            question = f"Has the {end_words(told.end)} a bead or a barb, or is it plain?"
            return ask("holding-unknown", f"{pair}: whether it holds hangs on the bead", question)
    limit = bar_words(LIMITS.bead_above_pa_gauge)
    question = f"How much boost will it see? A plain pipe end holds to {limit}; above that it needs a bead."
    return ask("boost-unknown", f"{pair}: whether it holds hangs on the boost", question)


def _readings(told: ToldEnd) -> tuple[End, ...]:
    """What an end may be: as told, or, where nobody said, with a bead and without."""
    if told.holding_told:
        return (told.end,)
    return (told.end.model_copy(update={"bead": True}), told.end)


def _bead_wanted(end: End, service: Service) -> Caution:
    off = "boost pushes a coupler off" if service.medium == "charge" else "a hose slips off"
    text = f"Nobody said whether the {end_words(end)} has a bead or a barb: without one {off}."
    return Caution("bead-not-told", text)
