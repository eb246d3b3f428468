"""Laws that a whole kit keeps through the prediction, each with a case just outside its condition that breaks it.

Standing: they follow from the balances of heat, from the second law, and from Kays & London, Compact Heat Exchangers,
3rd ed., ch. 2, liquid-coupled exchangers (from memory; derived anew here).
"""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from configurator.physics.lumps import steady as rest_of
from configurator.physics.lumps import step
from configurator.prediction.bench import Loop, make_columns
from configurator.prediction.conditions import Conditions, Piece
from configurator.prediction.march import FEED
from configurator.prediction.predict import Prediction
from configurator.prediction.report import thermal_report
from configurator.prediction.zone_air import ZoneAir
from tests.prediction.made_kits import (
    Made,
    conditions,
    exchanger_w_per_k,
    kit,
    moment,
    plain_kit,
    run,
    steady,
    whole_bench,
)
from tests.reference_cases.coupled_loop import coupled_conductance

FULL = moment(1.0, 20.0)
sizes = st.floats(50.0, 5000.0)
shares = st.floats(0.3, 1.0)
ambients = st.floats(263.0, 318.0)
boosts = st.floats(0.2e5, 2.0e5)
few = settings(max_examples=15)
fewest = settings(max_examples=6)


class Pick(NamedTuple):
    """Places of a core, an exchanger, a pump and a reservoir on the whole bench, hoses, share of ram."""

    core: int
    exchanger: int
    pump: int
    reservoir: int
    lengths_m: tuple[float, float, float, float]
    bore_m: float
    ram_share: float

    def made(self) -> Made:
        """The loop of these parts."""
        bench = whole_bench()
        runs = tuple(run(length, self.bore_m) for length in self.lengths_m)
        air = ZoneAir(self.ram_share, 0.0, 0.0, 0.0)
        loop = Loop(self.core, self.exchanger, self.pump, self.reservoir, runs, (), air)
        return Made(bench, make_columns(bench, [loop]))


def shipped_kits() -> st.SearchStrategy[Pick]:
    """Any shipped core, exchanger, pump and reservoir in one loop."""
    bench = whole_bench()
    places = [
        st.integers(0, len(parts) - 1) for parts in (bench.cores, bench.exchangers, bench.pumps, bench.reservoirs)
    ]
    length = st.floats(0.2, 3.0)
    return st.builds(
        Pick,
        *places,
        st.tuples(length, length, length, length),
        st.sampled_from([16e-3, 19e-3, 25e-3]),
        st.floats(0.05, 0.4),
    )


@st.composite
def drives(draw: st.DrawFn) -> Conditions:
    """Two moments in turn, anywhere from a light load to full power."""
    ambient = draw(ambients)
    pieces = [
        Piece(moment(draw(st.floats(0.02, 1.0)), draw(st.floats(0.0, 50.0))), draw(st.floats(1.0, 40.0)))
        for _ in range(2)
    ]
    return conditions(
        *pieces * 3, pattern=tuple(pieces), ambient_k=ambient, inlet_k=ambient + 5.0, start_k=ambient,
        boost_pa=draw(boosts), air_kg_per_s=draw(st.floats(0.05, 0.4)),
    )  # fmt: skip


def full(at: Conditions, share: float = 1.0) -> Conditions:
    """The same, all of it at one share of power and 20 m/s."""
    piece = (Piece(moment(share, 20.0), 60.0),)
    return replace(at, pieces=piece, pattern=piece, hardest=moment(share, 20.0))


def settled(made: Made, at: Conditions) -> tuple[Prediction, np.ndarray]:
    """A prediction, and the lumps' temperatures if its first piece lasted for ever."""
    found = made.predict(at)
    load = found.loads[at.pieces[0].moment]
    return found, rest_of(load.m, load.b)[0]


def out(made: Made, at: Conditions) -> float:
    """Charge out if the first piece lasted for ever [K]."""
    found, state = settled(made, at)
    return float(found.loads[at.pieces[0].moment].charge_out(state[None, FEED])[0])


# Energy


@fewest
@given(shipped_kits(), drives())
def test_every_joule_of_an_event_is_accounted_for(pick: Pick, at: Conditions) -> None:
    made = pick.made()
    _, ledgers = thermal_report(made.bench, made.columns, at, at)
    assert ledgers[0].closure < 1e-9


