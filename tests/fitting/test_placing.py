"""Placing parts in zones: cases worked by hand, and draws against the independent checker."""

from __future__ import annotations

from dataclasses import replace

import pytest

from configurator.brief.bay import Bay
from configurator.fitting.placing import ZoneFit, fit_zone
from configurator.fitting.why_not import why_not
from configurator.parts.kinds import RigidPart
from tests.fitting.drawn_cases import random_case, rich_case
from tests.fitting.placement_checker import faults
from tests.fitting.plain_cases import FACES, PlainCase, PlainPart, PlainReach

HATCH = {
    "zones": {
        "nose": {"wide": "460 mm", "high": "150 mm", "deep": "60 mm", "takes": ["exchanger"],
                 "at": {"back": "60 mm", "right": "-230 mm", "up": "300 mm"}},
        "bulkhead": {"wide": "240 mm", "high": "180 mm", "deep": "320 mm", "takes": ["core"],
                     "at": {"back": "450 mm", "right": "-260 mm", "up": "620 mm"}},
        "side": {"wide": "220 mm", "high": "380 mm", "deep": "240 mm", "takes": ["reservoir", "pump"]},
    },
    "obstacles": [
        {"name": "brake cylinder", "in": "bulkhead", "from": {"left": "180 mm", "front": "200 mm", "floor": "80 mm"},
         "wide": "60 mm", "high": "100 mm", "deep": "120 mm", "kind": "plain"},
    ],
}
BAY = Bay.model_validate(HATCH)
THROUGH_FINS = ("-x", "+x")


def alone(bay: Bay, zone: str, part: RigidPart) -> ZoneFit:
    """One part in a zone."""
    return fit_zone(bay, zone, (("alone", part),))


def missed(bay: Bay, zone: str, part: RigidPart) -> tuple[str, tuple[str, str], int | None]:
    """Why one part does not go into a zone: cause, the two in each other's way, millimetres."""
    assert alone(bay, zone, part).state == "does not fit"
    miss = why_not(bay, zone, (("alone", part),))
    return miss.cause, miss.between, miss.miss_mm


def obstacle(kind: str, **more: str) -> Bay:
    """A hole of 100 mm each way with a 20 mm block in the middle of its back wall, right side and floor."""
    return Bay.model_validate({
        "zones": {"hole": {"deep": "100 mm", "wide": "100 mm", "high": "100 mm", "takes": ["pump"]}},
        "obstacles": [{"name": "block", "in": "hole", "kind": kind, "deep": "20 mm", "wide": "100 mm", "high": "100 mm",
                       "from": {"back": "0 mm", "right": "0 mm", "top": "0 mm"}, **more}],
    })


def test_a_core_beside_the_brake_cylinder():
    # By hand: 320 x 240 x 180 with the block from (200, 180, 80) on. The core is 230 x 150 x 130. Left of the
    # block there are 180 mm for 150: two gaps of 15 share 30. Before it 200 < 230, below it 80 < 130. Turned, its
    # 230 mm lie across the 240: two gaps of 5.
    fit = alone(BAY, "bulkhead", PlainPart("core", (230, 150, 130), ups=("+z", "-z")).rigid())
    assert (fit.state, fit.clearance_mm, fit.set_by) == ("fits", 15.0, ("core", "brake cylinder"))
    (placed,) = fit.placements
    assert (placed.at_mm, placed.frame) == ((465.0, -245.0, 635.0), "car")
    assert (placed.size_mm, placed.up, placed.front) == ((230, 150, 130), "+z", "-x")


def test_a_60_mm_exchanger_enters_a_60_mm_slot_and_a_61_mm_one_misses_by_1():
    enters = alone(BAY, "nose", PlainPart("slim", (60, 400, 140), fronts=THROUGH_FINS).rigid())
    assert (enters.state, enters.clearance_mm, enters.set_by) == ("fits", 0.0, ("slim", "wall back"))
    thick = PlainPart("thick", (61, 400, 140), fronts=THROUGH_FINS).rigid()
    assert missed(BAY, "nose", thick) == ("walls", ("thick", "wall back"), 1)


