"""The bound on how cool any loop's charge can be: no predicted loop is under it, and a loop at the bound reaches it."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import numpy as np
import pytest

from configurator.prediction.bench import Loop, make_columns
from configurator.prediction.conditions import Piece
from configurator.prediction.coolest import coolest_charge_k, free_flow
from configurator.prediction.predict import predict
from configurator.prediction.zone_air import ZoneAir
from tests.prediction.made_kits import conditions, moment, place, run, whole_bench

LOOPS = 300

CLIMB = (Piece(moment(1.0), 60.0), Piece(moment(0.3), 30.0))


def _loops(random: Random) -> list[Loop]:
    bench = whole_bench()
    parts = (bench.cores, bench.exchangers, bench.pumps, bench.reservoirs)
    return [
        Loop(
            *(random.randrange(len(of)) for of in parts),
            tuple(run(random.uniform(0.3, 3.0), random.choice((13e-3, 19e-3, 25e-3))) for _ in range(4)),
            (),
            ZoneAir(random.uniform(0.05, 0.4), 0.0, random.choice((0.0, 10.0)), 0.0),
        )
        for _ in range(LOOPS)
    ]


@pytest.mark.parametrize("start_k", [268.15, 297.15, 320.15], ids=["chilled", "as the air", "soaked"])
def test_no_loop_is_cooler_than_the_bound(start_k: float) -> None:
    bench = whole_bench()
    drive = conditions(*CLIMB, start_k=start_k)
    coolant_k, most = drive.coldest_coolant_k, free_flow(bench)
    bounds = np.array([coolest_charge_k([core], drive, coolant_k, most) for core in bench.core_surfaces])
    columns = make_columns(bench, _loops(Random(f"coolest {start_k}")))
    found = predict(bench, columns, drive)
    over = found.course.charge_out_worst_k - bounds[columns.core_index]
    assert over.min() >= 0.0
    assert coolest_charge_k(bench.core_surfaces, drive, coolant_k, most) == bounds.min()


def test_a_loop_that_never_warms_comes_to_the_bound() -> None:
    """A tank of 100 m3 stays at its start: what is left is that its pump drives less than the free flow of any."""
    bench = whole_bench()
    drive = conditions(*CLIMB)
    loop = Loop(
        place("cores", "core-260-short"), place("exchangers", "exchanger-350-slim"), place("pumps", "pump-100-bilge"),
        place("reservoirs", "reservoir-8-cube"), tuple(run(0.1, 40e-3) for _ in range(4)), (),
        ZoneAir(0.3, 0.0, 0.0, 0.0),
    )  # fmt: skip
    columns = replace(make_columns(bench, [loop]), reservoir_m3=np.array([100.0]))
    found = predict(bench, columns, drive)
    surface = bench.core_surfaces[loop.core]
    flow = float(found.flow_m3_per_s[0])
    worst = float(found.course.charge_out_worst_k[0])
    at_its_flow = coolest_charge_k([surface], drive, drive.coldest_coolant_k, flow)
    assert at_its_flow <= worst <= at_its_flow + 6.0
    assert coolest_charge_k([surface], drive, drive.coldest_coolant_k, 2 * flow) < at_its_flow


def test_two_cores_are_cooler_and_none_is_no_charge() -> None:
    bench, drive = whole_bench(), conditions(*CLIMB)
    one, two = (
        coolest_charge_k(bench.core_surfaces, drive, 290.0, 1e-3, cores) for cores in (1, 2)
    )
    assert two < one
    assert coolest_charge_k([], drive, 290.0, 1e-3) == np.inf
