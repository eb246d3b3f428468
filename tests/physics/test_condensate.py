"""Water that falls out on a cold core: limits that always hold, a worked latent load, and a plain fine march."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.foundations.moist_air import dew_point_at_pressure_k, humidity_ratio, saturation_pa
from configurator.physics.condensate import WetCore, latent_heat_j_per_kg, saturated_ratio, wet_core

CP = 1010.0


def one(t1: float, leaves: float, e: float, ratio: float, r: float, water: float, p: float) -> tuple[float, ...]:
    """One core: water shed, charge out, coolant's feed."""
    found = wet_core(*(np.array([x]) for x in (t1, leaves, e, ratio, r, water, p, CP)))
    return float(found.shed[0]), float(found.charge_out_k[0]), float(found.feed_k[0])


def shed(t1: float, t2: float, tc: float, r: float, water: float, p: float) -> tuple[float, float]:
    """One core whose coolant stays as warm as it is: water shed, and how much warmer than t2 the charge leaves."""
    kg, out, feed = one(t1, tc, (t1 - t2) / (t1 - tc), 0.0, r, water, p)
    assert feed == pytest.approx(tc, abs=1e-9)
    return kg, out - t2


def with_feed(t1: float, feed: float, e: float, ratio: float, r: float, water: float, p: float) -> WetCore:
    """One core fed with coolant of this temperature: what leaves it found by halving."""
    low, high = feed, t1
    for _ in range(50):
        middle = (low + high) / 2
        low, high = (low, middle) if one(t1, middle, e, ratio, r, water, p)[2] > feed else (middle, high)
    return wet_core(*(np.array([x]) for x in (t1, low, e, ratio, r, water, p, CP)))


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


def plain_march(
    t1: float, leaves: float, e: float, ratio: float, r: float, water: float, p: float
) -> tuple[float, float, float]:
    """The same equations in 4,000 explicit steps, the surface found by halving, with Magnus' vapour pressure.

    Magnus: 611.2 Pa exp(17.62 t / (243.12 + t)), within 0.4 % (published, WMO guide; from memory).
    """
    steps, back = 4000, (1 - r) / r
    n = math.log((1 - ratio * e) / (1 - e)) / (1 - ratio) / r / steps

    def over(surface: float) -> float:
        ps = 611.2 * math.exp(17.62 * (surface - 273.15) / (surface - 30.03))
        return 0.0 if ps >= p else max(w - 0.621945 * ps / (p - ps), 0.0)

    t, tc, w = t1, leaves, water
    for _ in range(steps):
        per_k = (2.501e6 - 2361.0 * (tc - 273.15)) / CP
        low, high = tc, t
        for _ in range(40):
            middle = (low + high) / 2
            fits = (middle - tc) > back * ((t - middle) + per_k * over(middle))
            low, high = (low, middle) if fits else (middle, high)
        falls, dries = (t - low) * n, over(low) * n
        t, tc, w = t - falls, tc - ratio * (falls + per_k * dries), w - dries
    return water - w, t, tc


@pytest.mark.parametrize(
    "core",
    [
        (473.0, 280.0, 0.741, 0.0, 0.7, 0.0133, 300e3),
        (473.0, 276.0, 0.878, 0.0, 0.6, 0.0133, 300e3),
        (470.0, 276.0, 0.954, 0.0, 0.85, 0.020, 300e3),
        (440.0, 283.0, 0.828, 0.0, 0.5, 0.016, 230e3),
        (470.0, 300.0, 0.93, 0.16, 0.85, 0.020, 300e3),
        (392.7, 283.5, 0.98, 0.07, 0.8, 0.0272, 180e3),
        (340.0, 279.0, 0.985, 0.03, 0.9, 0.0272, 128e3),
        (420.0, 345.0, 0.60, 0.60, 0.8, 0.060, 250e3),
        (380.0, 340.0, 0.30, 1.30, 0.8, 0.060, 250e3),
    ],
)
def test_a_few_pieces_find_what_thousands_of_plain_steps_find(core: tuple[float, ...]) -> None:
    kg, out, feed = one(*core)
    plain_kg, plain_out, plain_feed = plain_march(*core)
    assert plain_kg > 1e-4
    assert kg == pytest.approx(plain_kg, rel=0.03)
    assert (out, feed) == pytest.approx((plain_out, plain_feed), abs=0.4)


