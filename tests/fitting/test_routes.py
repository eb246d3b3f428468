"""Ways of hoses: as short as any on a plain lattice, clear of every block, bends kept, the same from either end.

Geometry alone: no source is needed. The judge is `route_checker`, which shares no code with the program.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from configurator.fitting.routes import HoseEnd, HoseShape, KeepOut, NoRoute, Route, shortest_route
from tests.fitting.route_checker import PlainEnd, PlainWay, along_mm, crosses, faults, lattice_length, random_way

STEP = 5
MANY = range(300)


def found(case: PlainWay) -> Route | NoRoute:
    """The program's answer to a plain case."""
    ends = [HoseEnd(end.at, end.out, end.straight, end.elbow) for end in (case.start, case.finish)]
    solids = [KeepOut(low, high) for low, high in case.blocks]
    return shortest_route(solids, ends[0], ends[1], HoseShape(case.across, case.bend))


def along(case: PlainWay) -> float | None:
    """Its length from corner to corner, None where there is no way."""
    route = found(case)
    return along_mm(route.corners_mm) if isinstance(route, Route) else None


def backwards(case: PlainWay) -> PlainWay:
    return replace(case, start=case.finish, finish=case.start)


def free(start: tuple[int, int, int], out: str, finish: tuple[int, int, int], into: str, *, straight: int = 60,
         elbow: bool = False) -> PlainWay:  # fmt: skip
    """A way without blocks, of a hose of 20 mm that bends to 40 mm inside, 50 mm at its middle line."""
    return PlainWay((), PlainEnd(start, out, straight, elbow), PlainEnd(finish, into, straight), 20, 40)


@pytest.mark.parametrize("first", range(0, 100, 25))
def test_as_short_as_any_on_a_lattice(first: int) -> None:
    """A hundred cases, on whose lattice a shortest way lies; some have none."""
    cases = [random_way(seed, STEP) for seed in range(first, first + 25)]
    shortest = [lattice_length(case, STEP) for case in cases]
    assert [along(case) for case in cases] == shortest
    assert None in shortest and any(shortest)


@pytest.mark.parametrize("seed", MANY)
def test_a_way_is_sound_and_the_same_from_either_end(seed: int) -> None:
    case = random_way(seed, STEP)
    route = found(case)
    assert along(backwards(case)) == along(case)
    if isinstance(route, Route):
        assert faults(case, route.corners_mm) == []
        straight = sum(abs(a - b) for a, b in zip(case.start.at, case.finish.at, strict=True))
        assert along_mm(route.corners_mm) >= straight
        assert route.turns == len(route.corners_mm) - 2
        bends = route.turns - case.start.elbow - case.finish.elbow
        radius = case.bend + case.across / 2
        assert route.length_mm == pytest.approx(along_mm(route.corners_mm) - bends * (2 - math.pi / 2) * radius)


def test_the_cases_are_not_all_alike() -> None:
    routes = [route for seed in MANY if isinstance(route := found(random_way(seed, STEP)), Route)]
    assert 100 < len(routes) < len(MANY)
    assert {route.turns for route in routes} >= {2, 3, 4, 5, 6}


def test_the_checker_notices_what_is_wrong() -> None:
    """A way through a block, legs too short, an end left sideways, an elbow passed."""
    case = free((0, 0, 0), "+x", (300, 300, 0), "-y")
    way = ((0, 0, 0), (300, 0, 0), (300, 300, 0))
    assert faults(case, way) == []
    blocked = replace(case, blocks=(((150, -5, -5), (160, 5, 5)),))
    assert any("block" in fault for fault in faults(blocked, way))
    assert any("block" in fault for fault in faults(replace(case, blocks=(((310, 10, -5), (320, 99, 5)),)), ((0, 0, 0),
               (305, 0, 0), (305, 300, 0))))  # fmt: skip
    assert any("shorter" in fault for fault in faults(replace(case, start=PlainEnd((0, 0, 0), "+x", 310)), way))
    kinked = ((0, 0, 0), (100, 0, 0), (100, 90, 0), (300, 90, 0), (300, 300, 0))
    assert any("shorter" in fault for fault in faults(case, kinked))
    assert any("axis" in fault for fault in faults(case, ((0, 0, 0), (0, 300, 0), (300, 300, 0))))
    assert any("elbow" in fault for fault in faults(replace(case, start=PlainEnd((0, 0, 0), "+x", 60, True)), way))


def test_one_turn_is_two_legs_less_what_a_quarter_circle_cuts_off() -> None:
    """By hand: 300 + 300, less 2 × 50, plus a quarter of a circle of 50 mm."""
    route = found(free((0, 0, 0), "+x", (300, 300, 0), "-y"))
    assert isinstance(route, Route)
    assert (route.turns, along_mm(route.corners_mm)) == (1, 600.0)
    assert route.length_mm == pytest.approx(500 + math.pi / 2 * 50)


