"""The liquid-coupled pair at rest, solved a second time as linear equations, and its edges."""

from __future__ import annotations

import numpy as np
import pytest

from tests.reference_cases.coupled_loop import coupled_conductance, steady_loop


def test_the_pair_equals_its_three_heat_balances_solved_directly() -> None:
    """CL (Ty - Tx) = G1 (Th - Tx); CL (Ty - Tz) = G2 (Ty - Tc); CL (Tx - Tz) = W: three unknowns."""
    cases = ((176.0, 720.0, 1200.0, 60.0), (170.0, 180.0, 200.0, 0.0), (300.0, 40.0, 900.0, 250.0))
    for g1, g2, cl, pump in cases:
        matrix = np.array([[g1 - cl, cl, 0.0], [0.0, cl - g2, -cl], [cl, 0.0, -cl]])
        core_in, core_out, exchanger_out = np.linalg.solve(matrix, [g1 * 420.0, -g2 * 295.0, pump])
        loop = steady_loop(420.0, 295.0, g1, g2, cl, pump)
        assert loop.core_in == pytest.approx(core_in, rel=1e-12)
        assert loop.core_out == pytest.approx(core_out, rel=1e-12)
        assert loop.exchanger_out == pytest.approx(exchanger_out, rel=1e-12)


def test_without_pump_heat_the_loop_is_its_overall_conductance() -> None:
    loop = steady_loop(150.0, 30.0, [176.0, 90.0], 720.0, [[1200.0], [800.0]])
    overall = coupled_conductance([176.0, 90.0], 720.0, [[1200.0], [800.0]])
    assert loop.heat_core.shape == overall.shape == (2, 2)
    np.testing.assert_allclose(loop.heat_core, overall * 120.0, rtol=1e-12)


def test_with_the_pump_off_no_heat_passes() -> None:
    loop = steady_loop(420.0, 300.0, 0.0, 0.0, 0.0)
    assert (loop.heat_core, loop.heat_exchanger) == (0.0, 0.0)
    assert (loop.core_in, loop.exchanger_out, loop.core_out) == (300.0, 300.0, 420.0)
    assert coupled_conductance(0.0, 0.0, 0.0) == 0.0


def test_without_charge_flow_only_the_pump_warms_the_coolant() -> None:
    """By hand: the exchanger must shed W, so its coolant enters at Tc + W/G2 and leaves W/CL cooler."""
    loop = steady_loop(420.0, 300.0, 0.0, 600.0, 1200.0, 60.0)
    assert loop.core_in == pytest.approx(300.1)
    assert loop.core_out == pytest.approx(300.1)
    assert loop.exchanger_out == pytest.approx(300.05)
    assert loop.heat_exchanger == pytest.approx(60.0)


def test_without_cooling_air_the_coolant_rises_until_the_charge_takes_the_pump_heat() -> None:
    loop = steady_loop(350.0, 300.0, 200.0, 0.0, 1000.0, 100.0)
    assert loop.heat_core == pytest.approx(-100.0)
    assert loop.core_in == pytest.approx(350.5)


def test_heat_that_can_go_nowhere_has_no_steady_state() -> None:
    assert steady_loop(350.0, 300.0, 0.0, 0.0, 1000.0, 50.0).core_in == np.inf
    assert steady_loop(350.0, 300.0, 0.0, 0.0, 1000.0).core_in == 300.0


def test_a_perfect_core_and_a_perfect_exchanger_are_no_special_case() -> None:
    """Both on the liquid's side: G1 = G2 = CL gives G = CL."""
    assert coupled_conductance(500.0, 500.0, 500.0) == pytest.approx(500.0)
    assert steady_loop(400.0, 300.0, 500.0, 500.0, 500.0).heat_core == pytest.approx(5e4)


def test_a_trickle_is_a_loop_like_any_other() -> None:
    """1/G = 1/G1 + 1/G2 - 1/CL has no scale of its own: a thousandth of all three carries a thousandth."""
    whole = coupled_conductance(176.0, 720.0, 1200.0)
    assert coupled_conductance(0.176, 0.72, 1.2) == pytest.approx(whole / 1e3, rel=1e-12)
    assert coupled_conductance(1e-4, 2e-4, 3e-4) == pytest.approx(1.0 / (1e4 + 5e3 - 1e4 / 3), rel=1e-12)
