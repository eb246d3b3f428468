"""Effectiveness and conductance: shapes, limits, passes, batches and the way back to a size."""

from __future__ import annotations

import sys
from itertools import pairwise

import numpy as np
import pytest

from configurator.physics.effectiveness import FLOWS, conductance, conductance_to_ua, effectiveness


@pytest.mark.parametrize("flow", FLOWS)
def test_a_stream_of_endless_capacity_makes_all_arrangements_alike(flow: str) -> None:
    """C* = 0: 1 - exp(-N) (Kays & London, ch. 2; follows from one equation)."""
    ntu = np.array([1e-6, 0.1, 1.0, 4.0, 30.0])
    for passes in (1, 2, 4):
        np.testing.assert_allclose(effectiveness(flow, ntu, 0.0, passes), -np.expm1(-ntu), rtol=1e-12)


@pytest.mark.parametrize("flow", FLOWS)
def test_nearly_no_size_gives_effectiveness_equal_to_ntu(flow: str) -> None:
    for ratio in (0.0, 0.4, 1.0):
        assert effectiveness(flow, 1e-9, ratio) == pytest.approx(1e-9, rel=1e-6)
        assert effectiveness(flow, 0.0, ratio) == 0.0


def test_equal_capacity_rates_are_no_special_case() -> None:
    """Counter-flow N/(1+N), n passes n ep/(1+(n-1) ep) at C* = 1; the neighbourhood runs into them."""
    near = np.array([1.0 - 1e-7, 1.0 - 1e-10, 1.0 - 1e-13, 1.0])
    np.testing.assert_allclose(effectiveness("counter-flow", 3.0, near), 0.75, rtol=1e-6)
    one = float(effectiveness("cross-flow both unmixed", 0.75, 1.0))
    four = effectiveness("cross-flow both unmixed", 3.0, near, 4)
    np.testing.assert_allclose(four, 4.0 * one / (1.0 + 3.0 * one), rtol=1e-6)


def test_endless_counter_flow_reaches_the_other_inlet() -> None:
    np.testing.assert_allclose(effectiveness("counter-flow", 1e6, [0.0, 0.3, 0.99]), 1.0, rtol=1e-12)


def test_many_passes_in_turn_become_counter_flow() -> None:
    """Kays & London, ch. 2: the n-pass overall counter-flow tends to counter-flow."""
    target = float(effectiveness("counter-flow", 2.0, 0.5))
    gaps = [target - float(effectiveness("cross-flow coolant mixed", 2.0, 0.5, n)) for n in (1, 2, 4, 8)]
    assert all(a > 2.0 * b > 0.0 for a, b in pairwise(gaps))


@pytest.mark.parametrize("flow", FLOWS)
def test_a_case_alone_and_in_any_batch_agrees_to_rounding(flow: str) -> None:
    steps = np.arange(3000)
    ntu, ratio = 0.01 + 9.0 * ((steps * 0.6180339887) % 1.0), (steps * 0.7548776662) % 1.0
    air_is_min = steps % 2 == 0
    together = effectiveness(flow, ntu, ratio, 2, "in turn", air_is_min)
    for size in (1, 7, 1000):
        parts = [
            effectiveness(flow, ntu[some], ratio[some], 2, "in turn", air_is_min[some])
            for some in (slice(i, i + size) for i in range(0, 210 if size < 1000 else 3000, size))
        ]
        apart = np.concatenate(parts)
        np.testing.assert_allclose(apart, together[: apart.size], rtol=0.0, atol=1e-14)


def python_calls(cases: int) -> int:
    """How many functions are called, of Python or of numpy, to reckon so many cross-flow cases at once."""
    ntu, ratio = np.linspace(0.1, 5.0, cases), np.linspace(0.05, 0.95, cases)
    called = []
    before = sys.getprofile()
    sys.setprofile(lambda frame, event, arg: called.append(event) if event in {"call", "c_call"} else None)
    try:
        effectiveness("cross-flow both unmixed", ntu, ratio)
    finally:
        sys.setprofile(before)
    return len(called)


def test_ten_thousand_cross_flow_cases_take_some_hundred_steps() -> None:
    """Cases go through numpy together: none is reckoned on its own, which would take a step or more for each."""
    assert 10 < python_calls(10_000) < 1_000


def test_a_stream_at_rest_passes_no_heat() -> None:
    for order in ("in turn", "side by side"):
        air, coolant = np.array([0.0, 300.0, 0.0, 300.0]), np.array([900.0, 0.0, 0.0, 900.0])
        found = conductance("cross-flow both unmixed", 2, order, 500.0, air, coolant)
        assert found[:3].tolist() == [0.0, 0.0, 0.0]
        assert 0.0 < found[3] < 300.0


