"""Placing parts in zones: cases worked by hand, and small cases against trying every place."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest

from configurator.brief.bay import Bay
from configurator.fitting.placing import alone, fit_kit, fit_zone
from tests.fitting.placement_checker import allowed, faults, turned_size
from tests.fitting.plain_cases import FACES, PlainCase, PlainPart, longer_by_one, random_case

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
    misses = alone(BAY, "nose", PlainPart("thick", (61, 400, 140), fronts=THROUGH_FINS).rigid())
    assert (misses.state, misses.miss_mm, misses.set_by) == ("does not fit", 1, ("thick", "wall back"))


def test_the_miss_is_that_of_the_best_turn():
    # 470 across or 470 up: 10 mm over the width, 320 mm over the height.
    part = PlainPart("long", (60, 470, 140), ups=FACES, fronts=THROUGH_FINS).rigid()
    assert (alone(BAY, "nose", part).miss_mm, alone(BAY, "nose", part).set_by) == (10, ("long", "wall right"))


def test_an_obstacle_in_the_way_is_named_where_the_walls_alone_would_do():
    fit = alone(BAY, "bulkhead", PlainPart("broad", (230, 200, 130), fronts=("-x",)).rigid())
    assert (fit.state, fit.miss_mm, fit.set_by) == ("does not fit", None, ("broad", "brake cylinder"))


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
    assert alone(bay, "hole", PlainPart("a", (room + 1, 100, 100), fronts=("-x",)).rigid()).set_by == ("a", "block")


def test_distances_from_the_far_walls_and_fractions_are_rounded_against_the_part():
    bay = Bay.model_validate({
        "zones": {"hole": {"deep": "100.9 mm", "wide": "50 mm", "high": "50 mm", "takes": ["pump"]}},
        "obstacles": [{"name": "block", "in": "hole", "kind": "plain", "deep": "9.5 mm", "wide": "50 mm",
                       "high": "50 mm", "from": {"back": "0 mm", "left": "0 mm", "floor": "0 mm"}}],
    })
    # Its near face is at 100.9 - 9.5 = 91.4 mm: 91 mm are free in whole millimetres.
    assert alone(bay, "hole", PlainPart("a", (91, 50, 50), fronts=("-x",)).rigid()).state == "fits"
    assert alone(bay, "hole", PlainPart("a", (92, 50, 50), fronts=("-x",)).rigid()).state == "does not fit"


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


def test_a_kit_takes_the_smallest_clearance_of_its_zones():
    core, front = PlainPart("core", (230, 150, 130)), PlainPart("front", (56, 400, 140), fronts=THROUGH_FINS)
    items = (("core", core.rigid(), "bulkhead"), ("exchanger", front.rigid(), "nose"))
    fit = fit_kit(BAY, items)
    assert (fit.decided, fit.fits, fit.clearance_mm, fit.misses) == (True, True, 2.0, ())
    assert fit.set_by == ("front", "wall back")
    assert [placed.part for placed in fit.placements] == ["front", "core"]


def test_one_zone_that_does_not_fit_decides_the_kit():
    thick = PlainPart("front", (61, 400, 140), fronts=THROUGH_FINS)
    crowd = tuple((f"slot {k}", PlainPart(f"t{k}", (100, 90, 80 + k)).rigid(), "side") for k in range(3))
    undecided = fit_kit(BAY, crowd, node_limit=1)
    assert (undecided.decided, undecided.fits, undecided.misses[0][1].state) == (False, False, "not decided")
    no = fit_kit(BAY, (*crowd, ("exchanger", thick.rigid(), "nose")), node_limit=2)
    assert (no.decided, no.fits) == (True, False)
    assert ("nose", 1) in [(zone, fit.miss_mm) for zone, fit in no.misses]


def every_place(case: PlainCase):
    """Largest clearance in half millimetres and the smallest corners at it, by trying every half millimetre."""
    found = []
    turns = [[(order, looks) for order, looks in enumerate(allowed(part))] for part in case.parts]
    for chosen in product(*turns):
        bodies = []
        for part, (_, looks) in zip(case.parts, chosen, strict=True):
            size = np.array(turned_size(part, looks)) * 2
            spans = [np.arange(2 * case.zone[k] - size[k] + 1) for k in range(3)]
            if any(len(span) == 0 for span in spans):
                break
            low = np.array(list(product(*spans)))
            gap = np.minimum(low.min(1), (2 * np.array(case.zone) - low - size).min(1))
            for near, far in case.obstacles:
                sides = [2 * np.array(near) - low - size, low - 2 * np.array(far)]
                gap = np.minimum(gap, np.maximum(sides[0].max(1), sides[1].max(1)))
            bodies.append((low, size, gap))
        if len(bodies) < len(case.parts):
            continue
        low, size, gap = bodies[0]
        if len(bodies) == 2:
            other, other_size, other_gap = bodies[1]
            apart = np.maximum(other[None] - (low + size)[:, None], low[:, None] - (other + other_size)[None]).max(2)
            gaps = np.minimum(np.minimum(gap[:, None], other_gap[None]), apart)
            best = gaps.max()
            i, j = np.unravel_index(int(gaps.argmax()), gaps.shape)
            corners = (*low[i], *other[j])
        else:
            best, corners = gap.max(), tuple(low[int(gap.argmax())])
        if best >= 0:
            found.append((-int(best), tuple(int(value) for value in corners)))
    return min(found, default=None)


@pytest.mark.parametrize("seed", range(60))
def test_clearance_and_corners_equal_trying_every_place(seed):
    case = random_case(seed, 2, 7, cut=seed % 4 == 0)
    case = longer_by_one(case) if seed % 8 == 0 else case
    case = PlainCase(case.zone, case.obstacles, tuple(PlainPart(p.id, p.size, p.ups, p.fronts) for p in case.parts))
    fit = fit_zone(case.bay(), "hole", case.items())
    truth = every_place(case)
    if truth is None:
        assert fit.state == "does not fit"
        return
    corners = tuple(round(2 * value) for placed in fit.placements for value in placed.at_mm)
    assert (fit.clearance_mm * 2, corners) == (-truth[0], truth[1])


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
