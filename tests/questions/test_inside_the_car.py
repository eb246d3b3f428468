"""A reservoir in cabin or boot: by the name of its zone, or by how far back that lies."""

from __future__ import annotations

import pytest

from configurator.brief.bay import Bay
from configurator.questions.inside_the_car import reservoir_inside
from configurator.reasons.coolant_cautions import AMONG_PEOPLE
from configurator.reasons.coolant_cautions import reservoir_inside as words
from configurator.reasons.ice_cautions import ICE_TANK
from tests.journeys.kitwright import Tree, suggest
from tests.journeys.test_cautions import ICE_TANK as ICE_PARTS
from tests.journeys.test_cautions import ICED, brief, shelf


def bay(tank: str, tank_back: str | None, core_back: str | None) -> Bay:
    """A bay with a zone of any name for the tank, and one for the core, each so far back."""

    def zone(kind: str, back: str | None) -> Tree:
        at = {} if back is None else {"back": back}
        return {"wide": "300 mm", "high": "300 mm", "deep": "300 mm", "at": at, "takes": [kind]}

    return Bay.model_validate({"zones": {tank: zone("reservoir", tank_back), "engine": zone("core", core_back)}})


def found(tank: str, tank_back: str | None = None, core_back: str | None = None) -> tuple[str, float | None] | None:
    return reservoir_inside(bay(tank, tank_back, core_back), {"core": "engine", "reservoir": tank})


@pytest.mark.parametrize("name", ["boot", "Boot floor", "rear-trunk", "cabin", "behind seats", "luggage_bay", "boot2"])
def test_a_zone_that_is_called_so_is_in_cabin_or_boot_wherever_it_lies(name: str) -> None:
    assert found(name) == found(name, "500 mm") == (name, None)


@pytest.mark.parametrize("name", ["wing", "side", "reboot", "passenger wing", "scuttle"])
def test_any_other_name_says_nothing(name: str) -> None:
    assert found(name) is None


def test_a_zone_far_behind_the_bumper_may_be_in_the_cabin_unless_the_core_lies_there_too() -> None:
    """1.8 m is common practice, no source: how far back an engine bay in front reaches."""
    assert found("rear", "1.8 m", "500 mm") is None
    assert found("rear", "1.81 m", "500 mm") == ("rear", 1.81)
    assert found("rear", "2.7 m", "2.6 m") is None
    assert found("rear", "2.7 m") == ("rear", 2.7)


def test_a_reservoir_of_which_nobody_knows_the_zone_is_nowhere() -> None:
    assert reservoir_inside(None, {}) is None
    assert reservoir_inside(bay("boot", None, None), {"core": "engine"}) is None


def test_by_its_place_alone_the_caution_says_where_it_holds() -> None:
    assert "in 'boot'. Hold it with straps" in words("boot", None).text
    assert "in 'rear'. That is 2.7 m behind the bumper: in cabin or boot hold it" in words("rear", 2.7).text


def test_with_ice_the_caution_of_the_ice_tank_says_it_once() -> None:
    at = {"back": "3600 mm", "right": "0 mm", "up": "700 mm"}
    run = suggest(brief(bay__zones__wing__at=at, **ICED), "--json", shelf=shelf(*ICE_PARTS))
    texts = [one["text"] for one in run.kits[0]["cautions"]]
    assert AMONG_PEOPLE in ICE_TANK.text and sum(AMONG_PEOPLE in text for text in texts) == 1
