"""The cap of a box's reservoir: lacking and sold, lacking and not to be had, and of a mouth that nobody knows."""

from __future__ import annotations

from typing import Any

import pytest

from tests.journeys.checks import Ran, bought, check, flowing
from tests.journeys.kitwright import SMALL_PARTS, Tree, example, shipped, shipped_part

LOOP = ["pump-46-small", "core-210-short", "exchanger-395-slim"]
TANK = "reservoir-5-square"


def box(*parts: str | Tree, **more: str) -> Tree:
    """A whole loop but for what goes with it."""
    return {"kit": "a loop", "boost": "0.9 bar", "charger_outlet": "57 mm", "throttle": "64 mm"} | more | {
        "parts": [*LOOP, *parts]
    }  # fmt: skip


def tank(part: str = TANK, neck: Tree | None = None, **changes: Any) -> Tree:
    """A tank of one's own like one of the shelf, its neck or other keys changed; without a neck where that is empty."""
    made = {**shipped_part(part, **changes), "kind": "reservoir", "id": "my-tank"}
    ends = made["coolant"]["ends"]
    if neck is not None:
        ends = [{**end, **neck} if end["form"] == "neck" else end for end in ends if end["form"] != "neck" or neck]
    made["coolant"] = {**made["coolant"], "ends": ends}
    return made


def lid(**end: str) -> Tree:
    """A cap of one's own like the low one of the shelf, its mouth changed."""
    made = {**shipped_part("cap-45-0.3"), "kind": "cap", "id": "my-cap"}
    made["coolant"] = {**made["coolant"], "ends": [{**made["coolant"]["ends"][0], **end}]}
    return made


def texts(ran: Ran, key: str) -> str:
    return " ".join(rule["text"] for rule in ran.answer[key])


@pytest.mark.parametrize("brief", [None, "hatch"])
def test_a_cap_that_the_shelf_sells_is_lacking_as_a_clamp_is(brief: str | None) -> None:
    """The box with that cap in it has the same answer, and buys all but the cap."""
    car = None if brief is None else example(brief, bay="unmeasured")
    without, whole = (check(box(TANK, *cap), "--json", brief=car) for cap in ([], ["cap-45-0.3"]))
    assert without.code == whole.code == 0 and without.answer["broken"] == []
    assert bought(without.answer) == {**bought(whole.answer), "cap-45-0.3": 1}
    for key in ("pressure", "coolant_from", "joints", "unknown", "commissioning"):
        assert without.answer[key] == whole.answer[key], key
    if car is not None:
        cars = [ran.answer["in_car"] for ran in (without, whole)]
        assert "cap-45-0.3" in cars[0]["parts"] and cars[0]["thermal"] == cars[1]["thermal"]
    told = flowing(check(box(TANK), brief=car).out)
    assert "has no cap for its reservoir: judged with Wide cap, opens at 0.3 bar, which is to be bought." in told
    assert "mended" not in told and "Wide cap, opens at 0.3 bar" in told.partition("To buy from this shelf")[2]
    assert "which is to be bought" not in flowing(check(box(TANK, "cap-45-0.3"), brief=car).out)


def test_a_vented_tank_with_an_open_neck_lacks_a_vented_cap() -> None:
    ran = check(box("reservoir-6-vented"), "--json")
    assert ran.code == 0 and bought(ran.answer)["cap-45-vented"] == 1


def no_caps_but(*caps: str) -> Tree:
    """The shipped shelf with these caps alone."""
    kinds = ("pumps", "cores", "exchangers", "reservoirs", *SMALL_PARTS)
    return {kind: shipped(kind) for kind in kinds} | {"caps": [shipped_part(cap) for cap in caps]}


@pytest.mark.parametrize(
    ("mine", "caps", "says"),
    [
        (tank(neck={"size": "40 mm"}), None, "it needs a cap; no cap on the shelf goes on its 40 mm filler neck male"),
        (TANK, ("cap-32-0.5",), "it needs a cap; no cap on the shelf goes on its 45 mm filler neck male"),
        (TANK, ("cap-45-vented",), "none is a pressure cap of at most the 1.80 bar that it is good for"),
        ("reservoir-6-vented", ("cap-45-0.3",), "it needs a vented cap; of the caps on the shelf that go on its 45 mm"),
        (tank(neck={}), None, "'my-tank' is sealed and has no neck that a cap goes on"),
    ],
)  # fmt: skip
def test_where_no_cap_of_the_shelf_suits_it_is_a_no_that_says_so(
    mine: str | Tree, caps: tuple[str, ...] | None, says: str
) -> None:
    ran = check(box(mine), "--json", shelf=None if caps is None else no_caps_but(*caps))
    assert ran.code == 1 and says in texts(ran, "broken")
    assert not any("cap" in part for part in bought(ran.answer))


def test_a_wrong_cap_on_a_neck_that_none_of_the_shelf_goes_on_says_so() -> None:
    ran = check(box(tank(neck={"size": "40 mm"}), "cap-45-0.3"), "--json")
    assert ran.code == 1
    assert "'cap-45-0.3' does not go on 'my-tank'" in texts(ran, "broken")
    assert "no cap on the shelf goes on its 40 mm filler neck male" in texts(ran, "broken")


