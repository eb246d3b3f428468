"""Ways of hoses, judged again from the JSON answer, the brief and the parts alone: ends, bends, bodies, lengths.

Frame of the car: x back, y right, z up. 50 mm off hot and 25 mm off moving obstacles (common practice, no source),
as the guide has it. Nothing of the program is imported.
"""

from __future__ import annotations

import copy
import math
from collections.abc import Iterator
from functools import cache
from itertools import pairwise

import pytest

from tests.independent.plain import brief_of, part_of, si
from tests.journeys.kitwright import EXAMPLES, Tree, shelf_part, suggest

BRIEFS = ("hatch", "retro", "road", "wagon", "roadster", "ute", "drag", "track")
NONE_LAID = {"commuter"}
"""All of its coolant parts but the core stay in the car, and hose to those is not laid."""

KEEP_OFF_MM = {"plain": 0.0, "crash": 0.0, "moving": 25.0, "hot": 50.0}
Span = tuple[list[float], list[float]]


@cache
def kits(name: str) -> list[Tree]:
    """Every kit that the command lists for an example."""
    options = ("--no-ways-out",) if name == "ute" else ()  # no kit of the shelf fits it
    answer = suggest(name, "--json", *options).answer
    return [*answer["kits"], *answer["closest"]]


def mm(text: str) -> float:
    return si(text) * 1000


def faults(brief: Tree, kit: Tree, joint: Tree) -> Iterator[str]:
    """Everything wrong with a joint's way."""
    points, hose = joint["route_mm"], shelf_part(joint["hose"])
    across = mm(hose["bore"]) + 2 * mm(hose["wall"])
    radius = mm(hose["bend_radius"]) + across / 2
    legs = list(pairwise(points))
    lengths = [math.dist(*leg) for leg in legs]
    if any(sum(a != b for a, b in zip(*leg, strict=True)) != 1 for leg in legs):
        yield "a leg that is not along one axis"
    elbows = sum(1 for piece in joint["through"] if shelf_part(piece).get("shape") == "elbow")
    bends = len(legs) - 1 - elbows
    if abs(joint["route_length_m"] * 1000 - (sum(lengths) - bends * (2 - math.pi / 2) * radius)) > 0.6:
        yield f"a length of {joint['route_length_m']} m"
    if any(length < 2 * radius - 0.01 for length in lengths[1:-1]):
        yield "no room for two bends between two turns"
    if elbows == 0 and min(lengths[0], lengths[-1]) < radius - 0.01:
        yield "no room for the bend before an end"
    places = {place["slot"]: place for place in kit["fit"]["placements"]}
    for end, point, inner in ((joint["from"], points[0], points[1]), (joint["to"], points[-1], points[-2])):
        if not starts_at(brief, kit, places[end.split(".")[0]], end, point, inner):
            yield f"it does not leave {end} as that end looks"
    for name, (low, high) in solids(brief, kit, joint["frame"], places[joint["from"].split(".")[0]]["zone"]):
        for k, (one, two) in enumerate(legs):
            # A hose is flat where it sits on its end: there it may touch what lies beside, not ahead.
            flat = {0: 0, len(legs) - 1: 1}.get(k)
            if within(one, two, low, high, across / 2, None if flat is None else (one, two)[flat]):
                yield f"leg {k} goes through {name}"


def starts_at(brief: Tree, kit: Tree, place: Tree, end: str, point: list[float], inner: list[float]) -> bool:
    """Whether a point lies on the face of a placed part that its end is on, as far from the part's own faces."""
    slot, _, name = end.partition(".")
    part = part_of(brief, place["part"])
    drawn = next(one for one in part["coolant"]["ends"] if one["name"] == name)
    size = {axis: math.ceil(mm(part["size"][axis]) - 1e-6) for axis in "xyz"}
    own = {axis: mm(at) for axis, at in drawn["at"].items()}
    own[drawn["face"][1]] = float(size[drawn["face"][1]]) if drawn["face"][0] == "+" else 0.0
    looks = faces_of(place["up"], place["front"])
    for k, side in enumerate(("back", "right", "top")):
        sign, axis = looks[side]
        off = own[axis] if sign == "+" else size[axis] - own[axis]
        if abs(point[k] - place["at_mm"][k] - off) > 0.01:
            return False
    step = [b - a for a, b in zip(point, inner, strict=True)]
    k = next(k for k in range(3) if step[k])
    side = (("front", "back"), ("left", "right"), ("floor", "top"))[k][step[k] > 0]
    return bool(looks[side] == drawn["face"]) and slot == place["slot"]


def faces_of(up: str, front: str) -> dict[str, str]:
    """Which face of a part looks to each side of the car: right is up × back, for x back, y right, z up."""
    vector = {sign + axis: [(1 if sign == "+" else -1) * (a == axis) for a in "xyz"] for axis in "xyz" for sign in "-+"}
    z, x = vector[up], [-v for v in vector[front]]
    y = [z[1] * x[2] - z[2] * x[1], z[2] * x[0] - z[0] * x[2], z[0] * x[1] - z[1] * x[0]]
    named = {tuple(v): name for name, v in vector.items()}
    sides = {"back": x, "right": y, "top": z}
    opposite = {"front": x, "left": y, "floor": z}
    return {side: named[tuple(v)] for side, v in sides.items()} | {
        side: named[tuple(-c for c in v)] for side, v in opposite.items()
    }


