"""Hoses of placed kits: ends where the parts' turns put them, walls and obstacles kept, frames told."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from configurator.brief.bay import Bay
from configurator.fitting.laid_hoses import LaidHose, lay_hoses
from configurator.fitting.placing import Placement
from configurator.fitting.routes import Route
from configurator.fitting.turns import ALL_TURNS, turn_with
from configurator.parts.kinds import Hose, Pump
from configurator.parts.kit import Ahead, Joint
from tests.fitting.placement_checker import SIDES, rotations
from tests.fitting.route_checker import PlainEnd, PlainWay, along_mm, faults

WAY_OF_SIDE = dict(zip(SIDES, ("-x", "+x", "-y", "+y", "-z", "+z"), strict=True))
HOSE = Hose.model_validate({
    "id": "hose", "name": "hose", "price": 1, "bore": "16 mm", "wall": "2 mm", "class": "D-1 EPDM",
    "working": "3 bar", "hottest": "125 degC", "coldest": "-40 degC", "media": ["coolant"], "bend_radius": "40 mm",
})  # fmt: skip
AHEAD = Ahead(0.06, 0.02, 0.06)


SPIGOT = {"form": "spigot", "size": "16 mm", "barb": True}
PUMP = Pump.model_validate({
    "id": "pump", "name": "pump", "price": 1, "size": {"x": "100 mm", "y": "60 mm", "z": "80 mm"},
    "coolant": {"working": "2 bar", "ends": [
        {**SPIGOT, "name": "in", "face": "-x", "at": {"y": "20 mm", "z": "30 mm"}},
        {**SPIGOT, "name": "out", "face": "+z", "at": {"x": "70 mm", "y": "30 mm"}},
    ]},
    "volts": 12, "current": "3 A",
    "curve": [{"flow": "0 L/min", "head": "30 kPa"}, {"flow": "40 L/min", "head": "0 kPa"}],
})  # fmt: skip


EVERY = ["front", "back", "left", "right", "up", "down"]
AT = {
    "one": {"back": "500 mm", "right": "0 mm", "up": "500 mm"},
    "two": {"back": "500 mm", "right": "600 mm", "up": "500 mm"},
}


def bay(*, closed: tuple[str, ...] = (), placed: bool = True, **more: Any) -> Bay:
    """Two zones beside each other, each 300 mm long; the first's sides open but for those named."""
    zones: dict[str, Any] = {
        name: {"deep": "300 mm", "wide": "300 mm", "high": "300 mm", "open": [*EVERY], "takes": ["pump"]} for name in AT
    }
    zones["one"]["open"] = [side for side in EVERY if side not in closed]
    for name in AT if placed else ():
        zones[name]["at"] = AT[name]
    return Bay.model_validate({"zones": zones, **more})


def at_home(slot: str, zone: str, *, placed: bool = True, at: tuple[float, float, float] = (100.0, 120.0, 110.0),
            up: Any = "+z", front: Any = "-x") -> Placement:  # fmt: skip
    """A pump in a zone, 100 to 120 mm off its low walls."""
    corner = [float(AT[zone][key].split()[0]) if placed else 0.0 for key in ("back", "right", "up")]
    x, y, z = (low + off for low, off in zip(corner, at, strict=True))
    turn = turn_with(up, front)
    size = tuple((100, 60, 80)["xyz".index(turn.faces[k][1])] for k in (1, 3, 5))
    return Placement("pump", slot, zone, (x, y, z), size, up, front, "car" if placed else "zone")


def joint(ahead: Ahead = AHEAD) -> Joint:
    figures = (0.5, 0.016, 1e-5, 0.016, 0.0, 0.0)
    return Joint("coolant", "a.out", "b.in", (), "hose", *figures, (), (), 0, 0.0, ahead=(ahead, ahead))


def laid(where: Bay, *placements: Placement, made: Joint | None = None) -> LaidHose:
    (hose,) = lay_hoses(where, placements, {"a": PUMP, "b": PUMP}, (made or joint(),), {"hose": HOSE}.__getitem__)
    return hose


