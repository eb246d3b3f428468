"""Whole kits: the smallest clearance of their zones, what decides a "no", and heights that hang together across zones.

All cases are worked by hand in millimetres; the rules on heights are common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from configurator.fitting.kit_fit import fit_kit
from tests.fitting.drawn_cases import rich_kit
from tests.fitting.placement_checker import kit_faults
from tests.fitting.plain_cases import PlainCase, PlainPart, bay_of, kit_of
from tests.fitting.test_placing import BAY, THROUGH_FINS


def judged(cases: dict[str, PlainCase], **more):
    """A kit over some zones, judged."""
    items, needs = kit_of(cases)
    return fit_kit(bay_of(cases), items, needs=needs, **more)


def at_heights(tank: PlainPart, tank_room: int, pump: PlainPart, pump_room: int, drop: float) -> dict[str, PlainCase]:
    """A tank in a zone 600 mm above the ground, and a pump in one whose floor lies `drop` below that."""
    return {
        "high": PlainCase((100, 100, tank_room), (), (tank,), up=600),
        "low": PlainCase((100, 100, pump_room), (), (pump,), up=600 - drop),
    }


TANK = PlainPart("tank", (80, 80, 100), fronts=("-x",), filled=80)
PUMP = PlainPart("pump", (60, 60, 60), fronts=("-x",), inlet=(0, 30, 40))


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
    assert (undecided.decided, undecided.fits, undecided.misses) == (False, False, ("side",))
    no = fit_kit(BAY, (*crowd, ("exchanger", thick.rigid(), "nose")), node_limit=1)
    assert (no.decided, no.fits, no.misses, no.apart) == (True, False, ("nose", "side"), False)
    assert fit_kit(BAY, crowd).fits


def test_a_tank_that_stands_high_enough_where_it_stands_is_left_there():
    # The tank stands 10 mm up (20 of 100 across, two gaps of 10): its surface at 600 + 10 + 80 = 690. The pump stands
    # 20 mm up in its zone at 500: its inlet at 560, and with 100 mm over it 660.
    fit = judged(at_heights(TANK, 120, PUMP, 100, drop=100))
    assert (fit.decided, fit.fits, fit.clearance_mm, fit.apart) == (True, True, 10.0, False)
    assert [(p.part, p.at_mm[2]) for p in fit.placements] == [("tank", 10.0), ("pump", 20.0)]


def test_a_surface_level_with_what_must_lie_below_it_is_high_enough():
    # The pump has 1 mm under and over it: its inlet with 100 mm over it 141 above its floor, 51 below the tank's. The
    # surface stands 90 above that as the tank lies: level. To raise the tank would take room from it for nothing.
    fit = judged(at_heights(TANK, 120, PUMP, 62, drop=51))
    assert (fit.fits, fit.clearance_mm) == (True, 1.0)
    assert {p.part: p.at_mm[2] for p in fit.placements} == {"tank": 10.0, "pump": 1.0}


@pytest.mark.parametrize(
    ("drop", "clearance", "heights"),
    [
        # Tank t and pump p stand so high over their floors. The surface at t + 80 lies 100 over the inlet at p + 40,
        # from a floor `drop` lower: t >= p + 60 - drop. The tank's gap is the least of 10 across, t and 20 - t; the
        # pump's the least of 20 across, p and 40 - p.
        (70, 10.0, {"tank": 10.0, "pump": 20.0}),
        (69, 10.0, {"tank": 10.0, "pump": 19.0}),
        (65, 10.0, {"tank": 10.0, "pump": 15.0}),
        (60, 10.0, {"tank": 10.0, "pump": 10.0}),
        (55, 7.5, {"tank": 12.5, "pump": 7.5}),
        (50, 5.0, {"tank": 15.0, "pump": 5.0}),
        (40, 0.0, {"tank": 20.0, "pump": 0.0}),
    ],
)
def test_the_tank_is_raised_and_the_pump_lowered_where_that_leaves_most_room_round_both(drop, clearance, heights):
    fit = judged(at_heights(TANK, 120, PUMP, 100, drop=drop))
    assert (fit.decided, fit.fits, fit.clearance_mm) == (True, True, clearance)
    assert {p.part: p.at_mm[2] for p in fit.placements} == heights


def test_a_pump_a_millimetre_too_high_for_any_tank_decides_the_kit():
    fit = judged(at_heights(TANK, 120, PUMP, 100, drop=39))
    assert (fit.decided, fit.fits, fit.misses, fit.apart) == (True, False, ("high", "low"), True)
    assert judged(at_heights(TANK, 121, PUMP, 100, drop=39)).fits


def test_what_has_no_bleed_lies_under_the_surface_with_its_top():
    # A core 60 high on its floor at 600 - drop; the surface at 100 over 600 at most.
    core = PlainPart("core", (60, 60, 60), fronts=("-x",), bled_by=())
    assert judged(at_heights(TANK, 120, core, 60, drop=-40)).fits
    assert not judged(at_heights(TANK, 120, core, 60, drop=-41)).fits
    bled = replace(core, bled_by=("+z",))
    above = judged(at_heights(TANK, 120, bled, 60, drop=-400))
    assert {p.part: p.at_mm[2] for p in above.placements} == {"tank": 10.0, "core": 0.0}


def test_a_floor_between_half_millimetres_is_not_rounded_in_favour():
    assert judged(at_heights(TANK, 120, PUMP, 100, drop=40.25)).fits
    assert not judged(at_heights(TANK, 120, PUMP, 100, drop=39.75)).fits


def test_a_zone_whose_height_nobody_measured_is_left_out_of_heights():
    cases = at_heights(TANK, 120, PUMP, 100, drop=0)
    assert not judged(cases).fits
    for name in cases:
        assert judged({**cases, name: replace(cases[name], up=None)}).fits


def test_two_zones_below_are_each_held_to_the_same_surface():
    # The tank t up, an inlet p up in a zone `drop` lower: t >= p + 60 - drop. With 60 and 59 the second pump decides:
    # t = p + 1 and the gaps 20 - t and p are alike at 9.5. With 40 all stand against a wall: t = 20, p = 0.
    cases = at_heights(TANK, 120, PUMP, 100, drop=60)
    cases["third"] = replace(cases["low"], parts=(replace(PUMP, id="second"),), up=541)
    fit = judged(cases)
    assert fit.clearance_mm == 9.5
    assert {p.part: p.at_mm[2] for p in fit.placements} == {"tank": 10.5, "pump": 10.5, "second": 9.5}
    cases["third"] = replace(cases["third"], up=560)
    assert judged(cases).clearance_mm == 0.0
    cases["third"] = replace(cases["third"], up=561)
    assert judged(cases).misses == ("high", "third")
    assert judged({**cases, "low": replace(cases["low"], up=561)}).misses == ("high", "low", "third")


def test_where_nodes_run_out_the_kit_is_not_decided():
    cases = at_heights(TANK, 120, PUMP, 100, drop=0)
    crowded = replace(cases["low"], zone=(300, 100, 100), parts=(PUMP, *(replace(PUMP, id=f"p{k}") for k in (2, 3))))
    fit = judged({**cases, "low": crowded}, node_limit=2)
    assert (fit.decided, fit.fits) == (False, False)
    assert judged({**cases, "low": crowded}).decided


@pytest.mark.parametrize("seed", range(60))
def test_every_kit_over_two_zones_passes_the_independent_checker(seed):
    cases = rich_kit(seed, 120)
    fit = judged(cases)
    assert fit.decided
    if fit.fits:
        assert kit_faults(cases, fit.placements, fit.clearance_mm) == []


def test_the_draws_hold_kits_that_only_heights_keep_out():
    fits = [judged(rich_kit(seed, 120)) for seed in range(60)]
    assert sum(fit.fits for fit in fits) >= 15
    assert sum(not fit.fits and fit.apart for fit in fits) >= 5