def test_shapes_broadcast() -> None:
    sizes, coolant = np.array([[100.0], [400.0]]), np.array([200.0, 900.0, 1e4])
    found = conductance("cross-flow air mixed", 1, None, sizes, 250.0, coolant)
    assert found.shape == (2, 3)
    assert np.all(np.diff(found, axis=1) > 0.0)


def test_which_stream_is_mixed_matters_by_which_is_smaller() -> None:
    """Air mixed and smaller is the same exchanger as coolant mixed and smaller, seen from the other side."""
    a = conductance("cross-flow air mixed", 1, None, 500.0, 250.0, 900.0)
    b = conductance("cross-flow coolant mixed", 1, None, 500.0, 900.0, 250.0)
    c = conductance("cross-flow coolant mixed", 1, None, 500.0, 250.0, 900.0)
    assert float(a) == float(b)
    assert float(a) != float(c)


def test_passes_side_by_side_meet_fresh_air_each() -> None:
    """Pass after pass by hand: two passes of half the size, half the air each, coolant from 90."""
    ua, c_air, c_coolant = 900.0, 700.0, 1000.0
    g = float(conductance("cross-flow both unmixed", 1, None, ua / 2, c_air / 2, c_coolant))
    first = g * (90.0 - 20.0)
    second = g * (90.0 - first / c_coolant - 20.0)
    whole = float(conductance("cross-flow both unmixed", 2, "side by side", ua, c_air, c_coolant))
    assert whole * 70.0 == pytest.approx(first + second, rel=1e-12)
    in_turn = float(conductance("cross-flow both unmixed", 2, "in turn", ua, c_air, c_coolant))
    assert whole != pytest.approx(in_turn, rel=1e-2)


def test_passes_in_turn_are_the_passes_one_by_one_in_counter_flow() -> None:
    """The two-pass chain solved as a linear system (numpy), air in at 20, coolant in at 90 at the far end."""
    ua, c_air, c_coolant = 900.0, 700.0, 1000.0
    g = float(conductance("cross-flow both unmixed", 1, None, ua / 2, c_air, c_coolant))
    # Unknown: air and coolant between the passes; the first pass of the air is the last of the coolant.
    matrix = np.array([[c_air, -g], [-g, c_coolant]])
    right = np.array([(c_air - g) * 20.0, (c_coolant - g) * 90.0])
    air, coolant = np.linalg.solve(matrix, right)
    heat = g * (coolant - 20.0) + g * (90.0 - air)
    whole = float(conductance("cross-flow both unmixed", 2, "in turn", ua, c_air, c_coolant))
    assert whole * 70.0 == pytest.approx(heat, rel=1e-12)


@pytest.mark.parametrize("flow", FLOWS)
@pytest.mark.parametrize("passes,order", [(1, None), (2, "in turn"), (3, "side by side")])
def test_a_conductance_leads_back_to_its_size(flow: str, passes: int, order: str | None) -> None:
    for ua in (5.0, 250.0, 1400.0):
        for c_air, c_coolant in ((250.0, 1100.0), (1500.0, 1000.0)):
            g = float(conductance(flow, passes, order, ua, c_air, c_coolant))
            assert conductance_to_ua(flow, passes, order, g, c_air, c_coolant) == pytest.approx(ua, rel=1e-9)
    assert conductance_to_ua(flow, passes, order, 0.0, 250.0, 1100.0) == 0.0


def test_several_sizes_are_found_at_once_as_one_by_one() -> None:
    way = ("cross-flow both unmixed", 2, "side by side")
    wanted, c_air, c_coolant = np.array([[120.0], [0.0], [200.0]]), np.array([250.0, 700.0]), 900.0
    together = conductance_to_ua(*way, wanted, c_air, c_coolant)
    alone = [[float(conductance_to_ua(*way, float(g), air, c_coolant)) for air in c_air] for g in wanted[:, 0]]
    np.testing.assert_allclose(together, alone, rtol=1e-10)
    np.testing.assert_allclose(conductance(*way, together, c_air, c_coolant), wanted + 0.0 * c_air, rtol=1e-10)


def test_what_no_size_can_reach_is_said() -> None:
    """Parallel flow at equal capacity rates ends at effectiveness 0.5; no stream, no heat."""
    with pytest.raises(ValueError, match="cannot be reached by parallel-flow"):
        conductance_to_ua("parallel-flow", 1, None, 501.0, 1000.0, 1000.0)
    assert conductance_to_ua("parallel-flow", 1, None, 499.0, 1000.0, 1000.0) > 2000.0
    with pytest.raises(ValueError, match="cannot be reached"):
        conductance_to_ua("counter-flow", 1, None, 10.0, 0.0, 1000.0)


def test_an_unknown_arrangement_is_refused_with_the_known_ones() -> None:
    with pytest.raises(ValueError, match="counter-flow, parallel-flow"):
        effectiveness("shell and tube", 1.0, 0.5)
    with pytest.raises(ValueError, match="conductance"):
        effectiveness("counter-flow", 1.0, 0.5, 2, "side by side")
