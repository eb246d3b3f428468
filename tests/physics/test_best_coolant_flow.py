"""The best coolant flow of a liquid-coupled pair, and the best division of surface between its two exchangers.

That an optimum of the coupling liquid's rate exists at fixed conductances, and that the optimum in dividing the surface
is flat, is published: ASME Journal of Engineering for Power 101(4), 516, 1979 (from memory: the existence, no figures).
The place of the optimum, (UA1 + UA2)/CL = UA1/C1 + UA2/C2, is Kays & London's condition for counter-flow (from memory).
"""

from __future__ import annotations

import numpy as np
import pytest

from configurator.physics.effectiveness import conductance
from tests.reference_cases.coupled_loop import coupled_conductance

RATES = np.geomspace(30.0, 20000.0, 4001)


def pair(ua1: object, ua2: object, c1: float, c2: float, cl: object, flow: str = "counter-flow") -> np.ndarray:
    """Heat per kelvin between the two air inlets [W/K]."""
    g1 = conductance(flow, 1, None, np.asarray(ua1), c1, np.asarray(cl))
    g2 = conductance(flow, 1, None, np.asarray(ua2), c2, np.asarray(cl))
    return np.asarray(coupled_conductance(g1, g2, np.asarray(cl)))


@pytest.mark.parametrize(
    ("ua1", "ua2", "c1", "c2"), [(600, 900, 280, 400), (1500, 5000, 300, 900), (500, 500, 200, 200)]
)
def test_at_fixed_conductances_there_is_a_best_flow_inside_the_range(
    ua1: float, ua2: float, c1: float, c2: float
) -> None:
    heat = pair(ua1, ua2, c1, c2, RATES)
    best = int(np.argmax(heat))
    assert 0 < best < len(RATES) - 1
    assert heat[best] > 1.02 * heat[-1] and heat[best] > 1.02 * heat[0]
    assert RATES[best] == pytest.approx((ua1 + ua2) / (ua1 / c1 + ua2 / c2), rel=0.01)


def test_outside_conductances_that_grow_with_the_flow_more_flow_helps_all_the_way() -> None:
    """Films turbulent, with the 0.8th power of the flow (Dittus & Boelter; from memory), and all of the resistance.

    The same conductance held fixed has its best flow inside the same range, up to 5 kW/K or some 72 L/min of water.
    """
    rates = RATES[RATES <= 5000.0]
    growing = pair(200.0 * (rates / 500.0) ** 0.8, 200.0 * (rates / 500.0) ** 0.8, 280.0, 400.0, rates)
    fixed = pair(200.0, 200.0, 280.0, 400.0, rates)
    assert np.all(np.diff(growing) > 0)
    assert 0 < int(np.argmax(fixed)) < len(rates) - 1


def test_the_best_division_of_surface_is_flat() -> None:
    """Equal air on both sides: half and half is best, and 60 to 40 costs less than 2 %."""
    share = np.linspace(0.1, 0.9, 161)
    heat = pair(1500 * share, 1500 * (1 - share), 300.0, 300.0, 300.0)
    best = share[int(np.argmax(heat))]
    assert best == pytest.approx(0.5, abs=0.006)
    near = heat[np.abs(share - 0.6) < 1e-9][0]
    assert 0.98 * heat.max() < near < heat.max()


def test_outside_a_lopsided_division_costs_much() -> None:
    share = np.asarray([0.1, 0.5])
    lopsided, even = pair(1500 * share, 1500 * (1 - share), 300.0, 300.0, 300.0)
    assert lopsided < 0.75 * even
