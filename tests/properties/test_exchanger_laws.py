"""Laws that hold for every exchanger and every coupled loop, each with a case just outside its condition that
breaks it.

Standing: they follow from the balances and from Kays & London, Compact Heat Exchangers, 3rd ed., ch. 2 (from
memory).
"""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.physics.effectiveness import FLOWS, conductance, effectiveness
from tests.reference_cases.coupled_loop import SteadyLoop, coupled_conductance, steady_loop

flows = st.sampled_from(FLOWS)
units = st.floats(1e-3, 12.0)
ratios = st.floats(0.0, 1.0)
sizes = st.floats(1.0, 5000.0)
rates = st.floats(20.0, 4000.0)
pumps = st.floats(0.0, 300.0)
UNMIXED = "cross-flow both unmixed"


def _g(flow: str, ua: float, c_air: float, c_coolant: float) -> float:
    return float(conductance(flow, 1, None, ua, c_air, c_coolant))


def _pair(
    flow: str,
    ua1: float,
    ua2: float,
    c1: float,
    c2: float,
    cl: float,
    th: float = 420.0,
    tc: float = 300.0,
    w: float = 0.0,
) -> tuple[SteadyLoop, float]:
    """The coupled loop from the two sizes, and the charge temperature out of the core."""
    loop = steady_loop(th, tc, _g(flow, ua1, c1, cl), _g(flow, ua2, c2, cl), cl, w)
    return loop, th - float(loop.heat_core) / c1


# Energy


@given(flows, sizes, sizes, rates, rates, rates, pumps)
def test_charge_heat_and_pump_heat_leave_through_the_exchanger(
    flow: str, ua1: float, ua2: float, c1: float, c2: float, cl: float, w: float
) -> None:
    loop, _ = _pair(flow, ua1, ua2, c1, c2, cl, w=w)
    moved = abs(loop.heat_core) + abs(loop.heat_exchanger) + w
    assert loop.heat_exchanger - loop.heat_core == pytest.approx(w, abs=1e-9 * moved)
    assert cl * (loop.core_out - loop.core_in) == pytest.approx(loop.heat_core, abs=1e-9 * cl * 420.0)
    given_up = cl * (loop.core_out - loop.exchanger_out)
    assert given_up == pytest.approx(loop.heat_exchanger, abs=1e-9 * cl * 420.0)


def test_a_ledger_without_the_pump_does_not_close() -> None:
    loop, _ = _pair(UNMIXED, 600.0, 1500.0, 250.0, 1600.0, 1000.0, w=60.0)
    assert abs(loop.heat_exchanger - loop.heat_core) > 59.0


# Bounds


@given(flows, units, ratios, st.integers(1, 6), st.booleans())
def test_effectiveness_lies_between_nothing_and_counter_flow(
    flow: str, ntu: float, ratio: float, passes: int, air_is_min: bool
) -> None:
    eps = float(effectiveness(flow, ntu, ratio, passes, "in turn", air_is_min))
    assert 0.0 < eps <= 1.0
    assert eps <= float(effectiveness("counter-flow", ntu, ratio)) * (1.0 + 1e-12)


@given(units, ratios, st.booleans())
def test_the_arrangements_keep_their_order(ntu: float, ratio: float, air_is_min: bool) -> None:
    """Parallel <= one stream mixed <= both unmixed <= two passes <= counter-flow."""
    parallel, unmixed, counter = (
        float(effectiveness(flow, ntu, ratio)) for flow in ("parallel-flow", UNMIXED, "counter-flow")
    )
    one_mixed = float(effectiveness("cross-flow air mixed", ntu, ratio, air_is_min=air_is_min))
    two_passes = float(effectiveness(UNMIXED, ntu, ratio, 2))
    ladder = (parallel, one_mixed, unmixed, two_passes, counter)
    assert all(low <= high * (1.0 + 1e-12) for low, high in pairwise(ladder))


def test_the_widely_printed_approximation_breaks_that_order() -> None:
    """1 - exp(N^0.22/C* (exp(-C* N^0.78) - 1)) at N 0.5, C* 1: 0.315449, below parallel flow's 0.316060."""
    ntu = 0.5
    approximate = 1.0 - math.exp(ntu**0.22 * (math.exp(-(ntu**0.78)) - 1.0))
    parallel = float(effectiveness("parallel-flow", ntu, 1.0))
    assert approximate < parallel < float(effectiveness(UNMIXED, ntu, 1.0))


@given(flows, sizes, sizes, rates, rates, rates)
def test_no_temperature_leaves_the_span_of_the_two_inlets(
    flow: str, ua1: float, ua2: float, c1: float, c2: float, cl: float
) -> None:
    loop, charge_out = _pair(flow, ua1, ua2, c1, c2, cl)
    ambient_out = 300.0 + float(loop.heat_exchanger) / c2
    for t in (loop.core_in, loop.core_out, loop.exchanger_out, charge_out, ambient_out):
        assert 300.0 - 1e-7 <= t <= 420.0 + 1e-7
    assert charge_out >= loop.core_in - 1e-7
    assert ambient_out <= loop.core_out + 1e-7


