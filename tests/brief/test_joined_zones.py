"""Zones that touch and are used as one, against the same room measured as a single zone."""

from __future__ import annotations

from typing import Any

import pytest
from pydantic import ValidationError

from configurator.brief.bay import Bay
from configurator.brief.joined_zones import with_joined_zones
from configurator.fitting.placing import fit_zone
from configurator.fitting.room import room_of
from configurator.foundations.boxes import Box
from tests.fitting.plain_cases import PlainPart


def zone(back: int, right: int, up: int, deep: int, wide: int, high: int, **more: Any) -> dict[str, Any]:
    return {
        "deep": f"{deep} mm", "wide": f"{wide} mm", "high": f"{high} mm", "takes": ["pump"],
        "at": {"back": f"{back} mm", "right": f"{right} mm", "up": f"{up} mm"}, **more,
    }  # fmt: skip


def bay(as_one: list[list[str]] | None = None, obstacles: list[dict[str, Any]] | None = None, **zones: Any) -> Bay:
    asked = [list(zones)] if as_one is None else as_one
    made = Bay.model_validate({"zones": zones, "obstacles": obstacles or [], "as_one": asked})
    return with_joined_zones(made)


def fit(where: Bay, *sizes: tuple[int, int, int]) -> Any:
    name = next(iter(where.zones))
    items = tuple((f"slot-{k}", PlainPart(f"p{k}", size, fronts=("-x",)).rigid()) for k, size in enumerate(sizes))
    return fit_zone(where, name, items)


def test_two_halves_are_the_whole() -> None:
    halves = bay(left=zone(100, 0, 50, 200, 60, 80), right=zone(100, 60, 50, 200, 90, 80))
    whole = with_joined_zones(Bay.model_validate({"zones": {"one": zone(100, 0, 50, 200, 150, 80)}}))
    assert list(halves.zones) == ["left + right"]
    assert room_of(halves, "left + right").room == room_of(whole, "one").room
    assert fit(halves, (100, 120, 60)).placements[0].at_mm == fit(whole, (100, 120, 60)).placements[0].at_mm


def test_an_l_keeps_parts_out_of_its_missing_corner() -> None:
    # Along the bottom 100 x 100 x 40, and a tower 100 deep, 40 wide up to 100: the corner above the bottom is not free.
    shape = bay(bottom=zone(0, 0, 0, 100, 100, 40), tower=zone(0, 0, 40, 100, 40, 60))
    room = room_of(shape, "bottom + tower").room
    assert (room.size, room.obstacles) == ((100, 100, 100), (Box((0, 40, 40), (100, 100, 100)),))
    assert fit(shape, (100, 40, 100)).state == "fits"
    assert fit(shape, (100, 41, 100)).state == "does not fit"
    assert fit(shape, (100, 100, 40)).state == "fits"
    assert fit(shape, (100, 40, 100), (100, 60, 40)).state == "fits"
    assert fit(shape, (100, 40, 100), (100, 61, 40)).state == "does not fit"


def test_each_word_that_is_no_zone_is_told_at_its_own_place_with_the_nearest() -> None:
    zones = {"side": zone(0, 0, 0, 50, 50, 50), "scuttle": zone(0, 50, 0, 50, 50, 50)}
    asked = Bay.model_construct(zones=Bay.model_validate({"zones": zones}).zones, as_one=(("SIDE", "scutle", "x"),))
    assert [(fault.at, fault.text.split("; ")[1].split(" (")[0]) for fault in asked.faults()] == [
        (("as_one", 0, 0), "did you mean 'side'?"),
        (("as_one", 0, 1), "did you mean 'scuttle'?"),
        (("as_one", 0, 2), "the zones are side, scuttle"),
    ]


@pytest.mark.parametrize(
    ("right", "tolerance", "one_place"),
    [
        (100, None, True),
        (139, None, True),
        (140, None, False),  # 20 mm, which a tape explains that is 10 mm off at either zone
        (160, None, False),
        (140, "5 mm", True),
        (150, "5 mm", False),
    ],
)
def test_two_zones_do_not_take_one_place(right: int, tolerance: str | None, one_place: bool) -> None:
    zones = {"left": zone(100, 0, 50, 200, 160, 80), "right": zone(100, right, 50, 200, 160, 80)}
    said: dict[str, Any] = {"zones": zones} | ({} if tolerance is None else {"tolerance": tolerance})
    if one_place:
        with pytest.raises(ValidationError, match="'left' and 'right' take the same place in the car"):
            Bay.model_validate(said)
    assert Bay.model_validate({**said, "as_one": [["left", "right"]]})
    if not one_place:
        assert Bay.model_validate(said)