@few
@given(shipped_kits(), drives(), shares)
def test_at_rest_charge_heat_and_pump_heat_leave_through_the_exchanger(
    pick: Pick, at: Conditions, share: float
) -> None:
    made = pick.made()
    at = full(at, share)
    found, state = settled(made, at)
    load = found.loads[at.pieces[0].moment]
    charge = float(load.core_w_per_k[0]) * (float(load.charge_in_k[0]) - state[FEED])
    gone = float(exchanger_w_per_k(found)[at.pieces[0].moment][0]) * (state[3] - at.ambient_k)
    pump = float(made.bench.pump_heat_w[made.columns.pump[0]])
    assert gone == pytest.approx(charge + pump, rel=1e-7, abs=1e-6)
    # Outside the law: while the loop still warms, heat stays in it.
    first = made.predict(at).course.end[0]
    stays = float(load.core_w_per_k[0]) * (float(load.charge_in_k[0]) - first[FEED]) + pump
    stays -= float(exchanger_w_per_k(found)[at.pieces[0].moment][0]) * (first[3] - at.ambient_k)
    assert abs(stays) > 1e-3


# Second law


@few
@given(shipped_kits(), drives())
def test_no_temperature_leaves_the_span_of_the_two_airs(pick: Pick, at: Conditions) -> None:
    """Coolant starts at the air's temperature; the pump alone may lift it above the air, by W/G2 and W/CL at most.

    Outside the law: a loop that starts hotter than the charge stays above it.
    """
    made = pick.made()
    found = made.predict(at)
    loads = [found.loads[piece.moment] for piece in at.pieces]
    hottest = max(float(load.charge_in_k[0]) for load in loads)
    pump = float(made.bench.pump_heat_w[made.columns.pump[0]])
    core = min(float(load.core_w_per_k[0]) for load in loads)
    lift = pump / float(found.capacity_rate[0]) + pump / core
    assert np.all(found.course.end[0] >= at.ambient_k - 1e-6)
    assert float(found.course.coolant_worst_k[0]) <= hottest + lift + 1e-6
    assert float(found.course.charge_out_worst_k[0]) <= hottest + lift + 1e-6
    for load in loads:
        assert 0.0 <= float(load.effectiveness[0]) <= 1.0
    too_hot = replace(at, start_k=hottest + lift + 50.0)
    assert float(made.predict(too_hot).course.coolant_worst_k[0]) > hottest + lift


@few
@given(sizes, sizes, shares)
def test_a_coupled_pair_is_never_better_than_one_counterflow_exchanger(ua1: float, ua2: float, share: float) -> None:
    """One exchanger of 1/UA = 1/UA1 + 1/UA2 between the same two airs; outside it, ten times that size is better."""
    at = full(conditions(), share)
    made = plain_kit(ua1, ua2)
    found, state = settled(made, at)
    load = found.loads[at.pieces[0].moment]
    hot = float(load.charge_in_k[0])
    c1 = float(load.core_w_per_k[0] / load.effectiveness[0])
    c2 = 5.0 * 0.25 * 101325 / (287.05287 * at.ambient_k) * 1006.0
    q = float(load.core_w_per_k[0]) * (hot - state[FEED])

    def counterflow(ua: float) -> float:
        least, ratio = min(c1, c2), min(c1, c2) / max(c1, c2)
        e = np.exp(-ua / least * (1 - ratio))
        return float(least * (1 - e) / (1 - ratio * e) * (hot - at.ambient_k))

    both = 1 / (1 / ua1 + 1 / ua2)
    assert q <= counterflow(both) * 1.005
    assert q < counterflow(10 * both)


# Better parts, hotter air


@few
@given(sizes, sizes, st.floats(1.0, 3.0), st.booleans(), boosts)
def test_a_better_core_or_exchanger_never_warms_a_charge_hotter_than_the_coolant(
    ua1: float, ua2: float, more: float, which: bool, boost: float
) -> None:
    at = full(conditions(boost_pa=boost, boost_held_at_throttle=False))
    plain, better = plain_kit(ua1, ua2), plain_kit(ua1 * (more if which else 1), ua2 * (1 if which else more))
    found, state = settled(plain, at)
    assert float(found.loads[FULL].charge_in_k[0]) > state[FEED]
    assert out(better, at) <= out(plain, at) + 1e-6


def test_at_light_load_with_pump_heat_a_better_core_warms_the_charge() -> None:
    """Outside the law: coolant that the pump has made warmer than the charge."""
    at = full(conditions(boost_pa=0.0, inlet_loss_pa=0.0, inlet_k=298.15, boost_held_at_throttle=False), 0.02)
    small, large = plain_kit(5.0, 20.0, pump_heat_w=200.0), plain_kit(500.0, 20.0, pump_heat_w=200.0)
    found, state = settled(small, at)
    assert state[FEED] > float(found.loads[at.pieces[0].moment].charge_in_k[0])
    assert out(large, at) > out(small, at) + 1.0


