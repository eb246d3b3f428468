"""Why parts do not go into a zone: each cause by hand, a millimetre on each side of its limit, and their order."""

from __future__ import annotations

from dataclasses import replace

import pytest

from configurator.fitting.placing import fit_zone
from configurator.fitting.why_not import goes_through, why_not
from tests.fitting.drawn_cases import random_case, rich_case
from tests.fitting.plain_cases import FACES, PlainCase, PlainPart, PlainReach


def told(case: PlainCase):
    """Cause, the two in each other's way and the millimetres; None where nothing is."""
    miss = why_not(case.bay(), "hole", case.items(), case.needs())
    return None if miss is None else (miss.cause, miss.between, miss.miss_mm)


def state(case: PlainCase) -> str:
    return fit_zone(case.bay(), "hole", case.items(), needs=case.needs()).state


def fixed(name: str, *size: int, **more) -> PlainPart:
    """A part that may not be turned."""
    return PlainPart(name, size, fronts=("-x",), **more)


def before(face_low: tuple[int, int, int], face_high: tuple[int, int, int], joint: str = "a to b", end: str = "in"):
    return PlainReach(joint, end, face_low, face_high)


@pytest.mark.parametrize(
    ("size", "opening", "short"),
    [
        ((60, 400, 140), (60, 140), 0),
        ((61, 400, 140), (60, 140), 1),
        ((60, 400, 140), (140, 60), 0),
        ((60, 400, 141), (140, 60), 1),
        ((90, 80, 70), (80, 70), 0),
        ((90, 80, 70), (75, 75), 5),
        ((90, 80, 70), (10, 100), 60),
    ],
)
def test_a_part_goes_through_an_opening_that_two_of_its_sides_pass(size, opening, short):
    part = PlainPart("a", size)
    case = PlainCase((500, 500, 500), (), (part,), way_in=opening)
    assert goes_through(case.bay(), "hole", part.rigid()) == short
    assert told(case) == (None if not short else ("way in", ("a", "way in"), short))


def test_a_zone_without_a_way_in_takes_parts_from_anywhere():
    part = PlainPart("a", (60, 400, 140))
    assert goes_through(PlainCase((500, 500, 500), (), (part,)).bay(), "hole", part.rigid()) == 0


def test_an_opening_is_rounded_down_to_whole_millimetres():
    part = PlainPart("a", (60, 60, 140))
    case = PlainCase((500, 500, 500), (), (part,), way_in=(59.9, 100))
    assert goes_through(case.bay(), "hole", part.rigid()) == 1


def test_a_part_whose_ends_face_a_wrong_side():
    part = PlainPart("a", (50, 50, 50), fronts=("-x", "+x"), used=(("charge", "+y"),))
    right = PlainCase((100, 100, 100), (), (part,), ends=(("charge", ("right",)),))
    # As drawn +y looks right; turned about its upright axis by half a turn, left.
    assert (told(right), state(right)) == (None, "fits")
    fit = fit_zone(right.bay(), "hole", right.items(), needs=right.needs())
    assert fit.placements[0].front == "-x"
    left = replace(right, ends=(("charge", ("left",)),))
    assert fit_zone(left.bay(), "hole", left.items(), needs=left.needs()).placements[0].front == "+x"
    top = replace(right, ends=(("charge", ("top", "front")),))
    assert (told(top), state(top)) == (("ends face", ("a", "charge ends up or front"), None), "does not fit")
    assert state(replace(top, ends=(("coolant", ("top",)),))) == "fits"


def test_ends_that_face_well_only_in_turns_too_large_for_the_walls_are_what_keeps_a_part_out():
    # 90 long: it lies along the zone as drawn, with its end to the right; with the end to the front it is 90 across.
    part = PlainPart("a", (90, 50, 50), fronts=("-x", "+y"), used=(("charge", "+y"),))
    case = PlainCase((100, 60, 60), (), (part,), ends=(("charge", ("front",)),))
    assert (told(case), state(case)) == (("ends face", ("a", "charge ends front"), None), "does not fit")
    assert told(replace(case, zone=(100, 90, 60))) is None


def test_an_obstacle_in_the_turns_that_face_well_is_named():
    part = PlainPart("a", (90, 50, 50), fronts=("-x", "+y"), used=(("charge", "+y"),))
    case = PlainCase((100, 90, 60), (((0, 60, 0), (100, 90, 60)),), (part,), ends=(("charge", ("front",)),))
    assert (told(case), state(case)) == (("obstacle", ("a", "block 0"), None), "does not fit")
    assert told(replace(case, ends=())) is None


def test_of_two_obstacles_that_each_keep_a_part_out_the_first_is_named_and_else_the_one_that_does():
    # A cube of 80 in 100: 30 mm off either wall leaves 70. Without the one the other is still in the way.
    left, right = ((0, 0, 0), (100, 30, 100)), ((0, 70, 0), (100, 100, 100))
    both = PlainCase((100, 100, 100), (left, right), (fixed("a", 80, 80, 80),))
    assert told(both) == ("obstacle", ("a", "block 0"), None)
    assert told(replace(both, obstacles=(right, left))) == ("obstacle", ("a", "block 0"), None)
    thin = ((0, 0, 0), (100, 10, 100))
    assert told(replace(both, obstacles=(thin, right))) == ("obstacle", ("a", "block 1"), None)


