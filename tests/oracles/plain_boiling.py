"""Where a coolant boils, one number at a time.

Water by another equation than the package's: the saturation line of IAPWS-IF97, region 4 (published; coefficients from
memory, held against the steam table in the tests). Mixtures by Raoult, with litres turned into moles by density and
molar mass. Ethylene glycol by Antoine (Jones and Tamplin 1952), propylene glycol from its boiling point and heat of
vaporisation (handbook values; both from memory).
"""

from __future__ import annotations

import math
from functools import cache

from configurator.foundations.coolants import Coolant

N = (
    1167.0521452767, -724213.16703206, -17.073846940092, 12020.824702470, -3232555.0322333,
    14.915108613530, -4823.2657361591, 405113.40542057, -0.23855557567849, 650.17534844798,
)  # fmt: skip
MOLES_PER_LITRE = {"water": 55.41, "ethylene glycol": 17.932, "propylene glycol": 13.615}


def water_mpa(t_k: float) -> float:
    """Vapour pressure of water [MPa]."""
    x = t_k + N[8] / (t_k - N[9])
    a = x * x + N[0] * x + N[1]
    b = N[2] * x * x + N[3] * x + N[4]
    c = N[5] * x * x + N[6] * x + N[7]
    return (2 * c / (-b + math.sqrt(b * b - 4 * a * c))) ** 4


def glycol_mpa(kind: str, t_k: float) -> float:
    """Vapour pressure of the pure glycol [MPa]."""
    if kind == "ethylene glycol":
        return 0.1 * math.exp(2.302585093 * 4.97012 - 2.302585093 * 1914.951 / (t_k - 84.996))
    return 0.101325 * math.exp(54.0 / 8.314462618e-3 / 461.3 - 54.0 / 8.314462618e-3 / t_k)


@cache
def boils_k(coolant: Coolant, pressure_pa: float) -> float:
    """The boiling point [K]: from 300 K up in steps of 10 K, then of 1 K, 0.1 K and so on to 0.0001 K."""
    glycol = coolant.glycol_by_volume * MOLES_PER_LITRE[coolant.kind]
    water = (1 - coolant.glycol_by_volume) * MOLES_PER_LITRE["water"]

    def boils(t_k: float) -> bool:
        above = water * water_mpa(t_k)
        if coolant.kind != "water":
            above += glycol * glycol_mpa(coolant.kind, t_k)
            return above / (water + glycol) * 1e6 >= pressure_pa
        return above / water * 1e6 >= pressure_pa

    t_k, stride = 300.0, 10.0
    while stride > 5e-5:
        while not boils(t_k + stride):
            t_k += stride
        stride /= 10
    return t_k
