"""Room that the joints of a kit ask for before the ends of its parts, by hand; and which parts are alike in a loop."""

from __future__ import annotations

import math
from typing import Any

import pytest

from configurator.foundations.boxes import Box
from configurator.parts.kinds import Adapter, Cap, Core, Exchanger, Part, Pump, Reservoir
from configurator.parts.kit import Ahead, Joint
from configurator.search.classes import interface_classes
from configurator.search.ice_rules import left_in_circuit_w
from configurator.search.needs import KitNeeds, faces_used, heights_of
from tests.joining.made_parts import adapter
from tests.search.small_shelves import BRIEF, cap, core, exchanger, job_of, pump, reservoir, shelf

HAND = 15


def joint(start: str, finish: str, *through: str, medium: Any = "charge", ahead: Any = None) -> Joint:
    """A joint of one piece between two ends."""
    figures = (None, 0.0, 0.0, 0.0, 0.057, 0.0, 0.0, (), (), 0, 0.0)
    return Joint(medium, start, finish, through, *figures, ahead=ahead)


def piece(part_id: str, **more: Any) -> Adapter:
    """A charge coupler of 57 mm with 120 mm of length."""
    return adapter(part_id, "coupler 57", "coupler 57", **{"medium": "charge", "length": "120 mm", **more})


def boxes(made: Adapter, *joints: Joint) -> dict[str, Box]:
    """The room before the ends of a core, by end: `joints` between it and the engine are made with one piece."""
    parts: dict[str, Part] = {"core": Core.model_validate(core())}
    needs = KitNeeds({made.id: made}.__getitem__).of(parts, joints)["core"]
    return {reach.end: reach.box for reach in needs.reaches}


IN, OUT = joint("engine.charger outlet", "core.in", "p"), joint("core.out", "engine.throttle", "p")


@pytest.mark.parametrize(
    ("shape", "wall", "depth", "across"),
    [
        # 57 mm and a wall on either side; straight: the piece and one bore of pipe behind it; an elbow turns half way.
        ("coupler", "5 mm", 120 + 67, 67),
        ("elbow", "5 mm", (120 + 67) / 2, 67),
        ("elbow", None, (120 + 66) / 2, 66),
    ],
)
def test_room_before_a_charge_end_is_that_of_its_piece(shape: str, wall: str | None, depth: float, across: int) -> None:
    """The core's charge ends lie on -x and +x, 60 mm along y and 50 along z. Common practice, no source."""
    made = piece("p", shape=shape, **({} if wall is None else {"wall": wall}))
    found = boxes(made, IN, OUT)
    assert found.keys() == {"in", "out"}
    for end, face in (("in", 0), ("out", 200)):
        box = found[end]
        low, high = (box.low[0], face) if end == "in" else (face, box.high[0])
        assert high - low == pytest.approx(depth, abs=0.51)
        wide = 2 * math.ceil(across / 2 + HAND)
        assert (box.high[1] - box.low[1], box.high[2] - box.low[2]) == (wide, wide)
        assert (box.low[1] + box.high[1], box.low[2] + box.high[2]) == (120, 100)


def test_a_charge_end_without_a_joint_keeps_a_grip_and_a_bore_of_pipe() -> None:
    """40 mm of coupler and 57 mm of pipe behind it (common practice, no source)."""
    found = boxes(piece("p"), IN)
    assert found["out"].high[0] - 200 == 40 + 57
    assert found["in"].low[0] == -(120 + 66)


def test_each_end_of_a_coolant_run_has_its_own_room() -> None:
    run = joint("pump.out", "core.in", medium="coolant", ahead=(Ahead(0.05, 0.02, 0.05), Ahead(0.09, 0.03, 0.09)))
    parts: dict[str, Part] = {"core": Core.model_validate(core()), "pump": Pump.model_validate(pump())}
    needs = KitNeeds({}.__getitem__).of(parts, [run])
    before = {reach.end: reach.box for reach in needs["core"].reaches if reach.joint == "pump.out to core.in"}
    assert before["in"].high[2] - 100 == 90
    (out,) = needs["pump"].reaches
    assert (out.end, out.box.high[2] - 90) == ("out", 50)


