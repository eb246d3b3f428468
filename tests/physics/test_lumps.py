"""Linear lumps stepped exactly: against closed forms, and alone as in company."""

from __future__ import annotations

import math

import numpy as np
import pytest

from configurator.physics.lumps import exponential, integrals, repeated, ring, steady, step

CAPACITIES = np.array([3600.0, 5400.0, 21600.0])
COUPLINGS = np.array([176.0, 720.0, 0.0])
COUPLED_TO = np.array([423.15, 303.15, 0.0])
M, B = ring(CAPACITIES, 1200.0, COUPLINGS, COUPLED_TO, np.array([0.0, 0.0, 60.0]))
START = np.array([303.15, 303.15, 303.15])


def many_rings(count: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Rings of five lumps whose fastest rates lie three decades apart."""
    random = np.random.default_rng(20)
    rate = random.uniform(300.0, 4000.0, count)
    capacities = np.geomspace(100.0, 30000.0, 5) * random.uniform(0.5, 2.0, (count, 5))
    couplings = np.zeros((count, 5))
    couplings[:, 1], couplings[:, 3] = 0.15 * rate, 0.5 * rate
    m, b = ring(capacities, rate, couplings, np.full((count, 5), 350.0), np.full((count, 5), 10.0))
    return m, b, random.uniform(0.01, 90.0, count)


def test_rotation_comes_back_after_a_whole_turn() -> None:
    """exp of a skew matrix is a rotation: closed form, at norms from 0.01 to 100 (many squarings)."""
    angle = np.array([0.01, 1.0, 3.0, math.pi, 100.0])
    a = np.zeros((5, 2, 2))
    a[:, 0, 1], a[:, 1, 0] = -angle, angle
    e = exponential(a, angle)
    assert e[:, 0, 0] == pytest.approx(np.cos(angle), abs=1e-13)
    assert e[:, 1, 0] == pytest.approx(np.sin(angle), abs=1e-13)


def test_matrix_without_an_inverse_is_stepped_too() -> None:
    """Nothing exchanged: the temperature rises by heat over capacity, in a straight line."""
    phi, shift = step(np.zeros((2, 2)), np.array([0.5, -0.25]), 40.0)
    assert phi.tolist() == np.eye(2).tolist()
    assert shift == pytest.approx([20.0, -10.0], rel=1e-14)
    m, b = ring(np.array([1000.0, 3000.0]), 500.0, np.zeros(2), np.zeros(2), np.array([80.0, 0.0]))
    _, long_shift = step(m, b, 1000.0)
    assert 1000 * long_shift[0] + 3000 * long_shift[1] == pytest.approx(80.0 * 1000.0, rel=1e-11)


def test_no_time_changes_nothing() -> None:
    phi, shift = step(M, B, 0.0)
    assert phi.tolist() == np.eye(3).tolist()
    assert shift.tolist() == [0.0, 0.0, 0.0]


def test_integral_of_one_lump_is_the_closed_form() -> None:
    """X = 45 - 20 exp(-t/120): its integral over 0 to t is 45 t - 2400 (1 - exp(-t/120)) (calculus)."""
    times = np.array([1e-3, 1.0, 120.0, 5000.0])
    found = integrals(np.array([[-1 / 120]]), np.array([45 / 120]), np.array([25.0]), times)
    assert found[:, 0] == pytest.approx(45 * times - 2400 * -np.expm1(-times / 120), rel=1e-11)


def test_integral_of_a_loop_agrees_with_many_small_steps() -> None:
    """Simpson's rule over 600 intervals of the exactly stepped loop (error of order h^4)."""
    phi, shift = step(M, B, 0.1)
    states = [START]
    for _ in range(1200):
        states.append(phi @ states[-1] + shift)
    weights = np.ones(1201)
    weights[1:-1:2], weights[2:-1:2] = 4.0, 2.0
    simpson = 0.1 / 3 * np.einsum("t,ti->i", weights, np.array(states))
    assert integrals(M, B, START, 120.0) == pytest.approx(simpson, rel=1e-8)


def test_steady_state_stays_where_it_is() -> None:
    x = steady(M, B)
    phi, shift = step(M, B, 37.0)
    assert phi @ x + shift == pytest.approx(x, rel=1e-12)


def test_steady_state_is_the_same_whatever_the_lumps_hold() -> None:
    """Capacities only say how soon it comes: a hundred million million apart, the balances are the same."""
    hold = np.array([1e-5, 1.0, 1e9])
    assert steady(*ring(hold, 1200.0, COUPLINGS, COUPLED_TO, np.array([0.0, 0.0, 60.0]))) == pytest.approx(
        steady(M, B), rel=1e-9
    )


def test_pattern_repeated_for_ever_is_where_a_thousand_rounds_end() -> None:
    """A hot piece of 20 s and an idle one of 70 s: the fixed point against plain repetition."""
    idle_m, idle_b = ring(CAPACITIES, 1200.0, np.array([5.0, 720.0, 0.0]), COUPLED_TO, np.zeros(3))
    hot, hot_shift = step(M, B, 20.0)
    idle, idle_shift = step(idle_m, idle_b, 70.0)
    phi, shift = idle @ hot, idle @ hot_shift + idle_shift
    x = START
    for _ in range(1000):
        x = phi @ x + shift
    assert repeated(phi, shift) == pytest.approx(x, rel=1e-12)


def test_heat_with_nowhere_to_go_has_no_steady_state_and_spoils_no_other_row() -> None:
    closed_m, closed_b = ring(CAPACITIES, 1200.0, np.zeros(3), np.zeros(3), np.array([60.0, 0.0, 0.0]))
    still_m, still_b = ring(CAPACITIES, 0.0, np.zeros(3), np.zeros(3), np.zeros(3))
    m, b = np.stack([M, closed_m, still_m]), np.stack([B, closed_b, still_b])
    found = steady(m, b)
    assert found[0].tolist() == steady(M, B).tolist()
    assert np.all(np.isnan(found[1:]))
    assert np.all(np.isnan(repeated(*step(m, b, 600.0))[1:]))


def test_each_row_is_the_same_alone_and_in_company() -> None:
    m, b, seconds = many_rings(40)
    x0 = np.full((40, 5), 300.0)
    phi, shift = step(m, b, seconds)
    whole = integrals(m, b, x0, seconds)
    for i in (0, 13, 39):
        alone_phi, alone_shift = step(m[i], b[i], float(seconds[i]))
        assert np.array_equal(alone_phi, phi[i])
        assert np.array_equal(alone_shift, shift[i])
        assert np.array_equal(integrals(m[i], b[i], x0[i], float(seconds[i])), whole[i])


def test_a_thousand_matrices_of_two_axes_are_those_of_each_alone() -> None:
    m, b, seconds = many_rings(1000)
    phi, shift = step(m.reshape(4, 250, 5, 5), b.reshape(4, 250, 5), seconds.reshape(4, 250))
    for i in (0, 255, 256, 511, 768, 999):
        alone_phi, alone_shift = step(m[i], b[i], float(seconds[i]))
        assert np.array_equal(alone_phi, phi[i // 250, i % 250])
        assert np.array_equal(alone_shift, shift[i // 250, i % 250])


def test_ring_says_what_its_words_say() -> None:
    """The balances written out lump by lump in plain Python."""
    x = [310.0, 305.0, 302.0]
    heat = np.array([1.0, 2.0, 60.0])
    m, b = ring(CAPACITIES, 1200.0, COUPLINGS, COUPLED_TO, heat)
    for i in range(3):
        before = x[i - 1]
        gain = 1200.0 * (before - x[i]) + COUPLINGS[i] * (COUPLED_TO[i] - before) + heat[i]
        assert float(m[i] @ x + b[i]) == pytest.approx(gain / CAPACITIES[i], rel=1e-12)


def test_ring_of_one_lump_is_a_tank() -> None:
    m, b = ring(np.array([2000.0]), 900.0, np.array([50.0]), np.array([400.0]), np.array([10.0]))
    assert m == pytest.approx(np.array([[-50 / 2000]]), rel=1e-12)
    assert b == pytest.approx([(50 * 400 + 10) / 2000], rel=1e-12)
