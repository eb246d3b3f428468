"""The charger: its pressure ratio at altitude and the temperature of the charge behind it.

Definitions of pressure ratio and isentropic efficiency; published in any textbook of thermodynamics.
"""

from __future__ import annotations

import numpy as np

from configurator.foundations.numbers import Array, Numbers


def outlet_temperature(
    inlet_k: Numbers, pressure_ratio: Numbers, efficiency: Numbers, gamma: Numbers = 1.4
) -> Array:
    """Total temperature behind a compressor [K]: T2 = T1 (1 + (PR^((gamma - 1)/gamma) - 1)/eta).

    `inlet_k`: total temperature at its inlet [K]; `pressure_ratio`: total pressure behind over before [-], >=
    1; `efficiency`: isentropic, total to total [-], above 0 to 1; `gamma`: ratio of specific heats [-]. They
    broadcast together. One constant gamma reads high: 1.4 by up to 0.4 % of T2 while that is below 500 K and
    the ratio at most 3, by 0.6 % to 525 K, by 1.2 % at ratios of 8 to 10. Published: Cengel & Boles,
    Thermodynamics, ch. 7 (from memory).
    """
    ratio, g = np.asarray(pressure_ratio, dtype=np.float64), np.asarray(gamma, dtype=np.float64)
    isentropic_rise = ratio ** ((g - 1.0) / g) - 1.0
    return np.asarray(np.asarray(inlet_k) * (1.0 + isentropic_rise / np.asarray(efficiency)))


def pressure_ratio(
    ambient_pa: Numbers, boost_pa_gauge: Numbers, loss_after_pa: Numbers, inlet_loss_pa: Numbers
) -> Array:
    """Pressure ratio the charger works at [-]: (ambient + boost + loss after it)/(ambient - loss before it).

    `ambient_pa`: air around the car [Pa absolute]; `boost_pa_gauge`: pressure where it is held [Pa gauge], at the
    throttle, behind the core; `loss_after_pa`: what core, couplers and pipes lose between charger and that
    place (0 for a charger that holds boost at its own outlet); `inlet_loss_pa`: what filter and inlet pipe
    lose [Pa], >= 0 and less than ambient. They broadcast together. The same boost is a larger ratio at altitude.
    """
    ambient = np.asarray(ambient_pa, dtype=np.float64)
    behind = ambient + np.asarray(boost_pa_gauge) + np.asarray(loss_after_pa)
    return np.asarray(behind / (ambient - np.asarray(inlet_loss_pa)))


def density_ratio(before_pa: Numbers, before_k: Numbers, after_pa: Numbers, after_k: Numbers) -> Array:
    """Density of a gas after a change over that before it [-]: rho2/rho1 = (p2/p1)(T1/T2).

    `before_pa`, `after_pa`: its pressure [Pa absolute], above 0; `before_k`, `after_k`: its temperature [K], above 0.
    They broadcast together. Ideal gas: published in any textbook of thermodynamics.
    """
    pressure = np.asarray(after_pa, dtype=np.float64) / np.asarray(before_pa)
    return np.asarray(pressure * np.asarray(before_k) / np.asarray(after_k))
