"""The standard atmosphere below the tropopause."""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np

from configurator.foundations.air import R_AIR, SEA_LEVEL_PA, density
from configurator.foundations.numbers import Array, Numbers
from configurator.foundations.units import STANDARD_GRAVITY

_SEA_LEVEL_K: Final = 288.15
_LAPSE_K_PER_M: Final = 0.0065


class Atmosphere(NamedTuple):
    """Air at rest: `temperature_k` [K], `pressure_pa` [Pa absolute], `density` [kg/m³]; the shape of the altitude."""

    temperature_k: Array
    pressure_pa: Array
    density: Array


def standard_atmosphere(geopotential_m: Numbers) -> Atmosphere:
    """Temperature, pressure and density of the standard atmosphere.

    T = 288.15 - 0.0065 H; p = 101325 (T/288.15)^(g/(R L)); rho = p/(R T). `geopotential_m`: geopotential
    altitude H [m], -5000 to 11000; metres above the sea as a map gives them may be put in its place, 0.02 %
    of the pressure at 3000 m apart. Above 11000 m the atmosphere follows another law and the result is not
    vouched for. Published: ISO 2533:1975 (constants from memory, confirmed by an independent library in the
    tests).
    """
    t = _SEA_LEVEL_K - _LAPSE_K_PER_M * np.asarray(geopotential_m, dtype=np.float64)
    p = SEA_LEVEL_PA * (t / _SEA_LEVEL_K) ** (STANDARD_GRAVITY / (R_AIR * _LAPSE_K_PER_M))
    return Atmosphere(t, p, density(p, t))
