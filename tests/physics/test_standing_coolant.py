"""A lump that a steady stream warms, held against a printed example, a march by hand, and its limits."""

from __future__ import annotations

import math

import pytest

from configurator.physics.standing_coolant import seconds_to_reach, standing_conductance


def test_the_thermocouple_of_the_textbook() -> None:
    """Incropera & DeWitt, ex. 5.1 (published, from memory): time constant 1 s, gas 200 degC, 25 to 199 degC: 5.2 s."""
    assert seconds_to_reach(1.0, 1.0, 473.15, 298.15, 472.15) == pytest.approx(5.2, abs=0.05)


def test_it_is_what_a_march_in_small_steps_finds() -> None:
    """Heun's steps of a millisecond, written out here."""
    capacity, conductance, driver, now, limit = 6000.0, 180.0, 430.0, 330.0, 385.0
    seconds = 0.0
    while now < limit:
        first = conductance * (driver - now) / capacity
        second = conductance * (driver - now - first * 1e-3) / capacity
        now += (first + second) / 2 * 1e-3
        seconds += 1e-3
    assert seconds_to_reach(capacity, conductance, driver, 330.0, limit) == pytest.approx(seconds, abs=2e-3)


@pytest.mark.parametrize("hotter", [11.0, 100.0, 1e4])
def test_by_a_very_hot_charge_it_is_the_heat_over_the_power(hotter: float) -> None:
    """t -> C (T_l - T_0) / Q, Q the power at the start; a driver 11 times as far off as the limit is within 5 %."""
    capacity, conductance, start, rise = 5000.0, 150.0, 330.0, 40.0
    power = conductance * hotter * rise
    found = seconds_to_reach(capacity, conductance, start + hotter * rise, start, start + rise)
    assert found == pytest.approx(capacity * rise / power, rel=0.05)


def test_outside_that_limit_the_quotient_is_too_short() -> None:
    found = seconds_to_reach(5000.0, 150.0, 330.0 + 80.0, 330.0, 370.0)
    assert found == pytest.approx(5000.0 / 150.0 * math.log(2.0))
    assert found > 1.3 * 5000.0 * 40.0 / (150.0 * 80.0)


def test_a_driver_that_is_no_hotter_never_gets_there() -> None:
    assert seconds_to_reach(5000.0, 150.0, 370.0, 330.0, 370.0) is None
    assert seconds_to_reach(5000.0, 150.0, 360.0, 330.0, 370.0) is None


def test_what_is_there_already_takes_no_time() -> None:
    assert seconds_to_reach(5000.0, 150.0, 300.0, 370.0, 370.0) == 0.0
    assert seconds_to_reach(5000.0, 150.0, 400.0, 371.0, 370.0) == 0.0


def test_the_conductance_has_its_two_limits() -> None:
    """Small surface: UA; endless surface: all of C. Between: 1 - 1/e of C at UA = C (e = 2.71828)."""
    assert standing_conductance(1.0, 1e6) == pytest.approx(1.0, rel=1e-6)
    assert standing_conductance(1e6, 200.0) == pytest.approx(200.0)
    assert standing_conductance(200.0, 200.0) == pytest.approx(200.0 * (1 - 1 / 2.71828), rel=1e-5)
