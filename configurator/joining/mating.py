"""May two ends be joined as they are, do they want an adapter, must they never be put together, or who knows?

Four verdicts, each excluding the others: `direct`; `adapter` (they would not be taken for a fit); `refuse`
(they go together and do not hold or seal, or the joint is wrong for what flows in it); `ask` (too little is known
of an end). The order of the two ends never matters. Thresholds: see `mating_verdict.LIMITS`.
"""

from __future__ import annotations

from typing import Final

from configurator.joining.mating_verdict import Mating, MatingMedium, adapter, ask, refuse
from configurator.joining.profile_mating import mate_necks, mate_profiles
from configurator.joining.sleeve_mating import mate_sleeve, mate_sleeve_and_thread
from configurator.joining.thread_mating import mate_threads
from configurator.joining.words import ASK_THE_CUSTOMER, bars_apart, celsius_words, end_words
from configurator.parts.ends import End
from configurator.standards.articles import with_article
from configurator.standards.forms import FORM_FACTS, FORMS, PROFILED_FORMS, RINGS, as_typed
from configurator.standards.threads import THREADS, threads_near

SLEEVES: Final = frozenset({"hose", "coupler"})
_ASK_OF_A_PIPE: Final = (
    "Measure the outside diameter and the bore, and look what it is: a plain pipe, one with a bead, a coupler, a "
    "V-band or a bolted flange?"
)
MEDIUM_WORDS: Final = {"coolant": "coolant", "charge": "charge air", "fuel": "fuel"}
WRONG_MEDIUM_HAZARDS: Final = {
    "hose": "swells and bursts",
    "coupler": "swells, softens and leaks",
    "neck": "leaks",
    "qc-coolant": "its seal swells and leaks",
    "qc-fuel": "its seal is of another rubber and its bore is small: it leaks and chokes the flow",
}
_FUEL_HOSE: Final = "take hose that is sold for fuel; it is not judged here, where hose is coolant hose"
WRONG_MEDIUM_REMEDIES: Final = {
    ("hose", "charge"): "take a charge coupler, which is written coupler:{size}",
    ("hose", "fuel"): _FUEL_HOSE,
    ("coupler", "coolant"): "take coolant hose, which is written hose:{size}",
    ("coupler", "fuel"): _FUEL_HOSE,
    ("neck", "charge"): "take another closure",
    ("neck", "fuel"): "take another closure",
    ("qc-coolant", "charge"): "take an end made for it",
    ("qc-coolant", "fuel"): "take an end made for it",
    ("qc-fuel", "charge"): "take an end made for it",
    ("qc-fuel", "coolant"): "take a coolant quick-connect, or a spigot and hose",
}


def mate(
    a: End,
    b: End,
    *,
    medium: MatingMedium,
    boost_pa_gauge: float = 0.0,
    suction: bool = False,
    hottest_k: float | None = None,
    pressure_pa_gauge: float = 0.0,
) -> Mating:
    """Judge two ends. mate(a, b) is mate(b, a).

    `boost_pa_gauge` [Pa gauge] matters to couplers alone; `suction`: before the pump, or after the throttle;
    `hottest_k` [K]: the hottest that flows there, None where nothing is said; `pressure_pa_gauge` [Pa gauge]: the most
    that a joint of coolant or fuel may see, against what its form is made for.
    """
    first, second = sorted((a, b), key=_rank)
    if second.form == "unknown" or first.form == "unknown":
        return _unknown(first if first.form == "unknown" else second, medium)
    unfit = _wrong_medium(first, second, medium) or _too_hot(first, second, medium, hottest_k)
    unfit = unfit or _too_weak(first, second, pressure_pa_gauge)
    if unfit is not None:
        return unfit
    forms = {first.form, second.form}
    if forms <= THREADS.keys():
        return mate_threads(first, second, medium)
    if len(forms & SLEEVES) == 1 and len(forms) == 2:
        sleeve, other = (first, second) if first.form in SLEEVES else (second, first)
        if other.form == "spigot":
            return mate_sleeve(sleeve, other, boost_pa_gauge, suction=suction, hottest_k=hottest_k)
        if other.form in THREADS:
            return mate_sleeve_and_thread(sleeve, other)
    if len(forms) == 1 and first.form in PROFILED_FORMS:
        return mate_profiles(first, second, medium)
    if forms == {"neck"}:
        return mate_necks(first, second)
    why = "do not go into each other" if len(forms) == 1 else "are made for different joints"
    return adapter("strangers", f"{end_words(first)} and {end_words(second)} {why}")