def test_a_filler_neck_keeps_room_for_a_hand_and_its_tank_says_how_high_it_stands() -> None:
    """100 mm over the neck (common practice, no source); 20 % of air leave 80 % of the height filled."""
    tank = Reservoir.model_validate(reservoir())
    (over,) = KitNeeds({}.__getitem__).of({"reservoir": tank}, [])["reservoir"].reaches
    assert (over.end, over.box.low[2], over.box.high[2]) == ("cap", 200, 300)
    heights = heights_of(tank)
    assert heights is not None and heights.filled == pytest.approx(0.8)


def test_a_pump_says_where_its_inlet_is_and_a_core_on_which_sides_it_can_be_bled() -> None:
    """A drain on the floor lets air out upside down; a bleed 9 mm from two edges of its face, with these on top too."""
    inlet = heights_of(Pump.model_validate(pump()))
    assert inlet is not None and inlet.inlet_mm == (60, 40, 90)
    drain = {"name": "drain", "form": "npt", "size": "1/8", "sex": "female", "role": "drain", "face": "-z"}
    bleed = {**drain, "name": "bleed", "role": "bleed", "face": "+y"}
    written = core()
    for more, ups in (([], set()), ([drain], {"-z"}), ([bleed], {"-x", "+y", "-z"})):
        ends = [*written["coolant"]["ends"], *({**end, "at": {"x": "9 mm", "y": "9 mm", "z": "9 mm"}} for end in more)]
        for end in ends:
            end["at"] = {axis: at for axis, at in end["at"].items() if axis != end["face"][1]}
        part = Core.model_validate({**written, "coolant": {**written["coolant"], "ends": ends}})
        heights = heights_of(part)
        assert heights is not None and heights.bled_by == ups


def test_ends_that_a_loop_takes_face_somewhere_and_a_bleed_is_none_of_them() -> None:
    """The core's charge ends look to -x and +x, its coolant ends up; a pump has no charge side."""
    assert faces_used(Core.model_validate(core())) == (
        ("charge", "-x"), ("charge", "+x"), ("coolant", "+z"), ("coolant", "+z"),
    )  # fmt: skip
    assert faces_used(Pump.model_validate(pump())) == (("coolant", "+z"), ("coolant", "+z"))


def test_parts_are_alike_where_nothing_that_joins_or_holds_tells_them_apart() -> None:
    """Tanks with and without air in them are not: a cap on a full tank has nothing to give way to."""

    def names(*parts: Part) -> list[list[str]]:
        return [[part.id for part in known.members] for known in interface_classes("part", parts, {}).values()]

    tanks = [
        Reservoir.model_validate({**reservoir(part_id), **more})
        for part_id, more in (
            ("a", {}),
            ("b", {"air_space": "30 %", "price": 1}),
            ("full", {"air_space": "0 %"}),
            ("open", {"vented": True}),
        )
    ]
    assert names(*tanks) == [["a", "b"], ["full"], ["open"]]
    caps = [Cap.model_validate(cap(part_id, opens=opens)) for part_id, opens in (("a", "0.5 bar"), ("b", "0.9 bar"))]
    assert names(*caps) == [["a"], ["b"]]
    cores = [Core.model_validate(core(part_id, long=long)) for part_id, long in (("a", 200), ("b", 300))]
    assert names(*cores, Core.model_validate(core("weak", working="1 bar"))) == [["a", "b"], ["weak"]]
    pumps = [Pump.model_validate(pump(part_id, dead_head=head)) for part_id, head in (("a", 60), ("b", 60), ("c", 70))]
    assert names(*pumps) == [["a", "b"], ["c"]]


def test_an_exchanger_left_in_circuit_brings_heat_into_iced_water_wherever_it_sits() -> None:
    """20 degC of air on water of 5 degC: heat goes in, in a bay that is measured and in one that is not."""
    part = Exchanger.model_validate(exchanger())
    wish = {"kinds": ["water"], "start": "5 degC"}
    measured = left_in_circuit_w(job_of(shelf(coolant=wish)), part)
    unmeasured = left_in_circuit_w(job_of(shelf(coolant=wish, bay="unmeasured")), part)
    assert measured > 100.0 and unmeasured > 100.0
    assert left_in_circuit_w(job_of(shelf(coolant=wish)), part, "nose") == measured
    nose = {**BRIEF["bay"]["zones"]["nose"], "air": {"kind": "ram", "share": "2 %"}}
    two = {"zones": {**BRIEF["bay"]["zones"], "shaded": nose}}
    assert left_in_circuit_w(job_of(shelf(coolant=wish, bay=two)), part) == measured
