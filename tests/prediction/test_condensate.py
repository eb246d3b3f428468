"""The charge's water in a drive: none on a dry day, its heat in the balance, and the mean it is given by."""

from __future__ import annotations

from dataclasses import replace

import pytest

from configurator.prediction import condensate
from configurator.prediction.bench import Loop, ZoneAir, make_columns
from configurator.prediction.conditions import Conditions, Piece
from configurator.prediction.ice_tank import IceFilling
from configurator.prediction.ledger import ledgers_of
from configurator.prediction.predict import full_power_steady_k, predict
from configurator.prediction.report import thermal_report
from tests.prediction.made_kits import Made, conditions, kit, moment, place, plain_kit, run, whole_bench

CHILLED = conditions(Piece(moment(), 40.0), Piece(moment(0.3), 20.0), start_k=278.15)
"""A loop that starts at 5 degC on a day of 25 degC."""
RUNS, AIR = tuple(run() for _ in range(3)), ZoneAir(0.25, 0.0, 0.0, 0.0)
ICELESS = kit(exchanger=None, reservoir="reservoir-8-plain")


def humid(share: float, of: Conditions = CHILLED) -> Conditions:
    return replace(of, humidity=share)


def shed_kg(made: Made, at: Conditions) -> float:
    (told,), _ = thermal_report(made.bench, made.columns, at, at)
    assert told.moisture is not None
    return told.moisture.shed_kg


@pytest.mark.parametrize("made", [kit(), ICELESS], ids=["with a front", "without"])
def test_a_dry_day_is_the_day_nobody_says_anything_of(made: Made) -> None:
    silent, dry = (made.predict(at).course for at in (CHILLED, humid(0.02)))
    assert float(silent.charge_out_worst_k[0]) == float(dry.charge_out_worst_k[0])
    assert shed_kg(made, humid(0.02)) == 0.0


@pytest.mark.parametrize("made", [kit(), ICELESS], ids=["with a front", "without"])
def test_the_wetter_the_day_the_warmer_charge_and_coolant(made: Made) -> None:
    courses = [made.predict(humid(share)).course for share in (0.3, 0.6, 0.9)]
    for values in ([float(c.charge_out_worst_k[0]) for c in courses], [float(c.end[0, 0]) for c in courses]):
        assert values == sorted(values)
        assert values[-1] > values[0] + 0.1
    amounts = [shed_kg(made, humid(share)) for share in (0.3, 0.6, 0.9)]
    assert amounts == sorted(amounts) and amounts[-1] > 5e-3


@pytest.mark.parametrize("made", [kit(), ICELESS], ids=["with a front", "without"])
def test_the_energy_closes_with_the_latent_heat_and_not_without_it(made: Made) -> None:
    at = humid(0.8)
    (ledger,) = ledgers_of(made.bench, made.columns, made.predict(at), at)
    assert ledger.condensate_j is not None
    assert ledger.closure < 1e-9
    assert ledger.condensate_j > 0.01 * ledger.charge_j
    assert replace(ledger, condensate_j=None).closure > 5e-3


def test_the_latent_heat_is_that_of_the_water_told() -> None:
    """2.4 to 2.5 MJ/kg between 0 and 40 degC; published steam tables (from memory)."""
    at = humid(0.8)
    (ledger,) = ledgers_of(ICELESS.bench, ICELESS.columns, ICELESS.predict(at), at)
    assert ledger.condensate_j is not None
    assert 2.40e6 < ledger.condensate_j / shed_kg(ICELESS, at) < 2.502e6


@pytest.mark.parametrize("ice", [False, True])
def test_half_the_cut_moves_nothing(monkeypatch: pytest.MonkeyPatch, ice: bool) -> None:
    at = humid(0.8, conditions(Piece(moment(), 40.0), start_k=278.15))
    if ice:
        at = replace(at, start_k=275.15, ice=IceFilling("cubes", 5.0, 60.0, 6.0, 0.4, 268.15, 298.15, 1, None))
    whole = ICELESS.predict(at).course
    monkeypatch.setattr(condensate, "CUT_S", condensate.CUT_S / 2)
    halves = ICELESS.predict(at).course
    assert float(whole.charge_out_worst_k[0]) == pytest.approx(float(halves.charge_out_worst_k[0]), abs=0.02)
    assert whole.end[0] == pytest.approx(halves.end[0], abs=0.02)
    monkeypatch.setattr(condensate, "CUT_S", 40.0)
    assert float(ICELESS.predict(at).course.charge_out_worst_k[0]) != pytest.approx(
        float(whole.charge_out_worst_k[0]), abs=0.02
    )


def test_coolant_that_settles_above_the_dew_point_sheds_nothing_for_ever() -> None:
    made = kit()
    settled, dry = (
        float(full_power_steady_k(made.predict(at), made.columns, at)[0][0]) for at in (humid(0.5), CHILLED)
    )
    assert made.predict(humid(0.5)).drive.shed
    assert settled == pytest.approx(dry, abs=0.3)


def test_a_loop_colder_than_the_dew_point_sheds_for_ever_and_its_round_closes() -> None:
    """A front of great conductance in air under the dew point of the charge: 30 degC, 90 %, 2.2 bar absolute."""
    made = plain_kit(400.0, 20_000.0)
    at = conditions(Piece(moment(0.7, 40.0), 30.0), ambient_k=303.15, start_k=303.15, humidity=0.9)
    days = (at, replace(at, humidity=0.05))
    moist, dry = (thermal_report(made.bench, made.columns, day, day)[0][0] for day in days)
    assert moist.moisture is not None and moist.moisture.shed_kg > 0.0
    assert moist.charge_out_plateau_k > dry.charge_out_plateau_k + 0.05


def test_a_row_sheds_alone_what_it_sheds_in_company() -> None:
    """Water is reckoned between the coldest coolant and the dew point of all rows: that must not show in any."""
    loops = [
        Loop(place("cores", core), None, place("pumps", "pump-46-small"), place("reservoirs", tank), RUNS, (), AIR)
        for core, tank in (("core-210-short", "reservoir-6-vented"), ("core-400-sturdy", "reservoir-8-plain"))
    ]
    at, bench = humid(0.9), whole_bench()
    together = predict(bench, make_columns(bench, loops), at).course.charge_out_worst_k
    alone = [float(predict(bench, make_columns(bench, [loop]), at).course.charge_out_worst_k[0]) for loop in loops]
    assert together == pytest.approx(alone, abs=1e-3)