@few
@given(sizes, sizes, st.floats(0.5, 40.0), st.floats(0.5, 40.0))
def test_more_outside_air_never_warms_the_charge(ua1: float, ua2: float, one: float, other: float) -> None:
    less, more = sorted((one, other))
    made = plain_kit(ua1, ua2, air=ZoneAir(0.25, 0.0, 0.0, 0.0))

    def at(speed: float) -> Conditions:
        piece = (Piece(moment(1.0, speed), 60.0),)
        return conditions(*piece)

    assert out(made, at(more)) <= out(made, at(less)) + 1e-6


def test_more_outside_air_warms_a_charge_that_is_colder_than_it() -> None:
    """Outside the law: a stated inlet below the outside air, with no boost on top."""
    made = plain_kit(600.0, 1500.0)

    def at(speed: float) -> Conditions:
        piece = (Piece(moment(1.0, speed), 60.0),)
        return conditions(*piece, inlet_k=280.0, boost_pa=0.0, inlet_loss_pa=0.0, boost_held_at_throttle=False)

    assert out(made, at(30.0)) > out(made, at(2.0))


@few
@given(shipped_kits(), drives(), st.floats(0.5, 20.0), st.booleans())
def test_hotter_air_or_inlet_never_cools_the_charge(pick: Pick, at: Conditions, hotter: float, inlet: bool) -> None:
    made = pick.made()
    at = full(at)
    moved = {"inlet_k": at.inlet_k + hotter}
    if not inlet:
        moved |= {"ambient_k": at.ambient_k + hotter, "start_k": at.start_k + hotter}
    assert out(made, replace(at, **moved)) >= out(made, at) - 1e-6


def test_hotter_air_behind_a_better_charger_may_cool_the_charge() -> None:
    """Outside the law: not the air alone was changed."""
    at = full(conditions(charger_efficiency=0.6))
    hotter = replace(at, inlet_k=at.inlet_k + 3.0, ambient_k=at.ambient_k + 3.0, charger_efficiency=0.85)
    assert out(kit(), hotter) < out(kit(), at)


# Scale


@few
@given(sizes, sizes, st.floats(1.1, 4.0))
def test_heat_is_in_proportion_to_the_difference_of_the_airs(ua1: float, ua2: float, times: float) -> None:
    """At fixed conductances: q = G (Th - Tc) as the two inlets move apart. The loads are the product's own."""
    at = full(conditions())
    found = plain_kit(ua1, ua2).predict(at)
    load = found.loads[FULL]
    tc, th = at.ambient_k, float(load.charge_in_k[0])

    def heat(hot: float) -> float:
        b = load.b.copy()
        b[:, 2] += load.core_w_per_k * (hot - th) / found.capacities[:, 2]
        return float(load.core_w_per_k[0]) * (hot - float(rest_of(load.m, b)[0, FEED]))

    assert heat(tc + times * (th - tc)) == pytest.approx(times * heat(th), rel=1e-8)


def test_with_pump_heat_the_proportion_is_lost() -> None:
    """Outside the law: pump heat is there without any difference of the airs, and takes its share of the exchanger."""
    at = full(conditions(boost_held_at_throttle=False))

    def per_kelvin(made: Made, inlet_k: float) -> float:
        found, _, q = steady(made, replace(at, inlet_k=inlet_k))
        return q / (float(found.loads[FULL].charge_in_k[0]) - at.ambient_k)

    for pump_heat_w, held in ((0.0, True), (300.0, False)):
        made = plain_kit(pump_heat_w=pump_heat_w)
        warm, cool = per_kelvin(made, 330.0), per_kelvin(made, 240.0)
        assert (cool == pytest.approx(warm, rel=5e-3)) is held


# Hoses


def split(made: Made, at: Conditions) -> np.ndarray:
    """Steady temperatures with the hose behind the core as two stirred lumps of half its heat capacity each."""
    found = made.predict(at)
    load, rate = found.loads[at.pieces[0].moment], float(found.capacity_rate[0])
    m, b = _with_one_more(load.m[0], load.b[0], 3, float(found.capacities[0, 3]) / 2, rate)
    return rest_of(m[None], b[None])[0]


