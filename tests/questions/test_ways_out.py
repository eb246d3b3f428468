"""A room that few parts know no way out of: the whole shelf is looked at before an answer says that none helped."""

from __future__ import annotations

from typing import Any

import pytest

from configurator.presentation.ways_facts import conflict_json, nearest_json, ways_told
from configurator.questions import further
from configurator.questions.answer import Answer
from configurator.questions.further import Further
from configurator.questions.searches import search
from configurator.questions.suggest import suggest
from configurator.questions.ways_out import ways_out
from tests.oracles.shelves import Shelf
from tests.oracles.try_everything import every_kit
from tests.search.small_shelves import BRIEF, core, job_of, reservoir, shelf

STUCK = "For 'bulkhead' no way out was found: to make one side up to 200 mm larger did not help."


def low(high_mm: int = 80, *tanks: tuple[str, str], **sides: str) -> Shelf:
    """A core too high for its gap, and a long one that no gap of the car has room for; six small tanks, and others.

    With a small tank the aim is kept by the long core alone, which holds more coolant.
    """
    long = core("core-long", long=650)
    long["coolant"]["volume"] = "3 L"
    every = [*((f"reservoir-{index}", "0.3 L") for index in range(6)), *tanks]
    zones = BRIEF["bay"]["zones"]
    bulkhead = {**zones["bulkhead"], "high": f"{high_mm} mm", **sides}
    return shelf(
        long,
        *(tank(*one) for one in every),
        gone=("reservoir",),
        aim={"charge_air": "49 degC"},
        bay={"zones": {**zones, "bulkhead": bulkhead}},
    )


def tank(name: str, volume: str) -> dict[str, Any]:
    made = reservoir(name)
    made["coolant"]["volume"] = volume
    return made


LARGE_TANK = ("reservoir-large", "3 L")


def told(of: Shelf) -> Answer:
    return suggest(of.brief, of.driving, of.own, "", of.catalogue, of.tables)


def conflict(answer: Answer) -> tuple[list[str], str]:
    found = conflict_json(answer)
    assert found is not None
    return found["rules"], found["text"]


def test_a_side_that_helps_only_with_a_tank_that_no_few_parts_hold_is_found_on_the_whole_shelf() -> None:
    """It was told that no side helped, as six small tanks stood for all that there are."""
    answer = told(low(80, LARGE_TANK))
    assert conflict(answer)[0] == ["room bulkhead"] and STUCK not in conflict(answer)[1]
    (way,) = nearest_json(answer)
    assert (way["change"], way["zone"], way["to"], way["least"]) == ("high", "bulkhead", 100, True)
    assert every_kit(low(100, LARGE_TANK)) and told(low(100, LARGE_TANK)).kits
    assert not every_kit(low(99, LARGE_TANK))


def test_that_no_side_helps_is_told_where_none_does() -> None:
    answer = told(low())
    assert conflict(answer) == (["room bulkhead"], conflict(answer)[1]) and conflict(answer)[1].endswith(STUCK)
    assert not nearest_json(answer)
    for high, sides in ((280, {}), (80, {"wide": "340 mm"}), (80, {"deep": "420 mm"})):
        assert not every_kit(low(high, **sides))


def test_a_side_that_could_not_be_looked_at_is_named_as_not_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(further, "SEARCHES_AGAIN", 0)
    job = job_of(low(80, LARGE_TANK))
    found = ways_out(Further(job, print, left=0), search(job, print, bands=False))
    assert not found.ways and not found.no_one_side
    assert {"wide of bulkhead", "high of bulkhead", "deep of bulkhead"} <= set(found.not_tried)


def test_what_the_whole_shelf_was_not_looked_at_for_stands_beside_the_ways(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(further, "SEARCHES_AGAIN", 0)
    monkeypatch.setattr(further.Further, "spent", property(lambda self: True))
    answer = told(low(80, LARGE_TANK))
    assert STUCK not in conflict(answer)[1]
    assert "high of bulkhead" in ways_told(answer)[1][-1]