def test_the_miss_is_that_of_the_best_turn():
    # 470 across or 470 up: 10 mm over the width, 320 mm over the height.
    part = PlainPart("long", (60, 470, 140), ups=FACES, fronts=THROUGH_FINS).rigid()
    assert missed(BAY, "nose", part) == ("walls", ("long", "wall right"), 10)


def test_an_obstacle_in_the_way_is_named_where_the_walls_alone_would_do():
    broad = PlainPart("broad", (230, 200, 130), fronts=("-x",)).rigid()
    assert missed(BAY, "bulkhead", broad) == ("obstacle", ("broad", "brake cylinder"), None)


def test_tank_and_pump_in_the_side_zone():
    # By hand: one above the other, 200 + 90 of 380 mm leave 90 for three gaps of 30; across 220 - 150 = 70 and
    # deep 240 - 160 = 80 leave two gaps of 35 and more. Side by side no way: 150 + 70 of 220 leaves nothing.
    tank, pump = PlainPart("tank", (160, 150, 200)), PlainPart("pump", (120, 70, 90))
    fit = fit_zone(BAY, "side", (("reservoir", tank.rigid()), ("pump", pump.rigid())))
    assert (fit.state, fit.clearance_mm, fit.set_by) == ("fits", 30.0, ("pump", "tank"))
    by_slot = {placed.slot: placed for placed in fit.placements}
    assert by_slot["pump"].at_mm == (30.0, 30.0, 30.0)
    assert by_slot["reservoir"].at_mm == (30.0, 30.0, 150.0)
    assert {placed.frame for placed in fit.placements} == {"zone"}


@pytest.mark.parametrize(
    ("kind", "more", "room"),
    # 80 mm are left before the block; hot things keep 50 mm and moving ones 25 mm (common practice, no source).
    [("plain", {}, 80), ("crash", {}, 80), ("hot", {}, 30), ("moving", {}, 55), ("hot", {"clearance": "12.2 mm"}, 67)],
)
def test_hot_and_moving_things_keep_bodies_off(kind, more, room):
    bay = obstacle(kind, **more)
    assert alone(bay, "hole", PlainPart("a", (room, 100, 100), fronts=("-x",)).rigid()).clearance_mm == 0
    wider = PlainPart("a", (room + 1, 100, 100), fronts=("-x",)).rigid()
    assert missed(bay, "hole", wider) == ("obstacle", ("a", "block"), None)


def test_distances_from_the_far_walls_and_fractions_are_rounded_against_the_part():
    bay = Bay.model_validate({
        "zones": {"hole": {"deep": "100.9 mm", "wide": "50 mm", "high": "50 mm", "takes": ["pump"]}},
        "obstacles": [{"name": "block", "in": "hole", "kind": "plain", "deep": "9.5 mm", "wide": "50 mm",
                       "high": "50 mm", "from": {"back": "0 mm", "left": "0 mm", "floor": "0 mm"}}],
    })
    # Its near face is at 100.9 - 9.5 = 91.4 mm: 91 mm are free in whole millimetres.
    assert alone(bay, "hole", PlainPart("a", (91, 50, 50), fronts=("-x",)).rigid()).state == "fits"
    assert alone(bay, "hole", PlainPart("a", (92, 50, 50), fronts=("-x",)).rigid()).state == "does not fit"


def test_what_would_go_in_with_half_a_millimetre_more_does_not_set_the_clearance():
    # 100 across in 121 and in 120: 10.5 to either side of the one, 10 to either side of the other.
    for room, wall in (((121, 120, 400), "wall right"), ((120, 121, 400), "wall back"), ((121, 400, 120), "wall top")):
        fit = placed(PlainCase(room, (), (PlainPart("a", (100, 100, 100), ups=("+z",), fronts=("-x",)),)))
        assert (fit.clearance_mm, fit.set_by) == (10.0, ("a", wall))


