"""The charger's outlet temperature and pressure ratio."""

from __future__ import annotations

import numpy as np
import pytest

from configurator.physics.atmosphere import standard_atmosphere
from configurator.physics.compression import density_ratio, outlet_temperature, pressure_ratio


@pytest.mark.parametrize("gamma", [1.40, 1.394, 1.30])
def test_a_perfect_compressor_follows_many_small_steps(gamma: float) -> None:
    """Isentropic: dT/T = (gamma - 1)/gamma dp/p, marched in 20,000 steps (no formula shared)."""
    steps = 20_000
    small = np.log(2.2) / steps * (gamma - 1) / gamma
    marched = 300.0 * (1 + small / 2) ** steps / (1 - small / 2) ** steps
    assert float(outlet_temperature(300.0, 2.2, 1.0, gamma)) == pytest.approx(marched, rel=1e-9)


def test_half_the_efficiency_is_twice_the_rise() -> None:
    rise = outlet_temperature(300.0, 1.9, np.array([0.8, 0.4])) - 300.0
    assert rise[1] == pytest.approx(2 * rise[0], rel=1e-12)


def test_boost_at_the_throttle_puts_the_core_s_loss_on_the_charger() -> None:
    """By hand: 1 bar of boost on a day of 1 bar is a ratio of 2; 0.1 bar lost behind makes it 2.1."""
    assert pressure_ratio(1e5, 1e5, np.array([0.0, 1e4]), 0.0).tolist() == [2.0, 2.1]


def test_a_restricted_inlet_counts_below_the_line() -> None:
    assert float(pressure_ratio(1e5, 1e5, 0.0, 5e3)) == pytest.approx(200 / 95, rel=1e-12)


def test_the_same_boost_is_hotter_on_the_mountain() -> None:
    """1.4 bar at 2000 m: (79.5 + 140)/79.5 = 2.76 where the coast has 2.38 (ISO 2533, recomputed by hand)."""
    ratio = pressure_ratio(standard_atmosphere(np.array([0.0, 2000.0])).pressure_pa, 1.4e5, 0.0, 0.0)
    assert ratio == pytest.approx([2.3817, 2.7611], abs=2e-4)


def test_density_follows_pressure_and_turns_against_temperature() -> None:
    """By hand, ideal gas: 5 % of pressure lost and 400 K cooled to 320 K are 0.95 x 1.25 = 1.1875."""
    assert float(density_ratio(2e5, 400.0, 1.9e5, 320.0)) == pytest.approx(1.1875, rel=1e-12)
    assert float(density_ratio(2e5, 320.0, 2e5, 320.0)) == 1.0


def test_density_is_that_of_the_gas_law() -> None:
    """rho = p / (R T), R 287.05 J/(kg K) of dry air (ISO 2533; published), worked out at both ends."""
    before, after = (p / (287.05 * t) for p, t in ((241325.0, 440.0), (236000.0, 335.0)))
    assert float(density_ratio(241325.0, 440.0, 236000.0, 335.0)) == pytest.approx(after / before, rel=1e-12)


@pytest.mark.parametrize("charge_c", [25.0, 35.0, 45.0])
def test_ten_degrees_fahrenheit_are_1_8_percent_of_density_and_not_1_of_power(charge_c: float) -> None:
    """10 degF are 5.56 K. The saying has 1 % of power; density alone gives 1.8 % (common practice, no source)."""
    cooler = charge_c + 273.15
    gained = float(density_ratio(2e5, cooler + 10 / 1.8, 2e5, cooler)) - 1
    assert gained == pytest.approx(0.018, abs=0.001)


def test_outside_in_a_hot_charge_ten_degrees_fahrenheit_are_less() -> None:
    gained = float(density_ratio(2e5, 450.0 + 10 / 1.8, 2e5, 450.0)) - 1
    assert gained == pytest.approx(0.0123, abs=1e-4)
