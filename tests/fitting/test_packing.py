"""The search itself: rigid groups of boxes, and the node count that is its only stop."""

from __future__ import annotations

from configurator.fitting.packing import pack
from configurator.fitting.room import Room
from configurator.fitting.turns import ALL_TURNS, Posture, Solid
from configurator.foundations.boxes import Box

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
