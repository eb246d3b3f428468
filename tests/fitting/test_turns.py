"""Turns of a part against the rotations of a cube written as signed permutation matrices."""

from __future__ import annotations

from itertools import permutations, product

import numpy as np

from configurator.fitting.turns import ALL_TURNS, SIDES, postures
from configurator.parts.kinds import Exchanger, RigidPart
from tests.fitting.placement_checker import rotations
from tests.fitting.plain_cases import FACES, PlainPart, PlainReach

EXCHANGER = {
    "id": "front-400", "name": "Front exchanger", "price": 1, "mass": "3 kg",
    "size": {"x": "60 mm", "y": "400 mm", "z": "140 mm"},
    "face": {"wide": "360 mm", "high": "130 mm"},
    "arrangement": {"flow": "cross-flow both unmixed", "passes": 1},
    "coolant": {"ends": [
        {"name": "in", "form": "spigot", "size": "19 mm", "face": "+z", "at": {"x": "30 mm", "y": "20 mm"}},
        {"name": "out", "form": "spigot", "size": "19 mm", "face": "+z", "at": {"x": "30 mm", "y": "380 mm"}},
    ]},
}


def test_the_turns_are_the_24_rotations_and_no_mirror_image():
    ours = {tuple(sorted(zip(SIDES, turn.faces, strict=True))) for turn in ALL_TURNS}
    assert ours == {tuple(sorted(looks.items())) for looks in rotations()}
    assert [turn.order for turn in ALL_TURNS] == list(range(24))


def test_the_first_turn_is_the_part_as_drawn():
    assert ALL_TURNS[0].faces == ("-x", "+x", "-y", "+y", "-z", "+z")


def test_size_is_rounded_up_to_whole_millimetres_without_float_noise():
    part = RigidPart.model_validate(
        {"id": "a", "name": "a", "price": 1, "size": {"x": "2.5 in", "y": "35 mm", "z": "35.1 mm"}}
    )
    # 2.5 in = 63.5 mm (inch of 25.4 mm, by definition); 0.035 * 1000 is a float above 35.
    assert postures(part)[0].size == (64, 35, 36)


def test_an_exchanger_faces_the_air_through_its_fins_unless_it_says_otherwise():
    assert {p.size for p in postures(Exchanger.model_validate(EXCHANGER))} == {(60, 400, 140)}
    sideways = Exchanger.model_validate({**EXCHANGER, "turns": {"up": list(FACES), "air": ["-y"]}})
    assert {p.size[0] for p in postures(sideways)} == {400}


def test_other_parts_may_face_any_way_and_each_room_taken_is_listed_once():
    found = postures(PlainPart("tank", (90, 120, 200)).rigid())
    assert [(p.turn.up, p.turn.front, p.size) for p in found] == [
        ("+z", "-x", (90, 120, 200)), ("+z", "-y", (120, 90, 200))
    ]


def test_a_mounted_face_looks_where_the_turn_takes_it():
    (posture,) = postures(PlainPart("pump", (90, 60, 50), ups=("+x",), fronts=("-z",), mounts=("-z", "+y")).rigid())
    # +x up and -z forward: +z points back, and up × back = x × z = -y points right, so +y looks left.
    needs = dict(zip(SIDES, posture.solids[0].needs_gap, strict=True))
    assert [side for side, needed in needs.items() if not needed] == ["front", "left"]


ODD = PlainPart(
    "odd", (30, 50, 70), ups=FACES,
    reaches=(
        PlainReach("a to b", "in", (30, 5, 11), (43, 19, 40)),
        PlainReach("b to c", "out", (2, -9, 60), (13, 0, 88)),
        PlainReach("hand over odd.fill", "fill", (-4, 31, 70), (17, 47, 91)),
    ),
    inlet=(30, 12, 25),
)  # fmt: skip


def by_matrix(part: PlainPart) -> set:
    """Turned boxes of a part, from its lowest corner: every corner multiplied by each rotation matrix of a cube."""
    found = set()
    for axes, signs in product(permutations(range(3)), product((1, -1), repeat=3)):
        matrix = np.zeros((3, 3), int)
        for row, (axis, sign) in enumerate(zip(axes, signs, strict=True)):
            matrix[row, axis] = sign
        if round(np.linalg.det(matrix)) != 1:
            continue
        body = matrix @ np.array([(0, 0, 0), part.size]).T
        boxes = [("", body.min(1), body.max(1))]
        for reach in part.reaches:
            corners = matrix @ np.array([reach.low, reach.high]).T
            boxes.append((reach.joint, corners.min(1), corners.max(1)))
        inlet = (matrix @ np.array(part.inlet))[2] - body.min(1)[2]
        found.add((
            tuple((joint, *map(int, low - body.min(1)), *map(int, high - body.min(1))) for joint, low, high in boxes),
            int(inlet) + 100,
        ))  # fmt: skip
    return found


def test_room_before_ends_and_an_inlet_turn_with_their_part():
    need = ODD.needs()
    ours = {
        (tuple((solid.joint or "", *solid.box.low, *solid.box.high) for solid in posture.solids), posture.below)
        for posture in postures(ODD.rigid(), need.reaches, (), need.heights)
    }
    assert len(ours) == 24
    assert ours == by_matrix(ODD)


def test_room_before_ends_needs_no_gap_and_mounts_need_none():
    need = ODD.needs()
    for posture in postures(PlainPart("odd", (30, 50, 70), mounts=("-x",)).rigid(), need.reaches):
        assert sum(posture.solids[0].needs_gap) == 5
        assert not any(any(solid.needs_gap) for solid in posture.solids[1:])


def test_turns_alike_as_bodies_are_two_where_room_before_an_end_tells_them_apart():
    bare = PlainPart("tank", (90, 120, 200))
    reach = PlainReach("a to b", "in", (10, -50, 20), (40, 0, 60))
    assert len(postures(bare.rigid())) == 2
    assert len(postures(bare.rigid(), PlainPart("tank", (90, 120, 200), reaches=(reach,)).needs().reaches)) == 4


def test_only_turns_stay_in_which_every_face_looks_to_one_of_its_sides():
    part = PlainPart("a", (30, 50, 70), ups=FACES).rigid()
    facing = (("+y", frozenset({"left", "top"})), ("-z", frozenset({"front"})))
    found = postures(part, ODD.needs().reaches, facing)
    looks = [dict(zip(SIDES, posture.turn.faces, strict=True)) for posture in found]
    wanted = [looks for looks in rotations() if looks["front"] == "-z" and "+y" in (looks["left"], looks["top"])]
    assert sorted(looks, key=str) == sorted(wanted, key=str)
    assert len(wanted) == 2
    assert postures(part, (), (("+y", frozenset({"left"})), ("-y", frozenset({"left"})))) == ()
