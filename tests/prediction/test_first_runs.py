"""First runs of a loop: a pull and an idle against the trace of the same drive, plain loops against closed forms."""

from __future__ import annotations

import math
from dataclasses import fields, replace

import pytest

from configurator.foundations.air import density, specific_heat
from configurator.prediction.bench import ZoneAir
from configurator.prediction.conditions import RESTART, Conditions, Piece, Standing
from configurator.prediction.first_runs import IDLE_S, PULL_S, SETTLED, Banded, FirstRuns, first_runs
from configurator.prediction.trace import trace
from tests.prediction.made_kits import Made, conditions, kit, moment, plain_kit
from tests.prediction.test_ice_tank import drag, iced

BAY = Standing(0.0, 343.15, 15.0, 0.4)


def told(made: Made, at: Conditions, bay: Standing = BAY) -> FirstRuns:
    hotter = replace(at, charger_efficiency=at.charger_efficiency - 0.04)
    return first_runs(made.bench, made.columns, at, hotter, bay)


@pytest.mark.parametrize("humidity", [None, 0.95], ids=["dry", "wet"])
def test_a_pull_ends_as_the_trace_of_ten_seconds_at_full_power_does(humidity: float | None) -> None:
    """Wet air sheds water on the cold core: the charge stays warmer for it, the coolant takes its heat."""
    made, at = kit(), conditions(humidity=humidity)
    runs = told(made, at)
    last = list(trace(made.bench, made.columns, replace(at, pieces=(Piece(moment(1.0, 20.0), PULL_S),))))[-1]
    assert last["time_s"] == pytest.approx(10.0)
    assert runs.pull_charge_k.nominal - 273.15 == pytest.approx(last["charge_out_c"], abs=1e-6)
    assert runs.pull_charge_in_k.nominal - 273.15 == pytest.approx(last["charge_in_c"], abs=1e-6)
    assert runs.pull_into_k.nominal - 273.15 == pytest.approx(last["feed_c"], abs=1e-6)
    assert runs.pull_out_k.nominal - 273.15 == pytest.approx(last["core_c"], abs=1e-6)
    carried = last["coolant_l_per_min"] / 60e3 * last["coolant_kg_per_m3"] * last["coolant_j_per_kg_k"]
    assert runs.rate_w_per_k.nominal == pytest.approx(carried, rel=1e-9)
    assert runs.pull_coolant_w.nominal == pytest.approx(carried * (last["core_c"] - last["feed_c"]), rel=1e-9)
    given = last["core_w_per_k"] * (last["charge_in_c"] - last["feed_c"]) - last.get("charge_keeps_w", 0.0)
    # In wet air the trace tells the mean of its cut, the figure is that of the last moment.
    assert runs.pull_charge_w.nominal == pytest.approx(given, rel=1e-9 if humidity is None else 1e-3)
    assert (last.get("condensate_w", 0.0) > 0.0) == (humidity is not None)


def test_idle_ends_as_the_trace_of_a_quarter_of_an_hour_does_and_a_hot_bay_adds() -> None:
    made, at = kit(air=ZoneAir(0.25, 0.0, 0.0, 3.0)), conditions()
    runs = told(made, at)
    last = list(trace(made.bench, made.columns, replace(at, pieces=(Piece(RESTART, IDLE_S),))))[-1]
    assert last["time_s"] == pytest.approx(900.0)
    idle = {"feed_c": runs.idle_into_k, "core_c": runs.idle_out_k, "charge_out_c": runs.idle_charge_k}
    for key, figure in idle.items():
        assert figure.nominal - 273.15 == pytest.approx(last[key], abs=1e-6)
        assert figure.high > figure.nominal + 0.2
    cool = told(made, at, replace(BAY, bay_k=at.ambient_k))
    assert cool.idle_into_k.high < runs.idle_into_k.high - 0.2


@pytest.mark.parametrize("made", [kit(), kit(exchanger=None), plain_kit()], ids=["shipped", "no exchanger", "plain"])
def test_nominal_lies_between_its_ends_and_temperatures_fall_in_order(made: Made) -> None:
    runs = told(made, conditions())
    figures = [getattr(runs, field.name) for field in fields(runs)]
    figures = [figure for figure in figures if isinstance(figure, Banded)] + list(runs.front_effectiveness)
    assert len(figures) >= 15
    assert all(figure.low <= figure.nominal <= figure.high for figure in figures)
    assert runs.air_k < runs.pull_into_k.nominal < runs.pull_out_k.nominal < runs.pull_charge_in_k.nominal
    assert len(runs.front_effectiveness) == len(made.columns.stages) - 1


