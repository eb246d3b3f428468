"""The car left standing: each lump soaking alone against its closed form, the after-run, the ledger, the restart."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from configurator.brief.tables import Soak
from configurator.prediction.bench import Loop, make_columns
from configurator.prediction.conditions import RESTART, STANDS, Conditions, Piece, Standing
from configurator.prediction.predict import margins, predict
from configurator.prediction.report import thermal_report
from configurator.prediction.standstill import phases, soak_w_per_k
from configurator.prediction.trace import trace
from configurator.prediction.zone_air import ZoneAir
from tests.prediction.made_kits import Made, conditions, kit, moment, place, plain_kit, run, shelf, whole_bench

BAY_K = 353.15
STANDING = Standing(300.0, BAY_K, 15.0, 0.4)
DRIVE = (Piece(moment(1.0, 15.0), 20.0), Piece(moment(0.1, 5.0), 60.0))
FANNED = ZoneAir(0.25, 0.0, 0.0, 3.0)


def stood(standing: Standing | None = STANDING, **changes: object) -> Conditions:
    """A short drive, then five minutes in a bay of 80 degC."""
    return conditions(*DRIVE, standing=standing, **changes)


def running_on(made: Made, seconds: float) -> Made:
    """The same loop with pump and fan on for so long after key-off."""
    return replace(made, columns=replace(made.columns, after_run_s=np.full(made.columns.count, seconds)))


LOOPS = {
    "plain": plain_kit(pump_heat_w=60.0, air=FANNED),
    "shipped": kit(air=FANNED),
    "no exchanger": kit(exchanger=None),
}


@pytest.mark.parametrize("made", LOOPS.values(), ids=LOOPS)
def test_with_the_pump_off_each_lump_soaks_alone_by_its_own_exponential(made: Made) -> None:
    """T = bay - (bay - T0) exp(-G t / C): any textbook's single lump. G of reservoir and exchanger is none."""
    found = made.predict(stood())
    assert found.stood is not None and found.soak_w_per_k is not None
    start = found.course.end
    for lump in range(start.shape[1]):
        g, c = float(found.soak_w_per_k[0, lump]), float(found.capacities[0, lump])
        alone = BAY_K - (BAY_K - float(start[0, lump])) * math.exp(-g * 300.0 / c)
        assert float(found.stood.end[0, lump]) == pytest.approx(alone, abs=1e-9)
    assert found.stood.end[0, 0] == pytest.approx(start[0, 0], abs=1e-9)
    assert found.stood.end[0, 2] > start[0, 2] + 0.5


def test_the_bay_meets_the_outside_of_the_core_and_the_bore_of_the_hoses() -> None:
    """core-210-short is 210 x 170 x 150 mm: 2 (0.0357 + 0.0255 + 0.0315) = 0.1854 m2, x 15 = 2.781 W/K. A hose of
    1.2 m and 19 mm: pi x 0.019 x 1.2 = 0.07163 m2, 1.0744 W/K; two of them (reservoir to pump, pump to core) lie before
    the core. By hand.
    """
    made = kit(runs=[run(1.2, 19e-3)] * 4)
    found = soak_w_per_k(made.columns, STANDING, 0)[0]
    assert found == pytest.approx([0.0, 2 * 1.0744, 2.781, 1.0744, 0.0, 1.0744], rel=1e-3)
    assert soak_w_per_k(made.columns, STANDING, -1)[0] == pytest.approx(1.4 * found)
    assert soak_w_per_k(made.columns, STANDING, +1)[0] == pytest.approx(0.6 * found)


def by_euler(made: Made, at: Conditions, seconds: float, step_s: float = 0.02) -> np.ndarray:
    """The ring with pump, fan and bay stepped by Euler's rule from where the drive ends, engine off."""
    found = made.predict(at)
    exchange = next(e for m, e in found.exchanges.items() if not m.engine and m.pump)
    state, capacities = found.course.end[0].copy(), found.capacities[0]
    assert found.soak_w_per_k is not None
    soak, rate = found.soak_w_per_k[0], float(exchange.rate_w_per_k[0])
    front = [(2 + 2 * c.stage, float(c.w_per_k[0]), float(c.meets_k[0])) for c in exchange.exchangers]
    for _ in range(round(seconds / step_s)):
        gains = rate * (np.roll(state, 1) - state) + soak * (BAY_K - state)
        gains[1] += float(exchange.pump_heat_w[0])
        for lump, g, meets in front:
            gains[lump] += g * (meets - state[lump - 1])
        state = state + step_s * gains / capacities
    return state


def test_an_after_run_is_that_of_a_fine_march_and_cools_by_the_fan_alone() -> None:
    made = running_on(kit(air=FANNED), 300.0)
    found = made.predict(stood())
    assert found.stood is not None
    assert found.stood.end[0] == pytest.approx(by_euler(made, stood(), 300.0), abs=0.01)
    # A stated face speed is that of the drive, and ram air needs a road: without a fan the standing car has no air.
    for air in (ZoneAir(0.25, 0.0, 0.0, 0.0), ZoneAir(0.0, 6.0, 0.0, 0.0)):
        calm = running_on(kit(air=air), 300.0).predict(stood())
        assert all(float(c.w_per_k[0]) == 0.0 for m, e in calm.exchanges.items() if not m.engine for c in e.exchangers)


def test_an_after_run_longer_than_the_standstill_is_one_as_long_and_a_shorter_one_ends_in_soak() -> None:
    made = kit(air=FANNED)
    long, equal, short = (running_on(made, s).predict(stood()).stood for s in (900.0, 300.0, 60.0))
    assert long is not None and equal is not None and short is not None
    assert long.end == pytest.approx(equal.end)
    assert [(m.pump, float(s[0])) for m, s in phases(STANDING, np.array([60.0]))] == [(True, 60.0), (False, 240.0)]
    assert long.restart_k[0] < short.restart_k[0]