def test_room_before_an_end_names_the_end():
    # 100 deep: a body of 60 and 41 before its back face is a millimetre too long for closed walls.
    reach = before((60, 10, 10), (101, 40, 40), end="out")
    case = PlainCase((100, 50, 50), (), (fixed("a", 60, 50, 50, reaches=(reach,)),))
    assert (told(case), state(case)) == (("room before ends", ("a", "end 'out'"), None), "does not fit")
    shorter = replace(reach, high=(100, 40, 40))
    assert told(replace(case, parts=(fixed("a", 60, 50, 50, reaches=(shorter,)),))) is None
    assert told(replace(case, open=("back",))) is None
    assert told(replace(case, open=("front", "left", "right", "floor", "top"))) is not None


def test_two_ends_that_only_together_want_too_much():
    reaches = (before((60, 10, 10), (81, 40, 40), end="out"), before((-20, 10, 10), (0, 40, 40), end="in"))
    case = PlainCase((100, 50, 50), (), (fixed("a", 60, 50, 50, reaches=reaches),))
    assert (told(case), state(case)) == (("room before ends", ("a", "ends together"), None), "does not fit")


def test_room_before_ends_of_two_parts_and_their_joint():
    # Face to face: 30 + 30 bodies, 21 before each: 102 in 101. Of one joint they may lie in each other: 30 + 21 + 30.
    one = fixed("a", 30, 20, 20, reaches=(before((30, 0, 0), (51, 20, 20), "a to x"),))
    other = fixed("b", 30, 20, 20, reaches=(before((-21, 0, 0), (0, 20, 20), "b to y"),))
    case = PlainCase((101, 20, 20), (), (one, other))
    assert (told(case), state(case)) == (("room before both", ("a", "b"), None), "does not fit")
    assert told(replace(case, zone=(102, 20, 20))) is None
    joined = tuple(replace(p, reaches=(replace(p.reaches[0], joint="a to b"),)) for p in (one, other))
    assert told(replace(case, zone=(81, 20, 20), parts=joined)) is None
    assert told(replace(case, zone=(80, 20, 20), parts=joined)) == ("room before both", ("a", "b"), None)


def test_heights_are_told_last():
    tank = fixed("tank", 50, 50, 100, filled=50)
    core = fixed("core", 40, 50, 60, bled_by=("-z",))
    # The surface at 50 and as much higher as the tank may stand: a core of 60 needs it 10 mm up.
    case = PlainCase((100, 50, 109), (), (tank, core))
    assert (told(case), state(case)) == (("heights", ("core", "tank"), None), "does not fit")
    assert told(replace(case, zone=(100, 50, 110))) is None
    assert told(replace(case, parts=(tank, replace(core, bled_by=("+z",))))) is None


WORST = PlainCase(
    (100, 60, 60),
    (((0, 0, 0), (20, 60, 60)),),
    (
        fixed("a", 101, 20, 20, used=(("charge", "+y"),), filled=1, reaches=(before((101, 0, 0), (109, 9, 9)),)),
        fixed("b", 45, 40, 40, bled_by=()),
    ),
    ends=(("charge", ("top",)),),
    way_in=(30, 30),
)


def test_causes_are_told_in_their_order():
    """Everything is wrong at once; what is told first is mended, and the next is told."""
    a, b = WORST.parts
    assert told(WORST) == ("way in", ("b", "way in"), 10)
    case = replace(WORST, way_in=None)
    assert told(case) == ("walls", ("a", "wall back"), 1)
    a = replace(a, size=(90, 50, 21), reaches=(before((90, 0, 0), (98, 50, 21)),))
    case = replace(case, parts=(a, b))
    assert told(case) == ("ends face", ("a", "charge ends up"), None)
    case = replace(case, ends=())
    assert told(case) == ("obstacle", ("a", "block 0"), None)
    case = replace(case, obstacles=())
    assert told(case) == ("together", ("a", "b"), None)
    a = replace(a, size=(50, 50, 21), reaches=(before((50, 0, 0), (58, 50, 21)),))
    case = replace(case, parts=(a, b))
    assert told(case) == ("room before both", ("a", "b"), None)
    case = replace(case, parts=(replace(a, reaches=()), b))
    assert told(case) == ("heights", ("a", "b"), None)
    assert told(replace(case, parts=(replace(a, reaches=()), replace(b, bled_by=FACES)))) is None


DRAWS = [*(rich_case(seed, 3, 60) for seed in range(100)), *(random_case(seed, 3, 60) for seed in range(100))]


@pytest.mark.parametrize("case", DRAWS)
def test_a_cause_is_told_exactly_where_parts_do_not_go_in(case):
    assert (told(case) is None) == (state(case) == "fits")


def test_the_draws_hold_every_cause_but_the_way_in_and_ends_of_two_parts():
    causes = {miss[0] for miss in map(told, DRAWS) if miss}
    assert causes == {"walls", "ends face", "obstacle", "together", "room before ends", "heights"}
