"""The search itself: rigid groups of boxes, and the node count that is its only stop."""

from __future__ import annotations

from dataclasses import replace

from configurator.fitting.packing import may_pack, pack
from configurator.fitting.placing import fit_zone
from configurator.fitting.room import Room
from configurator.fitting.turns import ALL_TURNS, Posture, Solid
from configurator.foundations.boxes import Box
from tests.fitting.placement_checker import faults
from tests.fitting.plain_cases import FACES, PlainCase, PlainPart, PlainReach

ALL_ROUND = (True,) * 6


def group(*boxes: Box) -> tuple[Posture, ...]:
    """A body of several boxes that may not be turned."""
    size = tuple(max(box.high[k] for box in boxes) for k in range(3))
    return (Posture(ALL_TURNS[0], size, tuple(Solid(box, ALL_ROUND) for box in boxes)),)


def test_two_angled_bodies_lock_into_each_other():
    # By hand, seen from above: an L of two arms 10 wide and 30 long, and the same L turned half round, lie in
    # 30 x 40 (the second 10 mm, 20 half millimetres, on) where their outlines of 30 x 30 would need 30 x 60.
    ell = group(Box((0, 0, 0), (30, 10, 10)), Box((0, 0, 0), (10, 30, 10)))
    turned = group(Box((0, 20, 0), (30, 30, 10)), Box((20, 0, 0), (30, 30, 10)))
    found = pack(Room((30, 40, 10), ()), (ell, turned), 0, 1000)
    assert (found.state, found.corners) == ("fits", ((0, 0, 0), (0, 20, 0)))
    assert pack(Room((30, 39, 10), ()), (ell, turned), 0, 1000).state == "does not fit"
    blocks = (group(Box((0, 0, 0), (30, 30, 10))),) * 2
    assert pack(Room((30, 59, 10), ()), blocks, 0, 1000).state == "does not fit"
    assert pack(Room((30, 60, 10), ()), blocks, 0, 1000).state == "fits"


def test_a_group_keeps_its_gap_with_every_box():
    # With 5 mm (10 half millimetres) to the walls the arms lie at 5 to 15 mm, 10 mm from the block.
    ell = group(Box((0, 0, 0), (30, 10, 10)), Box((0, 0, 0), (10, 30, 10)))
    found = pack(Room((40, 40, 20), (Box((25, 25, 0), (35, 35, 20)),)), (ell,), 1000, 1000)
    assert (found.gap, found.corners) == (10, ((10, 10, 10),))


def test_more_volume_than_the_room_has_is_seen_before_any_search():
    found = pack(Room((30, 30, 10), ()), (group(Box((0, 0, 0), (30, 20, 10))),) * 2, 0, 1000)
    assert (found.state, found.nodes) == ("does not fit", 0)


def test_six_parts_of_24_turns_each_are_placed_without_trying_every_choice_of_turns():
    # 24 turns of each of six are 191 million choices: no search that begins with all of them would end. Where nodes
    # run out among placements of the same clearance, the clearance still stands.
    reach = PlainReach("a to b", "in", (5, -12, 7), (15, 0, 19))
    parts = tuple(PlainPart(f"p{k}", (30 + k, 40, 50), ups=FACES, reaches=(reach,)) for k in range(6))
    case = PlainCase((300, 200, 160), (), parts)
    fit = fit_zone(case.bay(), "hole", case.items(), 2000, clearance_cap_mm=10, needs=case.needs())
    assert (fit.state, fit.clearance_mm, faults(case, fit.placements, 10)) == ("fits", 10.0, [])
    flat = replace(case, zone=(300, 200, 34))
    assert fit_zone(flat.bay(), "hole", flat.items(), 2000, needs=case.needs()).state == "does not fit"


def test_what_may_go_in_is_all_but_what_does_not_whatever_the_nodes():
    blocks = (group(Box((0, 0, 0), (30, 30, 10))), group(Box((0, 0, 0), (30, 30, 20))))
    states = set()
    for deep, nodes in ((59, 1000), (60, 1000), (60, 1), (59, 0), (20, 1000)):
        room = Room((30, deep, 20), ())
        state = pack(room, blocks, 0, nodes).state
        states.add(state)
        assert may_pack(room, blocks, nodes) == (state != "does not fit")
    assert states == {"fits", "not decided", "does not fit"}
