"""The counter's question: do these two ends go together, and if not, what has to be bought?"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import product
from typing import Final

from configurator.foundations.verdicts import Caution
from configurator.joining.charge_joint import ARRIVES_ASSUMED_K
from configurator.joining.mating import SLEEVES, mate
from configurator.joining.mating_verdict import LIMITS, Mating, MatingMedium, ask
from configurator.joining.one_piece import Bridge, Service, cheapest_bridge, starved
from configurator.joining.refused_pieces import demands, sleeves_that_serve, what_is_missing
from configurator.joining.words import bar_words, end_words, mm_words
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

    `heat_told`: whether the hottest of the service was told and not assumed. `refused`: which pieces of the shelf fit
    and do not stand the service.
    """

    ends: tuple[End, End]
    service: Service
    medium_told: bool
    heat_told: bool
    mating: Mating
    bridge: Bridge | None = None
    missing: str = ""
    refused: str = ""

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """What must be said of the ends, and of what is bought to join them."""
        bought = () if self.bridge is None else self.bridge.cautions
        return tuple(dict.fromkeys((*self.mating.cautions, *bought)))


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
    `hottest_k`: of charge that which is on its way to a core, where it is not told.
    """
    forms = {first.end.form, second.end.form}
    usual: MatingMedium = "charge" if forms & CHARGE_FORMS or boost_pa_gauge is not None else "coolant"
    medium_told, heat_told, medium = medium is not None, hottest_k is not None, medium or usual
    hottest_k = ARRIVES_ASSUMED_K if medium == "charge" and hottest_k is None else hottest_k
    service = Service(medium, boost_pa_gauge or 0.0, suction, hottest_k, pressure_pa_gauge or 0.0)
    mating = _judge(first, second, service, boost_told=boost_pa_gauge is not None)
    ends = (first.end, second.end)
    asked = service.design_pa_gauge or heat_told or suction
    if mating.verdict in {"direct", "adapter"} and forms & SLEEVES and asked:
        ratings = dict.fromkeys(caution for end in ends for caution in _ratings(end, shelf(), service))
        mating = replace(mating, cautions=(*mating.cautions, *ratings))
    if mating.verdict in {"direct", "ask"} or mating.remedy:
        return MateAnswer(ends, service, medium_told, heat_told, mating)
    a, b = (_readings(told)[0] for told in (first, second))
    catalogue = shelf()
    pieces = catalogue.of(Adapter), catalogue.of(Hose)
    bridge = cheapest_bridge(a, b, *pieces, service)
    missing, refused = ("", "") if bridge is not None else what_is_missing(a, b, *pieces, service)
    return MateAnswer(ends, service, medium_told, heat_told, mating, bridge, missing, refused)


def _ratings(sleeve: End, catalogue: Catalogue, service: Service) -> Iterator[Caution]:
    """What a hose or coupler at hand must stand, where not every one of its size on the shelf does."""
    if sleeve.form not in SLEEVES:
        return
    wide = sleeve.form == "hose" and (sleeve.size_m or 0.0) > LIMITS.unwired_suction_m
    wanted = " and ".join(demands(service, wide=wide))
    serving, of_size = sleeves_that_serve(sleeve, (*catalogue.of(Hose), *catalogue.of(Adapter)), service)
    if not wanted or (of_size and len(serving) == of_size):
        return
    size = mm_words(sleeve.size_m or 0.0)
    named = ", ".join(serving[:MOST_NAMED]) + (" and more" if len(serving) > MOST_NAMED else "")
    some = f"{len(serving)} of the {of_size} of {size} on the shelf {'do' if len(serving) > 1 else 'does'}: {named}"
    why = " (boost and a quarter of it, at least 0.3 bar more)" if service.boost_pa_gauge else ""
    text = f"Take a {sleeve.form} that {wanted}{why}: {some if serving else f'none of {size} on the shelf does'}."
    yield Caution("hose-rating", text) if sleeve.form == "hose" else Caution("coupler-rating", text)


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
