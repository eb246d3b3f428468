"""Turns of a part against the rotations of a cube written as signed permutation matrices."""

from __future__ import annotations

from configurator.fitting.turns import ALL_TURNS, SIDES, postures
from configurator.parts.kinds import Exchanger, RigidPart
from tests.fitting.placement_checker import rotations
from tests.fitting.plain_cases import FACES, PlainPart

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
