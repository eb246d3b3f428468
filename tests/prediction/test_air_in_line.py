"""Two exchangers in line: the rear one's air is what the front one has warmed, over the share of its face behind it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from configurator.prediction.bench import Loop, make_columns
from configurator.prediction.conditions import Conditions, Piece
from configurator.prediction.exchange import Coupling, in_line
from configurator.prediction.report import thermal_report
from configurator.prediction.stages import Stage, Stages, piping
from configurator.prediction.trace import trace
from configurator.prediction.zone_air import ZoneAir
from tests.prediction.made_kits import Made, conditions, exchanger_w_per_k, moment, plain_kit, run, steady

SIDE_BY_SIDE: Stages = (Stage("core"), Stage("exchanger", 2))
IN_SERIES: Stages = (Stage("core"), Stage("exchanger"), Stage("exchanger"))
LAYOUTS = {"side by side": SIDE_BY_SIDE, "in series": IN_SERIES}
FRONT, REAR = ZoneAir(0.25, 0.0, 0.0, 0.0), ZoneAir(0.15, 0.0, 4.0, 0.0)
DRIVE = conditions(Piece(moment(), 40.0), Piece(moment(0.1), 25.0), Piece(moment(), 35.0))
LONG = conditions(Piece(moment(), 3600.0))
FACE_M2 = 0.25
"""That of the plain kit's exchangers."""


def looped(stages: Stages, *shadows: float) -> Made:
    """Two plain exchangers, each with so much of its face behind the other."""
    plain = plain_kit()
    loop = Loop(
        0, 0, int(plain.columns.pump[0]), 0, tuple(run(0.6) for _ in piping(stages).shares), (), FRONT, stages,
        (FRONT, REAR), shadows=shadows,
    )  # fmt: skip
    return Made(plain.bench, make_columns(plain.bench, [loop]))


def air_rate(air: ZoneAir, at: Conditions, road: float = 20.0) -> float:
    """rho v A c of the air before a face: p / (R T), R 287.05 J/(kg K), c 1007 J/(kg K) near 300 K; handbook values."""
    rho = at.ambient_pa / (287.05 * (at.ambient_k + air.preheat_k))
    return air.ram_share * road * FACE_M2 * rho * 1007.0


@pytest.mark.parametrize("share", [1.0, 0.4])
@pytest.mark.parametrize("stages", LAYOUTS.values(), ids=LAYOUTS)
def test_the_rear_one_gets_what_the_front_one_lets_out(stages: Stages, share: float) -> None:
    """By hand from the trace: front heat G (coolant in - air in), its air warmer by Q / C, of that the share."""
    made = looped(stages, 0.0, share)
    rows = list(trace(made.bench, made.columns, LONG))
    row = rows[-1]
    coolant = row["hose_after_core_c"]
    rise = row["exchanger_1_w_per_k"] * (coolant - row["air_into_exchanger_1_c"]) / air_rate(FRONT, LONG)
    outside = LONG.ambient_k - 273.15
    assert rise > 5.0
    assert row["air_into_exchanger_1_c"] == pytest.approx(outside, abs=1e-9)
    assert row["air_into_exchanger_2_c"] == pytest.approx(outside + REAR.preheat_k + share * rise, rel=2e-3)


@pytest.mark.parametrize("stages", LAYOUTS.values(), ids=LAYOUTS)
def test_energy_closes_with_one_behind_the_other(stages: Stages) -> None:
    for shadows in ((0.0, 1.0), (0.7, 0.0)):
        made = looped(stages, *shadows)
        _, (ledger,) = thermal_report(made.bench, made.columns, DRIVE, DRIVE)
        assert ledger.closure < 1e-9
        assert ledger.rejected_j > 0.0


@pytest.mark.parametrize("stages", LAYOUTS.values(), ids=LAYOUTS)
def test_the_more_of_a_face_stands_behind_the_hotter_the_charge(stages: Stages) -> None:
    ends = [steady(looped(stages, 0.0, share), LONG)[1] for share in (0.0, 0.3, 0.7, 1.0)]
    assert ends == sorted(ends) and ends[-1] > ends[0] + 0.3


def test_it_is_the_rear_one_that_gets_the_warm_air_whichever_that_is() -> None:
    """In series the place in the loop counts too: what comes first meets the hotter coolant."""
    ways = [steady(looped(IN_SERIES, *shadows), LONG)[1] for shadows in ((0.0, 1.0), (1.0, 0.0))]
    assert abs(ways[0] - ways[1]) > 0.05


def test_where_none_of_a_face_stands_behind_nothing_changes() -> None:
    bare, said = (looped(SIDE_BY_SIDE, *shadows).predict(DRIVE) for shadows in ((), (0.0, 0.0)))
    assert float(bare.course.charge_out_worst_k[0]) == float(said.course.charge_out_worst_k[0])


def test_two_in_line_on_one_temperature_are_one_of_twice_the_length() -> None:
    """Kays & London: at C* = 0 effectiveness is 1 - exp(-NTU); two of e in line give 1 - (1 - e)^2 (from memory)."""
    air, ntu = np.array([900.0]), 0.8
    e = -np.expm1(-ntu)
    into = np.array([300.0])
    front, rear = (Coupling(1, f"exchanger-{k}", e * air, into, air) for k in (1, 2))
    one, other = (c.as_one_vessel for c in in_line((front, rear), np.array([[0.0, 1.0]])))
    assert float((one[0] + other[0])[0]) == pytest.approx(900.0 * -np.expm1(-2 * ntu), rel=1e-12)
    assert float((one[1] + other[1])[0] / (one[0] + other[0])[0]) == pytest.approx(300.0, rel=1e-12)


def test_in_air_that_stands_the_front_one_adds_nothing() -> None:
    """Without air there is no rise to hand on, and no division by nothing."""
    still = replace(LONG, pieces=(Piece(moment(speed=0.0), 60.0),), pattern=(Piece(moment(speed=0.0), 60.0),))
    found = looped(SIDE_BY_SIDE, 0.0, 1.0).predict(still)
    assert np.all(np.isfinite(found.course.end))
    assert float(exchanger_w_per_k(found)[still.pieces[0].moment][0]) == 0.0
