"""Which way a cracked core leaks, and the suction margin of a kit's pump, from figures set by hand."""

from __future__ import annotations

import pytest

from configurator.brief.request import Engine
from configurator.fitting.placing import Placement
from configurator.foundations.coolants import Coolant
from configurator.parts.kinds import Pump
from configurator.questions.high_points import Span, spans_of_two
from configurator.questions.when_it_fails import LEAST_SUCTION_PA, Crack, Sits, core_sits, cracked_core, suction_of
from tests.journeys.kitwright import shipped_part
from tests.prediction.made_kits import conditions, shelf

BAR = 1e5
PUMP = next(pump for pump in shelf()[0].of(Pump) if pump.id == "pump-46-small")
WATER = Coolant("water", 0.0)
BEFORE: Sits = "before the throttle"


@pytest.mark.parametrize(
    "charge,coolant,goes",
    [
        ((1.4, 1.75), (0.0, 0.47), "charge into coolant"),
        ((0.9, 1.2), (0.0, 1.02), "either way"),
        ((0.6, 0.9), (0.0, 1.6), "either way"),
        ((0.0, 0.0), (0.0, 0.5), "coolant into engine"),
        ((0.0, 0.0), (-0.05, -0.01), "charge into coolant"),
        ((0.0, 0.0), (-0.02, 0.6), "either way"),
        ((0.0, 0.0), (0.0, 0.0), "either way"),
    ],
)
def test_the_side_that_is_always_higher_pushes_into_the_other(
    charge: tuple[float, float], coolant: tuple[float, float], goes: str
) -> None:
    assert Crack(charge, coolant).goes == goes


def test_a_sealed_hot_loop_leaks_into_the_engine_at_idle_and_standing() -> None:
    """1.1 × 0.9 bar of the cap and half a metre of liquid: 1.04 bar. Common practice, no source: the 1.1."""
    found = cracked_core((1.4 * BAR, 1.75 * BAR), 1.2 * BAR, 0.9 * BAR, {}, 0.5, BAR, BEFORE)
    assert (found.boost.goes, found.idle.goes) == ("charge into coolant", "coolant into engine")
    assert found.standstill.goes == "coolant into engine" and not found.height_known
    assert found.standstill.coolant_pa_gauge == pytest.approx((0.0, 1.04 * BAR))
    assert found.standstill.charge_pa_gauge == found.idle.charge_pa_gauge == (0.0, 0.0)


def test_the_liquid_over_a_core_of_unknown_height_is_the_most_over_any_part_of_the_loop() -> None:
    """A roof 1.58 m over the lowest floor, and no height of the core's zone: 0.158 bar of liquid, no cap."""
    found = cracked_core((1.4 * BAR, 1.75 * BAR), 1.2 * BAR, 0.0, {}, 1.58, BAR, BEFORE)
    assert found.standstill.coolant_pa_gauge == pytest.approx((0.0, 0.158 * BAR))
    assert found.most_over_m == 1.58 and not found.height_known


def test_behind_the_throttle_a_core_has_the_vacuum_of_the_manifold_at_idle() -> None:
    """0.3 bar absolute, common practice, no source; standing and before the throttle that of the outside air."""
    at = ((0.6 * BAR, 0.9 * BAR), 1.0 * BAR, 0.5 * BAR, {}, 0.5, 1.0 * BAR)
    behind, before = (cracked_core(*at, sits) for sits in ("behind the throttle, assumed", BEFORE))
    assert behind.idle.charge_pa_gauge == pytest.approx((-0.7 * BAR, 0.0))
    assert before.idle.charge_pa_gauge == behind.standstill.charge_pa_gauge == (0.0, 0.0)
    assert behind.idle.goes == before.idle.goes == "coolant into engine"
    assert behind.boost == before.boost


def test_the_pipe_to_a_throttle_says_that_it_lies_behind_the_core() -> None:
    """Without it a blower may breathe through its throttle, a turbo is taken to blow into it."""
    made = {"power": "150 kW", "fuel": "petrol", "charger": "roots", "boost": "0.6 bar"}
    silent, told = (Engine.model_validate({**made, **pipe}) for pipe in ({}, {"throttle": "60 mm"}))
    assert core_sits(told, blower=True) == core_sits(told, blower=False) == "before the throttle"
    assert core_sits(silent, blower=True) == "behind the throttle, assumed"
    assert core_sits(silent, blower=False) == "before the throttle, assumed"


