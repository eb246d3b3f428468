"""Water vapour in air: how much it holds, and where it begins to fall out."""

from __future__ import annotations

from typing import Final

from configurator.foundations.boiling import boiling_point_k, vapour_pressure_pa
from configurator.foundations.coolants import Coolant

VAPOUR_RATIO: Final = 0.621945
"""Molar mass of water over that of dry air; published: ASHRAE Fundamentals, chapter 1 (from memory)."""

_WATER: Final = Coolant("water", 0.0)


def saturation_pa(t_k: float) -> float:
    """Pressure of water vapour over liquid water [Pa] at `t_k` [K], 273.16 to 450 K.

    As of boiling water: published, IAPWS SR1-86; below freezing that of supercooled water, higher than over ice.
    """
    return vapour_pressure_pa(_WATER, t_k)


def dew_point_k(vapour_pa: float) -> float:
    """Temperature at which vapour of the partial pressure `vapour_pa` [Pa] begins to fall out [K]; no lower than 250 K.

    Range and source as of `saturation_pa`, which is turned round: what water boils at under that pressure.
    """
    return boiling_point_k(_WATER, vapour_pa)


def humidity_ratio(vapour_pa: float, pressure_pa: float) -> float:
    """Water per dry air [kg/kg] = 0.621945 pv / (p - pv).

    `vapour_pa` >= 0: partial pressure of the vapour, `pressure_pa`: of the moist air, above it [Pa absolute]. Ideal
    gases: 0.4 % low at 1 bar for want of the enhancement factor. Published: ASHRAE Fundamentals, chapter 1 (from
    memory).
    """
    return VAPOUR_RATIO * vapour_pa / (pressure_pa - vapour_pa)


def dew_point_at_pressure_k(air_k: float, humidity: float, air_pa: float, pressure_pa: float) -> float:
    """Dew point of outside air once it has been compressed [K]: the water per air stays, so pv2 = pv1 p2/p1.

    `air_k` [K], `humidity` [-] (0 to 1), `air_pa` [Pa absolute]: the outside air; `pressure_pa`: of the charge [Pa
    absolute]. Ideal gases: 0.04 to 0.1 K high up to 3 bar. Published: ASHRAE Fundamentals, chapter 1 (from memory).
    """
    return dew_point_k(humidity * saturation_pa(air_k) * pressure_pa / air_pa)


def water_shed_at_most(air_k: float, humidity: float, air_pa: float, pressure_pa: float, surface_k: float) -> float:
    """Water that compressed air can lose to a surface, per dry air [kg/kg]: all above what that surface saturates.

    As if every bit of the air cooled down to it; a real core leaves part of the air warmer and sheds less. Arguments
    as of `dew_point_at_pressure_k`; `surface_k`: the coldest surface [K]. Mass balance; published: ASHRAE
    Fundamentals, chapter 1 (from memory).
    """
    held = humidity_ratio(humidity * saturation_pa(air_k), air_pa)
    return max(held - humidity_ratio(saturation_pa(surface_k), pressure_pa), 0.0)