def test_pump_heat_takes_the_coolant_out_of_that_span() -> None:
    """No charge heat to speak of, 100 W of pump: the coolant stands above both inlets, by no more than
    W/G2.
    """
    loop, _ = _pair(UNMIXED, 1.0, 1500.0, 20.0, 1600.0, 1000.0, th=300.01, tc=300.0, w=100.0)
    assert 300.01 < loop.core_in <= 300.0 + 100.0 / _g(UNMIXED, 1500.0, 1600.0, 1000.0)


@given(sizes, sizes, rates, rates, rates, flows)
def test_a_coupled_pair_is_never_better_than_one_exchanger_of_both_sizes(
    ua1: float, ua2: float, c1: float, c2: float, cl: float, flow: str
) -> None:
    single = _g("counter-flow", 1.0 / (1.0 / ua1 + 1.0 / ua2), c1, c2)
    pair = float(coupled_conductance(_g(flow, ua1, c1, cl), _g(flow, ua2, c2, cl), cl))
    assert pair <= single * (1.0 + 1e-9)


def test_a_single_parallel_flow_exchanger_is_no_such_bound() -> None:
    """The bound is the counter-flow one: a coupled counter-flow pair beats a single parallel-flow
    exchanger.
    """
    single = _g("parallel-flow", 1500.0, 1000.0, 1000.0)
    g = _g("counter-flow", 3000.0, 1000.0, 1000.0)
    assert float(coupled_conductance(g, g, 1000.0)) > single


# Monotone


@given(flows, sizes, sizes, rates, rates, rates, st.floats(1.001, 3.0))
def test_a_larger_core_exchanger_or_air_flow_never_warms_the_charge(
    flow: str, ua1: float, ua2: float, c1: float, c2: float, cl: float, more: float
) -> None:
    """Without pump heat the charge comes in hotter than the coolant. A larger size never harms."""
    _, base = _pair(flow, ua1, ua2, c1, c2, cl)
    for larger in ((ua1 * more, ua2, c2), (ua1, ua2 * more, c2), (ua1, ua2, c2 * more)):
        _, charge_out = _pair(flow, larger[0], larger[1], c1, larger[2], cl)
        assert charge_out <= base + 1e-7


def test_at_light_load_a_better_core_warms_the_charge() -> None:
    """Charge at the ambient temperature, coolant warmed by the pump: more core, warmer charge."""
    _, small = _pair(UNMIXED, 50.0, 300.0, 20.0, 1600.0, 1000.0, th=300.0, tc=300.0, w=300.0)
    _, large = _pair(UNMIXED, 100.0, 300.0, 20.0, 1600.0, 1000.0, th=300.0, tc=300.0, w=300.0)
    assert large > small > 300.0


@given(flows, sizes, sizes, rates, rates, rates, pumps, st.floats(0.1, 40.0))
def test_warmer_air_never_cools_the_charge(
    flow: str, ua1: float, ua2: float, c1: float, c2: float, cl: float, w: float, warmer: float
) -> None:
    _, base = _pair(flow, ua1, ua2, c1, c2, cl, w=w)
    assert _pair(flow, ua1, ua2, c1, c2, cl, tc=300.0 + warmer, w=w)[1] >= base - 1e-7
    assert _pair(flow, ua1, ua2, c1, c2, cl, th=420.0 + warmer, w=w)[1] >= base - 1e-7


def test_heat_is_not_monotone_in_coolant_flow_at_fixed_size() -> None:
    """Two counter-flow exchangers: most heat at (UA1+UA2)/CL = UA1/C1 + UA2/C2, less on either side of it."""
    best = (600.0 + 1500.0) / (600.0 / 250.0 + 1500.0 / 1600.0)
    heats = [
        float(_pair("counter-flow", 600.0, 1500.0, 250.0, 1600.0, cl)[0].heat_core)
        for cl in (0.7 * best, best, 1.4 * best)
    ]
    assert best == pytest.approx(629.213483)
    assert heats[1] > heats[0] + 1.0
    assert heats[1] > heats[2] + 1.0


@given(flows, sizes, rates, rates, st.floats(1.001, 3.0))
def test_more_charge_flow_moves_more_heat_at_fixed_size(
    flow: str, ua: float, c1: float, cl: float, more: float
) -> None:
    assert _g(flow, ua, c1 * more, cl) >= _g(flow, ua, c1, cl) * (1.0 - 1e-12)


def test_effectiveness_itself_falls_while_the_heat_rises() -> None:
    few, many = _g(UNMIXED, 600.0, 250.0, 1000.0), _g(UNMIXED, 600.0, 300.0, 1000.0)
    assert many > few
    assert many / 300.0 < few / 250.0