def test_ends_that_face_each_other_need_no_turn() -> None:
    near = free((0, 0, 0), "+x", (60, 0, 0), "-x")
    route = found(near)
    assert isinstance(route, Route)
    assert route.corners_mm == ((0.0, 0.0, 0.0), (60.0, 0.0, 0.0)) and route.length_mm == 60.0
    nearer = free((0, 0, 0), "+x", (59, 0, 0), "-x")
    assert found(nearer) == NoRoute("between")


def test_a_small_step_aside_takes_a_long_way() -> None:
    """By hand: 10 mm aside are less than two radii of 50, so the hose goes 100 away and 110 back, or 110 and 100."""
    route = found(free((0, 0, 0), "+x", (1000, 10, 0), "-x"))
    assert isinstance(route, Route) and (route.turns, along_mm(route.corners_mm)) == (4, 1000 + 210)
    assert isinstance(wide := found(free((0, 0, 0), "+x", (1000, 100, 0), "-x")), Route)
    assert (wide.turns, along_mm(wide.corners_mm)) == (2, 1100.0)


def test_ends_nearer_to_each_other_than_the_hose_is_thick() -> None:
    """Found once: a stiffer hose had a way where a softer had none, through its own straight piece."""
    near = PlainWay((), PlainEnd((15, 40, 35), "+z", 5), PlainEnd((15, 30, 40), "+y", 15), 10, 10)
    for bend in (10, 15):
        assert found(replace(near, bend=bend)) == NoRoute("between")


def test_a_way_that_crosses_itself_says_so() -> None:
    cases = [(case, found(case)) for case in (random_way(seed, STEP) for seed in MANY)]
    routes = [(case, route) for case, route in cases if isinstance(route, Route)]
    told = [route.crosses_itself for _, route in routes]
    assert told == [crosses(route.corners_mm, case.across) for case, route in routes]
    assert 0 < sum(told) < len(told) / 4


def test_an_elbow_turns_where_it_is() -> None:
    elbowed = found(free((0, 0, 0), "+x", (300, 300, 0), "-y", straight=30, elbow=True))
    assert isinstance(elbowed, Route)
    assert elbowed.corners_mm[1] == (30.0, 0.0, 0.0) and elbowed.turns == 3
    straight_on = found(free((0, 0, 0), "+x", (300, 0, 0), "-x", elbow=True))
    assert isinstance(straight_on, Route) and straight_on.turns > 2


def test_why_there_is_no_way() -> None:
    case = free((0, 0, 0), "+x", (300, 300, 0), "-y")
    before = (((50, -50, -50), (70, 50, 50)),)
    assert found(replace(case, blocks=before)) == NoRoute("start")
    assert found(backwards(replace(case, blocks=before))) == NoRoute("finish")
    just_after = (((70, -50, -50), (90, 50, 50)),)
    assert isinstance(found(replace(case, blocks=just_after)), Route)
    shell = tuple(
        (tuple(-200 if k != axis else side for k in range(3)), tuple(200 if k != axis else side + 10 for k in range(3)))
        for axis in range(3)
        for side in (-200, 190)
    )
    assert found(replace(case, blocks=shell)) == NoRoute("between")


def test_what_lies_behind_an_end_is_not_in_its_way() -> None:
    """Its own part, and one flush with its face; one that stands out before the face is, if it stands near."""
    own = ((-100, -50, -50), (0, 50, 50))
    flush = ((-100, 50, -50), (0, 80, 50))
    beside = ((-100, 9, -50), (20, 80, 50))
    case = free((0, 0, 0), "+x", (300, 300, 0), "-y")
    assert along(replace(case, blocks=(own, flush))) == 600.0
    assert found(replace(case, blocks=(own, beside))) == NoRoute("start")
    off = ((-100, 10, -50), (20, 80, 50))
    assert isinstance(found(replace(case, blocks=(own, off))), Route)


def test_the_way_back_round_a_part_keeps_half_the_hose_off_it() -> None:
    """By hand: from the right face of a box of 100 to a point 300 to its left, past its front at 50 + 10 mm."""
    own = ((-50, -50, -50), (50, 50, 50))
    case = replace(free((50, 0, 0), "+x", (-300, 0, 0), "-x"), blocks=(own,))
    route = found(case)
    assert isinstance(route, Route) and faults(case, route.corners_mm) == []
    assert along_mm(route.corners_mm) == 60 + (50 + 60 + 300 + 60) + 60 + 2 * 100