def _with_one_more(
    m: np.ndarray, b: np.ndarray, at: int, capacity: float, rate: float
) -> tuple[np.ndarray, np.ndarray]:
    """The ring with lump `at` halved into two of `capacity`."""
    n = len(b)
    grown, driven = np.zeros((n + 1, n + 1)), np.zeros(n + 1)
    old = [index if index <= at else index + 1 for index in range(n)]
    for row, new in enumerate(old):
        for column, where in enumerate(old):
            grown[new, where] = m[row, column]
        driven[new] = b[row]
    upstream, half, following = at - 1, at + 1, at + 2
    grown[at] = 0.0
    grown[at, upstream], grown[at, at] = rate / capacity, -rate / capacity
    grown[half, at], grown[half, half] = rate / capacity, -rate / capacity
    grown[following, half], grown[following, at] = grown[following, at], 0.0
    return grown, driven


@few
@given(shipped_kits(), drives())
def test_a_hose_in_two_halves_changes_no_steady_temperature(pick: Pick, at: Conditions) -> None:
    """Each lump is stirred, so two halves delay a front better than one whole: only the steady state is the same."""
    made = pick.made()
    at = full(at)
    found, state = settled(made, at)
    of_halves = split(made, at)
    assert np.delete(of_halves, 4) == pytest.approx(state, abs=1e-6)
    assert found.flow_m3_per_s[0] > 0


def test_a_hose_in_two_halves_does_change_the_way_there() -> None:
    """Outside the law: one stirred lump answers a step at once, two in series only later.

    After the hose's own time constant one lump has made 1 - 1/e of a step, two in series 1 - 3/e²; textbook values
    of stirred tanks in series, recomputed.
    """
    one = step(np.array([[-1.0]]), np.array([1.0]), 1.0)[1]
    two = step(np.array([[-2.0, 0.0], [2.0, -2.0]]), np.array([2.0, 0.0]), 1.0)[1]
    assert float(one[0]) == pytest.approx(0.632121, abs=1e-6)
    assert float(two[1]) == pytest.approx(0.593994, abs=1e-6)


@few
@given(shipped_kits(), drives(), st.floats(0.3, 4.0))
def test_wall_and_steps_of_a_run_add_up_wherever_they_are(pick: Pick, at: Conditions, extra_m: float) -> None:
    """A metre more before the core or behind it costs the same flow; a narrower bore costs more."""
    made = pick.made()
    at = full(at)
    index = (
        int(made.columns.core_index[0]), int(made.columns.exchanger_index[0]), int(made.columns.pump[0]), 0,
    )  # fmt: skip

    def flow(*lengths: float, bore_m: float = 19e-3) -> float:
        runs = tuple(run(length, bore_m) for length in lengths)
        loop = Loop(*index, runs, (), ZoneAir(0.25, 0.0, 0.0, 0.0))
        found = Made(made.bench, make_columns(made.bench, [loop])).predict(at)
        return float(found.flow_m3_per_s[0])

    before, behind = flow(1 + extra_m, 1, 1, 1), flow(1, 1, 1 + extra_m, 1)
    # Volumes are the same in sum, so the mean temperature and with it the viscosity are too.
    assert before == pytest.approx(behind, rel=1e-3)
    assert flow(1 + extra_m, 1, 1, 1, bore_m=16e-3) < before


# Coolant flow


def heat_by_flow(ua1: float, ua2: float, flows_l_per_min: list[float]) -> list[float]:
    """Heat of the plain kit as its own runs throttle its pump to different flows, at fixed UA [W]."""
    found = []
    for loss in flows_l_per_min:
        runs = [run(loss_per_m4=loss), run(), run(), run()]
        at = full(conditions(boost_held_at_throttle=False))
        made = plain_kit(ua1, ua2, runs=runs, pump="pump-110-long", core={"flow": "counter-flow"},
                         exchanger={"flow": "counter-flow"})  # fmt: skip
        found.append(steady(made, at)[2])
    return found


def test_heat_is_not_monotone_in_coolant_flow_at_fixed_size() -> None:
    """Through the product's own pump: a counter-flow pair at fixed UA has a best coolant rate,
    (UA1 + UA2)/CL = UA1/C1 + UA2/C2 (Kays & London; from memory, recomputed), and loses heat on either side of it.
    """
    heats = heat_by_flow(1500.0, 5000.0, [1e8, 1e9, 3e9, 1e10, 3e10, 1e11, 1e12])
    best = int(np.argmax(heats))
    assert 0 < best < len(heats) - 1
    assert heats[best] > 1.01 * heats[0]
    assert heats[best] > 1.01 * heats[-1]


# Limits


