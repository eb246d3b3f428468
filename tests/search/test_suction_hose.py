"""Before the pump a hose over 19 mm is wired or made for vacuum, or no kit is made. Common practice, no source."""

from __future__ import annotations

from typing import Any

import pytest

from configurator.reasons.wording import exclusion_text
from tests.oracles.comparison import answer
from tests.search.small_shelves import Part, hose, pump, reservoir, shelf


def wide(part: Part, name: str) -> Part:
    """A part with a 25 mm spigot in the place of one of 19 mm."""
    ends = part["coolant"]["ends"]
    changed = [{**end, "size": "25 mm"} if end["name"] == name else end for end in ends]
    return {**part, "coolant": {**part["coolant"], "ends": changed}}


WIDE = (wide(reservoir(), "out"), wide(pump(), "in"))


@pytest.mark.parametrize(("said", "kits"), [({"vacuum": True}, 1), ({"vacuum": False}, 0), ({}, 0)])
def test_one_kit_with_a_hose_that_stands_vacuum_none_without(said: dict[str, Any], kits: int) -> None:
    found = answer(shelf(*WIDE, {**hose("hose-25", bore="25 mm"), **said}))
    assert len(found.kits) == kits
    assert all(kit.joints[0].hose == "hose-25" for kit in found.kits)


def test_the_reason_is_told_of_reservoir_and_pump() -> None:
    found = answer(shelf(*WIDE, {**hose("hose-25", bore="25 mm"), "vacuum": False})).exclusions
    told = {one.part: one for one in found if one.code == "suction-hose"}
    assert set(told) == {"reservoir", "pump"}
    assert (told["pump"].found, told["pump"].limit, told["pump"].unit) == (25.0, 19.1, "mm")
    assert "'hose-25' is neither wired nor rated for vacuum" in exclusion_text(told["pump"], "Pump")


def test_a_pump_that_another_hose_feeds_is_not_said_to_lack_one() -> None:
    found = answer(shelf(wide(pump("wide-pump"), "out"), {**hose("hose-25", bore="25 mm"), "vacuum": False})).exclusions
    assert all(one.code != "suction-hose" for one in found)
