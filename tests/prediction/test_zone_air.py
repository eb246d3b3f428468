"""What air a front exchanger gets: ram, a stated speed, a fan; whichever governs. And warm air before it."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from configurator.brief.bay import Zone
from configurator.prediction.bench import ASSUMED_RAM_SHARE, FAN_FACE_SPEED, ZoneAir, zone_air
from configurator.prediction.conditions import Moment
from configurator.prediction.exchange import face_speed
from tests.prediction.made_kits import conditions, kit, moment, steady


def zone(air: dict[str, Any] | None) -> Zone:
    box: dict[str, Any] = {"wide": "460 mm", "high": "150 mm", "deep": "60 mm", "takes": ["exchanger"]}
    return Zone.model_validate(box if air is None else {**box, "air": air})


def speed(air: ZoneAir, at: Moment) -> float:
    return float(face_speed(kit(air=air).columns, at)[0, 0])


def test_ram_air_is_a_share_of_road_speed() -> None:
    air = zone_air(zone({"kind": "ram", "share": "25 %"}))
    assert speed(air, moment(speed=20.0)) == pytest.approx(5.0)
    assert speed(air, moment(speed=0.0, fan=True)) == 0.0


def test_a_stated_face_speed_stands_at_any_road_speed() -> None:
    air = zone_air(zone({"face_speed": "5 m/s"}))
    for road in (0.0, 40.0):
        assert speed(air, moment(speed=road)) == pytest.approx(5.0)


def test_a_fan_blows_while_it_is_on() -> None:
    """1.5 to 4 m/s with a fan alone; common practice, no source."""
    air = zone_air(zone({"kind": "fan"}))
    assert 1.5 <= FAN_FACE_SPEED <= 4.0
    assert speed(air, moment(fan=True)) == FAN_FACE_SPEED
    assert speed(air, moment(fan=False)) == 0.0


def test_no_air_and_air_of_which_nothing_is_said_are_two_things() -> None:
    """A production grille passes 0.10 to 0.20 of road speed; common practice, no source."""
    assert speed(zone_air(zone({"kind": "none"})), moment(speed=40.0)) == 0.0
    assert 0.10 <= ASSUMED_RAM_SHARE <= 0.20
    for unsaid in (zone(None), None):
        assert speed(zone_air(unsaid), moment(speed=40.0)) == pytest.approx(40.0 * ASSUMED_RAM_SHARE)


def test_the_stronger_air_governs() -> None:
    paddock = Moment(0.02, 0.0, True, True, 2.0)
    assert speed(ZoneAir(0.25, 0.0, 0.0, 0.0), paddock) == pytest.approx(2.0)
    assert speed(ZoneAir(0.25, 3.0, 0.0, 0.0), paddock) == pytest.approx(3.0)
    assert speed(ZoneAir(0.25, 3.0, 0.0, 0.0), moment(speed=40.0)) == pytest.approx(10.0)


def test_air_that_has_passed_another_radiator_warms_the_charge() -> None:
    """At a tenth of the flow the coolant follows its air: 10 K of preheat are worth most of 10 K on the coolant."""
    at = conditions()
    plain = kit(air=ZoneAir(0.25, 0.0, 0.0, 0.0))
    warmed = kit(air=zone_air(zone({"kind": "ram", "share": "25 %", "preheat": "10 K"})))
    first, second = steady(plain, at)[1], steady(warmed, at)[1]
    assert 0.0 < second - first < 10.0
    assert float(warmed.columns.preheat_k[0, 0]) == pytest.approx(10.0)


def test_without_any_air_the_exchanger_takes_nothing() -> None:
    at = conditions()
    found = kit(air=zone_air(zone({"kind": "none"}))).predict(at)
    assert float(found.exchanger_w_per_k[at.pieces[0].moment][0]) == 0.0
    assert np.all(np.isfinite(found.course.end))