def solids(brief: Tree, kit: Tree, frame: str, zone: str) -> Iterator[tuple[str, Span]]:
    """Bodies and obstacles in the frame of a way."""
    for place in kit["fit"]["placements"]:
        if (frame == "car" and place["frame"] == "car") or (frame == "zone" and place["zone"] == zone):
            low = place["at_mm"]
            yield place["part"], (low, [a + b for a, b in zip(low, place["size_mm"], strict=True)])
    for obstacle in brief["bay"].get("obstacles", []):
        room = brief["bay"]["zones"][obstacle["in"]]
        at = room.get("at", {})
        placed = {"back", "right", "up"} <= set(at)
        if not (placed if frame == "car" else obstacle["in"] == zone):
            continue
        corner = [mm(at[key]) if frame == "car" else 0.0 for key in ("back", "right", "up")]
        off = KEEP_OFF_MM[obstacle["kind"]] if "clearance" not in obstacle else mm(obstacle["clearance"])
        off = off if obstacle["kind"] in ("hot", "moving") else 0.0
        low, high = [], []
        for k, (near, far, extent) in enumerate(
            (("front", "back", "deep"), ("left", "right", "wide"), ("floor", "top", "high"))
        ):
            gap = obstacle["from"]
            begin = mm(gap[near]) if near in gap else mm(room[extent]) - mm(gap[far]) - mm(obstacle[extent])
            low.append(corner[k] + begin - off)
            high.append(corner[k] + begin + mm(obstacle[extent]) + off)
        yield obstacle["name"], (low, high)


def within(
    one: list[float], two: list[float], low: list[float], high: list[float], by: float, flat: list[float] | None
) -> bool:
    """Whether a leg goes into a box that is thicker by half the hose, but not back of a flat end."""
    along = next(k for k in range(3) if one[k] != two[k])
    for k in range(3):
        begin, far = min(one[k], two[k]), max(one[k], two[k])
        more_low = more_high = by
        if k == along and flat is not None:
            more_low = 0.0 if flat[k] == far else by
            more_high = 0.0 if flat[k] == begin else by
        if far <= low[k] - more_low + 0.01 or begin >= high[k] + more_high - 0.01:
            return False
    return True


def ways(name: str) -> list[tuple[Tree, Tree]]:
    return [(kit, joint) for kit in kits(name) for joint in kit["joints"] if "route_mm" in joint]


@pytest.mark.parametrize("name", BRIEFS)
def test_every_way_is_sound(name: str) -> None:
    brief = brief_of(name)
    assert ways(name), "an example without a way shows nothing"
    for kit, joint in ways(name):
        assert list(faults(brief, kit, joint)) == [], (kit["rank"], joint["from"], joint["to"])


@pytest.mark.parametrize("name", BRIEFS)
def test_every_hose_has_its_way_or_the_reason(name: str) -> None:
    for kit in kits(name):
        for joint in kit["joints"]:
            told = {"route_mm", "route_length_m", "frame"} & set(joint)
            if joint["hose"] is None:
                assert not told and "not_routed" not in joint
            elif "not_routed" in joint:
                assert not told and joint["not_routed"] in ("no-place", "apart", "start", "finish", "between")
            else:
                assert len(told) == 3 and joint["frame"] in ("car", "zone")


def test_the_judge_notices_what_is_wrong() -> None:
    """A way a millimetre off its end, a leg aslant, a longer length, a body in its way, and bends too tight."""
    brief = brief_of("drag")
    kit, joint = ways("drag")[0]
    assert list(faults(brief, kit, joint)) == []
    for change in ("off", "aslant", "longer", "body", "tight"):
        bad_kit, bad = copy.deepcopy(kit), copy.deepcopy(joint)
        points = bad["route_mm"]
        if change == "off":
            bad["route_mm"] = [[x + 1, y, z] for x, y, z in points]
        elif change == "aslant":
            points[2] = [at + 5 for at in points[2]]
        elif change == "longer":
            bad["route_length_m"] += 0.01
        elif change == "body":
            middle = [(a + b) / 2 for a, b in zip(points[1], points[2], strict=True)]
            bad_kit["fit"]["placements"].append(
                {"part": "x", "slot": "x", "zone": "x", "frame": "car", "at_mm": middle, "size_mm": [1, 1, 1]}
            )
        else:
            points[1:1] = [points[0], points[0]]
            points[1] = [a + 0.05 * (b - a) for a, b in zip(points[0], points[3], strict=True)]
            points[2] = [a + 0.1 * (b - a) for a, b in zip(points[0], points[3], strict=True)]
        assert list(faults(brief, bad_kit, bad)), change


def test_cautions_tell_every_way_that_is_a_quarter_off() -> None:
    """Counted again: longer, shorter, and those that have room nowhere. Lengths are printed to the millimetre, so what
    is a quarter off within that may be told or not.
    """
    seen = set()
    for name in BRIEFS:
        for kit in kits(name):
            told = {caution["code"]: caution["text"] for caution in kit["cautions"]}
            wanted: dict[str, list[Tree]] = {"route-longer": [], "route-shorter": [], "no-route": []}
            unsure = set()
            for joint in kit["joints"]:
                if "route_length_m" in joint:
                    share = joint["route_length_m"] / joint["hose_length_m"]
                    code = "route-longer" if share > 1 else "route-shorter"
                    if abs(share - 1) > 0.2505:
                        wanted[code].append(joint)
                    elif abs(share - 1) > 0.2495:
                        unsure.add(code)
                if joint.get("not_routed") in ("start", "finish", "between"):
                    wanted["no-route"].append(joint)
            for code, joints in wanted.items():
                for joint in joints:
                    seen.add(code)
                    assert f"{joint['from']} to {joint['to']}".replace(".", " ") in told[code]
                assert joints or code in unsure or code not in told
    assert seen == {"route-longer", "route-shorter", "no-route"}


def test_the_examples_are_all_there() -> None:
    assert {path.stem for path in EXAMPLES.glob("*.yaml")} == {*BRIEFS, *NONE_LAID}
