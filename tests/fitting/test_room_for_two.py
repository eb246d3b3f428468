"""The most room for two: cases by hand, and held against the exact search, which it may never be below."""

from __future__ import annotations

from dataclasses import replace

import pytest

from configurator.fitting.placing import bodies_of, fit_zone
from configurator.fitting.room import room_of
from configurator.fitting.room_for_two import NO_ROOM, room_for_two
from tests.fitting.drawn_cases import random_case, rich_case
from tests.fitting.plain_cases import PlainCase, PlainPart, PlainReach

CAP_MM = 25.0


def most(case: PlainCase, cap_mm: float = CAP_MM) -> float:
    """The most room of a case's first part beside its second."""
    named = room_of(case.bay(), "hole")
    bodies = bodies_of(case.bay(), "hole", case.items(), case.needs())
    found = room_for_two(named.room, bodies[:1], bodies[1:2], cap_mm)
    assert found.shape == (1, 1)
    return float(found[0, 0])


def exact(case: PlainCase) -> float:
    """The clearance that the exact search finds, up to the cap."""
    fit = fit_zone(case.bay(), "hole", case.items(), clearance_cap_mm=CAP_MM, needs=case.needs())
    assert fit.state != "not decided"
    return NO_ROOM if fit.clearance_mm is None else fit.clearance_mm


def box(name: str, x: int, y: int, z: int, **more: object) -> PlainPart:
    """A part that stands as drawn."""
    return PlainPart(name, (x, y, z), fronts=("-x",), **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("case", "room_mm"),
    [
        # 100 - 30 - 40 = 30 mm are three gaps of 10 mm; across there are two of (60 - 20) / 2 = 20 mm.
        (PlainCase((100, 60, 60), (), (box("a", 30, 20, 20), box("b", 40, 20, 20))), 10.0),
        # 31 mm are three gaps of 10.33 mm: 10 mm in half millimetres.
        (PlainCase((101, 60, 60), (), (box("a", 30, 20, 20), box("b", 40, 20, 20))), 10.0),
        # Its back on the wall or on the other part needs no gap: 30 mm are two.
        (PlainCase((100, 60, 60), (), (box("a", 30, 20, 20), box("b", 40, 20, 20, mounts=("+x",)))), 15.0),
        # Side by side 30 + 40 is more than 60, behind each other 30 + 50 more than 70, and so is one on the other.
        (PlainCase((70, 60, 70), (), (box("a", 30, 30, 40), box("b", 50, 40, 40))), NO_ROOM),
        # A reach of 15 mm behind a shut wall is held free: 30 - 15 mm are two gaps.
        (
            PlainCase((100, 24, 24), (), (box("a", 30, 20, 20), box("b", 40, 20, 20, reaches=(
                PlainReach("to c", "out", (40, 5, 5), (55, 15, 15)),
            )))),
            2.0,
        ),
        # The inlet at 5 + 100 mm under a surface at 90 of 100 mm: 120 - 100 + 90 - 105 = 5 mm are two gaps of 2.5.
        (
            PlainCase((90, 40, 120), (), (box("a", 30, 20, 100, filled=90), box("b", 20, 20, 20, inlet=(10, 10, 5)))),
            2.5,
        ),
    ],
)  # fmt: skip
def test_by_hand(case: PlainCase, room_mm: float) -> None:
    assert most(case) == room_mm == exact(case)


def test_nothing_of_two_bodies_alone_is_left_out() -> None:
    """With neither obstacle nor reach nor height it is the clearance itself."""
    cases = [replace(random_case(seed, 2, longest), obstacles=()) for seed in range(300) for longest in (40, 300)]
    pairs = [case for case in cases if len(case.parts) == 2]
    found = [most(case) for case in pairs]
    assert found == [exact(case) for case in pairs]
    assert len(pairs) > 200 and len(set(found)) > 20 and found.count(NO_ROOM) > 10


def test_it_is_never_below_what_the_exact_search_finds() -> None:
    """Whatever decides whether parts go in: obstacles, reaches, open walls, sides to face, heights."""
    cases = [rich_case(seed, 2, longest, fewest=2) for seed in range(400) for longest in (40, 100)]
    room_mm = [(most(case), exact(case)) for case in cases]
    assert all(bound >= found for bound, found in room_mm)
    equal = sum(bound == found for bound, found in room_mm)
    assert len(cases) / 2 < equal < len(cases)


def test_many_at_once_are_each_pair_by_itself() -> None:
    case = rich_case(7, 6, 100, fewest=6)
    bodies = bodies_of(case.bay(), "hole", case.items(), case.needs())
    room = room_of(case.bay(), "hole").room
    together = room_for_two(room, bodies[:4], bodies[4:], CAP_MM)
    apart = [[room_for_two(room, [one], [two], CAP_MM)[0, 0] for two in bodies[4:]] for one in bodies[:4]]
    assert together.tolist() == apart and len(set(together.ravel())) > 1


def test_a_part_that_goes_in_in_no_turn_has_no_room() -> None:
    case = PlainCase((100, 60, 60), (), (box("a", 30, 20, 20), box("b", 140, 20, 20)))
    room = room_of(case.bay(), "hole").room
    bodies = bodies_of(case.bay(), "hole", case.items(), case.needs())
    assert room_for_two(room, [bodies[0], ()], bodies, CAP_MM).tolist() == [[13.0, NO_ROOM], [NO_ROOM, NO_ROOM]]
