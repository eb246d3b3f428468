"""Through-bores of ends, and what is lost where the bore changes, as K / A² [1/m4] that a loop sums up."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from configurator.parts.ends import End
from configurator.physics.pipe_flow import area, bend_factor, contraction_factor, expansion_factor
from configurator.standards.threads import bore_of

BARB_WALL_M: Final = 3.5e-3
"""Outside diameter of a coolant spigot less its bore [m]: two walls and the barbs. Common practice."""

PIPE_WALL_M: Final = 3.0e-3
"""Outside diameter of a charge pipe less its bore [m]: two walls of 1.5 mm. Common practice, no source."""

BEND_RADIUS_OVER_BORE: Final = 1.5
"""Centre-line radius of the bend at each end of a run, in bores. Common practice, no source."""

DRILLED_ELBOW_K: Final = 1.3
"""A drilled 90° elbow that states no loss factor: 1.1 to 1.5. From memory of handbooks."""


def area_m2(bore_m: float) -> float:
    """Area [m²] of a round bore [m]."""
    return float(area(bore_m))


def area_ratio(one_bore_m: float, other_bore_m: float) -> float:
    """Area of the smaller of two bores over that of the larger [-], to six places; 1 where one is not known (0)."""
    small, large = sorted((one_bore_m, other_bore_m))
    return 1.0 if small == 0.0 else round((small / large) ** 2, 6)


def least_known_m(*bores_m: float) -> float:
    """The narrowest of bores [m], without those that nobody knows (0); 0 where nobody knows any."""
    return min((bore for bore in bores_m if bore > 0.0), default=0.0)


def step_per_m4(from_bore_m: float, to_bore_m: float) -> float:
    """K / A² [1/m4] of one change of bore [m] in flow direction, on the small bore; 0 where equal."""
    small, large = sorted((from_bore_m, to_bore_m))
    factor = contraction_factor if to_bore_m < from_bore_m else expansion_factor
    return float(factor((small / large) ** 2)) / area_m2(small) ** 2


def mouth_per_m4(bore_m: float, *, into_tank: bool) -> float:
    """K / A² [1/m4] where a bore [m] opens into a tank or leaves one: the step to or from an endless bore.

    Into a tank all of the flow's own pressure is lost, K = 1; out of one past a sharp edge K = 0.5. Published: Munson,
    Young and Okiishi, Fundamentals of Fluid Mechanics, ch. 8 (from memory).
    """
    factor = expansion_factor(0.0) if into_tank else contraction_factor(0.0)
    return float(factor) / area_m2(bore_m) ** 2


def chain_per_m4(bores_m: Sequence[float]) -> float:
    """Sum of K / A² [1/m4] over bores [m] in flow order; one that nobody knows (0) is no step."""
    return sum(step_per_m4(before, after) for before, after in pairwise(bore for bore in bores_m if bore > 0.0))


def bend_per_m4(bore_m: float) -> float:
    """K / A² [1/m4] of one smooth 90° bend of a bore [m]."""
    return float(bend_factor(bore_m, BEND_RADIUS_OVER_BORE)) / area_m2(bore_m) ** 2


def end_bore_m(end: End) -> float:
    """Through-bore [m] of an end: its own, else the usual one of its thread, spigot or tube; 0 where nobody knows."""
    if end.bore_m is not None:
        return float(end.bore_m)
    usual = bore_of(end.form, end.size)
    if usual is not None:
        return usual
    size = end.size_m or end.tube_m or 0.0
    return max(size - BARB_WALL_M, size / 2.0) if end.form == "spigot" else size


def pipe_bore_m(end: End) -> float:
    """Through-bore [m] of a charge pipe's end: its own, else its outside diameter less the pipe's walls."""
    return float(end.bore_m) if end.bore_m is not None else (end.size_m or 0.0) - PIPE_WALL_M