@few
@given(sizes, sizes)
def test_with_the_pump_off_no_heat_leaves_the_charge(ua1: float, ua2: float) -> None:
    piece = (Piece(moment(1.0, 20.0, pump=False), 60.0),)
    at = conditions(*piece)
    found = plain_kit(ua1, ua2, pump_heat_w=100.0).predict(at)
    load = found.loads[piece[0].moment]
    assert float(load.core_w_per_k[0]) == 0.0
    assert float(exchanger_w_per_k(found)[piece[0].moment][0]) == 0.0
    assert float(found.course.charge_out_worst_k[0]) == pytest.approx(float(load.charge_in_k[0]))
    assert found.course.end == pytest.approx(found.start)
    # Outside the limit: with the pump on it does.
    assert float(plain_kit(ua1, ua2).predict(full(at)).course.heat_peak_w[0]) > 0


@few
@given(sizes, sizes, st.floats(253.0, 320.0))
def test_a_ratio_of_one_heats_nothing(ua1: float, ua2: float, inlet_k: float) -> None:
    at = full(conditions(boost_pa=0.0, inlet_loss_pa=0.0, boost_held_at_throttle=False, inlet_k=inlet_k))
    load = plain_kit(ua1, ua2).predict(at).loads[FULL]
    assert float(load.charge_in_k[0]) == pytest.approx(inlet_k, abs=1e-9)
    # Outside the limit: a little boost does.
    assert float(plain_kit(ua1, ua2).predict(replace(at, boost_pa=1e3)).loads[FULL].charge_in_k[0]) > inlet_k


@few
@given(st.floats(1e-6, 1e-3), sizes)
def test_without_a_core_the_charge_comes_out_as_it_went_in(ua1: float, ua2: float) -> None:
    at = full(conditions())
    found, state = settled(plain_kit(ua1, ua2), at)
    load = found.loads[FULL]
    assert out(plain_kit(ua1, ua2), at) == pytest.approx(float(load.charge_in_k[0]), abs=1e-3)
    assert state == pytest.approx(np.full(6, at.ambient_k), abs=1e-2)
    # Outside the limit: a core of any size does something.
    assert out(plain_kit(50.0, ua2), at) < float(load.charge_in_k[0]) - 1.0


@few
@given(sizes, sizes)
def test_the_coupled_conductance_is_that_of_kays_and_london(ua1: float, ua2: float) -> None:
    """1/G = 1/G1 + 1/G2 - 1/CL from the product's own conductances; the last term goes as the coolant flow grows."""
    at = full(conditions())
    made = plain_kit(ua1, ua2)
    found, _, q = steady(made, at)
    load, rate = found.loads[FULL], float(found.capacity_rate[0])
    g1, g2 = float(load.core_w_per_k[0]), float(exchanger_w_per_k(found)[FULL][0])
    apart = float(load.charge_in_k[0]) - at.ambient_k
    assert q == pytest.approx(float(coupled_conductance(g1, g2, rate)) * apart, rel=1e-8)
    boundless = 1 / (1 / g1 + 1 / g2)
    assert q > boundless * apart
    # To the limit CL -> infinity: at the same conductances, ten thousand times the coolant.
    m, b = load.m[0].copy(), load.b[0]
    times = 1e4 * rate
    for lump, (capacity, g) in enumerate(zip(found.capacities[0], (0, 0, g1, 0, g2, 0), strict=True)):
        m[lump, lump], m[lump, lump - 1] = -times / capacity, (times - g) / capacity
    feed = float(rest_of(m[None], b[None])[0, FEED])
    assert g1 * (float(load.charge_in_k[0]) - feed) == pytest.approx(boundless * apart, rel=1e-3)


@few
@given(shipped_kits(), drives())
def test_a_drive_without_end_ends_in_the_steady_state(pick: Pick, at: Conditions) -> None:
    made = pick.made()
    at = full(at)
    found, state = settled(made, at)
    load = found.loads[FULL]
    phi, shift = step(load.m, load.b, 1e6)
    assert phi[0] @ found.start[0] + shift[0] == pytest.approx(state, abs=1e-5)
    # Outside the limit: a minute is not for ever.
    assert np.abs(found.course.end[0] - state).max() > 1e-2


@few
@given(shipped_kits(), st.floats(1.0, 20.0))
def test_no_flow_of_charge_is_refused(pick: Pick, times: float) -> None:
    """A part has no rated flow: any flow of charge has a temperature, and more flow more heat and more loss."""
    made = pick.made()
    at = full(conditions())
    plain, more = made.predict(at), made.predict(replace(at, air_kg_per_s=at.air_kg_per_s * times * 1.01))
    assert np.isfinite(more.course.charge_out_worst_k[0])
    assert float(more.full.core_loss_pa[0]) > float(plain.full.core_loss_pa[0])
    assert float(more.loads[FULL].core_w_per_k[0]) >= float(plain.loads[FULL].core_w_per_k[0]) - 1e-9
