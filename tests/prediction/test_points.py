"""The points of a loop: pressures close round the loop, temperatures are the lumps', heat is what a stage gives."""

from __future__ import annotations

import numpy as np
import pytest

from configurator.foundations.coolants import properties
from configurator.physics.operating_point import head
from configurator.prediction.conditions import Piece
from configurator.prediction.points import LoopPoints, points_at_worst
from configurator.prediction.predict import predict
from configurator.prediction.stages import Stage, Stages
from tests.prediction.made_kits import Made, conditions, moment
from tests.prediction.test_twins import DRIVE, IN_SERIES, LAYOUTS, TWIN_CORES, shipped


def points(made: Made, **changes: object) -> LoopPoints:
    asked = DRIVE if not changes else conditions(Piece(moment(**changes), 30.0))  # type: ignore[arg-type]
    return points_at_worst(predict(made.bench, made.columns, asked), made.columns, asked)


@pytest.mark.parametrize("stages", LAYOUTS.values(), ids=LAYOUTS)
def test_pressures_close_and_the_pump_makes_up_for_all(stages: Stages) -> None:
    """From the pump's inlet to its outlet is its head at the flow; back at the reservoir nothing is left."""
    made = shipped(stages)
    told = points(made).points
    assert [point.slots[0] for point in told[:3]] == ["reservoir", "pump", "pump"] and told[-1].side == "in"
    flow = told[0].flow_m3_per_s
    pump = float(head(made.bench.curves, made.columns.pump, np.array([flow]))[0])
    into, out = told[1].over_reservoir_pa, told[2].over_reservoir_pa
    assert out - into == pytest.approx(pump, rel=1e-4)
    assert told[-1].over_reservoir_pa == pytest.approx(0.0, abs=1.0) and told[0].over_reservoir_pa == 0.0
    falling = [point.over_reservoir_pa for point in told[2:]]
    assert falling == sorted(falling, reverse=True) and into < 0.0 < out


@pytest.mark.parametrize("stages", LAYOUTS.values(), ids=LAYOUTS)
def test_the_flow_is_whole_or_half(stages: Stages) -> None:
    told = points(shipped(stages)).points
    for point in told:
        assert point.flow_m3_per_s * len(point.slots) == pytest.approx(told[0].flow_m3_per_s)
    assert max(len(point.slots) for point in told) == max(stage.abreast for stage in stages)


def test_a_loop_that_runs_long_enough_gives_off_what_it_takes_up() -> None:
    """Settled, every stream's own heat balances: what leaves the charge, and the pump's, is what the air takes up."""
    made = shipped((Stage("core"), Stage("exchanger")))
    long = conditions(Piece(moment(), 40_000.0))
    prediction = predict(made.bench, made.columns, long)
    told = points_at_worst(prediction, made.columns, long)
    liquid = properties(long.coolant, float(prediction.properties_at_k[0]))
    kelvin = {(point.slots[0], point.side): point.kelvin for point in told.points}
    rate = told.points[0].flow_m3_per_s * float(liquid.density) * float(liquid.specific_heat)
    core = rate * (kelvin["core", "out"] - kelvin["core", "in"])
    (front,) = told.fronts
    given = rate * (kelvin["exchanger", "in"] - kelvin["exchanger", "out"])
    air = next(iter(prediction.exchanges.values())).exchangers[0].air_w_per_k
    assert air is not None and float(air[0]) * (front.out_k - front.in_k) == pytest.approx(given, rel=1e-3)
    pump = float(made.bench.pump_heat_w[made.columns.pump[0]])
    assert core + pump == pytest.approx(given, rel=2e-3)
    charge_rate = next(iter(prediction.exchanges.values())).charge.rate_w_per_k
    assert float(charge_rate[0]) * (told.charge.in_k - told.charge.out_k) == pytest.approx(core, rel=2e-3)
    assert told.charge.in_pa_gauge > told.charge.out_pa_gauge > 0.0


def test_twins_have_one_point_and_series_has_two() -> None:
    assert [point.slots for point in points(shipped(TWIN_CORES)).points[3:5]] == [("core-1", "core-2")] * 2
    named = [point.slots for point in points(shipped(IN_SERIES)).points[5:9]]
    assert named == [("exchanger-1",), ("exchanger-1",), ("exchanger-2",), ("exchanger-2",)]


def test_with_the_pump_off_nothing_flows_and_nothing_presses() -> None:
    told = points(shipped(TWIN_CORES), pump=False).points
    assert {point.flow_m3_per_s for point in told} == {0.0}
    assert all(point.over_reservoir_pa == pytest.approx(0.0, abs=1e-9) for point in told)
