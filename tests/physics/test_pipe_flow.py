"""Friction, steps, restrictions and bends."""

from __future__ import annotations

import numpy as np
import pytest

from configurator.physics.pipe_flow import (
    bend_factor,
    contraction_factor,
    friction_factor,
    pipe_loss,
    reynolds,
    velocity,
)

ROUGHNESS = np.array([0.0, 1e-6, 1e-4, 1e-3, 1e-2, 5e-2])


def test_turbulent_factor_solves_colebrook_to_rounding() -> None:
    """The equation itself (Colebrook 1939, from memory), put in its other form, over the whole range."""
    re = np.geomspace(4000.0, 1e8, 200)[:, None]
    f = friction_factor(re, ROUGHNESS)
    right = -2.0 * np.log10(ROUGHNESS / 3.7 + 2.51 / (re * np.sqrt(f)))
    assert np.max(np.abs(right * np.sqrt(f) - 1.0)) < 1e-13


@pytest.mark.parametrize("edge", [2300.0, 4000.0])
@pytest.mark.parametrize("constant", [57.0, 64.0, 96.0])
def test_factor_has_no_step_at_the_edges_of_the_blend(edge: float, constant: float) -> None:
    around = np.array([edge * (1 - 1e-9), edge, edge * (1 + 1e-9)])
    f = friction_factor(around[:, None], ROUGHNESS, constant)
    assert np.ptp(f, axis=0) / f[1] == pytest.approx(0.0, abs=1e-7)


def test_between_the_edges_the_factor_is_a_straight_line() -> None:
    f = friction_factor(np.array([2300.0, 3150.0, 4000.0]), 1e-3)
    assert f[0] == pytest.approx(64 / 2300, rel=1e-12)
    assert f[1] == pytest.approx((f[0] + f[2]) / 2, rel=1e-12)


def test_liquid_at_rest_loses_nothing() -> None:
    assert float(pipe_loss(0.0, 3.0, 0.019, 1.5e-6, 1000.0, 1e-3)) == 0.0
    assert np.isfinite(friction_factor(0.0))


def test_channel_of_its_own_laminar_constant() -> None:
    """96/Re between wide parallel plates: Shah & London, Laminar Flow Forced Convection (from memory)."""
    assert float(friction_factor(800.0, 0.0, 96.0)) == pytest.approx(0.12, rel=1e-12)


def test_loss_of_a_heater_hose_by_hand() -> None:
    """20 L/min of water in 3 m of smooth 19 mm hose, every step by a calculator; Blasius 0.316/Re^0.25.

    V = 3.3333e-4/2.83529e-4 = 1.17566 m/s, Re = 22337, f = 0.02585, loss = f (3/0.019) 1000 V²/2 = 2821 Pa.
    Blasius: from memory, within 3 % of Colebrook here.
    """
    flow = 20e-3 / 60
    assert float(velocity(flow, 0.019)) == pytest.approx(1.17566, rel=1e-5)
    assert float(reynolds(flow, 0.019, 1000.0, 1e-3)) == pytest.approx(22337, abs=1)
    assert float(pipe_loss(flow, 3.0, 0.019, 0.0, 1000.0, 1e-3)) == pytest.approx(2821, rel=0.03)


def test_contraction_of_equal_bores_is_none() -> None:
    assert float(contraction_factor(1.0)) == 0.0


def test_bends_tighten_to_more_loss_and_are_held_outside_their_table() -> None:
    """A radius of 2 to 3 bores is the best bend, 12 fT (Crane TP-410, from memory)."""
    radii = np.array([1.0, 1.5, 2.0, 3.0, 6.0, 10.0])
    factors = bend_factor(0.019, radii)
    assert np.argmin(factors) == 2
    assert factors[0] / factors[2] == pytest.approx(20 / 12, rel=1e-12)
    assert bend_factor(0.019, np.array([0.5, 20.0])).tolist() == [factors[0], factors[-1]]
    assert float(bend_factor(0.019)) == factors[1]
    assert float(bend_factor(0.012)) > float(bend_factor(0.019)) > float(bend_factor(0.038))


def test_columns_broadcast_and_do_not_see_each_other() -> None:
    flow = np.geomspace(1e-6, 1e-2, 60)[:, None]
    bore = np.array([0.012, 0.016, 0.019, 0.025])
    together = pipe_loss(flow, 2.0, bore, 1.5e-6, 1050.0, 3e-3)
    alone = [[float(pipe_loss(q, 2.0, d, 1.5e-6, 1050.0, 3e-3)) for d in bore] for q in flow[:, 0]]
    assert together == pytest.approx(np.array(alone), rel=1e-14)