@pytest.mark.parametrize("seconds", [0.0, 120.0, 300.0])
@pytest.mark.parametrize("made", LOOPS.values(), ids=LOOPS)
def test_the_ledger_closes_with_the_soak_in_it_and_not_without(made: Made, seconds: float) -> None:
    """Each term integrated on its own; the limit is a thousandth."""
    one = running_on(made, seconds)
    _, ledgers = thermal_report(one.bench, one.columns, stood(), stood())
    ledger = ledgers[0]
    assert ledger.soak_j is not None and ledger.soak_j > 0
    assert ledger.closure < 1e-9
    assert replace(ledger, soak_j=0.0).closure > 1e-3


def test_the_soak_of_the_ledger_is_the_sum_over_the_trace() -> None:
    made = running_on(kit(air=FANNED), 120.0)
    _, ledgers = thermal_report(made.bench, made.columns, stood(), stood())
    rows = list(trace(made.bench, made.columns, stood()))
    assert rows[-1]["time_s"] == pytest.approx(80.0 + 300.0)
    soak = pump = 0.0
    for now, then in pairwise(rows):
        seconds = then["time_s"] - now["time_s"]
        soak += seconds * (now["soak_w"] + then["soak_w"]) / 2
        pump += seconds * now["pump_heat_w"]
    assert ledgers[0].soak_j == pytest.approx(soak, rel=1e-4)
    assert ledgers[0].pump_j == pytest.approx(pump, rel=1e-9)
    assert {row["soak_w"] for row in rows if row["time_s"] < 80.0} == {0.0}
    assert rows[-1]["air_kg_per_s"] == 0.0 and rows[-1]["core_w_per_k"] == 0.0


def test_the_restart_is_the_idle_charge_through_the_core_as_it_has_stood_and_is_what_the_aim_judges() -> None:
    made = kit()
    found = made.predict(stood(ceiling_k=330.0))
    assert found.stood is not None
    idle, core = found.loads[RESTART], found.stood.end[0, 2]
    out = idle.charge_in_k[0] - idle.effectiveness[0] * (idle.charge_in_k[0] - core)
    assert found.stood.restart_k[0] == pytest.approx(out)
    assert margins(found, stood(ceiling_k=330.0))[0] == pytest.approx(330.0 - out, abs=0.006)
    driven = made.predict(stood(None, ceiling_k=330.0))
    assert margins(driven, stood(None, ceiling_k=330.0))[0] == pytest.approx(
        330.0 - float(driven.course.charge_out_worst_k[0]), abs=0.006
    )
    assert found.stood.pull_away_k[0] > found.stood.restart_k[0]


def test_no_standstill_is_the_drive_alone_and_a_short_one_hardly_more() -> None:
    made = kit()
    none, brief = made.predict(stood(None)), made.predict(stood(replace(STANDING, seconds=1e-6)))
    assert none.stood is None and brief.stood is not None
    assert brief.stood.end == pytest.approx(none.course.end, abs=1e-6)
    told, ledgers = thermal_report(made.bench, made.columns, stood(None), stood(None))
    assert told[0].standstill is None and ledgers[0].soak_j is None
    assert STANDS not in none.loads


def test_the_low_end_of_the_restart_is_the_hotter_one_and_the_hot_coolant_of_the_standstill_counts() -> None:
    made = kit()
    at = stood(replace(STANDING, seconds=3600.0))
    told = thermal_report(made.bench, made.columns, at, at)[0][0]
    assert told.standstill is not None
    assert told.standstill.restart_good_end_k < told.standstill.restart_k < told.standstill.restart_bad_end_k
    assert told.coolant_worst_k > float(made.predict(at).course.coolant_worst_k[0])
    assert told.coolant_worst_k < BAY_K


def test_rows_of_one_call_stand_as_they_would_alone() -> None:
    bench, after = whole_bench(), (0.0, 90.0, 600.0)
    at = place("cores", "core-210-short"), place("exchangers", "exchanger-380-slim"), place("pumps", "pump-46-small")
    loops = [Loop(*at, 0, (run(),) * 4, (), FANNED, after_run_s=seconds) for seconds in after]
    together = predict(bench, make_columns(bench, loops), stood()).stood
    alone = [predict(bench, make_columns(bench, [loop]), stood()).stood for loop in loops]
    assert together is not None
    for row, one in enumerate(alone):
        assert one is not None
        assert together.end[row] == pytest.approx(one.end[0], abs=1e-12)
    assert together.restart_k[0] > together.restart_k[1] > together.restart_k[2]


def test_the_shipped_soak_is_of_the_order_of_free_convection_and_radiation() -> None:
    """Free convection of air passes 2 to 25 W/(m2 K) (the usual range of heat transfer textbooks, from memory).
    Radiation 4 sigma T3 at 340 K with an emissivity of 0.8: 4 x 5.67e-8 x 340^3 x 0.8 = 7.1. Bays at 60 to 90 degC
    on a hot day are common practice, no source.
    """
    soak = next(iter(shelf()[1].soak.values()))
    assert isinstance(soak, Soak)
    radiation = 4 * 5.67e-8 * 340.0**3 * 0.8
    assert radiation == pytest.approx(7.1, abs=0.1)
    assert radiation + 2.0 < float(soak.surface) < radiation + 25.0
    assert 60.0 < 35.0 + float(soak.above_air_k) < 90.0
    assert soak.standing == "common practice"
