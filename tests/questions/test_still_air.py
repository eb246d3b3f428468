"""A front exchanger that no air meets while the car is driven is told so; one that some air meets is not."""

from __future__ import annotations

from typing import Any

import pytest

from configurator.parts.own import OwnPart
from configurator.questions.suggest import suggest
from tests.search.small_shelves import BRIEF, shelf

DRIVE = BRIEF["driving"]
STILL = {**DRIVE["stretches"][0], "speed": "0 km/h"}
LEAVE = "or leave it out (`without: [exchanger]`)"


def told(air: dict[str, Any] | None, *, stays: bool = False, **changes: Any) -> list[str]:
    """The texts of the caution of kit 1, where the nose has this air; `stays`: the exchanger is the car's own."""
    zones = BRIEF["bay"]["zones"]
    nose = {**zones["nose"], **({} if air is None else {"air": air})}
    of = shelf(bay={"zones": {**zones, "nose": nose}}, **changes)
    own = (OwnPart(of.catalogue["exchanger"], True),) if stays else ()
    answer = suggest(of.brief, of.driving, own, "", of.catalogue, of.tables)
    assert answer.kits
    return [caution.text for caution in answer.kits[0].cautions if caution.code == "no-air"]


def test_one_that_the_brief_wants_is_not_to_be_left_out() -> None:
    """What is wanted and under `without` too is refused."""
    (text,) = told({"kind": "none"}, wanted=["exchanger"])
    assert "gives no heat away" in text and "without" not in text


def drive(*stretches: dict[str, Any]) -> dict[str, Any]:
    return {"stretches": [*stretches], "total": DRIVE["total"]}


@pytest.mark.parametrize(
    ("air", "driving"),
    [
        ({"kind": "none"}, DRIVE),
        ({"kind": "ram", "share": "0 %"}, DRIVE),
        ({"face_speed": "0 m/s"}, DRIVE),
        (None, drive(STILL)),
        ({"kind": "fan"}, drive({**STILL, "fan": False})),
    ],
)
def test_an_exchanger_that_nothing_blows_through_is_told(air: dict[str, Any] | None, driving: dict[str, Any]) -> None:
    """Five kits had an exchanger that gave no heat away, and none said so."""
    (text,) = told(air, driving=driving)
    assert "gives no heat away" in text and LEAVE in text


@pytest.mark.parametrize(
    ("air", "driving"),
    [
        (None, DRIVE),
        ({"kind": "ram", "share": "1 %"}, DRIVE),
        ({"face_speed": "0.1 m/s"}, drive(STILL)),
        ({"kind": "fan"}, drive(STILL)),
        ({"kind": "ram", "share": "20 %"}, drive(STILL, DRIVE["stretches"][0])),
    ],
)
def test_an_exchanger_that_some_air_meets_is_not(air: dict[str, Any] | None, driving: dict[str, Any]) -> None:
    assert not told(air, driving=driving)


def test_one_that_stays_is_not_told_to_be_left_out_and_a_loop_without_has_no_such_caution() -> None:
    (text,) = told({"kind": "none"}, stays=True)
    assert "State the air of its zone" in text and LEAVE not in text
    assert not told({"kind": "none"}, without=["exchanger"])
