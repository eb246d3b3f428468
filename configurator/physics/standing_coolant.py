"""Coolant that stands in a core while the charge goes on heating it: one lump of metal and liquid.

Energy balance of one lump; published in any textbook of heat transfer (Incropera & DeWitt, ch. 5, from memory).
"""

from __future__ import annotations

import math

import numpy as np

from configurator.foundations.numbers import Array, Numbers


def standing_conductance(ua: Numbers, charge_rate: Numbers) -> Array:
    """Heat per kelvin from a stream into a body of one temperature, G = C (1 - exp(-UA/C)) [W/K].

    `ua` [W/K], >= 0: of the stream's side and the wall alone, for the body behind it has one temperature. `charge_rate`
    C [W/K], > 0: mass flow × specific heat of the stream. They broadcast together. Every arrangement of flows has this
    limit where the other stream's capacity rate is endless (published: Kays & London, ch. 2, from memory).
    """
    rate = np.asarray(charge_rate, dtype=np.float64)
    return np.asarray(-rate * np.expm1(-np.asarray(ua, dtype=np.float64) / rate))


def seconds_to_reach(
    capacity: float, conductance: float, driver_k: float, start_k: float, limit_k: float
) -> float | None:
    """When a lump that a steady driver warms reaches a limit, t = (C/G) ln((T_d - T_0)/(T_d - T_l)) [s].

    `capacity` C [J/K] and `conductance` G [W/K], > 0. Temperatures: `driver_k` of the driver, `start_k` of the lump at
    the start, `limit_k` that it is to reach [K]. 0 where the start is there already; None where the driver is not
    hotter than the limit: it is never reached. For a driver far above both, t -> C (T_l - T_0) / Q, where Q = G (T_d -
    T_0).
    """
    if start_k >= limit_k:
        return 0.0
    if driver_k <= limit_k:
        return None
    return capacity / conductance * math.log1p((limit_k - start_k) / (driver_k - limit_k))
