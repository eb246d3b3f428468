"""Losses where the bore changes, in the form K / A² that a loop sums up.

Symbols: d, D small and large bore [m], sigma = (d/D)² = A_small / A_large, K on the velocity in the small
bore, loss = K rho v² / 2. Published in standard handbooks (from memory): sudden contraction
K = 0.5 (1 - sigma), sudden enlargement K = (1 - sigma)² (Borda-Carnot).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from configurator.parts.ends import End
from configurator.standards.threads import bore_of

BARB_WALL_M: Final = 3.5e-3
"""Outside diameter of a coolant spigot less its bore [m]: two walls and the barbs. Common practice."""

PIPE_WALL_M: Final = 3.0e-3
"""Outside diameter of a charge pipe less its bore [m]: two walls of 1.5 mm. Common practice."""

SMOOTH_BEND_K: Final = 0.4
"""A smooth 90° bend of hose, radius 1.5 bores or more: 0.3 to 0.5. Common practice, no source."""

DRILLED_ELBOW_K: Final = 1.3
"""A drilled 90° elbow that states no loss factor: 1.1 to 1.5. From memory of handbooks."""


def contraction_k(area_ratio: float) -> float:
    """K [-] of a sudden contraction, on the small bore; `area_ratio` sigma [-], 0 to 1."""
    return 0.5 * (1.0 - area_ratio)


def enlargement_k(area_ratio: float) -> float:
    """K [-] of a sudden enlargement, on the small bore; `area_ratio` sigma [-], 0 to 1."""
    return (1.0 - area_ratio) ** 2


def area_m2(bore_m: float) -> float:
    """Area [m²] of a round bore [m]."""
    return math.pi / 4.0 * bore_m**2


def step_per_m4(from_bore_m: float, to_bore_m: float) -> float:
    """K / A² [1/m4] of one change of bore in flow direction; 0 where the bores are equal."""
    sigma = (min(from_bore_m, to_bore_m) / max(from_bore_m, to_bore_m)) ** 2
    k = contraction_k(sigma) if to_bore_m < from_bore_m else enlargement_k(sigma)
    return k / area_m2(min(from_bore_m, to_bore_m)) ** 2


def chain_per_m4(bores_m: Sequence[float]) -> float:
    """Sum of K / A² [1/m4] over bores [m] in flow order."""
    return sum(step_per_m4(before, after) for before, after in pairwise(bores_m))


def end_bore_m(end: End) -> float:
    """Through-bore [m] of an end: its own, else the usual one of its thread or spigot."""
    if end.bore_m is not None:
        return float(end.bore_m)
    usual = bore_of(end.form, end.size)
    if usual is not None:
        return usual
    size = end.size_m or 0.0
    return max(size - BARB_WALL_M, size / 2.0) if end.form == "spigot" else size


def pipe_bore_m(end: End) -> float:
    """Through-bore [m] of a charge pipe's end: its own, else its outside diameter less the pipe's walls."""
    return float(end.bore_m) if end.bore_m is not None else (end.size_m or 0.0) - PIPE_WALL_M
