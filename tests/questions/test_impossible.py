"""Figures that no part can have are found; no shipped part has one.

A box holds no more than its sides multiplied, a motor gives no more than it takes, and hydraulic power is pressure
times volume flow: from memory, any handbook of physics.
"""

from __future__ import annotations

import pytest

from configurator.files.load_catalogue import load_catalogue
from configurator.parts.kinds import Hose, Pump, Reservoir
from configurator.questions.impossible import impossible
from tests.journeys.kitwright import CATALOGUE, shipped, shipped_part


def tank(litres: float, air: str = "0 %") -> Reservoir:
    """A tank whose box is 200 x 200 x 260 mm: 10.4 L."""
    part = shipped_part("reservoir-8-cube", coolant__volume=f"{litres} L", air_space=air)
    return Reservoir.model_validate(part)


def pump(head_kpa: float, flow_l_per_min: float, current: float) -> Pump:
    """A pump of 12 V whose curve is one straight line: at half of both it gives most, a quarter of their product."""
    curve = [{"flow": "0 L/min", "head": f"{head_kpa} kPa"}, {"flow": f"{flow_l_per_min} L/min", "head": "0 kPa"}]
    return Pump.model_validate(shipped_part("pump-50-medium", curve=curve, volts=12, current=f"{current} A"))


@pytest.mark.parametrize(("litres", "air", "wrong"), [(10.4, "0 %", False), (11, "0 %", True), (9.8, "15 %", True)])
def test_a_tank_holds_no_more_than_its_box(litres: float, air: str, wrong: bool) -> None:
    found = list(impossible(tank(litres, air)))
    assert bool(found) == wrong
    assert all(path == ("coolant", "volume") and "its whole box is 10.4 L" in text for path, text in found)


@pytest.mark.parametrize(("current", "wrong"), [(8.5, False), (8.2, True)])
def test_a_pump_gives_no_more_than_its_motor_takes(current: float, wrong: bool) -> None:
    """200 kPa at no flow and 120 L/min at no head: 100 kPa at 1 L/s are 100 W; 12 V and 8.33 A take as much."""
    found = list(impossible(pump(200, 120, current)))
    assert bool(found) == wrong
    assert all("puts 100 W into the coolant" in text for _, text in found)


@pytest.mark.parametrize(("radius", "wrong"), [("13 mm", False), ("12 mm", True)])
def test_a_hose_bends_no_tighter_than_half_its_outside(radius: str, wrong: bool) -> None:
    made = Hose.model_validate({**shipped("hoses")[0], "bore": "19 mm", "wall": "3.5 mm", "bend_radius": radius})
    found = list(impossible(made))
    assert bool(found) == wrong
    assert all("to the inside of the bend: it would go round 24 mm, and is 26 mm across" in text for _, text in found)


def test_no_shipped_part_is_impossible() -> None:
    assert [found for part in load_catalogue(CATALOGUE)[0].parts.values() for found in impossible(part)] == []
