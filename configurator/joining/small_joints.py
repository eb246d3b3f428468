"""The joint that carries no flow of the loop: the cap on its reservoir."""

from __future__ import annotations

from itertools import product

from configurator.foundations.verdicts import Verdict
from configurator.joining.mating import mate
from configurator.joining.words import bar_words, bars_apart, end_words
from configurator.parts.ends import End
from configurator.parts.kinds import Cap, Reservoir


def cap_rules(reservoir: Reservoir, cap: Cap | None) -> tuple[Verdict, ...]:
    """Every rule between a reservoir and its cap, kept or broken.

    A filler neck is closed by a cap. A sealed loop needs one that opens before the reservoir gives way; a vented
    reservoir takes a vented one, or none where it has no neck; the cap's neck must be the reservoir's.
    """
    if cap is None:
        return (_has_relief(reservoir),)
    return (
        _same_neck(reservoir, cap),
        _vented_alike(reservoir, cap),
        _opens_in_time(reservoir, cap),
        has_air_space(reservoir),
    )


def has_air_space(reservoir: Reservoir) -> Verdict:
    """A reservoir under a cap needs air above its coolant, which grows by some 4 % when hot."""
    rule, share = "no-air-space", float(reservoir.air_space)
    if reservoir.vented or share > 0.0:
        return Verdict(rule, "kept", (reservoir.id,), share, 0.0)
    text = f"'{reservoir.id}' is sealed and has no air space: its coolant grows when hot and bursts it"
    return Verdict(rule, "broken", (reservoir.id,), share, 0.0, "", text)


def has_neck(reservoir: Reservoir) -> bool:
    """Whether a reservoir has a filler neck, on which a cap goes."""
    return bool(_necks(reservoir))


def goes_on(cap: Cap, reservoir: Reservoir) -> bool:
    """Whether a cap's mouth is that of the reservoir's filler neck."""
    return any(mate(*both, medium="coolant").verdict == "direct" for both in product(_necks(reservoir), _necks(cap)))


def _necks(part: Cap | Reservoir) -> list[End]:
    return [end for end in part.coolant.ends if end.form == "neck"]


def _has_relief(reservoir: Reservoir) -> Verdict:
    if has_neck(reservoir):
        kind = "a vented cap" if reservoir.vented else "a cap"
        text = f"'{reservoir.id}' has an open filler neck: hot coolant spills, it needs {kind}"
        return Verdict("open-neck", "broken", (reservoir.id,), end_words(_necks(reservoir)[0]), kind, "", text)
    rule = "sealed-without-cap"
    if reservoir.vented:
        return Verdict(rule, "kept", (reservoir.id,))
    text = f"'{reservoir.id}' is sealed and has no neck that a cap goes on: its hot coolant has nowhere to go"
    return Verdict(rule, "broken", (reservoir.id,), "no filler neck", "a cap", "", text)


def _same_neck(reservoir: Reservoir, cap: Cap) -> Verdict:
    rule, subjects = "ends-do-not-meet", (reservoir.id, cap.id)
    if goes_on(cap, reservoir):
        return Verdict(rule, "kept", subjects)
    found = ", ".join(end_words(end) for end in _necks(reservoir)) or "no filler neck"
    wanted = ", ".join(end_words(end) for end in _necks(cap)) or "no mouth"
    text = f"'{cap.id}' does not go on '{reservoir.id}': {found} against {wanted}"
    return Verdict(rule, "broken", subjects, found, wanted, "", text)


def _vented_alike(reservoir: Reservoir, cap: Cap) -> Verdict:
    rule, subjects, opens = "vented-under-pressure-cap", (reservoir.id, cap.id), float(cap.opens_pa_gauge)
    if not reservoir.vented or opens == 0.0:
        return Verdict(rule, "kept", subjects, opens, 0.0, "Pa")
    text = f"'{reservoir.id}' is vented: it takes a vented cap, not one of {bar_words(opens)}"
    return Verdict(rule, "broken", subjects, opens, 0.0, "Pa", text)


def _opens_in_time(reservoir: Reservoir, cap: Cap) -> Verdict:
    rule, subjects, opens = "cap-above-rating", (reservoir.id, cap.id), float(cap.opens_pa_gauge)
    rated = reservoir.coolant.rating.working_pa_gauge
    if reservoir.vented or opens == 0.0:
        return Verdict(rule, "kept", subjects, opens, 0.0, "Pa")
    if rated is None:
        text = f"'{reservoir.id}' states no pressure, so nobody knows whether the cap opens in time"
        return Verdict(rule, "not checked", subjects, opens, None, "Pa", text)
    if opens <= rated:
        return Verdict(rule, "kept", subjects, opens, rated, "Pa")
    told, good = bars_apart(opens, rated)
    text = f"the cap opens at {told}, '{reservoir.id}' is good for {good}"
    return Verdict(rule, "broken", subjects, opens, rated, "Pa", text)
