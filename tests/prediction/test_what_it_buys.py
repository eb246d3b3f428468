"""Density of the charge and rise of the outside air, each worked out again by hand."""

from __future__ import annotations

import numpy as np
import pytest

from configurator.prediction.conditions import Piece
from configurator.prediction.predict import full_power_steady_k, predict
from configurator.prediction.report import Thermal, thermal_report
from configurator.prediction.what_it_buys import density_gain
from configurator.prediction.zone_air import ZoneAir
from tests.prediction.made_kits import Made, conditions, kit, moment, plain_kit

FULL = conditions(Piece(moment(), 120.0))
MIXED = conditions(Piece(moment(), 40.0), Piece(moment(0.3, speed=10.0), 30.0), Piece(moment(), 50.0))
LONG = conditions(Piece(moment(), 7200.0))


def told(made: Made, at: object) -> Thermal:
    (thermal,), _ = thermal_report(made.bench, made.columns, at, at)  # type: ignore[arg-type]
    return thermal


def test_density_goes_with_pressure_over_temperature() -> None:
    """Ideal gas, by hand: p1 = PR (ambient - inlet loss), p2 = p1 - loss, (p2/p1)(T1/T2) - 1 at each end."""
    thermal = told(kit(), FULL)
    p1 = thermal.pressure_ratio * (101325 - 3000)
    by_hand = (p1 - thermal.charge_loss_pa) / p1 * thermal.charge_in_k / thermal.charge_out_worst_k - 1
    low, high = thermal.bought.density_gain_low, thermal.bought.density_gain_high
    assert 0.1 < low < by_hand < high < 0.6
    assert float(density_gain(kit().predict(FULL))[0]) == pytest.approx(by_hand, rel=1e-9)
    colder, warmer = (thermal.charge_in_k / t for t in (thermal.charge_out_good_end_k, thermal.charge_out_bad_end_k))
    assert low == pytest.approx((p1 - thermal.charge_loss_pa) / p1 * warmer - 1, abs=0.01)
    assert high == pytest.approx((p1 - thermal.charge_loss_pa) / p1 * colder - 1, abs=0.01)


def test_a_core_that_cools_nothing_only_costs_pressure() -> None:
    """Coolant as hot as the charge: what is left of the gain is the loss, as a share of the pressure."""
    useless = plain_kit(1e-6, None)
    found = useless.predict(FULL)
    p1 = float(found.full.pressure_ratio[0]) * (101325 - 3000)
    assert float(density_gain(found)[0]) == pytest.approx(-float(found.full.loss_pa[0]) / p1, rel=1e-6)


def test_a_part_load_worst_moment_is_judged_by_its_own_charge() -> None:
    """At a third of the power there is less boost, less heat, and the inlet takes its square: 0.09 of 3 kPa."""
    part = conditions(Piece(moment(0.3), 120.0))
    found = kit().predict(part)
    charge = found.exchanges[part.pieces[0].moment].charge
    p1 = float(charge.pressure_ratio[0]) * (101325 - 0.09 * 3000)
    assert p1 - float(charge.loss_pa[0]) == pytest.approx(101325 + part.boost_at(0.3), rel=1e-6)
    by_hand = (p1 - float(charge.loss_pa[0])) / p1 * float(charge.in_k[0]) / float(found.course.charge_out_worst_k[0])
    assert float(density_gain(found)[0]) == pytest.approx(by_hand - 1, rel=1e-9)
    assert by_hand - 1 < float(density_gain(kit().predict(FULL))[0])


def test_it_is_judged_at_the_hardest_power_not_where_a_soaked_core_warms_a_charge_that_comes_cool() -> None:
    """A loop that starts at 90 degC warms the charge of its first minutes: once that read as no gain at all."""
    rest = Piece(moment(0.02), 900.0)
    soaked, cold = (conditions(rest, Piece(moment(), 20.0), start_k=kelvin) for kelvin in (363.15, 298.15))
    found, begun_cold = (plain_kit(600.0, 1500.0).predict(at) for at in (soaked, cold))
    assert float(found.course.hardest_out_worst_k[0]) < float(found.course.charge_out_worst_k[0]) - 10.0
    assert float(density_gain(found)[0]) == pytest.approx(float(density_gain(begun_cold)[0]), abs=0.01)
    assert float(density_gain(found)[0]) > 0.1


def test_the_pump_draws_its_current_at_its_volts() -> None:
    made = kit()
    pump = made.bench.pumps[int(made.columns.pump[0])]
    assert told(made, FULL).bought.pump_w == pytest.approx(float(pump.current_a) * pump.volts)


def test_at_a_load_that_lasts_the_air_takes_all_the_heat() -> None:
    """Steady: Q / (m c), Q = charge heat + pump work; m = p / (R T) v A, c 1007 J/(kg K); handbook values."""
    made = plain_kit(pump_heat_w=50.0)
    thermal = told(made, LONG)
    rate = 101325 / (287.05 * 298.15) * 0.25 * 20.0 * 0.25 * 1007.0
    load = made.predict(LONG).loads[LONG.pieces[0].moment]
    charge = float(load.core_w_per_k[0] / load.effectiveness[0]) * (thermal.charge_in_k - thermal.charge_out_worst_k)
    (rise,) = thermal.bought.air_rises
    assert rise.slot == "exchanger"
    assert rise.at_worst_k == pytest.approx((charge + 50.0) / rate, rel=3e-3)
    assert rise.mean_k == pytest.approx(rise.at_worst_k, rel=0.02)


def test_the_mean_is_all_heat_over_all_air() -> None:
    made = plain_kit()
    _, (ledger,) = thermal_report(made.bench, made.columns, MIXED, MIXED)
    per_m_per_s = 101325 / (287.05 * 298.15) * 0.25 * 0.25 * 1007.0
    seconds = [(piece.seconds, piece.moment.speed_m_per_s) for piece in MIXED.pieces]
    carried = sum(lasts * speed for lasts, speed in seconds) * per_m_per_s
    (rise,) = told(made, MIXED).bought.air_rises
    assert rise.mean_k == pytest.approx(ledger.rejected_j / carried, rel=3e-3)
    assert 0 < rise.mean_k < rise.at_worst_k


def test_faster_air_takes_the_same_heat_and_leaves_cooler() -> None:
    rises = [told(plain_kit(air=ZoneAir(s, 0.0, 0.0, 0.0)), LONG).bought.air_rises[0].at_worst_k for s in (0.1, 0.3)]
    assert rises[0] > 2 * rises[1]


def test_without_a_front_or_without_air_nothing_is_handed_on() -> None:
    assert told(plain_kit(ua_exchanger=None), FULL).bought.air_rises == ()
    still = told(plain_kit(air=ZoneAir(0.0, 0.0, 0.0, 0.0)), FULL).bought.air_rises
    assert (still[0].at_worst_k, still[0].mean_k) == (0.0, 0.0)


def test_litres_do_not_move_what_lasts_for_ever() -> None:
    """The steady coupled loop has no heat capacity in it (Kays & London, liquid-coupled exchangers; from memory)."""
    ends = []
    for litres in (1.0, 5.0, 25.0):
        made = plain_kit(reservoir_m3=litres * 1e-3)
        found = predict(made.bench, made.columns, LONG, 0, np.array([330.0]))
        ends.append(float(full_power_steady_k(found, made.columns, LONG)[0][0]))
    assert max(ends) - min(ends) < 1e-6
    few, many = (told(plain_kit(reservoir_m3=m3), FULL) for m3 in (1e-3, 25e-3))
    assert few.charge_out_worst_k > many.charge_out_worst_k + 5
