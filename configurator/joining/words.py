"""How joints speak of ends, pressures, temperatures and lengths to a customer."""

from __future__ import annotations

import math
from typing import Final

from configurator.foundations.units import celsius
from configurator.parts.ends import End
from configurator.standards.forms import FORM_FACTS, MEASURED_FORMS, PROFILED_FORMS, SEX_OF_FORM

BEAD_UNSAID: Final = "bead-not-told"
"""The cause of a spigot that nothing holds on, for it states neither bead nor barb."""

SAY_THE_BEAD: Final = (
    "where it has one, write 'bead: true' or 'barb: true' in its end; where it has none, have a bead rolled"
)
"""What mends a spigot that states neither bead nor barb."""

END_UNKNOWN: Final = "unknown-end"
"""The cause of an end of which nobody knows what it is."""

ASK_THE_CUSTOMER: Final = "Ask the customer:"
"""Before the question for what nobody knows of an end."""

MOST_DECIMALS: Final = 5
"""A pascal is the fifth decimal of a bar; two figures that are alike in all of them are as good as equal."""


def end_words(end: End) -> str:
    """An end in a customer's words: `O-ring boss -12 female`, `19 mm spigot`, `76 mm V-band flange 'a' male`."""
    words, length = FORM_FACTS[end.form].words, end.size_m if end.form in MEASURED_FORMS else end.tube_m
    if length is not None:
        words = f"{length * 1000:g} mm {words}"
    elif end.form != "unknown":
        words = f"{words} '{end.size}'" if end.form in PROFILED_FORMS else f"{words} {end.size}"
    if end.profile is not None:
        words += f" '{end.profile}'"
    return words if end.gender == "none" or end.form in SEX_OF_FORM else f"{words} {end.gender}"


def unheld_words(spigot: End, boost_pa_gauge: float | None = None) -> str:
    """Why no hose holds on a spigot that states no bead; with a boost, why no coupler does."""
    unsaid = f"nothing says that it has a bead or a barb: {SAY_THE_BEAD}"
    if boost_pa_gauge is None:
        return f"{end_words(spigot)}: no hose holds on it, for {unsaid}"
    return f"{end_words(spigot)}: at {bar_words(boost_pa_gauge)} of boost it needs a bead, and {unsaid}"


def bar_words(pressure_pa: float) -> str:
    """A pressure as everything here tells it: `1.95 bar`, from 10 bar on `17.2 bar`."""
    bar = pressure_pa / 1e5
    return f"{bar:.2f} bar" if round(bar, 2) < 10.0 else f"{bar:.1f} bar"


def bars_apart(one_pa: float, other_pa: float) -> tuple[str, str]:
    """Two pressures of which one is too low for the other: as `bar_words`, with decimals until they differ."""
    told = bar_words(one_pa), bar_words(other_pa)
    return told if told[0] != told[1] else told_apart(one_pa / 1e5, other_pa / 1e5, "bar", 3)


def told_apart(one: float, other: float, unit: str, decimals: int) -> tuple[str, str]:
    """Two figures of a unit with these decimals, or where they would be alike with as many as tell them apart."""
    shown = decimals_apart(one, other, decimals)
    return f"{one:,.{shown}f} {unit}".strip(), f"{other:,.{shown}f} {unit}".strip()


def decimals_apart(one: float, other: float, decimals: int) -> int:
    """How many decimals tell two figures apart, never fewer than these; these of two that are equal."""
    able = (more for more in range(decimals, MOST_DECIMALS + 1) if f"{one:.{more}f}" != f"{other:.{more}f}")
    return next(able, decimals)


def celsius_words(temperature_k: float) -> str:
    """A temperature as `125 degC`; `none` where there is no such temperature."""
    return "none" if math.isnan(temperature_k) else f"{celsius(temperature_k):.0f} degC"


def mm_words(length_m: float) -> str:
    """A length as `19 mm`."""
    return f"{length_m * 1000:.4g} mm"
