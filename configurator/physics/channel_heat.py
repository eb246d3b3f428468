"""Heat transfer inside coolant channels: developing laminar flow, turbulent flow, and the blend between
them.

The correlations are published, each with its source; the straight-line blend is common practice.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from configurator.foundations.numbers import Array, Numbers
from configurator.physics.pipe_flow import LAMINAR_TO, TURBULENT_FROM

_JOIN: Final = 3.3  # exponent that keeps the joined curve within 3.4 % of the tabulated mean of parallel plates


def laminar_friction_constant(aspect: Numbers) -> Array:
    """Friction factor (Darcy) times Reynolds number of developed laminar flow [-]: 64 round, 57 to 96
    rectangular.

    96 (1 - 1.3553 a + 1.9467 a² - 1.7012 a³ + 0.9564 a⁴ - 0.2537 a⁵). `aspect` a: smaller over larger side
    [-], above 0, below 1; exactly 1 stands for a round tube. Any shape. Published: Shah & London, Laminar
    Flow Forced Convection in Ducts, 1978 (from memory).
    """
    a = np.asarray(aspect, dtype=np.float64)
    flat = 1.0 + a * (-1.3553 + a * (1.9467 + a * (-1.7012 + a * (0.9564 - 0.2537 * a))))
    return np.where(a == 1.0, 64.0, 96.0 * flat)


def nusselt(re: Numbers, pr: Numbers, diameter_over_length: Numbers, aspect: Numbers) -> Array:
    """Mean Nusselt number of a channel on its hydraulic diameter [-]; heat transfer coefficient = Nu k / D.

    `re`, `pr`: Reynolds (on the hydraulic diameter) and Prandtl number [-]; `diameter_over_length`: hydraulic
    diameter over the length on which the flow develops [-]; `aspect`: smaller over larger side [-], exactly 1
    for a round tube, else 0 to 1. The four broadcast together. Range: Re from 0 up. Laminar to Re 2300
    (`nusselt_laminar`), turbulent from 4000 (`nusselt_turbulent`), a straight line between the two edge values, so that
    heat is continuous in the flow.
    """
    r = np.asarray(re, dtype=np.float64)
    laminar = nusselt_laminar(np.minimum(r, LAMINAR_TO), pr, diameter_over_length, aspect)
    turbulent = nusselt_turbulent(np.maximum(r, TURBULENT_FROM), pr)
    share = np.clip((r - LAMINAR_TO) / (TURBULENT_FROM - LAMINAR_TO), 0.0, 1.0)
    return np.asarray((1.0 - share) * laminar + share * turbulent)


def nusselt_laminar(re: Numbers, pr: Numbers, diameter_over_length: Numbers, aspect: Numbers) -> Array:
    """Mean Nusselt number of thermally developing laminar flow [-], arguments as of `nusselt`, Re 0 to 2300.

    Gz = Re Pr D/L. Round: 3.66 + 0.0668 Gz / (1 + 0.04 Gz^(2/3)) (Hausen 1943, even wall temperature). Flat
    and rectangular: the developed value 8.235 (1 - 2.0421 a + 3.0853 a² - 2.4765 a³ + 1.0578 a⁴ - 0.1861 a⁵)
    and the entry value 2.236 (f Re / 96)^(1/3) Gz^(1/3), joined as (x^n + y^n)^(1/n) with n = 3.3 (Shah &
    London 1978; the way of joining is Churchill & Usagi 1972; from memory). Even heat flux: along a coolant
    channel the air outside enters everywhere at one temperature and the coolant's own rise is the smaller
    one.
    """
    gz, a = np.broadcast_arrays(
        np.asarray(re, dtype=np.float64) * pr * diameter_over_length, np.asarray(aspect, dtype=np.float64)
    )
    hausen = 3.66 + 0.0668 * gz / (1.0 + 0.04 * np.cbrt(gz) ** 2)
    developed = 1.0 + a * (-2.0421 + a * (3.0853 + a * (-2.4765 + a * (1.0578 - 0.1861 * a))))
    entry = 2.236 * np.cbrt(laminar_friction_constant(a) / 96.0 * gz)
    flat = ((8.235 * developed) ** _JOIN + entry**_JOIN) ** (1.0 / _JOIN)
    return np.asarray(np.where(a == 1.0, hausen, flat))


def nusselt_turbulent(re: Numbers, pr: Numbers) -> Array:
    """Nusselt number of developed turbulent flow [-]: Gnielinski with f = (0.79 ln Re - 1.64)^-2.

    (f/8)(Re - 1000) Pr / (1 + 12.7 (f/8)^(1/2) (Pr^(2/3) - 1)). `re` 3000 to 5e6, `pr` 0.5 to 2000 [-]; they
    broadcast together. No correction for the entry: in a long channel it is below 5 %. Published: Gnielinski
    1976; the friction factor is Petukhov's 1970 (both as in Incropera & DeWitt, ch. 8; from memory).
    """
    r, p = np.asarray(re, dtype=np.float64), np.asarray(pr, dtype=np.float64)
    eighth = (0.79 * np.log(r) - 1.64) ** -2 / 8.0
    return np.asarray(eighth * (r - 1000.0) * p / (1.0 + 12.7 * np.sqrt(eighth) * (np.cbrt(p) ** 2 - 1.0)))