def test_a_vented_tank_below_the_core_draws_air_and_lets_no_coolant_in_while_it_stands() -> None:
    spans = {"core": Span(600, 700), "reservoir": Span(300, 500)}
    found = cracked_core((1.0 * BAR, 1.3 * BAR), 0.6 * BAR, 0.0, spans, 0.5, BAR, BEFORE)
    assert found.standstill.goes == "charge into coolant" and found.height_known
    assert found.standstill.coolant_pa_gauge == pytest.approx((-0.04 * BAR, -0.01 * BAR))
    raised = {**spans, "reservoir": Span(800, 1000)}
    higher = cracked_core((1.0 * BAR, 1.3 * BAR), 0.6 * BAR, 0.0, raised, 0.5, BAR, BEFORE)
    assert higher.standstill.goes == "coolant into engine"


def test_of_two_cores_both_count() -> None:
    spans = {"core-1": Span(600, 700), "core-2": Span(200, 300), "reservoir": Span(400, 500)}
    found = cracked_core((1.0 * BAR, 1.3 * BAR), 0.6 * BAR, 0.0, spans, 0.5, BAR, BEFORE)
    low, high = found.standstill.coolant_pa_gauge
    assert (low, high) == pytest.approx((-0.03 * BAR, 0.03 * BAR))


def test_the_suction_margin_by_hand() -> None:
    """Water at 90 degC: 70.18 kPa (published, IAPWS R7-97, from memory), 965 kg/m3; the reservoir's floor 0.15 m over
    the pump's middle: 1.42 kPa; 2 kPa lost: 101.33 + 1.42 - 2 - 70.18 = 30.57 kPa, and 80.57 under a 0.5 bar cap.
    """
    spans = {"pump": Span(200, 300), "reservoir": Span(400, 600)}
    found = suction_of(PUMP, conditions(coolant=WATER), 363.15, 2000.0, 0.5 * BAR, spans)
    assert found.above_m == pytest.approx(0.15)
    assert found.margin_pa == pytest.approx(30.57e3, abs=50.0)
    assert found.under_cap_pa == pytest.approx(80.57e3, abs=50.0)
    assert found.needs_pa == LEAST_SUCTION_PA and not found.stated


def test_a_height_that_is_not_known_counts_nothing() -> None:
    unknown = suction_of(PUMP, conditions(coolant=WATER), 363.15, 2000.0, 0.0, {"pump": Span(200, 300)})
    assert unknown.above_m is None
    assert unknown.margin_pa == unknown.under_cap_pa == pytest.approx(29.15e3, abs=50.0)


def test_two_parts_of_one_zone_stand_above_one_floor_whatever_its_height() -> None:
    def placed(slot: str, zone: str, up: float, high: int) -> Placement:
        return Placement(slot, slot, zone, (0.0, 0.0, up), (100, 100, high), "+z", "-x", "zone")

    pump, tank = placed("pump", "side", 20.0, 80), placed("reservoir", "side", 160.0, 200)
    assert spans_of_two("reservoir", "pump", {}, [pump, tank]) == {"pump": Span(20, 100), "reservoir": Span(160, 360)}
    assert spans_of_two("reservoir", "pump", {}, [pump, placed("reservoir", "wing", 160.0, 200)]) == {}
    above = {"pump": Span(220, 300), "reservoir": Span(360, 560)}
    assert spans_of_two("reservoir", "pump", above, [pump, tank]) == above


def test_what_the_pump_states_that_it_needs_counts_for_what_is_usual() -> None:
    pump = Pump.model_validate(shipped_part("pump-46-small", npsh_required="35 kPa"))
    stated = suction_of(pump, conditions(coolant=WATER), 363.15, 0.0, 0.0, {})
    assert (stated.needs_pa, stated.stated) == (35e3, True)
