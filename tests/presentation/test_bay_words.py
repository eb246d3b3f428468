"""The bay in a sheet's job: all that a brief may state of it stands there, in the customer's own figures."""

from __future__ import annotations

from typing import Any

import pytest

from configurator.brief.bay import Bay
from configurator.presentation.sheet.bay_words import bay_rows

SIZE = {"wide": "24 in", "high": "200 mm", "deep": "300 mm"}


def rows(*, runs: object = None, obstacles: tuple[dict[str, Any], ...] = (), **zone: Any) -> dict[str, str]:
    """The rows of a bay of two zones, the first with the keys given."""
    zones = {"nose": {**SIZE, "takes": ["exchanger"], **zone}, "side": {**SIZE, "takes": ["pump", "reservoir"]}}
    written = {"zones": zones, "obstacles": obstacles, "runs": runs or {}, "tolerance": "5 mm"}
    return dict(bay_rows(Bay.model_validate(written)))


def test_a_zone_of_which_nothing_more_is_stated() -> None:
    told = rows()
    assert told == {
        "zone nose": "24 in (609.6 mm) wide, 200 mm high, 300 mm deep, takes exchanger",
        "zone side": "24 in (609.6 mm) wide, 200 mm high, 300 mm deep, takes pump, reservoir",
        "tape measure": "sure to 5 mm",
    }


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ({"open": ["front", "up"]}, "open: front, up"),
        ({"way_in": {"wide": "250 mm", "high": "8 in"}}, "way in 250 mm wide, 8 in (203.2 mm) high"),
        ({"ends": {"coolant": ["left", "right"]}}, "coolant ends face left or right"),
        ({"air": {"kind": "ram", "share": "22 %"}}, "air: ram, 22 % of road speed"),
        ({"air": {"face_speed": "11 mph"}}, "air: face speed 11 mph"),
        ({"air": {"kind": "fan"}}, "air: fan"),
        ({"air": {"kind": "none"}}, "air: none"),
        ({"air": {"kind": "ram", "sealed": True}}, "air: ram, sealed"),
        ({"air": {"kind": "ram", "sealed": False}}, "air: ram, not sealed"),
        ({"air": {"kind": "ram", "share": "9 %", "behind": "condenser", "preheat": "14 K"}},
         "air: ram, 9 % of road speed, behind condenser, 14 K warmer"),
    ],
)  # fmt: skip
def test_what_is_stated_of_a_zone_stands_behind_its_size(keys: dict[str, Any], words: str) -> None:
    assert rows(**keys)["zone nose"].partition("takes exchanger; ")[2] == words


def test_obstacles_have_their_kind_size_and_clearance_and_hoses_their_length() -> None:
    beam = {"name": "beam", "in": "nose", "wide": "24 in", "high": "2 in", "deep": "40 mm", "kind": "crash",
            "from": {"left": "0 mm", "front": "0 mm", "floor": "0 mm"}}  # fmt: skip
    pipe = {**beam, "name": "pipe", "kind": "hot", "clearance": "30 mm"}
    told = rows(obstacles=(beam, pipe), runs={"nose-side": "4 m"})
    size = "24 in (609.6 mm) wide, 2 in (50.8 mm) high, 40 mm deep"
    assert told["zone nose"].endswith(f"; in it: beam (crash, {size}), pipe (hot, {size}, 30 mm clear)")
    assert told["hose runs"] == "nose-side 4 m" and "beam" not in told["zone side"]


def test_the_zone_of_a_front_that_stays_says_so() -> None:
    zones = {"nose": {**SIZE, "takes": ["exchanger"]}, "side": {**SIZE, "takes": ["pump"]}}
    told = dict(bay_rows(Bay.model_validate({"zones": zones, "front_in": "nose"})))
    assert told["zone nose"].endswith("takes exchanger; the front exchanger that stays is in its air")
    assert "stays" not in told["zone side"]