def test_zones_whose_place_is_not_wholly_known_are_not_said_to_overlap() -> None:
    there = zone(100, 0, 50, 200, 160, 80)
    assert Bay.model_validate({"zones": {"left": there, "right": {**there, "at": {"back": "100 mm", "up": "50 mm"}}}})


def test_an_obstacle_may_stand_in_what_is_used_as_one_with_its_zone() -> None:
    """Closed walls between the two are none; an obstacle far off both is measured wrong."""
    block = {"name": "block", "in": "left", "kind": "plain", "deep": "10 mm", "wide": "20 mm", "high": "30 mm"}
    halves = {"left": zone(100, 0, 50, 200, 60, 80), "right": zone(100, 60, 50, 200, 90, 80)}
    off = {"front": "5 mm", "left": "100 mm", "floor": "0 mm"}
    assert len(room_of(bay(obstacles=[{**block, "from": off}], **halves), "left + right").room.obstacles) == 1
    with pytest.raises(ValidationError, match="'block' stands neither in its zone 'left'"):
        bay(obstacles=[{**block, "from": {**off, "left": "151 mm"}}], **halves)


def test_obstacles_move_with_their_zone_wherever_they_were_measured_from() -> None:
    block = {"name": "block", "in": "right", "kind": "plain", "deep": "10 mm", "wide": "20 mm", "high": "30 mm",
             "from": {"back": "5 mm", "right": "0 mm", "top": "0 mm"}}  # fmt: skip
    shape = bay(obstacles=[block], left=zone(100, 0, 50, 200, 60, 80), right=zone(100, 60, 50, 200, 90, 80))
    # Back wall at 200, right wall at 150, top at 80: 10 x 20 x 30 before them, 5 mm off the back.
    assert room_of(shape, "left + right").room.obstacles == (Box((185, 130, 50), (195, 150, 80)),)


def test_a_side_is_open_where_every_zone_that_reaches_it_says_so() -> None:
    left = zone(0, 0, 0, 50, 50, 50, open=["up", "left", "front"])
    right = zone(0, 50, 0, 50, 50, 50, open=["up", "front", "back"])
    assert set(bay(left=left, right=right).zones["left + right"].open) == {"up", "left", "front"}


def test_runs_follow_the_new_name() -> None:
    zones = {"a": zone(0, 0, 0, 50, 50, 50), "b": zone(0, 50, 0, 50, 50, 50), "c": zone(900, 0, 0, 50, 50, 50)}
    made = Bay.model_validate({"zones": zones, "as_one": [["a", "b"]], "runs": {"b-c": "1.2 m"}})
    joined = with_joined_zones(made)
    assert set(joined.zones) == {"c", "a + b"}
    assert joined.run_m("c", "a + b") == pytest.approx(1.2)


@pytest.mark.parametrize(
    ("zones", "as_one", "words"),
    [
        ({"a": zone(0, 0, 0, 50, 50, 50), "b": zone(0, 51, 0, 50, 50, 50)}, [["a", "b"]], "do not touch"),
        ({"a": zone(0, 0, 0, 50, 50, 50), "b": zone(0, 50, 50, 50, 50, 50)}, [["a", "b"]], "do not touch"),
        ({"a": zone(0, 0, 0, 50, 50, 50)}, [["a", "c"]], "there is no zone 'c'"),
        ({"a": zone(0, 0, 0, 50, 50, 50)}, [["a"]], "two or more"),
        (
            {"a": zone(0, 0, 0, 50, 50, 50), "b": {**zone(0, 50, 0, 50, 50, 50), "at": {}}},
            [["a", "b"]],
            "give at: {back, right, up} of 'b'",
        ),
        (
            {"a": zone(0, 0, 0, 50, 50, 50), "b": {**zone(0, 50, 0, 50, 50, 50), "takes": ["core"]}},
            [["a", "b"]],
            "same kinds",
        ),
    ],
)
def test_what_cannot_be_used_as_one_is_refused(zones: dict[str, Any], as_one: list[list[str]], words: str) -> None:
    with pytest.raises(ValidationError) as told:
        Bay.model_validate({"zones": zones, "as_one": as_one})
    assert words in str(told.value)