def test_a_sealed_tank_full_to_the_brim_is_a_no_with_a_cap_or_without() -> None:
    full = tank(air_space="0 %")
    for cap in ([], ["cap-45-0.3"]):
        ran = check(box(full, *cap), "--json")
        assert ran.code == 1 and [rule["rule"] for rule in ran.answer["broken"]] == ["no-air-space"]


def unrated(part: Tree) -> Tree:
    return {**part, "coolant": {**part["coolant"], "working": "unknown"}}


def test_a_tank_of_unknown_rating_is_asked_for_by_file_and_key_and_is_no_no() -> None:
    """Without its rating nobody knows which cap opens in time: with a cap and without it is the same question."""
    for cap in ([], ["cap-45-0.3"]):
        ran = check(box(unrated(tank()), *cap), "--json")
        assert (ran.code, ran.answer["outcome"], ran.answer["broken"]) == (4, "unproven", [])
        told = texts(ran, "unknown")
        assert "nobody knows whether the cap opens in time" in told
        assert "write `working:` under `coolant:` in the entry of 'my-tank' in the kit file" in told


def test_the_file_is_the_one_that_the_part_stands_in() -> None:
    parts = ["reservoir-6-vented", "cap-45-vented", "pump-46-small", "core-300-square", "exchanger-395-slim"]
    of_shelf = texts(check({**box(), "parts": parts}, "--json"), "unknown")
    assert "write `working:` under `coolant:` in the entry of 'core-300-square' in the catalogue" in of_shelf
    core = {**shipped_part("core-210-short", charge__working="unknown"), "kind": "core", "id": "my-core"}
    of_box = texts(check({**box(), "parts": [*parts[:3], core, parts[4]]}, "--json"), "unknown")
    assert "write `working:` under `charge:` in the entry of 'my-core' in the kit file" in of_box
    pump = {**shipped_part("pump-46-small", coolant__working="unknown"), "kind": "pump", "id": "my-pump"}
    brief = example("hatch", bay="unmeasured", own=[pump])
    parts = [*LOOP[1:], "reservoir-6-vented", "cap-45-vented", "my-pump"]
    of_brief = check({**box(), "parts": parts}, "--json", brief=brief)
    assert "write `working:` under `coolant:` in the entry of 'my-pump' in the brief" in texts(of_brief, "unknown")


def test_a_piece_in_several_joints_is_asked_for_once() -> None:
    barb = {**shipped_part("barb-orb-12-19"), "kind": "adapter", "id": "my-barb"}
    barb["through"] = {**barb["through"], "working": "unknown"}
    loop = ["reservoir-1-round", "cap-32-0.5", "pump-50-medium", "core-230-short", "exchanger-398-double"]
    parts = [*loop, barb, *["my-barb"] * 3, "hose-rubber-19"]
    told = texts(check({**box(), "parts": parts}, "--json"), "unknown")
    assert told.count("'my-barb' (") > 1
    assert told.count("write `working:` under `through:` in the entry of 'my-barb' in the kit file") == 1


UNKNOWN = {"form": "unknown", "size": "44 mm"}


@pytest.mark.parametrize("brief", [None, "hatch"])
@pytest.mark.parametrize(
    ("parts", "more", "asked", "entries"),
    [
        ([tank(neck=UNKNOWN)], {}, "nor which cap goes on it", ["my-tank"]),
        ([tank("reservoir-6-vented", neck=UNKNOWN)], {}, "nor which cap goes on it", ["my-tank"]),
        ([tank(neck=UNKNOWN)], {"cap": "0.5 bar"}, "nor which cap goes on it", ["my-tank"]),
        ([tank(neck=UNKNOWN), "cap-45-0.3"], {}, "nor whether 'cap-45-0.3' goes on it", ["my-tank"]),
        ([TANK, lid(**UNKNOWN)], {}, f"nor whether it goes on '{TANK}'", ["my-cap"]),
        ([tank(neck=UNKNOWN), lid(**UNKNOWN)], {}, "nor whether 'my-cap' goes on it", ["my-tank", "my-cap"]),
    ],
)
def test_a_mouth_that_nobody_knows_is_asked_for_by_file_and_key(
    parts: list[str | Tree], more: Tree, asked: str, entries: list[str], brief: str | None
) -> None:
    car = None if brief is None else example(brief, bay="unmeasured")
    ran = check(box(*parts, **more), "--json", brief=car)
    assert (ran.code, ran.answer["broken"]) == (4, [])
    rules = [rule for rule in ran.answer["unknown"] if rule["rule"] == "unknown-end"]
    assert len(rules) == len(entries) and asked in rules[0]["text"]
    for rule, part in zip(rules, entries, strict=True):
        assert f"of that end in the entry of '{part}' in the kit file" in rule["text"]
    screen = flowing(check(box(*parts, **more), brief=car).out)
    assert "Next: find out what is not known" in screen and "make no kit as they are." not in screen


def test_a_cap_that_is_vented_too_little_is_a_no_on_a_neck_that_nobody_knows_too() -> None:
    ran = check(box(tank("reservoir-6-vented", neck=UNKNOWN), "cap-45-0.3"), "--json")
    assert ran.code == 1 and [rule["rule"] for rule in ran.answer["broken"]] == ["vented-under-pressure-cap"]
