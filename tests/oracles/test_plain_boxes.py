"""The judge's plain packing: hand sums, and random rooms beside the program's own placing of one zone."""

from __future__ import annotations

from random import Random

from configurator.brief.bay import Bay
from configurator.fitting.placing import Surfaces, fit_zone
from configurator.parts.kinds import PART_KINDS
from configurator.search.needs import KitNeeds
from tests.oracles.plain_boxes import Solid, Space, Stance, goes_in, largest_gap
from tests.oracles.plain_zones import _space, _stances
from tests.oracles.random_briefs import bay
from tests.oracles.random_parts import core, exchanger, pump, reservoir

SHUT: frozenset[tuple[int, bool]] = frozenset()
UP = frozenset({(2, True)})
CUBE = Stance((Solid((0, 0, 0), (100, 100, 100)),))
TALL = Stance((*CUBE.solids, Solid((30, 30, 100), (70, 70, 150), "hose")))
"""A cube of 100 mm; the same with 50 mm of room before an end on its top."""


def test_gaps_of_cubes_by_hand() -> None:
    """Two cubes in a row of 230 share 30 mm as three gaps; beside a block of 20, 10 mm as two."""
    assert largest_gap(Space((230, 150, 150), SHUT, ()), ((CUBE,), (CUBE,))) == 20
    assert largest_gap(Space((130, 150, 150), SHUT, (((0, 0, 0), (20, 150, 150)),)), ((CUBE,),)) == 10
    assert largest_gap(Space((99, 150, 150), SHUT, ()), ((CUBE,),)) is None


def test_a_reach_needs_room_and_no_gap_and_leaves_by_an_open_side() -> None:
    assert largest_gap(Space((200, 200, 149), SHUT, ()), ((TALL,),)) is None
    assert largest_gap(Space((200, 200, 150), SHUT, ()), ((TALL,),)) == 0
    assert largest_gap(Space((200, 200, 160), SHUT, ()), ((TALL,),)) == 20
    assert largest_gap(Space((200, 200, 100), UP, ()), ((TALL,),)) == 0


def test_reaches_of_one_joint_may_lie_in_each_other() -> None:
    """One cube over the other, each with 50 mm of room towards the other: 250 mm for one hose, 300 mm for two."""
    down = Stance((*CUBE.solids, Solid((30, 30, -50), (70, 70, 0), "hose")))
    other = Stance((*CUBE.solids, Solid((30, 30, -50), (70, 70, 0), "another")))
    for upper, high in ((down, 250), (other, 300)):
        assert goes_in(Space((100, 100, high), SHUT, ()), ((TALL,), (upper,)), 0)
        assert not goes_in(Space((100, 100, high - 1), SHUT, ()), ((TALL,), (upper,)), 0)


def test_what_hangs_below_a_surface_stands_low_enough() -> None:
    """A tank filled to 80 of 100 mm; a pump that needs the surface 150 mm above its floor."""
    tank, sump = Stance(CUBE.solids, level=80), Stance(CUBE.solids, below=150)
    assert goes_in(Space((200, 100, 170), SHUT, ()), ((tank,), (sump,)), 0)
    assert not goes_in(Space((200, 100, 169), SHUT, ()), ((tank,), (sump,)), 0)
    assert goes_in(Space((100, 100, 100), SHUT, ()), ((sump,),), 0, 300)
    assert not goes_in(Space((100, 100, 100), SHUT, ()), ((sump,),), 0, 299)
    assert goes_in(Space((100, 100, 170), SHUT, ()), ((tank,),), 0, None, 300)
    assert not goes_in(Space((100, 100, 170), SHUT, ()), ((tank,),), 0, None, 301)


def test_random_zones_beside_the_program() -> None:
    """Up to three parts, none of them joined, so that hands over caps and pipes on cores are the reaches."""
    found = {None: 0, 0: 0, 1: 0}
    for seed in range(400):
        r = Random(f"boxes {seed}")
        drawn = bay(r)
        if isinstance(drawn, str):
            continue
        zones = Bay.model_validate(drawn)
        name = r.choice(list(zones.zones))
        some = r.sample((core, exchanger, pump, reservoir), r.choice((1, 2, 2, 3)))
        parts = {}
        for make in some:
            written = make(r, make.__name__)
            written["size"] = {k: f"{int(v.split()[0]) // 2} mm" for k, v in written["size"].items()}
            for end in (*written["coolant"]["ends"], *written.get("charge", {"ends": []})["ends"]):
                end["at"] = {k: f"{int(v.split()[0]) // 2} mm" for k, v in end["at"].items()}
            parts[make.__name__] = PART_KINDS[written["kind"]].model_validate(written)
        heights = (r.randint(100, 600), r.randint(100, 500))
        surface, raised = r.choice(((None, None), (None, None), (heights[0], None), (None, heights[1])))
        needs = KitNeeds(lambda part: None).of(parts, ())  # type: ignore[arg-type, return-value]
        zone = zones.zones[name].model_copy(update={"way_in": None})
        given = fit_zone(
            zones, name, tuple(parts.items()), clearance_cap_mm=25.0, needs=needs,
            surfaces=Surfaces(surface, raised),
        )  # fmt: skip
        bodies = tuple(_stances(zone, part, ()) for part in parts.values())
        space = _space(zones, name)
        assert given.state in ("fits", "does not fit")
        gap = None if given.clearance_mm is None else round(2 * given.clearance_mm)
        for asked in ({0} if gap is None else {gap, min(gap + 1, 50)}):
            wanted = gap is not None and asked <= gap
            assert goes_in(space, bodies, asked, surface, raised) == wanted, (seed, name, gap, asked)
        found[None if gap is None else min(gap, 1)] += 1
    assert found[None] >= 40 and found[0] >= 1 and found[1] >= 100, found
