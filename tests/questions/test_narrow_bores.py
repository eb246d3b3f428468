"""Narrow bores: which of them are told, with what they take. Thresholds are common practice, no source."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from configurator.brief.request import Engine
from configurator.foundations.coolants import Coolant
from configurator.parts.kit import Joint
from configurator.prediction.stages import CORE_THEN_EXCHANGER, Piping, Stage, piping
from configurator.questions.narrow_bores import of_bores
from tests.journeys.kitwright import shipped_part, suggest
from tests.journeys.test_cautions import NARROW, brief, shelf, texts
from tests.prediction.made_kits import run

WATER = Coolant("water", 0.0)
FLOW = 20e-3 / 60
PLAIN_LOOP = piping(CORE_THEN_EXCHANGER)
RUNS = (("reservoir", "pump"), ("pump", "core"), ("core", "exchanger"), ("exchanger", "reservoir"))
ENGINE = {"power": "230 kW", "fuel": "petrol", "charger": "turbo", "boost": "1.4 bar"}


def joint(slots: tuple[str, str], bore_mm: float, steps_pa: float) -> Joint:
    """A run of 20 mm hose through a bore, the steps of which take so much of water at 20 degC at the flow."""
    steps = steps_pa / (998.2 * FLOW**2 / 2)
    made = replace(run(bore_m=0.020), start=f"{slots[0]}.out", finish=f"{slots[1]}.in")
    return replace(made, bore_m=bore_mm / 1e3, steps_per_m4=steps, loss_per_m4=steps)


def said(joints: list[Joint], loop_pa: float = 30e3, lie: Piping = PLAIN_LOOP, **engine: Any) -> Any:
    thermal: Any = SimpleNamespace(
        coolant_flow_m3_per_s=FLOW, properties_at_k=293.15, loop_loss_pa=loop_pa, charge_before_pa=600.0,
        charge_after_pa=300.0,
    )  # fmt: skip
    return list(of_bores(joints, lie, thermal, WATER, Engine.model_validate({**ENGINE, **engine})))


def loop(*bores_mm: float, steps_pa: float = 2000.0) -> list[Joint]:
    return [joint(slots, bore, steps_pa) for slots, bore in zip(RUNS, bores_mm, strict=True)]


def test_runs_of_less_than_0_64_of_their_hoses_area_are_told_together() -> None:
    """16 mm in 20 mm hose is 0.64 of its area, and nothing; 15.9 mm is told."""
    assert said(loop(16, 16, 16, 16)) == []
    (caution,) = said(loop(16, 15.9, 12, 12))
    assert "20 mm hose through 15.9 mm (pump to core), " in caution.text
    assert "20 mm hose through 12 mm (core to exchanger, exchanger to reservoir)" in caution.text
    assert "At 20 L/min these steps take 6.0 kPa, 20 % of the loop's loss." in caution.text


def test_steps_of_a_tenth_of_the_loops_loss_or_less_are_not_worth_a_word() -> None:
    assert said(loop(16, 16, 12, 12), loop_pa=39e3) != []
    assert said(loop(16, 16, 12, 12), loop_pa=41e3) == []


def test_of_twins_side_by_side_the_dearer_branch_counts_at_half_the_flow() -> None:
    twins = (Stage("core"), Stage("exchanger", abreast=2))
    places = [*RUNS[:2], ("core", "wye-1"), *(("wye-1", "exchanger-1"), ("wye-1", "exchanger-2"))]
    places += [("exchanger-1", "wye-2"), ("exchanger-2", "wye-2"), ("wye-2", "reservoir")]
    narrow = [joint(slots, 12 if "exchanger-1" in slots else 16, 8000.0) for slots in places]
    (caution,) = said(narrow, loop_pa=20e3, lie=piping(twins))
    assert "(wye-1 to exchanger-1, exchanger-1 to wye-2)" in caution.text
    assert "take 4.0 kPa, 20 %" in caution.text


def test_a_run_through_which_nothing_flows_takes_nothing() -> None:
    past = piping((Stage("core", valve="past"),))
    assert past.shares == (1.0, 1.0, 1.0, 0.0, 0.0, 1.0, 1.0)
    places = [("a", "b")] * len(past.shares)
    still = [joint(slots, 12 if share == 0.0 else 16, 9e3) for slots, share in zip(places, past.shares, strict=True)]
    assert said(still, lie=past) == []


def charged(bore_mm: float, share: float = 1.0) -> list[Joint]:
    whole = loop(16, 16, 16, 16)
    return [*whole, replace(whole[0], medium="charge", bore_m=bore_mm / 1e3, share=share)]


def test_the_charge_is_held_against_the_narrower_of_charger_outlet_and_throttle() -> None:
    """Pipes of 63 and 73 mm outside have bores of 60 and 70 mm; 0.8 of the smaller's area is a bore of 53.7 mm."""
    ends = {"charger_outlet": "73 mm", "throttle": "63 mm"}
    assert said(charged(53.7), **ends) == []
    (caution,) = said(charged(53.6), **ends)
    assert caution.code == "narrow-charge"
    assert "a bore of 53.6 mm" in caution.text and "as wide as 60 mm or more: the joints take 0.9 kPa" in caution.text
    assert said(charged(30.0), charger_outlet="73 mm") == said(charged(30.0), throttle="73 mm") == []


def test_two_pipes_side_by_side_share_the_area() -> None:
    ends = {"charger_outlet": "53 mm", "charger_outlets": 2, "throttle": "103 mm"}
    half = math.sqrt(0.8) * 50.0
    assert said(charged(half + 0.1, share=0.5), **ends) == []
    (caution,) = said(charged(half - 0.1, share=0.5), **ends)
    assert caution.code == "narrow-charge" and "a bore of 44.62 mm" in caution.text
    assert "as wide as 50 mm or more" in caution.text
    ends = {"charger_outlet": "48 mm", "charger_outlets": 2, "throttle": "63 mm"}
    (caution,) = said(charged(53.6), **ends)
    assert "as wide as 60 mm or more" in caution.text


def test_the_loss_of_the_loop_is_the_head_of_its_pump() -> None:
    """A pump whose head falls in a straight line from 70 kPa to none at 50 L/min."""
    line = [{"flow": "0 L/min", "head": "70 kPa"}, {"flow": "50 L/min", "head": "0 kPa"}]
    stock = shelf(shipped_part("pump-50-medium", curve=line), NARROW)
    kit = suggest(brief(), "--json", shelf=stock).kits[0]
    heat = kit["thermal"]
    assert heat["loop_loss_pa"] == pytest.approx(70e3 * (1 - heat["coolant_flow_l_per_min"] / 50.0), abs=15.0)
    (text,) = texts(kit["cautions"], "narrow-bores")
    assert "hose through 9 mm (core to exchanger)" in text and "hose through 9 mm (exchanger to reservoir)" in text
    told = re.search("take ([0-9.]+) kPa, ([0-9]+) %", text)
    assert told and float(told[2]) == pytest.approx(100e3 * float(told[1]) / heat["loop_loss_pa"], abs=0.7)