def _rank(end: End) -> tuple[object, ...]:
    """A fixed order of ends: males before females, so that every sentence names the entering end first."""
    return (FORMS.index(end.form) + (100 if end.gender == "female" else 0), *end.identity[1:])


def _unknown(end: End, medium: MatingMedium) -> Mating:
    why = "nobody knows what one of the ends is"
    if medium == "charge":
        return ask("unknown-end", why, _ASK_OF_A_PIPE)
    question = "Measure the outside diameter and the pitch, and look where it seals: cone, O-ring, flat face or none?"
    if end.tube_m is not None:
        near = threads_near(end.tube_m * 1000)
        question += f" About {end.tube_m * 1000:g} mm may be {', '.join(near)}." if near else ""
    return ask("unknown-end", why, question)


def not_known(a: End, b: End, medium: MatingMedium) -> str:
    """That two ends cannot be judged where nobody knows what one of them is, and what to ask; else nothing."""
    unknown = next((end for end in (a, b) if end.form == "unknown"), None)
    if unknown is None:
        return ""
    return f"{end_words(unknown)} cannot be judged. {ASK_THE_CUSTOMER} {_unknown(unknown, medium).question}"


def _wrong_medium(a: End, b: End, medium: MatingMedium) -> Mating | None:
    for end in (a, b):
        if medium not in FORM_FACTS[end.form].media:
            words = with_article("coolant hose" if end.form == "hose" else FORM_FACTS[end.form].words)
            why = f"{end_words(a)} and {end_words(b)}: {words} is not made for {MEDIUM_WORDS[medium]}"
            remedy = WRONG_MEDIUM_REMEDIES[end.form, medium].format(size=as_typed(end.size))
            return refuse("wrong-medium", why, WRONG_MEDIUM_HAZARDS[end.form], remedy)
    return None


def _too_weak(a: End, b: End, pressure_pa_gauge: float) -> Mating | None:
    """A form that is made for less than the joint may see."""
    for end in (a, b):
        limit = FORM_FACTS[end.form].working_pa_gauge
        if limit is not None and pressure_pa_gauge > limit:
            most, sees = bars_apart(limit, pressure_pa_gauge)
            made_for = f"{with_article(FORM_FACTS[end.form].words)} is made for {most} at most"
            why = f"{end_words(a)} and {end_words(b)}: {made_for}, the joint may see {sees}"
            return refuse("rating-below-pressure", why, "it leaks or comes apart", "take a threaded or clamped joint")
    return None


def _too_hot(a: End, b: End, medium: MatingMedium, hottest_k: float | None) -> Mating | None:
    if hottest_k is None:
        return None
    for end in (a, b):
        facts = FORM_FACTS[end.form]
        rubber, ring_k = RINGS[medium]
        limit, what = facts.hottest_k, facts.words
        if facts.ring and (limit is None or ring_k < limit):
            limit, what = ring_k, f"{rubber} ring of {with_article(facts.words)}"
        if limit is not None and hottest_k > limit:
            why = (
                f"{end_words(a)} and {end_words(b)}: the {what} stands {celsius_words(limit)}, "
                f"there it is {celsius_words(hottest_k)}"
            )
            remedy = "take a metal-to-metal joint, or a cooler place"
            return refuse("too-hot", why, "the rubber hardens and leaks", remedy)
    return None
