"""How high liquid may stand over a loop, counted by hand from the zones of small bays."""

from __future__ import annotations

from typing import Any

import pytest

from configurator.parts.own import OwnPart
from configurator.questions.changed_brief import dropped
from configurator.questions.further import Further
from configurator.search.liquid_height import liquid_over
from tests.oracles.comparison import answer
from tests.oracles.shelves import Shelf
from tests.search.small_shelves import BRIEF, core, job_of, shelf


def bay(changed: dict[str, Any] | None = None, **ups: int) -> dict[str, Any]:
    """Nose, bulkhead and side of the small brief, floors so high above the ground [mm]; `changed`: of the side."""
    zones = {name: dict(zone) for name, zone in BRIEF["bay"]["zones"].items()}
    for name, up in ups.items():
        zones[name]["at"] = {"up": f"{up} mm"}
    zones["side"] |= changed or {}
    return {"zones": zones}


def told(of: Shelf) -> tuple[float, bool]:
    found = liquid_over(of.brief, of.own)
    return found.most_m, found.known


@pytest.mark.parametrize(
    ("ups", "most_m", "known"),
    [
        ({}, 0.5, False),
        ({"nose": 300, "bulkhead": 620, "side": 1500}, 1.58, True),  # 1.5 + 0.38 - 0.3
        ({"nose": 300, "bulkhead": 620, "side": 400}, 0.5, True),  # 0.48: no less than is assumed elsewhere
        ({"bulkhead": 620, "side": 1500}, 1.26, False),  # 1.5 + 0.38 - 0.62; the nose may lie lower
        ({"nose": 300, "bulkhead": 620}, 0.5, False),
    ],
)
def test_the_top_of_the_reservoirs_zone_stands_over_the_lowest_floor(
    ups: dict[str, int], most_m: float, known: bool
) -> None:
    assert told(shelf(bay=bay(**ups))) == (most_m, known)


def test_a_high_zone_that_takes_reservoir_and_pump_is_known_by_itself() -> None:
    assert told(shelf(bay=bay({"high": "900 mm"}))) == (0.9, False)
    assert told(shelf(bay="unmeasured")) == (0.5, False)


def test_a_zone_for_a_kind_that_is_not_wanted_holds_nothing() -> None:
    """1.5 + 0.38 - 0.62 over the bulkhead, whatever lies in the nose."""
    assert told(shelf(bay=bay(nose=0, bulkhead=620, side=1500), without=["exchanger"])) == (1.26, True)


def test_a_fan_lies_under_no_liquid() -> None:
    with_fan = bay(nose=300, bulkhead=620, side=600)
    with_fan["zones"]["low"] = {**with_fan["zones"]["nose"], "at": {"up": "50 mm"}, "takes": ["fan"]}
    assert told(shelf(bay=with_fan)) == (0.68, True)


def test_a_part_that_stays_lies_at_a_height_that_nobody_says() -> None:
    of = shelf(bay=bay(nose=300, bulkhead=100, side=600))
    assert told(of) == (0.88, True)
    for staying, most_m in (("core", 0.68), ("reservoir", 0.5)):
        found = liquid_over(of.brief, [OwnPart(of.catalogue[staying], fitted=True)])
        assert (found.most_m, found.known) == (most_m, False)
        assert liquid_over(of.brief, [OwnPart(of.catalogue[staying], fitted=False)]).known


def test_a_stated_height_counts_before_all() -> None:
    of = shelf(bay=bay(nose=300, bulkhead=620, side=1500))
    found = liquid_over(of.brief, of.own, 0.2)
    assert (found.most_m, found.known) == (0.2, True)


@pytest.mark.parametrize(("working", "kits"), [("1.309 bar", 1), ("1.307 bar", 0)])
def test_a_core_has_to_hold_the_liquid_of_a_reservoir_high_above_it(working: str, kits: int) -> None:
    """1.1 x 0.5 bar of cap, 0.6 of the pump at no flow and 1.58 m of liquid: 1.308 bar. Common practice, no source."""
    given = answer(shelf(core(working=working), bay=bay(nose=300, bulkhead=620, side=1500)))
    assert len(given.kits) == kits
    for kit in given.kits:
        assert kit.coolant_pressure.design_pa_gauge == pytest.approx(1.308e5)


def test_a_room_that_is_given_up_makes_the_liquid_stand_no_higher() -> None:
    """Any room stands for 1.5 m of height, which is no height of the car."""
    job = job_of(shelf(bay=bay(nose=300, bulkhead=620, side=600)))
    further = Further(job, lambda words: None)
    less = further.job_of(dropped(further.asked, "room", ("side",)))
    assert less is not None and less.liquid == job.liquid and less.liquid.most_m == 0.68
