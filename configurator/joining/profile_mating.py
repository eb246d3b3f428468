"""Quick-connects, V-bands, flanges and filler necks: made to a maker's profile, or to a mouth."""

from __future__ import annotations

from configurator.foundations.verdicts import Caution
from configurator.joining.mating_verdict import Mating, MatingMedium, adapter, ask, refuse, ring_caution
from configurator.joining.words import bar_words, end_words
from configurator.parts.ends import End
from configurator.parts.kit import Need
from configurator.standards.forms import FORM_FACTS, RINGS

ONE_TUBE_M = 0.5e-3
"""Tubes are sold by inches and by the millimetre next to them: 3 in is 76.2 mm, and 76. Common practice, no source."""


def mate_profiles(a: End, b: End, medium: MatingMedium) -> Mating:
    """Judge two ends of one form that differ from maker to maker."""
    pair = f"{end_words(a)} and {end_words(b)}"
    if a.gender == b.gender != "none":
        return adapter("sexes-alike", f"{pair}: both ends are {a.gender}")
    if a.tube_m is not None and b.tube_m is not None and not _one_tube(a.tube_m, b.tube_m):
        return adapter("other-tube", f"{pair}: another tube")
    if a.form == "qc-fuel" and a.tube_m is not None and b.tube_m is not None:
        return _joined(a, b, medium)
    if a.profile_id is None or b.profile_id is None:
        question = "Who made each of the two, and which profile or form is it? Makers' shapes of one size differ."
        return ask("profile-unknown", f"{pair}: the profile of one is not said", question)
    if a.profile_id != b.profile_id:
        return _other_profile(a, pair)
    if a.gender != b.gender and "none" in (a.gender, b.gender):
        question = "Is each of the two the male or the female side?"
        return ask("sex-unknown", f"{pair}: the sex of one is not said", question)
    return _joined(a, b, medium)


def mate_necks(a: End, b: End) -> Mating:
    """Judge a cap and a filler neck."""
    pair = f"{end_words(a)} and {end_words(b)}"
    remedy = "take the cap that is made for the neck"
    if a.sex == b.sex:
        return adapter("sexes-alike", f"{pair}: both ends are {a.sex}", remedy)
    if a.identity[1] != b.identity[1]:
        return refuse("other-mouth", f"{pair}: another mouth", "hot coolant comes out past the cap", remedy)
    return Mating("direct", "own-kind", f"cap on its {end_words(a)}")


def _one_tube(one_m: float, other_m: float) -> bool:
    """Whether two nominal tubes [m] are one, named in inches and in whole millimetres."""
    return abs(one_m - other_m) <= ONE_TUBE_M + 1e-9


def _other_profile(a: End, pair: str) -> Mating:
    if a.form.startswith("qc-"):
        why = f"{pair}: makers' quick-connects of other forms latch badly or not at all"
        return refuse("other-profile", why, "pops off under pressure", "take both halves of one form")
    why = f"{pair}: other profiles, whose faces do not seat in each other"
    return refuse("other-profile", why, "leaks, and can blow off", "weld on two flanges of one profile")


def _joined(a: End, b: End, medium: MatingMedium) -> Mating:
    rubber, _ = RINGS[medium]
    profile = a.profile_id or b.profile_id or a.size
    ring = Need(f"O-ring or gasket for {profile}, {rubber}", None, 1, "piece")
    needs = {
        "vband": (Need(f"V-band clamp for {profile}", None, 1, "piece"), ring),
        "flange": (Need(f"bolt set for {profile}", None, 1, "set"), ring),
        "qc-coolant": (Need(f"seal and clip for {profile}", None, 1, "set"),),
        "qc-fuel": (Need(f"seal and clip for {profile}", None, 1, "set"),),
    }[a.form]
    limit = FORM_FACTS[a.form].working_pa_gauge
    cautions: tuple[Caution, ...] = (ring_caution(medium),) if ring in needs else ()
    if limit is not None:
        text = f"Coolant quick-connects are made for {bar_words(limit)} at most: this joint may limit the loop."
        cautions = (Caution("quick-connect-limit", text),)
    why = f"{end_words(a)} and {end_words(b)}: one profile"
    return Mating("direct", "own-kind", why, needs=needs, cautions=cautions)
