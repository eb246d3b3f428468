"""The room of a skeleton's parts, alone and together; and the fans and timers that a loop may have."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from configurator.brief.tables import Soak
from configurator.fitting.reaches import NOTHING as NOTHING_NEEDED
from configurator.fitting.room import CLEARANCE_COUNTED_MM
from configurator.parts.kinds import Exchanger, Part
from configurator.questions.searches import charge_pipes, hose_joiner
from configurator.search.add_ons import AddOns
from configurator.search.job import Job
from configurator.search.made import Made
from configurator.search.rows import RowMaker
from configurator.search.sieve import FITTED, Admissible, sieve
from configurator.search.skeletons import SkeletonMaker
from configurator.search.zone_memo import ZoneMemo
from tests.journeys.kitwright import shipped
from tests.oracles.shelves import shelf_of
from tests.search.small_shelves import BRIEF, OPEN, exchanger, job_of, shelf


@cache
def made() -> Made:
    """The one skeleton of the small shelf, its tank and pump in a zone that holds them with little to spare."""
    side = {"deep": "320 mm", "wide": "150 mm", "high": "380 mm", "open": OPEN, "takes": ["reservoir", "pump"]}
    job = job_of(shelf(bay={"zones": {**BRIEF["bay"]["zones"], "side": side}}))
    kept = sieve(job)
    ((skeleton,),) = SkeletonMaker(job, kept, hose_joiner(job)).skeletons()
    return Made(RowMaker(job, kept, charge_pipes(job)), skeleton, [(kept.pumps[0], (None,))])


def room(*kinds: str) -> float:
    return made().room_mm({kind: made().members[kind][0] for kind in kinds})


def test_room_is_that_of_zones_that_hold_nothing_else() -> None:
    """The core has 10 mm, the exchanger too. What shares a zone bounds nothing alone: only both together do.

    By hand: the tank of 150 by 120 mm stands in 320 by 150, so it has 15 mm to either side, and 320 less 150 and the
    pump's 120 or 80 is enough for three gaps of 15.
    """
    assert (room("core"), room("exchanger")) == (10.0, 10.0)
    assert room("pump") == room("reservoir") == CLEARANCE_COUNTED_MM == 25.0
    assert room("core", "pump") == 10.0
    assert room("pump", "reservoir") == 15.0
    assert made().rest_room_mm.tolist() == [[15.0]]
    assert room("core", "exchanger", "pump", "reservoir") == 10.0


def test_no_kit_has_more_room_than_any_of_its_parts_at_most() -> None:
    chosen = {kind: members[0] for kind, members in made().members.items()}
    (row,) = made().rows(chosen)
    assert row.fit.clearance_mm == min(room("core"), room("exchanger"), room("pump", "reservoir"))


def test_where_a_kit_does_not_go_in_the_company_of_the_full_zone_alone_is_kept() -> None:
    """The core is 1 mm too high for its bulkhead: pump and tank, which go into theirs, are in nobody's way."""
    zones = {**BRIEF["bay"]["zones"], "bulkhead": {**BRIEF["bay"]["zones"]["bulkhead"], "high": "99 mm"}}
    bay = job_of(shelf(bay={"zones": zones})).brief.bay
    parts = {kind: members[0] for kind, members in made().members.items()}
    where = dict(made().zones)
    memo = ZoneMemo(bay)
    needs = dict.fromkeys(parts, NOTHING_NEEDED)
    found = memo.fit(parts, where, needs)
    assert (found.decided, found.fits, found.misses) == (True, False, ("bulkhead",))
    assert {part: (crowd.zone, [slot for slot, _ in crowd.items]) for part, crowd in memo.crowds.items()} == {
        "core": ("bulkhead", ["core"])
    }
    assert memo.goes_in({"pump": parts["pump"]}, where, needs)
    assert not memo.goes_in({"core": parts["core"]}, where, needs)
    assert memo.rooms({"core": parts["core"]}, where, needs) == {"bulkhead": -1.0}
    assert memo.rooms({"pump": parts["pump"]}, where, needs) == {}
    assert ZoneMemo(None).fit(parts, where, needs).decided is False