def test_what_is_uncertain_of_a_kit_lies_on_both_sides_of_what_is_told() -> None:
    runs = told(kit(), conditions())
    for banded in (runs.core_effectiveness, runs.charge_loss_pa, *runs.front_effectiveness):
        assert banded.low < banded.nominal < banded.high


def test_the_core_of_a_plain_loop_has_the_effectiveness_of_the_book() -> None:
    """Cross-flow, both unmixed, from memory of any heat-transfer textbook: 1 - exp((exp(-Cr N^0.78) - 1) N^0.22 / Cr),
    an approximation within a hundredth of the exact series."""
    at = conditions()
    runs = told(plain_kit(600.0), at)
    into, out = runs.pull_charge_in_k.nominal, runs.pull_charge_k.nominal
    least = at.air_kg_per_s * float(specific_heat((into + at.ambient_k) / 2))
    n, ratio = 600.0 / least, least / runs.rate_w_per_k.nominal
    book = 1 - math.exp((math.exp(-ratio * n**0.78) - 1) * n**0.22 / ratio)
    assert runs.core_effectiveness.nominal == pytest.approx(book, abs=0.015)
    assert runs.core_effectiveness.nominal == pytest.approx((into - out) / (into - runs.pull_into_k.nominal), rel=1e-9)


def test_the_exchanger_of_a_plain_loop_has_the_effectiveness_of_the_book() -> None:
    """The same relation; 0.25 m2 of face at a quarter of 20 m/s."""
    at = conditions()
    runs = told(plain_kit(600.0, 1500.0), at)
    air = 0.25 * 5.0 * float(density(at.ambient_pa, at.ambient_k)) * float(specific_heat(at.ambient_k))
    n, ratio = 1500.0 / air, air / runs.rate_w_per_k.nominal
    book = 1 - math.exp((math.exp(-ratio * n**0.78) - 1) * n**0.22 / ratio)
    assert runs.front_effectiveness[0].nominal == pytest.approx(book, abs=0.015)


def test_once_settled_the_coolant_carries_what_the_charge_gives() -> None:
    """A core of half a litre of water and 1000 J/K of metal, stirred: three times its capacity over the coolant's."""
    made, at = plain_kit(), conditions()
    runs = told(made, at)
    held = 0.5e-3 * runs.rate_w_per_k.nominal / runs.flow_cold.nominal + 1000.0
    assert runs.settles_s.nominal == pytest.approx(SETTLED * held / runs.rate_w_per_k.nominal, rel=0.01)
    drive = replace(at, pieces=(Piece(moment(1.0, 20.0), 600.0),))
    last = list(trace(made.bench, made.columns, drive))[-1]
    rise = last["core_c"] - last["feed_c"]
    carried = last["coolant_l_per_min"] / 60e3 * last["coolant_kg_per_m3"] * last["coolant_j_per_kg_k"] * rise
    given = last["core_w_per_k"] * (last["charge_in_c"] - last["feed_c"])
    assert carried == pytest.approx(given, rel=0.01)
    assert runs.pull_coolant_w.nominal < 0.97 * runs.pull_charge_w.nominal


def test_a_worse_charger_widens_the_charge_into_the_core_alone() -> None:
    """T2 = T1 (1 + (PR^0.286 - 1) / efficiency), any textbook: at 0.68 for 0.72 the rise is 0.72 / 0.68 times that."""
    at = conditions()
    figure = told(kit(), at).pull_charge_in_k
    assert figure.high - at.inlet_k == pytest.approx((figure.nominal - at.inlet_k) * 0.72 / 0.68, rel=0.01)
    assert figure.nominal - figure.low == pytest.approx(figure.high - figure.nominal, rel=1e-9)


def test_the_tank_of_iced_runs_holds_the_water_that_is_filled_before_the_ice() -> None:
    """30 L of which 10 kg of floating ice take 10 L, as much as they melt to: 20 L of water as warm as the air."""
    at, bare = iced(), conditions(*iced().pieces)
    runs, plain, full = told(drag(), at), told(drag(20e-3), bare), told(drag(), bare)
    for name in ("idle_into_k", "pull_into_k", "pull_out_k", "pull_charge_k"):
        assert getattr(runs, name).nominal == pytest.approx(getattr(plain, name).nominal, abs=1e-6)
        assert getattr(runs, name).nominal > getattr(full, name).nominal