@pytest.mark.parametrize("ratio", [0.0, 0.2, 0.999999, 1.0, 1.4])
def test_dry_charge_leaves_as_the_effectiveness_says(ratio: float) -> None:
    """e = (T1 - T2) / (T1 - feed), and what the charge gives the coolant takes: Kays & London (from memory)."""
    kg, out, feed = one(450.0, 330.0, 0.6, ratio, 0.8, 0.0, 250e3)
    assert kg == 0.0
    assert (450.0 - out) / (450.0 - feed) == pytest.approx(0.6, abs=1e-4)
    assert 330.0 - feed == pytest.approx(ratio * (450.0 - out), abs=0.02)


def test_a_core_so_good_that_the_charge_leaves_colder_than_the_coolant_on_the_mean_sheds_too() -> None:
    """119.5 degC to some 4 degC with coolant of 1 degC that leaves near 9 degC: the mean coolant is warmer than that.

    Mass balance, ASHRAE Fundamentals ch. 1: charge leaves with no more water than saturation holds, so that of 27.1
    g/kg (30 degC, 100 %) all but 3 to 5 g/kg at 180 kPa stay in the core. Between 20 and 25 g/kg.
    """
    water = humidity_ratio(saturation_pa(303.15), 101_325.0)
    core = with_feed(392.67, 274.45, 0.979, 0.0675, 0.8, water, 180.7e3)
    assert float(core.charge_out_k[0]) < 274.45 + 9.0
    assert 20e-3 < float(core.shed[0]) < 25e-3
    assert water - float(core.shed[0]) == pytest.approx(float(saturated_ratio(core.charge_out_k, 180.7e3)[0]), rel=0.15)


@pytest.mark.parametrize("feed", [274.0, 280.0, 288.0])
def test_a_better_core_sheds_no_less(feed: float) -> None:
    water = humidity_ratio(0.6 * saturation_pa(293.15), 61_640.0)
    kg = [float(with_feed(407.0, feed, e, 0.07, 0.85, water, 161.6e3).shed[0]) for e in (0.7, 0.8, 0.9, 0.95, 0.98)]
    assert kg == sorted(kg) and kg[-1] > 0.0


def test_the_heat_of_the_water_warms_the_coolant_and_with_it_the_charge() -> None:
    """Of the same feed: what the coolant takes up is the charge's fall and the water's latent heat, within 1 %."""
    water = humidity_ratio(0.9 * saturation_pa(311.15), 101_325.0)
    dry, wet = (with_feed(465.8, 275.15, 0.91, 0.2, 0.9, w, 201.3e3) for w in (0.0, water))
    assert float(wet.charge_out_k[0]) > float(dry.charge_out_k[0]) + 3.0
    leaves = [one(465.8, 275.15 + rises, 0.91, 0.2, 0.9, water, 201.3e3)[2] for rises in (30.0, 60.0)]
    assert leaves[0] < leaves[1]  # the warmer it leaves, the warmer it came


CORES = st.tuples(
    st.floats(380, 480), st.floats(3, 60), st.floats(274, 320), st.floats(0.3, 0.95), st.floats(0.002, 0.03),
    st.floats(120e3, 320e3),
)  # fmt: skip


@given(CORES)
def test_never_more_than_the_coolant_cannot_keep_and_never_less_than_none(core: tuple[float, ...]) -> None:
    t1, above, tc, r, water, p = core
    kg, warmer = shed(t1, tc + above, tc, r, water, p)
    assert -1e-12 <= kg <= max(water - float(saturated_ratio(tc, p)), 0.0) + 1e-9
    assert -1e-9 <= warmer <= kg * float(latent_heat_j_per_kg(tc)) / CP + 1e-9


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
