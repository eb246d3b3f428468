"""The picture of a loop: words inside the paper and clear of each other, however the coolant parts."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from itertools import combinations

import pytest

from configurator.prediction.points import points_at_worst
from configurator.prediction.predict import predict
from configurator.prediction.stages import Stages
from configurator.presentation.sheet.loop_facts import LoopFacts, loop_facts
from configurator.presentation.sheet.schematic import loop_picture
from tests.prediction.test_twins import DRIVE, LAYOUTS, shipped

LETTER_EM = 0.6
"""A broad common sans-serif, from memory; bold letters are a tenth wider."""


def loop(stages: Stages) -> LoopFacts:
    made = shipped(stages)
    told = points_at_worst(predict(made.bench, made.columns, DRIVE), made.columns, DRIVE)
    return loop_facts(told, 1.1e5)


def boxes(picture: str) -> list[tuple[str, float, float, float, float]]:
    """Each text with left, top, right and bottom of its paper."""
    found = []
    for element in ET.fromstring(picture).iter("text"):
        style = re.search(r"font-size:([\d.]+)px", element.get("style", ""))
        size = float(style[1]) if style else 3.5
        said = element.text or ""
        wide = LETTER_EM * size * len(said) * (1.1 if "strong" in element.get("class", "") else 1.0)
        left = float(element.get("x", "")) - (wide / 2 if element.get("text-anchor") == "middle" else 0.0)
        base = float(element.get("y", ""))
        found.append((said, left, base - 0.72 * size, left + wide, base))
    return found


def outside(picture: str) -> list[str]:
    """Texts that run out of the viewBox."""
    _, _, wide, high = (float(side) for side in ET.fromstring(picture).get("viewBox", "").split())
    return [said for said, left, top, right, bottom in boxes(picture)
            if left < 0.0 or top < 0.0 or right > wide or bottom > high]  # fmt: skip


def test_words_that_run_out_are_noticed() -> None:
    picture = '<svg viewBox="0 0 10 10"><text x="1" y="5">a</text><text x="5" y="9">long words</text></svg>'
    assert outside(picture) == ["long words"]


@pytest.mark.parametrize("stages", LAYOUTS.values(), ids=LAYOUTS)
def test_no_word_runs_out_of_the_picture_or_lies_on_another(stages: Stages) -> None:
    """As predicted, and with more flow and heat than any kit of the shelf has."""
    told = loop(stages)
    most = replace(told, points=tuple(
        replace(point, flow=re.sub(r"^[\d.]+", "188.8", point.flow), pressure="+188.8 kPa", warmth="108 degC")
        for point in told.points
    ))  # fmt: skip
    for facts in (told, most):
        picture = loop_picture(facts, dict.fromkeys(("core", "exchanger", "pump", "reservoir"), "A part with a name"))
        assert outside(picture) == []
        clash = [(one[0], other[0]) for one, other in combinations(boxes(picture), 2)
                 if one[1] < other[3] and other[1] < one[3] and one[2] < other[4] and other[2] < one[4]]  # fmt: skip
        assert clash == []


@pytest.mark.parametrize("stages", LAYOUTS.values(), ids=LAYOUTS)
def test_where_the_coolant_parts_both_flows_stand_beside_the_hose(stages: Stages) -> None:
    told = loop(stages)
    said = " ".join(text for text, *_ in boxes(loop_picture(told, {})))
    for out, into in zip(told.points[::2], told.points[1::2], strict=True):
        assert (out.flow if out.flow == into.flow else f"{out.flow}, then {into.flow}") in said
