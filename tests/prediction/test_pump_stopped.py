"""A core whose coolant stands: what is in it and what heats it, counted again by hand."""

from __future__ import annotations

import math

import pytest

from configurator.foundations.coolants import properties
from configurator.prediction.bench import Loop, ZoneAir, make_columns
from configurator.prediction.pump_stopped import StandingCore, standing_cores
from configurator.prediction.stages import Stage
from tests.prediction.made_kits import WATER, Made, conditions, kit, place, plain_kit, run, whole_bench

HOT = conditions(boost_pa=1.5e5)


def standing(made: Made) -> StandingCore:
    (found,) = standing_cores(made.predict(HOT), made.columns)
    return found


def test_a_plain_core_by_hand() -> None:
    """0.5 L of water filled in at 20 degC and 1000 J/K of metal behind UA = 600 W/K; no film in the liquid counts."""
    made = plain_kit(ua_core=600.0)
    found, full = standing(made), made.predict(HOT).full
    rate = float(full.rate_w_per_k[0])
    assert found.w_per_k == pytest.approx(rate * (1 - math.exp(-600.0 / rate)))
    hot, filled = (properties(WATER, t_k) for t_k in (float(made.predict(HOT).properties_at_k[0]), 293.15))
    assert found.capacity_j_per_k == pytest.approx(1000.0 + 0.5e-3 * float(filled.density * hot.specific_heat))
    assert found.capacity_j_per_k == pytest.approx(1000.0 + 0.5 * 4.15e3, rel=0.02)
    assert found.charge_in_k == float(full.in_k[0])
    assert found.start_k == float(made.predict(HOT).coolant_worst_k[0])


def test_the_film_of_the_liquid_is_left_out() -> None:
    """Running, the film takes its part: the charge's side alone lets more through for each kelvin."""
    made = kit("core-230-short")
    running = made.predict(HOT).loads[HOT.hardest_at_full_power].core_w_per_k[0]
    assert standing(made).w_per_k > float(running)


def test_two_cores_side_by_side_boil_when_one_with_half_the_charge_would() -> None:
    """Twice the metal and coolant, half the charge through each: all sums per core."""
    bench, core = whole_bench(), place("cores", "core-230-short")
    pump, tank = place("pumps", "pump-46-small"), place("reservoirs", "reservoir-6-vented")
    air = ZoneAir(0.25, 0.0, 0.0, 0.0)
    twins = Loop(core, None, pump, tank, tuple(run() for _ in range(7)), (), air, (Stage("core", 2),))
    found = standing(Made(bench, make_columns(bench, [twins])))
    half = conditions(boost_pa=1.5e5, air_kg_per_s=HOT.air_kg_per_s / 2)
    one = kit("core-230-short", exchanger=None)
    (alone,) = standing_cores(one.predict(half), one.columns)
    assert found.w_per_k == pytest.approx(2 * alone.w_per_k, rel=1e-3)
    assert found.capacity_j_per_k == pytest.approx(2 * alone.capacity_j_per_k, rel=0.01)


def test_a_charge_below_boiling_never_boils_it() -> None:
    cool = StandingCore(charge_in_k=365.0, start_k=320.0, capacity_j_per_k=5000.0, w_per_k=150.0)
    assert cool.boils_after_s(373.15) is None
    assert cool.boils_after_s(364.0) == pytest.approx(5000 / 150 * math.log(45.0))


def test_a_row_does_not_hang_on_its_company() -> None:
    bench = whole_bench()
    loops = [
        Loop(
            place("cores", core), None, place("pumps", "pump-46-small"), place("reservoirs", "reservoir-6-vented"),
            tuple(run() for _ in range(3)), (), ZoneAir(0.25, 0.0, 0.0, 0.0),
        )
        for core in ("core-230-short", "core-210-short")
    ]  # fmt: skip
    both = Made(bench, make_columns(bench, loops))
    together = standing_cores(both.predict(HOT), both.columns)
    for loop, found in zip(loops, together, strict=True):
        (alone,) = standing_cores(Made(bench, make_columns(bench, [loop])).predict(HOT), make_columns(bench, [loop]))
        assert found.w_per_k == pytest.approx(alone.w_per_k, rel=1e-9)
        assert found.start_k == pytest.approx(alone.start_k, rel=1e-9)
