"""Laws of pipes and pumps over their range, each beside a case just outside it where it fails."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from configurator.joining.bore_steps import chain_per_m4
from configurator.physics.operating_point import head, operating_flow, stack_curves
from configurator.physics.pipe_flow import (
    area,
    friction_factor,
    pipe_loss,
    reynolds,
)

L_PER_MIN = 1e-3 / 60
LITRES = st.floats(0.2, 100.0)
BORES = st.floats(0.008, 0.040)
VISCOSITIES = st.floats(3e-4, 2e-2)
MORE = st.floats(1.001, 3.0)


def between(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high, allow_nan=False)


# --- pipes -------------------------------------------------------------------------------------------------


@given(LITRES, BORES, VISCOSITIES, between(0.0, 2e-5), MORE)
def test_loss_rises_with_flow_and_length_and_falls_with_bore(
    litres: float, bore: float, viscosity: float, roughness: float, more: float
) -> None:
    """At every flow, the uncertain range between laminar and turbulent included."""
    flow = litres * L_PER_MIN
    here = float(pipe_loss(flow, 2.0, bore, roughness, 1050.0, viscosity))
    assert float(pipe_loss(more * flow, 2.0, bore, roughness, 1050.0, viscosity)) > here
    assert float(pipe_loss(flow, more * 2.0, bore, roughness, 1050.0, viscosity)) > here
    assert float(pipe_loss(flow, 2.0, more * bore, roughness, 1050.0, viscosity)) < here


def test_outside_a_wider_hose_on_the_same_barb_loses_more_at_the_barb() -> None:
    """The bore law is that of a pipe: a fixed restriction loses more in a wider line, not less."""
    narrow, wide = (chain_per_m4((line, 0.013, line)) for line in (0.016, 0.025))
    assert wide > narrow


def test_outside_a_flow_that_runs_backwards_is_not_a_smaller_loss() -> None:
    """The flow law is for flows from 0 up; below it the formula means nothing."""
    assert float(pipe_loss(-1e-4, 2.0, 0.019, 0.0, 1050.0, 1e-3)) > float(
        pipe_loss(0.0, 2.0, 0.019, 0.0, 1050.0, 1e-3)
    )


@given(LITRES, BORES, VISCOSITIES, MORE)
def test_thicker_liquid_loses_more_away_from_the_uncertain_range(
    litres: float, bore: float, viscosity: float, more: float
) -> None:
    flow = litres * L_PER_MIN
    re = reynolds(flow, bore, 1050.0, np.array([viscosity, more * viscosity]))
    assume(bool(np.all(re <= 2000.0) | np.all(re >= 4000.0)))
    thin, thick = pipe_loss(flow, 2.0, bore, 1.5e-6, 1050.0, np.array([viscosity, more * viscosity]))
    assert thick > thin


def test_outside_between_laminar_and_turbulent_a_thicker_liquid_loses_less() -> None:
    """From Re 3900 to Re 2400 by viscosity alone, at one flow."""
    viscosity = 4 * 1050.0 * 3e-4 / (np.pi * 0.019 * np.array([3900.0, 2400.0]))
    thin, thick = pipe_loss(3e-4, 2.0, 0.019, 1.5e-6, 1050.0, viscosity)
    assert thick < 0.8 * thin


@given(between(10.0, 1e7), between(1.0005, 2.0), between(0.0, 0.03))
def test_factor_falls_with_reynolds_outside_the_blend(re: float, more: float, roughness: float) -> None:
    assume(more * re <= 2300.0 or re >= 4000.0)
    low, high = friction_factor(np.array([re, more * re]), roughness)
    assert high < low or (roughness > 0.0 and high == pytest.approx(low, rel=1e-9))


def test_outside_in_the_blend_the_factor_rises() -> None:
    low, high = friction_factor(np.array([2400.0, 3900.0]))
    assert high > 1.3 * low


@given(between(4000.0, 1e7), between(0.0, 0.02), between(1e-4, 0.02))
def test_rougher_wall_rubs_more_in_turbulent_flow(re: float, roughness: float, more: float) -> None:
    smooth, rough = friction_factor(re, np.array([roughness, roughness + more]))
    assert rough > smooth


def test_outside_in_laminar_flow_the_wall_s_roughness_does_not_count() -> None:
    smooth, rough = friction_factor(1500.0, np.array([0.0, 0.02]))
    assert rough == smooth


@given(LITRES, BORES, VISCOSITIES, between(0.1, 6.0), between(0.05, 0.95))
def test_hose_cut_in_two_loses_what_it_lost_whole(
    litres: float, bore: float, viscosity: float, length: float, share: float
) -> None:
    pieces = np.array([1.0, share, 1.0 - share]) * length
    whole, one, two = pipe_loss(litres * L_PER_MIN, pieces, bore, 1.5e-6, 1050.0, viscosity)
    assert one + two == pytest.approx(whole, rel=1e-12)


def test_outside_two_joiners_lose_twice_what_one_loses() -> None:
    """A cut that needs a barbed joiner is not the same hose: each barb is a restriction of its own."""
    flow, one = 20 * L_PER_MIN, chain_per_m4((0.019, 0.015, 0.019))
    hose = float(pipe_loss(flow, 2.0, 0.019, 1.5e-6, 1050.0, 2e-3))
    assert hose + 1050.0 * flow**2 / 2 * one > 1.1 * hose


@given(LITRES, BORES, VISCOSITIES, between(1.5, 4.0))
def test_loss_is_the_same_in_feet_slugs_and_seconds(
    litres: float, bore: float, viscosity: float, length: float
) -> None:
    """1 ft = 0.3048 m, 1 slug = 14.59390 kg, so a pressure is in slug/(ft s²) (definitions, from memory)."""
    ft, slug = 0.3048, 14.59390
    flow = litres * L_PER_MIN
    here = float(pipe_loss(flow, length, bore, 1.5e-6, 1050.0, viscosity))
    other = pipe_loss(
        flow / ft**3, length / ft, bore / ft, 1.5e-6 / ft, 1050.0 * ft**3 / slug, viscosity * ft / slug
    )
    assert float(other) * slug / ft == pytest.approx(here, rel=1e-11)


def test_outside_one_length_left_in_other_units_is_found_out() -> None:
    here = float(pipe_loss(3e-4, 2.0, 0.019, 1.5e-6, 1050.0, 1e-3))
    mixed = float(pipe_loss(3e-4, 2.0 / 0.3048, 0.019, 1.5e-6, 1050.0, 1e-3))
    assert mixed > 3.0 * here


# --- pump and loop -----------------------------------------------------------------------------------------


@st.composite
def falling_pumps(draw: st.DrawFn) -> tuple[list[float], list[float]]:
    """Pump curves of 2 to 8 points that fall from 20 to 120 kPa to 0 within 10 to 80 L/min."""
    count = draw(st.integers(2, 8))
    steps = np.array(draw(st.lists(between(0.05, 1.0), min_size=count - 1, max_size=count - 1)))
    falls = np.array(draw(st.lists(between(0.02, 1.0), min_size=count - 1, max_size=count - 1)))
    flows = np.concatenate(([0.0], np.cumsum(steps) / steps.sum())) * draw(between(10.0, 80.0)) * L_PER_MIN
    heads = (1.0 - np.concatenate(([0.0], np.cumsum(falls) / falls.sum()))) * draw(between(20e3, 120e3))
    return flows.tolist(), heads.tolist()


def loop_flow(
    pump: tuple[list[float], list[float]], factors: float, length: float, viscosity: float
) -> tuple[float, float, float]:
    """Flow, head and loss of a pump on a 19 mm loop of hose and fittings."""
    curves = stack_curves([pump])

    def loss(q: np.ndarray) -> np.ndarray:
        fittings = factors / area(0.019) ** 2 * 1050.0 * q**2 / 2
        return fittings + pipe_loss(q, length, 0.019, 1.5e-6, 1050.0, viscosity)

    flow = operating_flow(lambda q: head(curves, 0, q), loss, np.array(3.0 * pump[0][-1]))
    return float(flow), float(head(curves, 0, flow)), float(loss(flow))


@given(falling_pumps())
def test_curve_of_falling_points_falls_everywhere(pump: tuple[list[float], list[float]]) -> None:
    fine = head(stack_curves([pump]), 0, np.linspace(0.0, 2.0 * pump[0][-1], 400))
    assert np.all(np.diff(fine) <= 1e-9 * pump[1][0])


def test_outside_an_ordinary_cubic_through_the_same_points_rises() -> None:
    """What the monotone cubic is for: the cubic polynomial through four falling points has a hump."""
    flows, heads = np.array([0.0, 1.0, 2.0, 3.0]), np.array([10.0, 9.9, 1.0, 0.9])
    fine = np.linspace(0.0, 3.0, 300)
    assert np.all(np.diff(head(stack_curves([(flows.tolist(), heads.tolist())]), 0, fine)) <= 0.0)
    ordinary = np.polyval(np.polyfit(flows, heads, 3), fine)
    assert np.any(np.diff(ordinary) > 0.0)


@given(falling_pumps(), between(0.5, 200.0), between(0.3, 8.0), VISCOSITIES)
def test_pressures_round_the_loop_sum_to_zero(
    pump: tuple[list[float], list[float]], factors: float, length: float, viscosity: float
) -> None:
    flow, made, taken = loop_flow(pump, factors, length, viscosity)
    assert flow > 0.0
    assert made == pytest.approx(taken, rel=1e-8)


def test_outside_a_bracket_that_ends_too_low_leaves_them_apart() -> None:
    pump = ([0.0, 40 * L_PER_MIN], [60e3, 0.0])
    curves = stack_curves([pump])
    flow = operating_flow(lambda q: head(curves, 0, q), lambda q: 1e9 * q**2, np.array(10 * L_PER_MIN))
    assert float(head(curves, 0, flow)) > 2.0 * float(1e9 * flow**2)


@given(falling_pumps(), between(0.5, 200.0), between(0.3, 8.0), VISCOSITIES, between(0.2, 50.0))
def test_any_resistance_added_in_the_loop_lowers_the_flow(
    pump: tuple[list[float], list[float]], factors: float, length: float, viscosity: float, more: float
) -> None:
    """At every Reynolds number: more fittings, or more hose."""
    flow = loop_flow(pump, factors, length, viscosity)[0]
    assert loop_flow(pump, factors + more, length, viscosity)[0] < flow
    assert loop_flow(pump, factors, length + more, viscosity)[0] < flow


def test_outside_a_branch_beside_the_loop_raises_the_pump_s_flow() -> None:
    """The same resistance as a second way for the liquid: K/A² of two in parallel is a quarter of one."""
    curves = stack_curves([([0.0, 40 * L_PER_MIN], [60e3, 0.0])])
    loop = np.array([4e11, 4e11 / 4])
    alone, branched = operating_flow(lambda q: head(curves, 0, q), lambda q: loop * q**2, np.full(2, 2e-3))
    assert branched > alone


@given(falling_pumps(), between(0.5, 100.0), between(0.3, 8.0), VISCOSITIES, MORE)
def test_thicker_liquid_lowers_the_flow_away_from_the_uncertain_range(
    pump: tuple[list[float], list[float]], factors: float, length: float, viscosity: float, more: float
) -> None:
    thin = loop_flow(pump, factors, length, viscosity)[0]
    thick = loop_flow(pump, factors, length, more * viscosity)[0]
    re = [float(reynolds(q, 0.019, 1050.0, v)) for q, v in ((thin, viscosity), (thick, more * viscosity))]
    assume(max(re) <= 2000.0 or min(re) >= 4000.0)
    assert thick < thin


def test_outside_in_the_uncertain_range_a_thicker_liquid_flows_faster() -> None:
    """The same pump and hose at Reynolds numbers from about 3800 down to about 2500."""
    pump = ([0.0, 10 * L_PER_MIN], [20e3, 0.0])
    thin = loop_flow(pump, 20.0, 30.0, 2.1e-3)[0]
    thick = loop_flow(pump, 20.0, 30.0, 3.1e-3)[0]
    assert 2300.0 < float(reynolds(thick, 0.019, 1050.0, 3.1e-3)) < 2700.0
    assert 3500.0 < float(reynolds(thin, 0.019, 1050.0, 2.1e-3)) < 4000.0
    assert thick > thin


@given(falling_pumps(), between(1e9, 1e13))
def test_falling_pump_meets_a_loop_once(pump: tuple[list[float], list[float]], loop: float) -> None:
    q = np.linspace(0.0, 3.0 * pump[0][-1], 2000)
    wins = head(stack_curves([pump]), 0, q) > loop * q**2
    assert np.count_nonzero(np.diff(wins.astype(int))) == 1


def test_outside_a_pump_whose_curve_rises_can_meet_it_three_times() -> None:
    """Why a curve that rises is refused when it is read: no flow is *the* operating point."""
    q = np.linspace(0.0, 4.0, 4001)
    curves = stack_curves([([0.0, 1.0, 2.0, 3.0], [0.5, 0.5, 6.0, 0.0])])
    wins = head(curves, 0, q) > 0.8 * q**2
    assert np.count_nonzero(np.diff(wins.astype(int))) == 3