# Limits


@given(flows, rates, rates)
def test_no_size_no_heat(flow: str, c_air: float, c_coolant: float) -> None:
    assert _g(flow, 0.0, c_air, c_coolant) == 0.0
    assert _pair(flow, 0.0, 500.0, c_air, 1000.0, c_coolant)[1] == pytest.approx(420.0)


@given(flows, sizes, sizes, rates, rates)
def test_a_flood_of_coolant_leaves_two_resistances_in_series(
    flow: str, ua1: float, ua2: float, c1: float, c2: float
) -> None:
    cl = 1e12
    g1, g2 = _g(flow, ua1, c1, cl), _g(flow, ua2, c2, cl)
    assert coupled_conductance(g1, g2, cl) == pytest.approx(1.0 / (1.0 / g1 + 1.0 / g2), rel=1e-6)


def test_at_real_flow_two_resistances_in_series_are_too_few() -> None:
    """Leaving 1/CL out is a common slip: 12 % of the heat in an ordinary loop."""
    assert float(coupled_conductance(176.0, 720.0, 1200.0)) > 1.1 / (1.0 / 176.0 + 1.0 / 720.0)


# Invariance


@given(flows, sizes, sizes, rates, rates, rates, st.floats(0.2, 5.0))
def test_everything_times_k_moves_k_times_the_heat_at_the_same_temperatures(
    flow: str, ua1: float, ua2: float, c1: float, c2: float, cl: float, k: float
) -> None:
    one, charge = _pair(flow, ua1, ua2, c1, c2, cl)
    many, same = _pair(flow, k * ua1, k * ua2, k * c1, k * c2, k * cl)
    assert many.heat_core == pytest.approx(k * one.heat_core, rel=1e-9)
    assert same == pytest.approx(charge, abs=1e-7)


def test_with_pump_heat_left_as_it_is_that_scaling_fails() -> None:
    one, _ = _pair(UNMIXED, 600.0, 1500.0, 250.0, 1600.0, 1000.0, w=100.0)
    many, _ = _pair(UNMIXED, 1200.0, 3000.0, 500.0, 3200.0, 2000.0, w=100.0)
    assert abs(many.core_in - one.core_in) > 0.01


@given(flows, sizes, sizes, rates, rates, rates, st.floats(-150.0, 150.0))
def test_the_zero_of_the_scale_does_not_matter(
    flow: str, ua1: float, ua2: float, c1: float, c2: float, cl: float, shift: float
) -> None:
    loop, _ = _pair(flow, ua1, ua2, c1, c2, cl, w=50.0)
    moved, _ = _pair(flow, ua1, ua2, c1, c2, cl, th=420.0 + shift, tc=300.0 + shift, w=50.0)
    assert moved.core_in - shift == pytest.approx(loop.core_in, abs=1e-7)
    assert moved.heat_core == pytest.approx(loop.heat_core, abs=1e-6 * c1)


@given(sizes, rates, rates)
def test_a_counter_flow_exchanger_cut_in_two_is_the_same(ua: float, c_air: float, c_coolant: float) -> None:
    halves = float(conductance("counter-flow", 2, "in turn", ua, c_air, c_coolant))
    assert halves == pytest.approx(_g("counter-flow", ua, c_air, c_coolant), rel=1e-9)


def test_a_cross_flow_pass_cut_in_two_is_not() -> None:
    halves = float(conductance(UNMIXED, 2, "in turn", 600.0, 250.0, 400.0))
    assert halves > 1.02 * _g(UNMIXED, 600.0, 250.0, 400.0)


@given(flows, sizes, rates, rates)
def test_two_like_cores_in_parallel_are_one_of_twice_the_size(
    flow: str, ua: float, c_air: float, c_coolant: float
) -> None:
    pair = 2.0 * _g(flow, ua / 2.0, c_air / 2.0, c_coolant / 2.0)
    assert pair == pytest.approx(_g(flow, ua, c_air, c_coolant), rel=1e-9)


def test_two_like_cores_that_share_the_flows_unevenly_are_less() -> None:
    even = _g(UNMIXED, 600.0, 250.0, 1000.0)
    uneven = _g(UNMIXED, 300.0, 175.0, 300.0) + _g(UNMIXED, 300.0, 75.0, 700.0)
    assert uneven < 0.98 * even


@given(st.lists(st.tuples(sizes, rates, rates), min_size=2, max_size=40), flows)
def test_a_case_does_not_feel_its_neighbours(cases: list[tuple[float, float, float]], flow: str) -> None:
    ua, c_air, c_coolant = (np.array(column) for column in zip(*cases, strict=True))
    together = conductance(flow, 1, None, ua, c_air, c_coolant)
    alone = [_g(flow, *case) for case in cases]
    np.testing.assert_allclose(together, alone, rtol=1e-13)
