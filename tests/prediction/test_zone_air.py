"""What air a front exchanger gets: ram, a stated speed, a fan; whichever governs. And warm air before it."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from pydantic import ValidationError

from configurator.brief.bay import UPSTREAM_PREHEAT_K, Bay
from configurator.brief.joined_zones import with_joined_zones
from configurator.prediction.conditions import Moment
from configurator.prediction.exchange import face_speed
from configurator.prediction.zone_air import ASSUMED_RAM_SHARE, FAN_FACE_SPEED, ZoneAir, shadows, zone_air
from tests.prediction.made_kits import conditions, exchanger_w_per_k, kit, moment, steady


def box(air: dict[str, Any] | None = None, **keys: Any) -> dict[str, Any]:
    """A zone as it is written."""
    made = {"wide": "460 mm", "high": "150 mm", "deep": "60 mm", "takes": ["exchanger"], **keys}
    return made if air is None else {**made, "air": air}


def bay(**zones: dict[str, Any]) -> Bay:
    return Bay.model_validate({"zones": zones})


def air_of(air: dict[str, Any] | None) -> ZoneAir:
    """The air of a zone of which this is said."""
    return zone_air(bay(nose=box(air)), "nose")


def speed(air: ZoneAir, at: Moment) -> float:
    return float(face_speed(kit(air=air).columns, at)[0, 0])


def test_ram_air_is_a_share_of_road_speed() -> None:
    air = air_of({"kind": "ram", "share": "25 %"})
    assert speed(air, moment(speed=20.0)) == pytest.approx(5.0)
    assert speed(air, moment(speed=0.0, fan=True)) == 0.0


def test_a_stated_face_speed_stands_at_any_road_speed() -> None:
    air = air_of({"face_speed": "5 m/s"})
    for road in (0.0, 40.0):
        assert speed(air, moment(speed=road)) == pytest.approx(5.0)


def test_a_fan_blows_while_it_is_on() -> None:
    """1.5 to 4 m/s with a fan alone; common practice, no source."""
    air = air_of({"kind": "fan"})
    assert 1.5 <= FAN_FACE_SPEED <= 4.0
    assert speed(air, moment(fan=True)) == FAN_FACE_SPEED
    assert speed(air, moment(fan=False)) == 0.0


def test_no_air_and_air_of_which_nothing_is_said_are_two_things() -> None:
    """A production grille passes 0.10 to 0.20 of road speed; common practice, no source."""
    assert speed(air_of({"kind": "none"}), moment(speed=40.0)) == 0.0
    assert 0.10 <= ASSUMED_RAM_SHARE <= 0.20
    for unsaid in (air_of(None), zone_air(None, "nose"), zone_air(bay(nose=box()), "elsewhere")):
        assert speed(unsaid, moment(speed=40.0)) == pytest.approx(40.0 * ASSUMED_RAM_SHARE)


def test_the_stronger_air_governs() -> None:
    paddock = Moment(0.02, 0.0, True, True, 2.0)
    assert speed(ZoneAir(0.25, 0.0, 0.0, 0.0), paddock) == pytest.approx(2.0)
    assert speed(ZoneAir(0.25, 3.0, 0.0, 0.0), paddock) == pytest.approx(3.0)
    assert speed(ZoneAir(0.25, 3.0, 0.0, 0.0), moment(speed=40.0)) == pytest.approx(10.0)


def test_air_that_has_passed_another_radiator_warms_the_charge() -> None:
    """At a tenth of the flow the coolant follows its air: 10 K of preheat are worth most of 10 K on the coolant."""
    at = conditions()
    plain = kit(air=ZoneAir(0.25, 0.0, 0.0, 0.0))
    warmed = kit(air=air_of({"kind": "ram", "share": "25 %", "preheat": "10 K"}))
    first, second = steady(plain, at)[1], steady(warmed, at)[1]
    assert 0.0 < second - first < 10.0
    assert float(warmed.columns.preheat_k[0, 0]) == pytest.approx(10.0)


def test_without_any_air_the_exchanger_takes_nothing() -> None:
    at = conditions()
    found = kit(air=air_of({"kind": "none"})).predict(at)
    assert float(exchanger_w_per_k(found)[at.pieces[0].moment][0]) == 0.0
    assert np.all(np.isfinite(found.course.end))


def test_a_share_that_is_stated_stands_and_one_that_is_not_goes_with_duct_and_stack() -> None:
    """10 to 20 % behind a grille, 5 to 12 % stacked, 25 to 40 % sealed to the fins; common practice, no source."""
    ram = {"kind": "ram"}
    assert air_of({**ram, "share": "18 %", "sealed": True}).ram_share == pytest.approx(0.18)
    assert air_of({**ram, "share": "18 %", "behind": "condenser"}).ram_share == pytest.approx(0.18)
    grille, stacked = air_of({**ram, "sealed": False}), air_of({**ram, "behind": "condenser"})
    sealed = air_of({**ram, "sealed": True})
    assert grille.ram_share == ASSUMED_RAM_SHARE
    assert 0.05 <= stacked.ram_share <= 0.12
    assert 0.25 <= sealed.ram_share <= 0.40
    assert stacked.ram_share < grille.ram_share < sealed.ram_share


def test_what_stands_before_a_zone_warms_its_air_by_what_is_stated_or_usual() -> None:
    """8 to 15 K from a condenser, 20 to 40 K from a radiator at load; common practice, no source."""
    ram = {"kind": "ram", "share": "10 %"}
    assert 8 <= air_of({**ram, "behind": "condenser"}).preheat_k <= 15
    assert 20 <= air_of({**ram, "behind": "radiator"}).preheat_k <= 40
    assert air_of({**ram, "behind": "condenser", "preheat": "3 K"}).preheat_k == pytest.approx(3)
    assert air_of({**ram, "behind": "gearbox cooler", "preheat": "6 K"}).preheat_k == pytest.approx(6)
    assert air_of({"face_speed": "4 m/s", "behind": "condenser"}).preheat_k >= 8
    assert air_of(ram).preheat_k == 0.0


def at(back: int, right: int = 0, up: int = 300) -> dict[str, str]:
    return {"back": f"{back} mm", "right": f"{right} mm", "up": f"{up} mm"}


def test_how_much_of_a_face_stands_behind_another_follows_from_their_places() -> None:
    """Faces of 460 by 150 mm: a quarter of the width and a half of the height to the side leave 3/4 x 1/2."""
    zones = {
        "first": box(at=at(60)),
        "beside": box(at=at(60, 500)),
        "second": box(at=at(120)),
        "aside": box(at=at(200, 115, 375)),
        "far": box(at=at(700)),
        "unplaced": box(),
    }
    found = bay(**zones)
    expected = {"second": 1.0, "aside": 0.375, "beside": 0.0, "far": 0.0, "unplaced": 0.0, "first": 0.0}
    for rear, share in expected.items():
        assert shadows(found, ["first", rear]) == pytest.approx((0.0, share))
    assert shadows(found, ["aside", "first"]) == pytest.approx((0.375, 0.0))
    assert shadows(found, ["first"]) == (0.0,)


def test_the_brief_may_say_what_places_do_not() -> None:
    """Said to stand behind each other, they do: with all of the face, or over what their places share, however far."""
    behind = {"kind": "ram", "share": "20 %", "behind": "first"}
    assert shadows(bay(first=box(), rear=box(behind)), ["first", "rear"]) == (0.0, 1.0)
    far = bay(first=box(at=at(60)), rear=box(behind, at=at(1900, 230)))
    assert shadows(far, ["first", "rear"]) == pytest.approx((0.0, 0.5))


def test_behind_a_warmed_zone_the_air_is_warm_over_the_share_that_it_shadows() -> None:
    behind = {"kind": "ram", "share": "20 %", "behind": "first"}
    first = box({"kind": "ram", "share": "10 %", "behind": "condenser"}, at=at(60))
    stacked = bay(first=first, rear=box(behind, at=at(200, 230)))
    assert zone_air(stacked, "rear").preheat_k == pytest.approx(0.5 * UPSTREAM_PREHEAT_K["condenser"])
    stated = bay(first=first, rear=box({**behind, "preheat": "2 K"}, at=at(200, 230)))
    assert zone_air(stated, "rear").preheat_k == pytest.approx(2.0)


@pytest.mark.parametrize(
    ("zones", "words"),
    [
        ({"nose": box({"kind": "ram", "share": "9 %", "behind": "grile"})}, "how warm the air comes from 'grile'"),
        ({"nose": box({"kind": "ram", "share": "9 %", "behind": "nose"})}, "in a ring"),
        ({"nose": box({"face_speed": "3 m/s", "behind": "a"}), "a": box({"face_speed": "3 m/s", "behind": "nose"})},
         "in a ring"),
        ({"nose": box({"face_speed": "3 m/s", "behind": "a"}, at=at(60)), "a": box(at=at(200))}, "does not lie behind"),
        ({"nose": box({"kind": "ram", "sealed": True, "behind": "condenser"})}, "give its share"),
        ({"nose": box({"kind": "ram"})}, "needs its share"),
    ],
)  # fmt: skip
def test_what_cannot_stand_before_a_zone_is_refused(zones: dict[str, Any], words: str) -> None:
    with pytest.raises(ValidationError, match=words):
        bay(**zones)


def test_a_zone_behind_zones_used_as_one_stands_behind_the_one() -> None:
    behind = {"kind": "ram", "share": "20 %", "behind": "right"}
    told = Bay.model_validate(
        {
            "zones": {
                "left": box(at=at(60, -460)), "right": box(at=at(60)), "rear": box(behind, at=at(200)),
            },
            "as_one": [["left", "right"]],
        }
    )  # fmt: skip
    joined = with_joined_zones(told)
    assert shadows(joined, ["left + right", "rear"]) == pytest.approx((0.0, 1.0))
