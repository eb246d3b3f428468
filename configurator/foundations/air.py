"""Dry air as charge and as cooling air: plain functions of temperature, scalars or arrays alike."""

from __future__ import annotations

from typing import Final

import numpy as np

from configurator.foundations.numbers import Array, Numbers

R_AIR: Final = 287.05287
"""Specific gas constant of dry air [J/(kg K)]; published: ISO 2533:1975, table 1 (from memory)."""

SEA_LEVEL_PA: Final = 101325.0
"""Pressure of the standard atmosphere at sea level [Pa]; published: ISO 2533:1975, table 1 (from memory)."""


def specific_heat(t_k: Numbers) -> Array:
    """Specific heat of air at constant pressure [J/(kg K)], shape of `t_k`.

    cp = 1052.338 - 34.2950 x + 7.27286 x² - 0.258784 x³, x = T / 100 K. `t_k`: temperature [K].
    Fitted to the mean of 1 and 3 bar of the published reference equation of Lemmon et al. (2000) as CoolProp
    computes it: within 0.3 % of it at either pressure, 250 to 500 K. Outside, the polynomial goes on and is not
    vouched for.
    """
    x = np.asarray(t_k, dtype=np.float64) / 100.0
    return 1052.338 + x * (-34.2950 + x * (7.27286 - 0.258784 * x))


def viscosity(t_k: Numbers) -> Array:
    """Dynamic viscosity of air [Pa s], shape of `t_k`.

    Sutherland: mu = 1.716e-5 (T/273.15)^1.5 (273.15 + 110.4) / (T + 110.4). `t_k`: temperature [K], 240 to
    520 K, within 2 %. Published: White, Viscous Fluid Flow, table of Sutherland constants (from memory).
    """
    t = np.asarray(t_k, dtype=np.float64)
    return 1.716e-5 * (t / 273.15) ** 1.5 * (273.15 + 110.4) / (t + 110.4)


def conductivity(t_k: Numbers) -> Array:
    """Thermal conductivity of air [W/(m K)], shape of `t_k`.

    Sutherland's form: k = 0.0241 (T/273.15)^1.5 (273.15 + 194) / (T + 194). `t_k`: temperature [K], 240 to
    520 K, within 2 %. Published: White, Viscous Fluid Flow, table of Sutherland constants (from memory).
    """
    t = np.asarray(t_k, dtype=np.float64)
    return 0.0241 * (t / 273.15) ** 1.5 * (273.15 + 194.0) / (t + 194.0)


def prandtl(t_k: Numbers) -> Array:
    """Prandtl number of air [-], cp mu / k, shape of `t_k` [K]; range and sources as of `specific_heat`,
    `viscosity` and `conductivity`."""
    return specific_heat(t_k) * viscosity(t_k) / conductivity(t_k)


def density(p_pa: Numbers, t_k: Numbers) -> Array:
    """Density of dry air [kg/m³] = p / (R T), the shape of `p_pa` [Pa absolute] and `t_k` [K] broadcast
    together.

    Ideal gas, by definition: within 0.2 % of the real one up to 4 bar between 250 and 500 K.
    """
    return np.asarray(p_pa, dtype=np.float64) / (R_AIR * np.asarray(t_k, dtype=np.float64))
