"""Laws of a kit whose pump stops or whose core cracks, each beside a case just outside it where it fails.

Standing: they follow from the balance of heat and the second law.
"""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from configurator.physics.standing_coolant import seconds_to_reach, standing_conductance
from configurator.prediction.conditions import Piece
from configurator.prediction.predict import full_power_steady_k
from configurator.prediction.pump_stopped import standing_cores
from configurator.prediction.what_if import what_ifs
from configurator.questions.when_it_fails import Crack
from tests.prediction.made_kits import Made, conditions, moment, plain_kit

few = settings(max_examples=10)
sizes = st.floats(50.0, 5000.0)
rises = st.floats(1.0, 200.0)


def both_outs_k(made: Made, boost_pa: float, seconds: float) -> tuple[float, float, float]:
    """Charge out with the pump stopped, and running: the worst of a drive, and if full power never ends."""
    drive = conditions(Piece(moment(), seconds), boost_pa=boost_pa)
    found = made.predict(drive)
    (core,) = standing_cores(found, made.columns)
    for_ever, _ = full_power_steady_k(found, made.columns, drive)
    return core.charge_in_k, float(found.course.charge_out_worst_k[0]), float(for_ever[0])


@few
@given(sizes, sizes, st.floats(0.2e5, 2e5), st.floats(5.0, 900.0))
def test_no_charge_is_cooler_with_the_pump_stopped(core: float, front: float, boost: float, seconds: float) -> None:
    stopped, worst, for_ever = both_outs_k(plain_kit(core, front), boost, seconds)
    assert stopped >= worst - 1e-9 and stopped >= for_ever - 1e-9


def test_outside_a_pump_whose_heat_has_no_way_out_warms_the_charge_above_its_charger() -> None:
    """No front exchanger and 2 kW of pump: in the end all of it leaves with the charge."""
    stopped, _, for_ever = both_outs_k(plain_kit(600.0, None, pump_heat_w=2000.0), 0.5e5, 60.0)
    assert for_ever > stopped + 1.0


@given(st.floats(500.0, 20000.0), st.floats(10.0, 1000.0), rises, rises, st.floats(0.1, 50.0))
def test_it_boils_sooner_where_it_starts_warmer_holds_less_or_the_charge_is_hotter(
    capacity: float, conductance: float, rise: float, over: float, more: float
) -> None:
    start, limit = 330.0, 330.0 + rise
    driver = limit + over
    found = seconds_to_reach(capacity, conductance, driver, start, limit)
    warmer = seconds_to_reach(capacity, conductance, driver, start + more, limit)
    hotter = seconds_to_reach(capacity, conductance, driver + more, start, limit)
    fuller = seconds_to_reach(capacity * (1 + more), conductance, driver, start, limit)
    assert found is not None and warmer is not None and hotter is not None and fuller is not None
    assert warmer < found and hotter < found < fuller


@given(st.floats(1.0, 1e4), st.floats(20.0, 500.0))
def test_the_standing_core_takes_no_more_than_its_surface_or_the_stream_carries(ua: float, rate: float) -> None:
    assert float(standing_conductance(ua, rate)) <= min(ua, rate)
    assert float(standing_conductance(ua * 2, rate)) >= float(standing_conductance(ua, rate))


@few
@given(sizes, sizes, st.floats(10.0, 900.0))
def test_half_the_air_never_cools_coolant_that_is_warmer_than_the_air(core: float, front: float, s: float) -> None:
    made, drive = plain_kit(core, front), conditions(Piece(moment(), s))
    found = made.predict(drive)
    half = what_ifs(made.bench, made.columns, drive)[0].half_air
    assert half is not None and half.charge_k >= float(found.judged_k[0]) - 1e-6


def test_outside_coolant_that_is_colder_than_the_air_stays_colder_with_less_of_it() -> None:
    made = plain_kit(600.0, 3000.0, reservoir_m3=50e-3)
    cold = replace(conditions(Piece(moment(0.1, 30.0), 60.0)), start_k=275.0, ambient_k=318.0, inlet_k=323.0)
    half = what_ifs(made.bench, made.columns, cold)[0].half_air
    assert half is not None and half.charge_k < float(made.predict(cold).judged_k[0]) - 0.1


pressures = st.tuples(st.floats(-1.0, 3.0), st.floats(0.0, 2.0)).map(lambda p: (p[0], p[0] + p[1]))


@given(pressures, pressures, st.floats(5.1, 9.0))
def test_more_boost_turns_every_leak_into_the_coolant(
    charge: tuple[float, float], coolant: tuple[float, float], more: float
) -> None:
    raised = (charge[0] + more + 1.0, charge[1] + more + 1.0)
    assert Crack(raised, coolant).goes == "charge into coolant"
    assert Crack(coolant, raised).goes == "coolant into engine"
