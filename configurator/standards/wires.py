"""Copper wire by area: what it resists, and what it carries.

Standing: resistances published (IEC 60228 class 5, plain copper, largest value at 20 degC; public reprints, from
memory); currents published for AWG sizes in a motorsport wiring chart (continuous, conservative; from memory).
Labels mislead: AWG, SAE and insulation diameters are taken for each other, so areas of copper alone are compared.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Final

CLASS_5_OHM_PER_M: Final = {
    0.5: 39.0e-3, 0.75: 26.0e-3, 1.0: 19.5e-3, 1.5: 13.3e-3, 2.5: 7.98e-3, 4.0: 4.95e-3, 6.0: 3.30e-3,
    10.0: 1.91e-3, 16.0: 1.21e-3, 25.0: 0.780e-3,
}
"""Largest resistance of flexible copper [ohm/m] by area [mm2]."""

ROOM_K: Final = 293.15
HOT_K: Final = 333.15
"""Copper as the resistances are stated, and as it gets in a loom under a hot bonnet (common practice, no source)."""

COPPER_PER_K: Final = 0.00393

CARRIES_A: Final = {0.82: 9.0, 1.31: 13.0, 2.08: 18.0, 3.31: 23.0, 5.26: 33.0, 8.37: 46.0}
"""Current that a wire in a loom carries for good [A] by area [mm2]: AWG 18, 16, 14, 12, 10, 8."""


def resistance_ohm_per_m(area_mm2: float) -> float:
    """Largest resistance [ohm/m] of a wire of this area [mm2]: that of the next smaller area of the table."""
    smaller = [area for area in CLASS_5_OHM_PER_M if area <= area_mm2]
    return CLASS_5_OHM_PER_M[max(smaller)] if smaller else math.inf


def carries_a(area_mm2: float) -> float:
    """Current [A] that a wire of this area [mm2] carries: straight lines between the table's, nothing below it."""
    areas = sorted(CARRIES_A)
    if area_mm2 < areas[0]:
        return 0.0
    for small, large in pairwise(areas):
        if area_mm2 <= large:
            share = (area_mm2 - small) / (large - small)
            return CARRIES_A[small] + share * (CARRIES_A[large] - CARRIES_A[small])
    return CARRIES_A[areas[-1]]


def voltage_drop(length_m: float, current_a: float, area_mm2: float, at_k: float = ROOM_K) -> float:
    """Voltage [V] that `length_m` [m] of wire, there and back together, takes at a current [A], its copper at `at_k`.

    R = R20 (1 + 0.00393 (t - 20)), t in degC: published (IEC 60028, annealed copper; from memory).
    """
    warm = 1.0 + COPPER_PER_K * (at_k - ROOM_K)
    return length_m * current_a * resistance_ohm_per_m(area_mm2) * warm
