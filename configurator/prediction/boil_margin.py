"""How far a loop's coolant stays below its boiling point."""

from __future__ import annotations

from configurator.foundations.boiling import boiling_point_k
from configurator.prediction.conditions import Conditions


def boil_margin_k(conditions: Conditions, opens_pa_gauge: float, coolant_k: float) -> float:
    """Boiling point of the filled coolant less `coolant_k`, positive while it stays liquid; to 0.01 K [K].

    `opens_pa_gauge`: what the cap opens at, above the air of the site; 0 for a vented reservoir. `coolant_k`: the
    hottest coolant of the event, that of the warmest lump of the loop, reservoir and hoses included, at the stated
    figures. It is the bulk of the liquid: the wall of the core is hotter, which the margin asked for has to cover. So
    is a drive that lasts longer than the brief's. Behind the pump the pressure is higher than the cap's; that is left
    on the safe side.
    """
    boils_k = boiling_point_k(conditions.coolant, conditions.ambient_pa + opens_pa_gauge)
    return round(boils_k - coolant_k, 2)
