"""Laws of lumps in time over random loops, each beside a case just outside its condition where it fails."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.physics.lumps import integrals, repeated, ring, steady, step

AMBIENT_K, CHARGE_K = 300.0, 420.0
SECONDS = st.floats(0.01, 600.0)


class Loop(NamedTuple):
    """Reservoir, core and front exchanger as a ring: capacities [J/K], rate, conductances [W/K], heat [W]."""

    capacities: np.ndarray
    rate: float
    core: float
    exchanger: float
    pump_heat: float = 0.0

    @property
    def couplings(self) -> np.ndarray:
        return np.array([0.0, self.core, self.exchanger])

    @property
    def heat(self) -> np.ndarray:
        return np.array([self.pump_heat, 0.0, 0.0])

    def system(
        self, charge_k: float = CHARGE_K, ambient_k: float = AMBIENT_K
    ) -> tuple[np.ndarray, np.ndarray]:
        to = np.array([0.0, charge_k, ambient_k])
        return ring(self.capacities, self.rate, self.couplings, to, self.heat)


@st.composite
def loops(draw: st.DrawFn, pump_heat: float = 0.0) -> Loop:
    """Loops of 0.1 to 10 litres a lump; a conductance is at most the coolant's capacity rate."""
    capacities = np.array(draw(st.lists(st.floats(400.0, 4e4), min_size=3, max_size=3)))
    rate = draw(st.floats(200.0, 5000.0))
    core, exchanger = (draw(st.floats(0.02, 1.0)) * rate for _ in range(2))
    return Loop(capacities, rate, core, exchanger, pump_heat)


STARTS = st.lists(st.floats(AMBIENT_K, CHARGE_K), min_size=3, max_size=3).map(np.array)
ORDINARY = Loop(np.array([21600.0, 3600.0, 5400.0]), 1200.0, 176.0, 720.0)


def after(loop: Loop, start: np.ndarray, seconds: float) -> np.ndarray:
    phi, shift = step(*loop.system(), seconds)
    return np.asarray(phi @ start + shift)


def gained(loop: Loop, whole: np.ndarray, seconds: float) -> float:
    """Heat that came in, from the integrals of the lumps: G (T t - integral of the one before) + W t."""
    to = np.array([0.0, CHARGE_K, AMBIENT_K])
    before = np.roll(whole, 1)
    return float(np.sum(loop.couplings * (to * seconds - before) + loop.heat * seconds))


@given(loops(pump_heat=60.0), STARTS, SECONDS)
def test_heat_in_less_heat_out_is_heat_stored(loop: Loop, start: np.ndarray, seconds: float) -> None:
    stored = float(loop.capacities @ (after(loop, start, seconds) - start))
    turned_over = loop.capacities.sum() * 120.0 + (loop.core + loop.exchanger) * 120.0 * seconds
    whole = integrals(*loop.system(), start, seconds)
    assert abs(gained(loop, whole, seconds) - stored) < 1e-9 * turned_over


def test_outside_the_exact_integral_the_balance_does_not_close() -> None:
    """The mean of start and end times the time, over a step as long as the loop's own time."""
    start = np.full(3, AMBIENT_K)
    end = after(ORDINARY, start, 30.0)
    stored = float(ORDINARY.capacities @ (end - start))
    assert abs(gained(ORDINARY, (start + end) / 2 * 30.0, 30.0) - stored) > 0.05 * stored


@given(loops(), STARTS, SECONDS)
def test_no_temperature_leaves_the_range_of_its_surroundings(
    loop: Loop, start: np.ndarray, seconds: float
) -> None:
    end = after(loop, start, seconds)
    assert np.all(end > AMBIENT_K - 1e-8)
    assert np.all(end < CHARGE_K + 1e-8)


def test_outside_pump_heat_lifts_a_lump_out_of_that_range() -> None:
    """Charge as cool as the air: nothing but the pump is left, and the coolant settles W/G above the air."""
    loop = ORDINARY._replace(core=0.0, pump_heat=600.0)
    rest = steady(*loop.system())
    assert rest[0] == pytest.approx(AMBIENT_K + 600.0 / 720.0, abs=1e-9)