FANS = (
    *({**fan, "kind": "fan"} for fan in shipped("fans") if fan["id"] in ("fan-140", "fan-190")),
    *({**timer, "kind": "timer"} for timer in shipped("timers") if timer["id"] == "timer-2"),
)
FRONT = Exchanger.model_validate(exchanger())
"""400 by 140 mm: the small fan lies within it, the large one overhangs."""


def left_standing(*own: tuple[str, bool], **brief: Any) -> tuple[Job, Admissible]:
    """A job whose car is left standing, with two fans, a timer and a zone behind the exchanger."""
    behind = {"deep": "80 mm", "wide": "460 mm", "high": "240 mm", "takes": ["fan"]}
    bay = {"zones": {**BRIEF["bay"]["zones"], "behind": behind}}
    aim = {"charge_air": "120 degC", "after": "5 min standstill"}
    of = shelf_of({**shelf(*FANS, bay=bay, aim=aim, **brief).written, "own": [list(part) for part in own]})
    soak = {row["id"]: Soak.model_validate(row) for row in shipped("soak")}
    job = job_of(replace(of, tables=replace(of.tables, soak=soak)))
    return job, sieve(job)


def offered(*own: tuple[str, bool], count: int = 1, part: Part = FRONT, **brief: Any) -> list[tuple[Any, ...]]:
    """The fans with their zones and the timers that go with so many of an exchanger."""
    found = AddOns(*left_standing(*own, **brief)).of(part, count)
    return [(one.fan and one.fan.id, one.zone, one.timer and one.timer.id) for one in found]


NOTHING, TIMED = (None, FITTED, None), (None, FITTED, "timer-2")
SMALL, SMALL_TIMED = ("fan-140", "behind", None), ("fan-140", "behind", "timer-2")


def test_a_fan_within_its_exchanger_and_a_timer_are_each_offered_with_and_without_the_other() -> None:
    """A fan that overhangs is not: it would draw air past the exchanger (common practice, no source)."""
    assert offered() == [NOTHING, TIMED, SMALL, SMALL_TIMED]
    turned = Exchanger.model_validate({**exchanger(), "size": {"x": "40 mm", "y": "139 mm", "z": "400 mm"}})
    assert offered(part=turned) == [NOTHING, TIMED]


def test_two_exchangers_or_none_get_no_fan() -> None:
    core = made().members["core"][0]
    assert offered(count=2) == offered(count=0) == offered(part=core) == [NOTHING, TIMED]


def test_what_the_car_has_is_in_every_loop() -> None:
    assert offered(("fan-190", True)) == [("fan-190", FITTED, None), ("fan-190", FITTED, "timer-2")]
    assert offered(("timer-2", True)) == [TIMED, SMALL_TIMED]
    assert offered(after_run="60 s") == [NOTHING, SMALL]


@pytest.mark.parametrize("timer", [True, False])
def test_a_fan_is_placed_draws_its_current_and_a_timer_runs_on_no_shorter_than_the_car(timer: bool) -> None:
    job, kept = left_standing()
    chosen = AddOns(job, kept).of(FRONT, 1)[3 if timer else 2]
    assert chosen.placed == (("fan", "behind"),) and chosen.current_a == 3.2 and chosen.face_speed_m_per_s > 0.0
    assert [slot for slot, _ in chosen.parts] == (["fan", "timer"] if timer else ["fan"])
    (row,) = made().rows({kind: members[0] for kind, members in made().members.items()})
    for car_s, runs_s in ((0.0, 120.0 if timer else 0.0), (300.0, 300.0)):
        loop = chosen.on(replace(row.loop, after_run_s=car_s))
        assert loop.after_run_s == runs_s
        assert loop.air.fan_speed_m_per_s == chosen.face_speed_m_per_s
        assert [air.fan_speed_m_per_s for air in loop.airs] == [chosen.face_speed_m_per_s]
