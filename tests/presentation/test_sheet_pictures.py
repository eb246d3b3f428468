"""The zones on a sheet: a bay measured in inches is drawn as large as the same in millimetres, and as legibly."""

from __future__ import annotations

from itertools import combinations

import pytest

from configurator.brief.bay import Bay
from configurator.fitting.placing import Placement
from configurator.parts.kinds import Exchanger
from configurator.presentation.drawing import block_drawing
from configurator.presentation.drawing.facts import SheetFacts
from configurator.presentation.drawing.marks import Words, bounds_of
from configurator.presentation.drawing.scene import blocks_of
from configurator.presentation.sheet.pictures import zone_pictures
from tests.journeys.kitwright import shipped_part
from tests.presentation.drawn import by_hand, facts_of

SIZES = ("27 in", "8 in", "3 in"), ("685.8 mm", "203.2 mm", "76.2 mm")


def noses(count: int, sizes: tuple[str, str, str]) -> SheetFacts:
    """So many flat zones, each with an exchanger near a wall."""
    wide, high, deep = sizes
    zone = {"wide": wide, "high": high, "deep": deep, "open": ["back"], "takes": ["exchanger"]}
    exchanger = Exchanger.model_validate(shipped_part("exchanger-520-plain"))
    names = [f"nose {number}" for number in range(count)]
    placements = [
        Placement(exchanger.id, name, name, (12.0, 153.8, 0.0), (52, 520, 180), "+z", "-x", "zone") for name in names
    ]
    bay = Bay.model_validate({"zones": dict.fromkeys(names, zone)})
    return facts_of(blocks_of(bay, placements, dict.fromkeys(names, exchanger)))


@pytest.mark.parametrize("count", [1, 2, 3, 4])
def test_inches_are_drawn_at_the_scale_of_millimetres(count: int) -> None:
    """Three zones in inches came out at 1:50, those in millimetres at 1:20."""
    scales = [zone_pictures(noses(count, sizes))[0] for sizes in SIZES]
    assert scales[0] <= 20 and scales[1] <= scales[0]


@pytest.mark.parametrize("scale", [14, 35, 70])
@pytest.mark.parametrize("facts", [noses(1, SIZES[0]), by_hand(1, 2, unit="in"), by_hand(2, 3, unit="in")])
def test_no_figure_lies_on_the_title_of_its_view(scale: int, facts: SheetFacts) -> None:
    """A view narrower than its title had the highest figure of its dimension chain printed over it."""
    for block in facts.blocks:
        words = [mark for mark in block_drawing.drawn(block, scale, ()) if isinstance(mark, Words)]
        assert len([mark for mark in words if mark.look == "t strong"]) == 3
        for one, other in combinations(words, 2):
            (left, top, right, bottom), (from_left, from_top, to_right, to_bottom) = bounds_of(one), bounds_of(other)
            across = min(right, to_right) - max(left, from_left)
            down = min(bottom, to_bottom) - max(top, from_top)
            assert across < 0.1 or down < 0.5 or "t strong" not in (one.look, other.look), (one.text, other.text)