def test_outside_a_conductance_above_the_capacity_rate_overshoots() -> None:
    """An effectiveness above 1 breaks the second law: liquid leaves colder than the air that cools it."""
    loop = ORDINARY._replace(exchanger=1.5 * ORDINARY.rate)
    assert after(loop, np.full(3, CHARGE_K), 20.0)[2] < AMBIENT_K - 1.0


@given(loops(pump_heat=60.0), STARTS, SECONDS, st.floats(0.05, 0.95))
def test_step_cut_in_two_ends_where_the_whole_one_ends(
    loop: Loop, start: np.ndarray, seconds: float, share: float
) -> None:
    halfway = after(loop, start, share * seconds)
    end = after(loop, halfway, (1.0 - share) * seconds)
    assert end == pytest.approx(after(loop, start, seconds), abs=1e-8)


@pytest.mark.parametrize(("seconds", "stays"), [(6.6, True), (6.8, False)])
def test_outside_the_exact_step_an_explicit_march_runs_away_above_its_limit(
    seconds: float, stays: bool
) -> None:
    """Euler's march is stable while |1 + z| <= 1 for each eigenvalue: here up to 6.68 s (textbook)."""
    m, b = ORDINARY.system()
    x = np.full(3, AMBIENT_K)
    for _ in range(3000):
        x = x + seconds * (m @ x + b)
    assert bool(np.all(np.abs(x - steady(m, b)) < 1.0)) is stays


def test_outside_the_exact_step_the_error_of_an_explicit_march_halves_with_its_step() -> None:
    m, b = ORDINARY.system()
    start = np.full(3, AMBIENT_K)
    errors = []
    for count in (600, 1200, 2400):
        x = start
        for _ in range(count):
            x = x + 60.0 / count * (m @ x + b)
        errors.append(np.abs(x - after(ORDINARY, start, 60.0)).max())
    assert errors[0] < 0.1
    assert errors[0] / errors[1] == pytest.approx(2.0, abs=0.05)
    assert errors[1] / errors[2] == pytest.approx(2.0, abs=0.05)


@given(loops(pump_heat=60.0), STARTS)
def test_after_a_very_long_time_the_loop_is_at_its_steady_state(loop: Loop, start: np.ndarray) -> None:
    assert after(loop, start, 1e6) == pytest.approx(steady(*loop.system()), abs=1e-6)


def test_outside_a_loop_that_exchanges_nothing_warms_for_ever() -> None:
    loop = ORDINARY._replace(core=0.0, exchanger=0.0, pump_heat=60.0)
    start = np.full(3, AMBIENT_K)
    assert after(loop, start, 2e6)[0] > after(loop, start, 1e6)[0] + 1000.0
    assert np.all(np.isnan(steady(*loop.system())))


@given(loops(pump_heat=60.0), loops(), SECONDS, SECONDS)
def test_round_repeated_for_ever_ends_where_it_began(
    hot: Loop, idle: Loop, first: float, second: float
) -> None:
    """Two pieces with the same lumps, one hard and one easy."""
    idle = idle._replace(capacities=hot.capacities)
    (phi1, shift1), (phi2, shift2) = step(*hot.system(), first), step(*idle.system(), second)
    start = repeated(phi2 @ phi1, phi2 @ shift1 + shift2)
    assert after(idle, after(hot, start, first), second) == pytest.approx(start, abs=1e-7)


def test_outside_its_own_start_a_round_does_not_end_where_it_began() -> None:
    start = np.full(3, AMBIENT_K)
    assert np.abs(after(ORDINARY, start, 90.0) - start).max() > 5.0


@given(loops(pump_heat=60.0), STARTS, SECONDS, st.floats(0.1, 10.0))
def test_everything_twice_as_large_has_the_same_temperatures(
    loop: Loop, start: np.ndarray, seconds: float, scale: float
) -> None:
    larger = Loop(*(scale * x for x in loop))
    assert after(larger, start, seconds) == pytest.approx(after(loop, start, seconds), abs=1e-8)


