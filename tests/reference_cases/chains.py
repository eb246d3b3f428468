"""Public functions strung together as a textbook's example does it: a case through the whole chain."""

from __future__ import annotations

from typing import Any

import numpy as np

from configurator.physics.effectiveness import conductance
from tests.reference_cases.coupled_loop import coupled_conductance, steady_loop


def pair_from_ua(
    flow: str, ua1: float, ua2: float, c1: float, cl: Any, c2: float, th: float, tc: float
) -> dict[str, Any]:
    """A liquid-coupled pair of two exchangers of one arrangement, from the size of both to every
    temperature.
    """
    g1 = conductance(flow, 1, None, ua1, c1, cl)
    g2 = conductance(flow, 1, None, ua2, c2, cl)
    g = coupled_conductance(g1, g2, cl)
    loop = steady_loop(th, tc, g1, g2, cl)
    return {
        "eps1": g1 / np.minimum(c1, cl),
        "eps2": g2 / np.minimum(c2, cl),
        "g1": g1,
        "g2": g2,
        "g": g,
        "heat": loop.heat_core,
        "eps_overall": g / min(c1, c2),
        "core_in": loop.core_in,
        "core_out": loop.core_out,
        "charge_out": th - loop.heat_core / c1,
        "ambient_out": tc + loop.heat_exchanger / c2,
    }
