"""Laws of air, engine and charger over their range, each beside a case just outside it where it fails."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.foundations.units import STANDARD_GRAVITY
from configurator.physics.air_flow import air_flow_from_displacement
from configurator.physics.atmosphere import standard_atmosphere
from configurator.physics.compression import outlet_temperature, pressure_ratio


def between(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high, allow_nan=False)


@given(between(-1000.0, 10_900.0), between(1.0, 100.0))
def test_air_thins_and_cools_with_altitude(altitude: float, up: float) -> None:
    low, high = standard_atmosphere(altitude), standard_atmosphere(altitude + up)
    assert high.pressure_pa < low.pressure_pa
    assert high.density < low.density
    assert high.temperature_k < low.temperature_k


def test_outside_above_11_km_the_air_cools_no_more_and_the_formula_is_wrong() -> None:
    """ISO 2533: 216.65 K from 11 to 20 km, so p falls as exp(-g H/(R T)) (from memory; recomputed here)."""
    top, above = standard_atmosphere(11_000.0), standard_atmosphere(12_000.0)
    published = float(top.pressure_pa) * np.exp(-STANDARD_GRAVITY * 1000.0 / (287.05287 * 216.65))
    assert published == pytest.approx(19330.4, rel=1e-5)
    assert abs(float(above.pressure_pa) / published - 1.0) > 2e-3
    assert float(above.temperature_k) < 216.65 - 6.0


@given(between(240.0, 330.0), between(1.0, 3.4), between(1e-3, 0.5), between(0.4, 0.85), between(0.01, 0.15))
def test_outlet_warms_with_ratio_and_inlet_and_cools_with_efficiency(
    inlet: float, ratio: float, more: float, efficiency: float, better: float
) -> None:
    here = float(outlet_temperature(inlet, ratio, efficiency))
    assert float(outlet_temperature(inlet, ratio + more, efficiency)) > here
    assert float(outlet_temperature(inlet + 1.0, ratio, efficiency)) >= here + 1.0
    assert float(outlet_temperature(inlet, ratio, efficiency + better)) <= here
    assert here >= inlet


def test_outside_below_a_ratio_of_1_a_better_charger_is_warmer() -> None:
    """A charger that restricts the engine (ratio 0.9): the less efficient, the colder by formula."""
    poor, good = outlet_temperature(300.0, 0.9, np.array([0.5, 0.8]))
    assert poor < good < 300.0


@given(between(240.0, 330.0), between(0.3, 1.0))
def test_charger_that_does_nothing_warms_nothing(inlet: float, efficiency: float) -> None:
    assert float(outlet_temperature(inlet, 1.0, efficiency)) == inlet


@given(between(240.0, 330.0), between(1.0, 3.4), between(0.4, 1.0), between(1.01, 2.0))
def test_outlet_scales_with_the_absolute_inlet(
    inlet: float, ratio: float, efficiency: float, scale: float
) -> None:
    """In any unit that starts at absolute zero (kelvin, rankine) the answer is the same."""
    here = outlet_temperature(inlet, ratio, efficiency)
    assert float(outlet_temperature(scale * inlet, ratio, efficiency)) == pytest.approx(
        scale * float(here), rel=1e-12
    )


def test_outside_a_celsius_inlet_breaks_it() -> None:
    kelvin = float(outlet_temperature(293.15, 2.0, 0.7)) - 273.15
    celsius = float(outlet_temperature(20.0, 2.0, 0.7))
    assert abs(kelvin - celsius) > 80.0


@given(between(0.0, 3000.0), between(10.0, 1000.0), between(1e3, 2.5e5), between(0.0, 2e4), between(0.0, 5e3))
def test_same_boost_is_a_larger_ratio_higher_up(
    altitude: float, up: float, boost: float, after: float, before: float
) -> None:
    pressures = standard_atmosphere(np.array([altitude, altitude + up])).pressure_pa
    low, high = pressure_ratio(pressures, boost, after, before)
    assert high > low > 1.0


def test_outside_without_boost_and_loss_the_altitude_does_not_count() -> None:
    low, high = pressure_ratio(standard_atmosphere(np.array([0.0, 3000.0])).pressure_pa, 0.0, 0.0, 0.0)
    assert low == high == 1.0


@given(between(1e5, 3e5), between(1.01, 1.5), between(280.0, 340.0))
def test_engine_breathes_more_of_a_denser_charge(pressure: float, more: float, temperature: float) -> None:
    here = float(air_flow_from_displacement(2e-3, 100.0, 0.9, pressure, temperature))
    assert float(air_flow_from_displacement(2e-3, 100.0, 0.9, more * pressure, temperature)) > here
    assert float(air_flow_from_displacement(2e-3, 100.0, 0.9, pressure, more * temperature)) < here


def test_outside_more_boost_without_a_cooler_is_less_air_than_less_boost_with_one() -> None:
    """The law is for one temperature: 2.4 bar as it leaves the charger against 2.0 bar cooled to 320 K."""
    hot = outlet_temperature(300.0, 2.4, 0.65)
    uncooled = float(air_flow_from_displacement(2e-3, 100.0, 0.9, 2.4e5, hot))
    assert uncooled < float(air_flow_from_displacement(2e-3, 100.0, 0.9, 2.0e5, 320.0))