def test_outside_conductances_alone_twice_as_large_do_not() -> None:
    larger = ORDINARY._replace(core=2 * ORDINARY.core)
    start = np.full(3, AMBIENT_K)
    assert np.abs(after(larger, start, 60.0) - after(ORDINARY, start, 60.0)).max() > 3.0


@given(loops(), SECONDS, st.floats(0.1, 3.0))
def test_rise_above_the_air_is_in_proportion_to_the_charge_s(
    loop: Loop, seconds: float, scale: float
) -> None:
    """At fixed conductances, from a start at the air's temperature, without pump heat."""
    start = np.full(3, AMBIENT_K)
    phi, shift = step(*loop.system(AMBIENT_K + scale * (CHARGE_K - AMBIENT_K)), seconds)
    rise = after(loop, start, seconds) - AMBIENT_K
    assert phi @ start + shift - AMBIENT_K == pytest.approx(scale * rise, abs=1e-8)


def test_outside_pump_heat_breaks_the_proportion() -> None:
    loop = ORDINARY._replace(pump_heat=300.0)
    half, whole = (steady(*loop.system(AMBIENT_K + x))[1] - AMBIENT_K for x in (60.0, 120.0))
    assert abs(2 * half - whole) > 0.2


@given(loops(pump_heat=60.0), STARTS, SECONDS, st.floats(-273.15, 100.0))
def test_zero_of_the_scale_does_not_matter(
    loop: Loop, start: np.ndarray, seconds: float, shift_k: float
) -> None:
    """Kelvin or Celsius: every temperature moves by the same amount."""
    phi, shift = step(*loop.system(CHARGE_K + shift_k, AMBIENT_K + shift_k), seconds)
    moved = phi @ (start + shift_k) + shift
    assert moved == pytest.approx(after(loop, start, seconds) + shift_k, abs=1e-8)


def test_outside_one_temperature_left_in_celsius_is_found_out() -> None:
    start = np.full(3, AMBIENT_K)
    phi, shift = step(*ORDINARY.system(CHARGE_K - 273.15), 60.0)
    assert np.abs(phi @ start + shift - after(ORDINARY, start, 60.0)).max() > 30.0


@given(loops(pump_heat=60.0), st.floats(0.0, 2000.0))
def test_without_charge_the_pump_s_heat_alone_sets_the_coolant(loop: Loop, heat: float) -> None:
    """Leaving reservoir and core W/G2 above the air, leaving the exchanger less by W/CL (energy balance)."""
    rest = steady(*loop._replace(core=0.0, pump_heat=heat).system())
    above = heat / loop.exchanger
    assert rest - AMBIENT_K == pytest.approx([above, above, above - heat / loop.rate], abs=1e-7)


def test_outside_even_a_little_charge_lifts_the_coolant_further() -> None:
    rest = steady(*ORDINARY._replace(core=20.0, pump_heat=60.0).system())
    assert rest[0] - AMBIENT_K > 60.0 / 720.0 + 1.0


@given(loops(), SECONDS, st.floats(1.001, 1.5))
def test_better_exchanger_never_leaves_the_coolant_warmer(loop: Loop, seconds: float, better: float) -> None:
    """While everything starts at the air's temperature and the charge is hotter."""
    start = np.full(3, AMBIENT_K)
    larger = loop._replace(exchanger=min(better * loop.exchanger, loop.rate))
    assert np.all(after(larger, start, seconds) <= after(loop, start, seconds) + 1e-9)


def test_outside_a_better_exchanger_in_air_hotter_than_the_coolant_warms_it() -> None:
    """A loop filled with chilled coolant: until it has warmed past the air, more front area is worse."""
    chilled = np.full(3, AMBIENT_K - 25.0)
    larger = ORDINARY._replace(exchanger=1100.0)
    assert after(larger, chilled, 5.0)[2] > after(ORDINARY, chilled, 5.0)[2] + 1.0