@pytest.mark.parametrize("turn", ALL_TURNS, ids=lambda turn: f"{turn.up} up, {turn.front} front")
def test_an_end_is_as_far_from_each_face_of_its_part_in_every_turn(turn) -> None:
    """Against the checker's own 24 rotations: distances of a point to the faces of its box go with the faces."""
    size, point = (100, 60, 80), (70.0, 20.0, 80.0)
    looks = next(r for r in rotations() if (r["top"], r["front"]) == (turn.up, turn.front))
    drawn = {f"{sign}{axis}": at if sign == "-" else side - at
             for axis, at, side in zip("xyz", point, size, strict=True) for sign in "-+"}  # fmt: skip
    x, y, z = turn.point(point, size)
    deep, wide, high = (size["xyz".index(looks[side][1])] for side in ("back", "right", "top"))
    lies = {"front": x, "back": deep - x, "left": y, "right": wide - y, "floor": z, "top": high - z}
    assert lies == {side: drawn[looks[side]] for side in SIDES}
    assert all(turn.looks(face) == WAY_OF_SIDE[side] for side, face in looks.items())


def test_a_hose_starts_and_ends_where_the_ends_are() -> None:
    hose = laid(bay(), at_home("a", "one"), at_home("b", "two"))
    assert isinstance(hose.route, Route) and hose.frame == "car" and hose.why_not is None
    assert hose.route.corners_mm[0] == (670.0, 150.0, 690.0)
    assert hose.route.corners_mm[-1] == (600.0, 740.0, 640.0)
    assert hose.length_m == pytest.approx(hose.route.length_mm / 1000, abs=0.0005)
    bodies = (((600, 120, 610), (700, 180, 690)), ((600, 720, 610), (700, 780, 690)))
    ends = PlainEnd((670, 150, 690), "+z", 60), PlainEnd((600, 740, 640), "-x", 60)
    assert faults(PlainWay(bodies, *ends, 20, 40), hose.route.corners_mm) == []


def test_a_turned_part_sends_its_hose_the_other_way() -> None:
    """Upside down the outlet looks down, 30 mm from where it was; its hose leaves downwards."""
    hose = laid(bay(), at_home("a", "one", up="-z"), at_home("b", "two"))
    assert isinstance(hose.route, Route)
    first, second = hose.route.corners_mm[:2]
    assert first == (670.0, 150.0, 610.0) and second[2] <= 610.0 - 60.0


def test_a_closed_wall_is_gone_round() -> None:
    open_way = laid(bay(), at_home("a", "one"), at_home("b", "two")).route
    for wall in ("right", "up"):
        shut = laid(bay(closed=(wall,)), at_home("a", "one"), at_home("b", "two")).route
        assert isinstance(open_way, Route) and isinstance(shut, Route)
        side = {"right": ((500, 300, 500), (800, 301, 800)), "up": ((500, 0, 800), (800, 300, 801))}[wall]
        ends = PlainEnd((670, 150, 690), "+z", 60), PlainEnd((600, 740, 640), "-x", 60)
        assert faults(PlainWay((side,), *ends, 20, 40), shut.corners_mm) == []
        assert along_mm(shut.corners_mm) >= along_mm(open_way.corners_mm)
    assert laid(bay(closed=tuple(EVERY)), at_home("a", "one"), at_home("b", "two")).why_not == "between"
    low = laid(bay(closed=("up",)), at_home("a", "one", at=(100.0, 120.0, 160.0)), at_home("b", "two"))
    assert low.why_not == "start" and low.stuck and low.length_m is None


