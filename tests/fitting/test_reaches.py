"""Room before ends, sides to face and heights of a part as drawn: boxes worked by hand, rounding against the part."""

from __future__ import annotations

import pytest

from configurator.fitting.reaches import HAND_MM, PUMP_UNDER_MM, Heights, Needs, reach_before
from configurator.parts.ends import End

SIZE = (60, 400, 140)


def end(face: str, **at: str) -> End:
    """A 19 mm spigot on a face."""
    return End.model_validate({"name": "in", "form": "spigot", "size": "19 mm", "face": face, "at": at})


def test_room_before_an_end_is_its_depth_long_and_a_hand_wider_all_round():
    # By hand: a hose of 25 mm is 12.5 each way and 15 for a hand (common practice, no source): 27.5 about x = 30 is
    # 2.5 to 57.5, about y = 100 72.5 to 127.5, outwards to whole millimetres; from the top, 140, for 80 mm.
    reach = reach_before(end("+z", x="30 mm", y="100 mm"), SIZE, 0.080, 0.025, "a to b")
    assert (reach.end, reach.face, reach.joint) == ("in", "+z", "a to b")
    assert (reach.box.low, reach.box.high) == ((2, 72, 140), (58, 128, 220))
    assert HAND_MM == 15


@pytest.mark.parametrize(
    ("face", "at", "low", "high"),
    [
        ("+x", {"y": "100 mm", "z": "50 mm"}, (60, 75, 25), (140, 125, 75)),
        ("-x", {"y": "100 mm", "z": "50 mm"}, (-80, 75, 25), (0, 125, 75)),
        ("+y", {"x": "30 mm", "z": "50 mm"}, (5, 400, 25), (55, 480, 75)),
        ("-y", {"x": "30 mm", "z": "50 mm"}, (5, -80, 25), (55, 0, 75)),
        ("-z", {"x": "30 mm", "y": "100 mm"}, (5, 75, -80), (55, 125, 0)),
    ],
)
def test_every_face_has_its_room_before_it(face, at, low, high):
    reach = reach_before(end(face, **at), SIZE, 0.080, 0.020, "a to b")
    assert (reach.box.low, reach.box.high) == (low, high)


def test_fractions_grow_the_room_and_float_noise_does_not():
    # 10.3 across and 15 for a hand: 20.15 about 10.1 is -10.05 to 30.25; 80.2 deep is 81.
    reach = reach_before(end("+z", x="10.1 mm", y="100 mm"), SIZE, 0.0802, 0.0103, "a to b")
    assert (reach.box.low[0], reach.box.high[0], reach.box.high[2]) == (-11, 31, 221)
    # 0.035 x 1000 is a float above 35; 0.1 + 0.2 - 0.2 one above 0.1.
    reach = reach_before(end("+z", x="30 mm", y="100 mm"), SIZE, 0.035, 0.1 + 0.2 - 0.2, "a to b")
    assert (reach.box.low[:2], reach.box.high) == ((-35, 35), (95, 165, 175))


def test_an_end_whose_place_is_not_known_asks_for_no_room():
    nowhere = End.model_validate({"name": "in", "form": "spigot", "size": "19 mm"})
    assert reach_before(nowhere, SIZE, 0.080, 0.025, "a to b") is None
    half_known = end("+z", x="30 mm")
    assert reach_before(half_known, SIZE, 0.080, 0.025, "a to b") is None


def test_a_medium_faces_the_sides_that_its_zone_names_for_it():
    need = Needs(used=(("charge", "+y"), ("coolant", "-z"), ("charge", "-y")))
    assert need.facing({"charge": ("left", "right")}) == (
        ("+y", frozenset({"left", "right"})), ("-y", frozenset({"left", "right"}))
    )
    assert need.facing({"coolant": ("down", "up", "back")}) == (("-z", frozenset({"floor", "top", "back"})),)
    assert need.facing({}) == ()


@pytest.mark.parametrize(
    ("up", "level", "below"),
    # A pump's inlet lies 100 mm under the surface at the least (common practice, no source). Drawn at (10, 20, 30).
    [("+x", None, 110), ("-x", None, 150), ("+y", None, 120), ("-y", None, 480), ("+z", None, 130), ("-z", None, 210)],
)
def test_a_pump_turned_carries_its_inlet_with_it(up, level, below):
    assert Heights(inlet_mm=(10, 20, 30)).in_turn(SIZE, up) == (level, below)
    assert PUMP_UNDER_MM == 100


def test_a_surface_is_a_share_of_the_height_that_the_tank_has_as_it_stands():
    tank = Heights(filled=0.705)
    # 0.705 x 60 = 42.3, x 400 = 282, x 140 = 98.7: never told higher than it is.
    assert [tank.in_turn(SIZE, up) for up in ("+x", "-y", "+z")] == [(42, None), (282, None), (98, None)]


def test_a_share_that_is_a_float_below_a_whole_millimetre_keeps_that_millimetre():
    # Found by the independent checker: 0.7 of 180 mm is 126 mm, and 1.0 - 0.3 is a float below 0.7.
    assert (1.0 - 0.3) * 180 < 126
    assert Heights(filled=1.0 - 0.3).in_turn((50, 50, 180), "+z") == (126, None)


def test_what_bleeds_itself_as_it_stands_asks_for_no_height():
    core = Heights(bled_by=frozenset({"+z"}))
    assert core.in_turn(SIZE, "+z") == (None, None)
    assert core.in_turn(SIZE, "-z") == (None, 140)
    assert core.in_turn(SIZE, "+y") == (None, 400)
