"""The counter's question: do these two ends go together, and if not, what has to be bought?"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import product
from typing import Final

from configurator.foundations.verdicts import Caution
from configurator.joining.mating import mate
from configurator.joining.mating_verdict import LIMITS, Mating, MatingMedium, ask
from configurator.joining.one_piece import Bridge, Service, cheapest_bridge, missing_piece, starved
from configurator.joining.words import bar_words, end_words
from configurator.parts.end_text import ToldEnd
from configurator.parts.ends import End
from configurator.parts.kinds import Adapter, Hose
from configurator.parts.shelf import Catalogue

CHARGE_FORMS: Final = frozenset({"coupler", "vband", "flange"})
HIGH_BOOST_PA_GAUGE: Final = 3e5
"""What stands for a boost that was not said, beside none at all [Pa gauge]."""


@dataclass(frozen=True)
class MateAnswer:
    """Two ends, what they serve, the verdict, and what joins them: a piece off the shelf or the one that is missing."""

    ends: tuple[End, End]
    service: Service
    medium_told: bool
    mating: Mating
    bridge: Bridge | None = None
    missing: str = ""


def mate_ends(
    first: ToldEnd,
    second: ToldEnd,
    shelf: Callable[[], Catalogue],
    *,
    medium: MatingMedium | None = None,
    boost_pa_gauge: float | None = None,
    suction: bool = False,
    hottest_k: float | None = None,
) -> MateAnswer:
    """Judge two ends as told, and look for what joins them; the shelf is only fetched where it is needed.

    `medium`: charge for couplers, V-bands, flanges and wherever a boost is told, else coolant. What is not told (a
    bead, the boost) is only asked for where the verdict hangs on it.
    """
    forms = {first.end.form, second.end.form}
    usual: MatingMedium = "charge" if forms & CHARGE_FORMS or boost_pa_gauge is not None else "coolant"
    service = Service(medium or usual, boost_pa_gauge or 0.0, suction, hottest_k)
    mating = _judge(first, second, service, boost_told=boost_pa_gauge is not None)
    ends = (first.end, second.end)
    if mating.verdict in {"direct", "ask"} or mating.remedy:
        return MateAnswer(ends, service, medium is not None, mating)
    a, b = (_readings(told)[0] for told in (first, second))
    catalogue = shelf()
    bridge = cheapest_bridge(a, b, catalogue.of(Adapter), catalogue.of(Hose), service)
    missing = "" if bridge is not None else missing_piece(a, b, service)
    return MateAnswer(ends, service, medium is not None, mating, bridge, missing)


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
        )
        for a, b, boost in product(_readings(first), _readings(second), boosts)
    ]
    step = starved(first.end, second.end, service)
    if step is not None and found[0].verdict in {"direct", "adapter"}:
        return step
    if len({mating.verdict for mating in found}) == 1:
        unsure = [_bead_wanted(told.end) for told in (first, second) if not told.holding_told]
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


def _bead_wanted(end: End) -> Caution:
    text = f"Nobody said whether the {end_words(end)} has a bead or a barb: without one a hose slips off."
    return Caution("bead-not-told", text)
