"""Coolant that freezes: which cold decides, in the customer's own words, and what there is to do about it."""

from __future__ import annotations

from typing import Any

import pytest

from configurator.prediction.conditions import choose_coolant
from configurator.questions.suggest import frozen
from tests.prediction.test_conditions import brief

ETHYLENE = "ethylene glycol"


@pytest.mark.parametrize(
    ("site", "coolant", "told"),
    [
        ({"coldest": "-5 degC"}, {"kinds": ["water"]}, "the coldest night, -5 degC, with 3 K to spare: allow a glycol"),
        ({"coldest": "20 degF"}, {"kinds": ["water"]}, "the coldest night, 20 degF, with 3 K to spare"),
        ({"air": "1 degC"}, {"kinds": ["water"]}, "survives a day of 1 degC with 3 K to spare: allow a glycol"),
        ({}, {"kinds": ["water"], "start": "-0.5 degC"}, "survives a start at -0.5 degC: allow a glycol"),
        ({"coldest": "-55 degC"}, {"kinds": [ETHYLENE]}, "no share of ethylene glycol does."),
        ({"coldest": "-20 degC"}, {"kinds": [ETHYLENE], "glycol_by_volume": "20 %"}, "settle 40 % or more in"),
        ({"coldest": "-20 degC"}, {"kinds": ["water"], "glycol_by_volume": "0 %"}, "leave it out and allow a glycol"),
        # 25 % by volume freezes at -12 degC (ASHRAE tables through CoolProp): it is the day that it does not survive
        ({"air": "-10 degC"}, {"kinds": [ETHYLENE], "start": "-10.5 degC", "glycol_by_volume": "25 %"}, "a day of -10"),
    ],
)
def test_the_cold_that_decides_is_named_with_what_helps(
    site: dict[str, str], coolant: dict[str, Any], told: str
) -> None:
    asked = brief(site={"air": "20 degC", **site}, coolant=coolant)
    assert choose_coolant(asked) is None
    assert told in frozen(asked).text


def test_the_share_that_is_named_is_enough() -> None:
    site = {"air": "20 degC", "coldest": "-20 degC"}
    assert choose_coolant(brief(site=site, coolant={"kinds": [ETHYLENE], "glycol_by_volume": "40 %"})) is not None
    assert choose_coolant(brief(site=site, coolant={"kinds": [ETHYLENE], "glycol_by_volume": "35 %"})) is None


def test_ice_is_told_to_be_drained_for_a_night_and_not_for_a_day() -> None:
    iced = {"ice": {"kind": "cubes", "mass": "10 kg"}, "coolant": {"kinds": ["water"]}}
    night = frozen(brief(site={"air": "20 degC", "coldest": "-5 degC"}, **iced)).text
    day = frozen(brief(site={"air": "-1 degC"}, **iced)).text
    assert "the coldest night, -5 degC" in night and "Drain the loop after the day" in night
    assert "a day of -1 degC." in day and "Drain" not in day
