"""Cautions: warnings that every answer carries where they apply. No flag hides one.

Those of coolant, ice and failures are worded beside this; a test holds the list of their codes.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from configurator.foundations.units import ZERO_CELSIUS_K
from configurator.foundations.verdicts import Caution
from configurator.joining.mating_verdict import UNWIRED_MOST
from configurator.joining.ratings import boost_under_design_pa_gauge
from configurator.joining.words import bar_words, celsius_words
from configurator.prediction.conditions import DISAGREEMENT
from configurator.reasons.coolant_cautions import INHIBITOR
from configurator.reasons.thresholds import (
    LEAST_AIR_SPACE,
    LEAST_BOIL_MARGIN_K,
    LEAST_MARGIN,
    LITTLE_ROOM_MM,
    MOST_AIR_RISE_K,
    MOST_APART,
)

MOST_UNPRICED = 4
"""So many parts without a price are named, of more how many they are."""

SCALD = Caution("hot-coolant", "Open the cap only when the loop is cold: hot coolant under pressure scalds.")
WARMS_RADIATOR = Caution(
    "warms-radiator",
    f"Air leaves the front exchanger more than {MOST_AIR_RISE_K:g} K warmer at the worst moment: an engine's "
    "radiator behind it cools less over the face that it stands in. Watch the engine's temperature under load, or set "
    "the two side by side.",
)
LEAK_TEST = Caution(
    "leak-test",
    "Leak-test both sides of the core before the first start: air under pressure stores energy, so keep it low, use "
    "a regulator and a relief valve, restrain the ends, and let nobody stand in line with them.",
)
LEAK_INTO_ENGINE = Caution(
    "leak-into-engine",
    "A core that leaks lets coolant into the engine, not onto the floor: watch the level and fit an alarm.",
)
STARTS_BY_ITSELF = Caution(
    "starts-by-itself", "Pump and fans, the car's own too, may start by themselves: keep hands and sleeves clear."
)
FUSED_WIRE = Caution(
    "fused-wire", "Fuse the pump's wire close to the battery: an unfused wire can burn the car."
)
HOT_EXHAUST = Caution("hot-exhaust", "Keep hoses well off exhaust and turbine, or shield and sleeve them.")
NO_LICENCE = Caution(
    "no-more-boost", "Cooler charge is no licence for more boost or timing; that is the tuner's call."
)
STRUCTURE = Caution(
    "structure",
    "Leave crash beams, airbag sensors, radar brackets and pedestrian zones untouched; local modification codes and "
    "licensed practice decide.",
)
OUTLET_BULK = Caution(
    "where-measured",
    "Charge temperatures are bulk values at the core's outlet; a sensor further on, or soaked with heat, reads apart.",
)
UNPROVEN = Caution(
    "unproven", "At least one part of this kit states no pressure rating: whether it holds is unproven."
)
TIGHT = Caution(
    "tight", "TIGHT: less room is left than the tape measure is sure of; measure again before ordering."
)
LITTLE_ROOM = Caution(
    "little-room",
    f"Less than {LITTLE_ROOM_MM:g} mm of room is left, and the brief does not say how sure its measures are: "
    "measure again before ordering, and state `tolerance` in the bay.",
)
BOXES = Caution(
    "placed-as-boxes",
    "Parts, gaps and what stands in them are boxes here, hose bends and room for a hand are reckoned: hold the parts "
    "against the car before you drill.",
)
ALONE_ONLY = Caution(
    "alone-only",
    "Each part was tried alone in the gap: room for hoses before its ends, and for the other parts, is judged with a "
    "whole kit.",
)


def look_alike(part: str, place: str, why: str, hazard: str) -> Caution:
    """A piece in the kit that seems to fit an end that it must not go on."""
    told = f"{why}: {hazard}" if hazard else why
    return Caution("look-alike", f"{part} seems to fit {place} and must not go there: {told}.")


def thin_margin(side: str, part: str, place: str, margin: float, *, capped: bool) -> Caution:
    """The weakest member of a side holds little more than it may see, or less; a lower cap eases a capped coolant side.
    """
    way_out = "A lower cap or a stronger part" if side == "coolant" and capped else "A stronger part"
    state, helps = ("is too weak", "there is needed") if margin < 1.0 else ("has little to spare", "there helps")
    return Caution(
        "thin-margin",
        f"The {side} side {state}: {part} ({place}) holds {margin:.2f} times what it may see; "
        f"{LEAST_MARGIN:g} times is usual. {way_out} {helps}.",
    )


def at_joints(caution: Caution, places: Sequence[str]) -> Caution:
    """A caution of a pair of ends, with the joints of a kit that it belongs to."""
    return Caution(caution.code, f"{caution.text} Here: {', '.join(places)}.")


def kept_off_suction(part: str) -> Caution:
    """A hose that is at hand and must not lie before the pump."""
    return Caution(
        "suction-hose",
        f"{part} is neither wired nor rated for vacuum: over {UNWIRED_MOST} it must not lie from reservoir to pump.",
    )


def boil_margin(margin_k: float) -> Caution:
    """The hottest coolant is near its boiling point, or above it [K]."""
    if margin_k < 0:
        found = f"The coolant boils: at its hottest it is {-margin_k:.0f} K above its boiling point under this cap"
    else:
        found = f"The hottest coolant is only {margin_k:.0f} K below its boiling point under this cap"
    return Caution(
        "boil-margin",
        f"{found}; {LEAST_BOIL_MARGIN_K:g} K is usual, for the core's wall is hotter than the liquid. More glycol, a "
        "cooler loop or a cap that opens later, where every part holds its pressure, helps.",
    )


def condensate(dew_point_k: float, coolant_k: float, most_kg_per_s: float, shed_kg: float) -> Caution:
    """Coolant that starts below the dew point of the charge [K], and what falls out: at first at most, and in all."""
    frost = " What it leaves below 0 degC is frost in the fins, which melts once they are warm."
    shed = f"{grams(shed_kg)} is looked for in this drive.{frost if coolant_k < ZERO_CELSIUS_K else ''}"
    return Caution(
        "condensate",
        f"Under boost this day's air sheds water on anything colder than {celsius_words(dew_point_k)}, and the "
        f"coolant starts at {celsius_words(coolant_k)}: until it is warmer, water can gather in the core, at most "
        f"{1000 * most_kg_per_s:.1f} g in a second of full power. The hot charge keeps the core's surface warmer than "
        f"the coolant, so that {shed} Give the charge side a drain at its lowest point and drain it before a run.",
    )


def grams(kg: float) -> str:
    """A small mass in words."""
    return f"about {1000 * kg:.0f} g" if kg >= 0.001 else "less than 1 g"


def air_space(share: float) -> Caution:
    """The reservoir has little air for the coolant to grow into; `share` of what the loop holds."""
    few, usual = math.floor(100 * share) + 1, f"{100 * LEAST_AIR_SPACE:g} %"
    nearly = few >= 100 * LEAST_AIR_SPACE
    share_words = "a little less coolant than is" if nearly else f"less than {few} % of the loop's coolant, {usual} is"
    return Caution(
        "air-space",
        f"The reservoir has air for {share_words} usual: "
        "coolant grows when hot and leaves by the cap where it finds no room. Leave more air when filling, or take a "
        "larger reservoir.",
    )


def vacuum_fill(slots: Sequence[str]) -> Caution:
    """Places where air gathers and that have no bleed of their own."""
    return Caution(
        "vacuum-fill",
        f"Air gathers at the top of the {' and the '.join(slots)}, without a bleed port: put a bleed tee there, or "
        "fill the loop under vacuum; trapped air stops the flow.",
    )


def reservoir_below(slots: Sequence[str]) -> Caution:
    """Places above the reservoir: no bleed line rises from them to it."""
    return Caution(
        "reservoir-below",
        f"The {' and the '.join(slots)} stand{'s' if len(slots) == 1 else ''} higher than the reservoir: air cannot "
        "rise to it. Fill the loop under vacuum or through a fill tower at the highest place, sealed before the pump "
        "runs, and bleed it there, or mount the reservoir higher.",
    )


def pump_not_lowest(slot: str) -> Caution:
    """Another part of the loop sits lower than its pump."""
    return Caution(
        "pump-not-lowest",
        f"The {slot} sits lower than the pump: the pump is hard to fill and may run dry first. Mount it lower if the "
        "car allows.",
    )


def drains_back(slots: Sequence[str]) -> Caution:
    """Places above a vented reservoir: the loop runs back into it."""
    return Caution(
        "drains-back",
        f"The reservoir is vented and the {' and the '.join(slots)} stand{'s' if len(slots) == 1 else ''} higher: the "
        "loop drains back when the pump stops, and the reservoir overflows unless it has room for that.",
    )


def route_longer(runs: Sequence[tuple[str, float, float]]) -> Caution:
    """Hoses whose way is more than a quarter longer than heat and flow took: name, way and run [m]."""
    return Caution(
        "route-longer",
        f"Routed along the axes, hose is more than {100 * MOST_APART:g} % longer than heat and flow were computed "
        f"with: {_apart(runs)}. Less coolant will flow: measure the run, write it under `runs` and ask again, or use "
        "an elbow.",
    )


def route_shorter(runs: Sequence[tuple[str, float, float]]) -> Caution:
    """Hoses whose way is more than a quarter shorter than heat and flow took: name, way and run [m]."""
    return Caution(
        "route-shorter",
        f"Routed along the axes, hose is more than {100 * MOST_APART:g} % shorter than heat and flow were computed "
        f"with: {_apart(runs)}. Measure the run before cutting hose; write it under `runs` for closer figures.",
    )


def _apart(runs: Sequence[tuple[str, float, float]]) -> str:
    return ", ".join(f"{name} {way:.2f} m instead of {run:.2f} m" for name, way, run in runs)


def no_route(names: Sequence[str]) -> Caution:
    """Hoses for which no way along the axes with their bend was found."""
    return Caution(
        "no-route",
        f"No way along the axes leaves room for the bends of the hose from {' or from '.join(names)}: try it with a "
        "piece of hose before ordering; an elbow, another turn of a part or more room may be needed.",
    )


def thrust(place: str, newton: float) -> Caution:
    """A charge joint that boost pushes apart with much force [N]."""
    return Caution(
        "thrust",
        f"Boost pushes apart the joint {place}, with {newton:.0f} N: hold the pipes to the engine or the body, "
        "beads and clamps alone do not carry that for long.",
    )


def leak_direction(coolant_pa_gauge: float, charge_pa_gauge: float, *, drains: bool = False) -> Caution:
    """Which side of the core is higher, at idle and at boost with its overshoot [Pa gauge].

    `drains`: whether the coolant of the standing car lies lower than a crack of its core, under no cap.
    """
    coolant, charge = bar_words(coolant_pa_gauge), bar_words(charge_pa_gauge)
    if coolant_pa_gauge > boost_under_design_pa_gauge(charge_pa_gauge):
        boost = "and may at full boost"
    else:
        boost = "at full boost the charge pushes into the coolant and throws it out of the cap"
    return Caution(
        "leak-direction",
        f"Coolant may see {coolant}, the charge 0 bar or less at idle and {charge} at full boost: a "
        f"core that leaks fills the engine with coolant at idle{'' if drains else ' and standing'}, {boost}. Leak-test "
        "the core before the first start.",
    )


def power_and_boost_disagree(from_power: float, from_displacement: float) -> Caution:
    """Air flow from power and from displacement differ by more than 15 % [kg/s each]."""
    return Caution(
        "power-boost-disagree",
        f"Power asks for {from_power:.3f} kg/s of air, displacement, revs and boost for {from_displacement:.3f} kg/s: "
        f"they differ by more than {100 * DISAGREEMENT:g} %. Check power (crank or wheel?), boost (gauge?) and "
        "displacement.",
    )


ALWAYS = (
    SCALD,
    LEAK_TEST,
    LEAK_INTO_ENGINE,
    STARTS_BY_ITSELF,
    FUSED_WIRE,
    HOT_EXHAUST,
    NO_LICENCE,
    STRUCTURE,
    INHIBITOR,
)
"""What every kit carries."""


def impossible_figure(name: str, text: str) -> Caution:
    """A part that states what no part can have."""
    return Caution("impossible-figure", f"{name} cannot be as it is stated: {text}. Read its sheet again.")


def no_price(names: Sequence[str]) -> Caution:
    """Parts to be bought that the shelf has at 0: the sum is without them."""
    few = [*names[:MOST_UNPRICED], *([f"{len(names) - MOST_UNPRICED} more"] if len(names) > MOST_UNPRICED else [])]
    listed = " and ".join(filter(None, (", ".join(few[:-1]), few[-1])))
    return Caution(
        "no-price", f"The price lacks that of {listed}: the shelf has no price there (0). Ask for it before you order."
    )
