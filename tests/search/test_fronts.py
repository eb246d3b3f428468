"""Two exchangers in one zone: side by side where it has the room, else one behind the other."""

from __future__ import annotations

from typing import Any

import pytest

from configurator.brief.bay import Bay
from configurator.search.fronts import fronts_in_line
from tests.prediction.made_kits import exchangers

LOW = next(part for part in exchangers() if part.id == "exchanger-540-low")
"""60 mm deep, 540 wide, 110 high; it may not stand on its side."""


def bay(wide: int, high: int, deep: int = 200, **more: Any) -> Bay:
    sizes = {"wide": f"{wide} mm", "high": f"{high} mm", "deep": f"{deep} mm"}
    return Bay.model_validate({"zones": {"nose": {**sizes, "takes": ["exchanger"]}, **more}})


@pytest.mark.parametrize(
    ("wide", "high", "in_line"),
    [(600, 219, True), (600, 220, False), (1079, 120, True), (1080, 120, False), (600, 120, True)],
)
def test_a_zone_that_cannot_hold_both_side_by_side_has_them_in_line(wide: int, high: int, in_line: bool) -> None:
    found = fronts_in_line(bay(wide, high), LOW, ["nose", "nose"])
    assert found == ((0.0, 1.0) if in_line else (0.0, 0.0))


def test_two_zones_go_by_their_places_and_one_exchanger_by_nothing() -> None:
    at = {"right": "0 mm", "up": "300 mm"}
    rear = {"wide": "600 mm", "high": "120 mm", "deep": "80 mm", "takes": ["exchanger"], "at": {"back": "300 mm", **at}}
    placed = {**rear, "at": {"back": "60 mm", **at}}
    both = bay(600, 120, first=placed, second=rear)
    assert fronts_in_line(both, LOW, ["first", "second"]) == (0.0, 1.0)
    assert fronts_in_line(both, LOW, ["nose", "second"]) == (0.0, 0.0)
    assert fronts_in_line(both, LOW, ["second"]) == (0.0,)
    assert fronts_in_line(None, LOW, ["", ""]) == (0.0, 0.0)
    assert fronts_in_line(both, LOW, ["in the car already"] * 2) == (0.0, 0.0)
