"""The coolant of a kit in words: what it is, how warm it gets, and what it would not live to see."""

from __future__ import annotations

import math

from configurator.foundations.coolants import Coolant
from configurator.foundations.units import celsius
from configurator.joining.words import celsius_words
from configurator.prediction.report import Thermal
from configurator.questions.answer import OfferedKit

ALIKE_K = 0.1
"""A drive's worst and its plateau that are this near are told as one."""



def plateau_told_k(thermal: Thermal) -> float:
    """The charge if the drive never ends, as it is told [K]: never under the drive's own worst by so little.

    The two take the coolant at means of their own, so a drive that all but reaches its plateau may be told over it.
    """
    worst_k, plateau_k = thermal.charge_out_worst_k, thermal.charge_out_plateau_k
    return worst_k if 0.0 < worst_k - plateau_k <= ALIKE_K else plateau_k


def celsius_kept(kelvin: float) -> str:
    """A limit that still keeps the aim, in whole degrees Celsius: rounded down, for above it the aim is missed."""
    return f"{math.floor(round(celsius(kelvin), 6))} degC"


def hottest_air_rows(air_k: float | None) -> tuple[tuple[str, str], ...]:
    """The row of the hottest air at which the aim is kept; none where there is no such figure."""
    return () if air_k is None else (("hottest air", f"{celsius_kept(air_k)}: the aim is then just met"),)


def coolant_words(kit: OfferedKit) -> str:
    """The hottest coolant, and how far it is from boiling under the kit's cap."""
    margin = kit.boil_margin_k
    boiling = f"{margin:.0f} K below boiling" if margin >= 0 else f"boiling, {-margin:.0f} K too hot"
    return f"{celsius_words(kit.thermal.coolant_worst_k)} ({boiling})"


def boils_first(kit: OfferedKit, coolant_k: float) -> str:
    """That the coolant would boil before a figure is reached; nothing where it stays liquid."""
    boils_k = kit.thermal.coolant_worst_k + kit.boil_margin_k
    return "" if coolant_k < boils_k else f"; the coolant would boil before that, at {celsius_words(boils_k)}"


def filling_words(coolant: Coolant | None) -> str:
    """What the loop is filled with."""
    if coolant is None or coolant.kind == "water":
        return "water"
    return f"{100 * coolant.glycol_by_volume:.0f} % {coolant.kind} by volume, the rest water"
