"""Water that falls out on a cold core: limits that always hold, a worked latent load, and a plain fine march."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.foundations.moist_air import dew_point_at_pressure_k, humidity_ratio, saturation_pa
from configurator.physics.condensate import latent_heat_j_per_kg, saturated_ratio, shed_on_surface

CP = 1010.0


def shed(t1: float, t2: float, tc: float, r: float, water: float, p: float) -> tuple[float, float]:
    """One core."""
    kg, warmer = shed_on_surface(*(np.array([x]) for x in (t1, t2, tc, r, water, p, CP)))
    return float(kg[0]), float(warmer[0])


def test_a_core_whose_air_leaves_saturated_sheds_what_the_mass_balance_says() -> None:
    """30 degC at 60 % and 101.325 kPa, brought to 200 kPa, on a surface of 20 degC: 8.683 g/kg, 5.243 kW.

    The surface is held at 20 degC by a film of next to no resistance on its coolant side, and long enough to bring all
    of the air there. Mass balance, ASHRAE Fundamentals ch. 1 (published; the row reckoned with IAPWS saturation):
    0.25 kg/s of moist air then sheds 2.1365 g/s, times 2454 kJ/kg.
    """
    water = humidity_ratio(0.6 * saturation_pa(303.15), 101_325.0)
    kg, _ = shed(420.0, 293.15 + 1e-4, 293.15, 0.999, water, 200e3)
    assert kg == pytest.approx(8.683e-3, rel=0.02)
    per_s = 0.25 / (1 + water) * kg
    assert per_s == pytest.approx(2.1365e-3, rel=0.02)
    assert per_s * float(latent_heat_j_per_kg(293.15)) == pytest.approx(5243.0, rel=0.02)


def plain_march(t1: float, t2: float, tc: float, r: float, water: float, p: float) -> tuple[float, float]:
    """The same three equations in 4,000 explicit steps, the surface found by halving, with Magnus' vapour pressure.

    Magnus: 611.2 Pa exp(17.62 t / (243.12 + t)), within 0.4 % (published, WMO guide; from memory).
    """
    steps, back = 4000, (1 - r) / r
    n = math.log((t1 - tc) / (t2 - tc)) / r / steps
    per_k = (2.501e6 - 2361.0 * (tc - 273.15)) / CP

    def over(surface: float) -> float:
        ps = 611.2 * math.exp(17.62 * (surface - 273.15) / (surface - 30.03))
        return 0.0 if ps >= p else max(w - 0.621945 * ps / (p - ps), 0.0)

    t, dry, w = t1, t1, water
    for _ in range(steps):
        low, high = tc, t
        for _ in range(40):
            middle = (low + high) / 2
            fits = (middle - tc) > back * ((t - middle) + per_k * over(middle))
            low, high = (low, middle) if fits else (middle, high)
        t, w = t - (t - low) * n, w - over(low) * n
        dry -= (dry - tc) * r * n
    return water - w, t - dry


@pytest.mark.parametrize(
    "core",
    [
        (473.0, 330.0, 280.0, 0.7, 0.0133, 300e3),
        (473.0, 300.0, 276.0, 0.6, 0.0133, 300e3),
        (470.0, 285.0, 276.0, 0.85, 0.020, 300e3),
        (440.0, 310.0, 283.0, 0.5, 0.016, 230e3),
    ],
)
def test_a_few_pieces_find_what_thousands_of_plain_steps_find(core: tuple[float, ...]) -> None:
    kg, warmer = shed(*core)
    plain_kg, plain_warmer = plain_march(*core)
    assert plain_kg > 1e-4
    assert kg == pytest.approx(plain_kg, rel=0.03)
    assert warmer == pytest.approx(plain_warmer, rel=0.05, abs=0.05)


CORES = st.tuples(
    st.floats(380, 480), st.floats(3, 60), st.floats(274, 320), st.floats(0.3, 0.95), st.floats(0.002, 0.03),
    st.floats(120e3, 320e3),
)  # fmt: skip


@given(CORES)
def test_never_more_than_the_coolant_cannot_keep_and_never_less_than_none(core: tuple[float, ...]) -> None:
    t1, above, tc, r, water, p = core
    kg, warmer = shed(t1, tc + above, tc, r, water, p)
    assert -1e-12 <= kg <= max(water - float(saturated_ratio(tc, p)), 0.0) + 1e-9
    assert 0.0 <= warmer <= kg * float(latent_heat_j_per_kg(tc)) / CP + 1e-9


@given(CORES)
def test_a_coolant_at_the_dew_point_or_above_sheds_nothing(core: tuple[float, ...]) -> None:
    t1, above, tc, r, _, p = core
    water = float(saturated_ratio(tc, p))
    assert shed(t1, tc + above, tc, r, water, p) == pytest.approx((0.0, 0.0), abs=1e-9)


@given(CORES)
def test_wetter_air_sheds_more(core: tuple[float, ...]) -> None:
    t1, above, tc, r, water, p = core
    assert shed(t1, tc + above, tc, r, 1.2 * water, p)[0] >= shed(t1, tc + above, tc, r, water, p)[0] - 1e-9


def test_outside_a_charge_that_is_hot_on_the_mean_still_sheds_on_a_cold_surface() -> None:
    """The case that a saturated outlet misses: mean charge out 50 K above the dew point, and water all the same."""
    water = humidity_ratio(0.6 * saturation_pa(303.15), 101_325.0)
    dew = dew_point_at_pressure_k(303.15, 0.6, 101_325.0, 250e3)
    kg, _ = shed(470.0, dew + 25.0, 276.0, 0.85, water, 250e3)
    assert kg > 1e-3


def test_latent_heat_is_that_of_the_steam_tables() -> None:
    """2500.9, 2441.7, 2382.0 kJ/kg at 0, 25, 50 degC; published steam tables (from memory)."""
    found = latent_heat_j_per_kg(np.array([273.15, 298.15, 323.15]))
    assert found == pytest.approx([2500.9e3, 2441.7e3, 2382.0e3], rel=1e-3)


def test_the_table_of_saturation_is_the_formula() -> None:
    t = np.linspace(260.1, 420.3, 57)
    ps = np.array([saturation_pa(float(x)) for x in t])
    assert saturated_ratio(t, 600e3) == pytest.approx(0.621945 * ps / (600e3 - ps), rel=1e-4)