def test_an_obstacle_is_kept_off_by_its_clearance() -> None:
    """A hot pipe before the second pump: its 50 mm and half the hose stay free."""
    pipe = {"name": "pipe", "in": "two", "from": {"front": "0 mm", "left": "0 mm", "floor": "0 mm"},
            "deep": "20 mm", "wide": "300 mm", "high": "300 mm"}  # fmt: skip
    plain = laid(bay(obstacles=[{**pipe, "kind": "plain"}]), at_home("a", "one"), at_home("b", "two"))
    assert isinstance(plain.route, Route)
    hot = laid(bay(obstacles=[{**pipe, "kind": "hot"}]), at_home("a", "one"), at_home("b", "two"))
    assert hot.why_not == "finish"
    stated = {**pipe, "kind": "hot", "clearance": "10 mm"}
    hose = laid(bay(obstacles=[stated]), at_home("a", "one"), at_home("b", "two")).route
    assert isinstance(hose, Route)
    kept = ((490, 590, 490), (530, 910, 810))
    ends = PlainEnd((670, 150, 690), "+z", 60), PlainEnd((600, 740, 640), "-x", 60)
    assert faults(PlainWay((kept,), *ends, 20, 40), hose.corners_mm) == []


@pytest.mark.parametrize("right", [0.0, -1500.0, 1500.0])
def test_no_hose_goes_through_the_ground_or_ahead_of_the_bumper(right: float) -> None:
    """Wherever on the car's width the zones lie: the ground and the bumper face reach beyond them on all sides."""
    down = [at_home(slot, zone, up="-z") for slot, zone in (("a", "one"), ("b", "two"))]
    low = {"deep": "300 mm", "wide": "300 mm", "high": "300 mm", "open": EVERY, "takes": ["pump"]}
    zones = {"two": {**low, "at": AT["two"]}}
    at = {**AT["one"], "right": f"{right:g} mm"}
    sunk = Bay.model_validate({"zones": {**zones, "one": {**low, "at": {**at, "up": "0 mm"}}}})
    near = Placement("pump", "a", "one", (600.0, right + 120.0, 50.0), (100, 60, 80), "-z", "-x", "car")
    assert laid(sunk, near, down[1]).why_not == "start"
    ahead = Bay.model_validate({"zones": {**zones, "one": {**low, "at": {**at, "back": "0 mm"}}}})
    first = Placement("pump", "b", "one", (50.0, right + 120.0, 610.0), (100, 60, 80), "+z", "-x", "car")
    back = at_home("a", "two")
    assert laid(ahead, back, first).why_not == "finish"


def test_zones_without_a_place_in_the_car() -> None:
    """Within one zone a hose has that zone's frame; from one to another it is not laid."""
    loose = bay(placed=False)
    b = at_home("b", "one", placed=False, at=(150.0, 200.0, 10.0))
    hose = laid(loose, at_home("a", "one", placed=False, at=(0.0, 0.0, 150.0)), b)
    assert (hose.frame, hose.zone) == ("zone", "one") and isinstance(hose.route, Route)
    assert hose.route.corners_mm[0] == (70.0, 30.0, 230.0)
    shut = bay(closed=("up",), placed=False)
    high = at_home("a", "one", placed=False, at=(100.0, 120.0, 160.0))  # 60 mm below the wall, and a hose is thick
    assert isinstance(laid(loose, high, b).route, Route) and laid(shut, high, b).why_not == "start"
    apart = laid(loose, at_home("a", "one", placed=False), at_home("b", "two", placed=False))
    assert apart.why_not == "apart" and not apart.stuck


def test_a_part_without_a_place_and_a_joint_without_a_hose() -> None:
    """A wye, or a core that stays in the car, has no place; a coupler is no hose."""
    assert laid(bay(), at_home("a", "one")).why_not == "no-place"
    assert lay_hoses(bay(), (), {}, (replace(joint(), hose=None),), {}.__getitem__) == ()


def test_an_elbow_has_its_corner_where_it_says() -> None:
    elbow = Ahead(0.04, 0.02, 0.03, elbow=True)
    hose = laid(bay(), at_home("a", "one"), at_home("b", "two"), made=joint(ahead=elbow)).route
    assert isinstance(hose, Route)
    assert math.dist(*hose.corners_mm[:2]) == 30.0 and math.dist(*hose.corners_mm[-2:]) == 30.0