def test_a_mounted_face_may_touch_its_wall():
    free = PlainPart("a", (60, 60, 60), fronts=("-x",))
    case = PlainCase((100, 100, 100), (), (free,))
    assert alone(case.bay(), "hole", free.rigid()).clearance_mm == 20
    bolted = PlainPart("a", (60, 60, 60), fronts=("-x",), mounts=("-x", "-y", "-z"))
    fit = alone(case.bay(), "hole", bolted.rigid())
    assert (fit.clearance_mm, fit.placements[0].at_mm) == (40, (0.0, 0.0, 0.0))


def test_two_of_the_same_part():
    pump = PlainPart("pump", (40, 30, 20))
    case = PlainCase((100, 40, 30), (), (pump, pump))
    fit = fit_zone(case.bay(), "hole", (("pump 2", pump.rigid()), ("pump 1", pump.rigid())))
    # By hand: 100 - 2 x 40 leaves 20 for three gaps along x: 6.5 in half-millimetre steps; across 10 for two: 5.
    assert (fit.clearance_mm, fit.set_by) == (5.0, ("pump", "wall right"))
    assert [(p.slot, p.at_mm) for p in fit.placements] == [("pump 1", (5.0, 5.0, 5.0)), ("pump 2", (50.0, 5.0, 5.0))]


def test_the_first_id_has_the_smallest_coordinates_whatever_its_slot():
    first, second = PlainPart("a", (40, 40, 40)), PlainPart("b", (50, 40, 40))
    case = PlainCase((100, 40, 40), (), (first, second))
    fit = fit_zone(case.bay(), "hole", (("slot 1", second.rigid()), ("slot 2", first.rigid())))
    assert [(p.part, p.slot, p.at_mm[0]) for p in fit.placements] == [("a", "slot 2", 0.0), ("b", "slot 1", 40.0)]


def test_the_node_limit_gives_not_decided_and_never_a_false_no():
    case = random_case(4, 4, 60, cut=True)
    assert fit_zone(case.bay(), "hole", case.items(), node_limit=1).state == "not decided"
    assert fit_zone(case.bay(), "hole", case.items()).state == "fits"


def reaching(*size: int, low: tuple[int, int, int], high: tuple[int, int, int], joint: str = "a to b") -> PlainPart:
    """A part that may not be turned, with room before one of its ends."""
    return PlainPart("a", size, fronts=("-x",), reaches=(PlainReach(joint, "out", low, high),))


def placed(case: PlainCase, **more) -> ZoneFit:
    return fit_zone(case.bay(), "hole", case.items(), needs=case.needs(), **more)


def test_room_before_an_end_is_kept_off_closed_walls_and_goes_through_open_ones():
    # 100 deep, a body of 60 with 30 before its back face: 10 mm are left for one gap, 40 where the wall is open. Gaps
    # are those of the body alone: in front 10, behind it the 30 of the end.
    part = reaching(60, 60, 60, low=(60, 20, 20), high=(90, 40, 40))
    case = PlainCase((100, 100, 100), (), (part,))
    assert (placed(case).clearance_mm, placed(case).placements[0].at_mm) == (10.0, (10.0, 10.0, 10.0))
    opened = replace(case, open=("back",))
    assert (placed(opened).clearance_mm, placed(opened).placements[0].at_mm) == (20.0, (20.0, 20.0, 20.0))
    assert placed(replace(case, open=("front", "left", "right", "floor", "top"))) == placed(case)


def test_an_obstacle_behind_an_open_wall_stops_room_before_an_end():
    # Behind the open back wall, at 100, a block from 120 on: the 30 before the end reach 120 at the farthest.
    part = reaching(90, 60, 60, low=(90, 0, 0), high=(120, 60, 60))
    block = ((120, 0, 0), (140, 100, 100))
    case = PlainCase((100, 100, 100), (block,), (part,), open=("back",))
    assert (placed(case).clearance_mm, placed(case).placements[0].at_mm[0]) == (0.0, 0.0)
    assert placed(replace(case, obstacles=())).clearance_mm == 5.0
    nearer = replace(case, obstacles=(((119, 0, 0), (140, 100, 100)),))
    assert placed(nearer).state == "does not fit"
    assert placed(replace(nearer, parts=(replace(part, reaches=()),))).clearance_mm == 5.0


