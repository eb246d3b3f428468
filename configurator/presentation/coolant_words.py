"""The coolant of a kit in words: what it is, how warm it gets, and what it would not live to see."""

from __future__ import annotations

import math

from configurator.foundations.coolants import Coolant
from configurator.questions.answer import OfferedKit

_ZERO_C = 273.15


def celsius(kelvin: float) -> str:
    """A temperature in whole degrees Celsius."""
    return "none" if math.isnan(kelvin) else f"{kelvin - _ZERO_C:.0f} degC"


def coolant_words(kit: OfferedKit) -> str:
    """The hottest coolant, and how far it is from boiling under the kit's cap."""
    margin = kit.boil_margin_k
    boiling = f"{margin:.0f} K below boiling" if margin >= 0 else f"boiling, {-margin:.0f} K too hot"
    return f"{celsius(kit.thermal.coolant_worst_k)} ({boiling})"


def boils_first(kit: OfferedKit, coolant_k: float) -> str:
    """That the coolant would boil before a figure is reached; nothing where it stays liquid."""
    boils_k = kit.thermal.coolant_worst_k + kit.boil_margin_k
    return "" if coolant_k < boils_k else f"; the coolant would boil before that, at {celsius(boils_k)}"


def filling_words(coolant: Coolant | None) -> str:
    """What the loop is filled with."""
    if coolant is None or coolant.kind == "water":
        return "water"
    return f"{100 * coolant.glycol_by_volume:.0f} % {coolant.kind} by volume, the rest water"