def test_room_before_ends_of_one_joint_may_lie_in_each_other():
    one = reaching(30, 20, 20, low=(30, 0, 0), high=(50, 20, 20))
    reach = PlainReach("a to b", "in", (-20, 0, 0), (0, 20, 20))
    other = PlainPart("b", (30, 20, 20), fronts=("-x",), reaches=(reach,))
    joined = PlainCase((80, 20, 20), (), (one, other))
    assert [p.at_mm[0] for p in placed(joined).placements] == [0.0, 50.0]
    apart = replace(joined, parts=(one, replace(other, reaches=(replace(reach, joint="b to c"),))))
    assert placed(apart).state == "does not fit"
    assert [p.at_mm[0] for p in placed(replace(apart, zone=(100, 20, 20))).placements] == [0.0, 70.0]
    assert placed(replace(apart, zone=(99, 20, 20))).state == "does not fit"


def test_room_before_ends_needs_no_gap_of_its_own():
    # 30 + 20 + 30 of 80 and 3 x 0: the room touches the body before it, and the clearance is that of the bodies.
    one = reaching(30, 20, 20, low=(30, 0, 0), high=(50, 20, 20))
    case = PlainCase((86, 26, 26), (), (one, PlainPart("b", (30, 20, 20), fronts=("-x",))))
    assert (placed(case).clearance_mm, [p.at_mm[0] for p in placed(case).placements]) == (3.0, [3.0, 53.0])


def test_a_tank_stands_on_what_its_surface_must_be_above():
    # A tank with 70 of its 100 mm filled beside a pump with its inlet 20 up and 100 over it: 50 mm higher.
    tank = PlainPart("tank", (50, 50, 100), fronts=("-x",), filled=70)
    pump = PlainPart("pump", (50, 50, 40), fronts=("-x",), inlet=(0, 25, 20))
    case = PlainCase((100, 50, 160), (), (tank, pump))
    fit = placed(case)
    assert (fit.surface_mm, fit.highest_mm) == (120.0, 120.0)
    assert {p.part: p.at_mm[2] for p in fit.placements} == {"tank": 50.0, "pump": 0.0}
    assert placed(replace(case, zone=(100, 50, 150))).state == "fits"
    assert placed(replace(case, zone=(100, 50, 149))).state == "does not fit"


def test_a_part_turns_until_its_end_faces_the_side_asked_for():
    part = PlainPart("a", (90, 60, 50), used=(("charge", "+y"),))
    case = PlainCase((100, 100, 100), (), (part,), ends=(("charge", ("front", "back")),))
    (there,) = placed(case).placements
    assert (there.up, there.front, there.size_mm) == ("+z", "-y", (60, 90, 50))


@pytest.mark.parametrize("seed", range(12))
def test_out_of_nodes_with_room_before_ends_is_not_decided_or_the_same_answer(seed):
    case = rich_case(seed, 5, 60, fewest=3)
    answer = placed(case)
    assert answer.state != "not decided"
    states = [placed(case, node_limit=limit).state for limit in (0, 3, 30, 300)]
    assert {*states} <= {"not decided", answer.state}


@pytest.mark.parametrize("seed", range(80))
def test_with_ends_and_heights_every_placement_passes_the_independent_checker(seed):
    case = rich_case(seed, 4, 60)
    fit = placed(case)
    assert fit.state in {"fits", "does not fit"}
    if fit.state == "fits":
        assert faults(case, fit.placements, fit.clearance_mm) == []
    assert placed(case) == fit


@pytest.mark.parametrize("seed", range(80))
def test_every_placement_passes_the_independent_checker(seed):
    case = random_case(seed, 3, 300, cut=seed % 4 == 0)
    fit = fit_zone(case.bay(), "hole", case.items())
    assert fit.state in {"fits", "does not fit"}
    if fit.state == "fits":
        assert faults(case, fit.placements, fit.clearance_mm) == []
        assert seed % 4 or fit.clearance_mm == 0
    else:
        assert seed % 4, "pieces of a zone go into it"
