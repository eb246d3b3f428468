"""Kits with twins, checked again from the JSON alone; and which layouts a brief can host."""

from __future__ import annotations

from collections import Counter
from functools import cache
from typing import Any

import pytest

from tests.journeys.kitwright import Run, Tree, example, shipped, shipped_part, small_shelf, suggest

TWINS = {
    "twin-exchangers-parallel": ("exchanger", True),
    "twin-exchangers-series": ("exchanger", False),
    "twin-cores-parallel": ("core", True),
    "twin-cores-series": ("core", False),
}
RUNS = {
    "twin-exchangers-parallel": [
        ("reservoir", "pump"), ("pump", "core"), ("core", "wye-1"), ("wye-1", "exchanger-1"), ("wye-1", "exchanger-2"),
        ("exchanger-1", "wye-2"), ("exchanger-2", "wye-2"), ("wye-2", "reservoir"),
    ],
    "twin-exchangers-series": [
        ("reservoir", "pump"), ("pump", "core"), ("core", "exchanger-1"), ("exchanger-1", "exchanger-2"),
        ("exchanger-2", "reservoir"),
    ],
    "twin-cores-parallel": [
        ("reservoir", "pump"), ("pump", "wye-1"), ("wye-1", "core-1"), ("wye-1", "core-2"), ("core-1", "wye-2"),
        ("core-2", "wye-2"), ("wye-2", "exchanger"), ("exchanger", "reservoir"),
    ],
    "twin-cores-series": [
        ("reservoir", "pump"), ("pump", "core-1"), ("core-1", "core-2"), ("core-2", "exchanger"),
        ("exchanger", "reservoir"),
    ],
}  # fmt: skip

CHARGE_OF_TWO = [
    ("engine", "charge-wye-in"), ("charge-wye-in", "core-1"), ("charge-wye-in", "core-2"),
    ("core-1", "charge-wye-out"), ("core-2", "charge-wye-out"), ("charge-wye-out", "engine"),
]  # fmt: skip
"""Half of the charge goes through each of two cores, whether the coolant meets them together or in turn."""


def shelf(**more: Any) -> Tree:
    """Few parts that go into the roadster, with every wye."""
    return small_shelf(
        cores=[shipped_part("core-175-short"), shipped_part("core-210-short")],
        exchangers=[shipped_part("exchanger-170-tall"), shipped_part("exchanger-380-slim")],
        pumps=[shipped_part("pump-40-small"), shipped_part("pump-46-small")],
        reservoirs=[shipped_part("reservoir-0.7-bottle")],
        wyes=shipped("wyes"),
        **more,
    )


@cache
def asked(*layouts: str) -> Run:
    """The roadster with pipe bores and easy limits, asked for some layouts; two cores have room beside each other."""
    brief = example(
        "roadster", aim={"charge_air": "120 degC"}, limits=None, layouts=list(layouts),
        engine__charger_outlet="57 mm", engine__throttle="57 mm", bay__zones__engine__wide="420 mm",
    )  # fmt: skip
    return suggest(brief, "--json", "--all-variants", "--top", "1000", shelf=shelf())


def answered(**changes: Any) -> Run:
    """The roadster on the small shelf, changed."""
    brief = example("roadster", limits=None, **changes)
    return suggest(brief, "--json", "--all-variants", "--top", "1000", shelf=shelf())


@pytest.mark.parametrize("layout", TWINS)
def test_twins_are_two_of_the_same_part_in_places_of_their_own(layout: str) -> None:
    kind, _ = TWINS[layout]
    kits = asked(layout).kits
    assert kits
    for kit in kits:
        assert kit["layout"] == layout
        one, other = kit["parts"][kind]
        assert one == other
        boxes = {}
        for place in kit["fit"]["placements"]:
            corner, size = place["at_mm"], place["size_mm"]
            boxes[place["slot"]] = [(low, low + long) for low, long in zip(corner, size, strict=True)]
        assert {f"{kind}-1", f"{kind}-2"} <= set(boxes)
        first, second = boxes[f"{kind}-1"], boxes[f"{kind}-2"]
        apart = any(a[1] <= b[0] or b[1] <= a[0] for a, b in zip(first, second, strict=True))
        assert apart, kit["fit"]["placements"]


@pytest.mark.parametrize("layout", TWINS)
def test_every_branch_has_its_joint(layout: str) -> None:
    kind, parallel = TWINS[layout]
    wyes = {wye["id"]: wye["medium"] for wye in shipped("wyes")}
    for kit in asked(layout).kits:
        names = [(joint["from"].split(".")[0], joint["to"].split(".")[0]) for joint in kit["joints"]]
        coolant = [pair for pair, joint in zip(names, kit["joints"], strict=True) if joint["hose"]]
        assert coolant == RUNS[layout]
        held = Counter(wyes[piece] for joint in kit["joints"] for piece in joint["through"] if piece in wyes)
        assert held == Counter(coolant=2 if parallel else 0, charge=2 if kind == "core" else 0)
        ends = Counter((joint["hose"] is None, joint[side]) for joint in kit["joints"] for side in ("from", "to"))
        assert set(ends.values()) == {1}, "an end is joined once"
        around = [pair for pair, joint in zip(names, kit["joints"], strict=True) if not joint["hose"]]
        assert around == (CHARGE_OF_TWO if kind == "core" else [("engine", "core"), ("core", "engine")])


@pytest.mark.parametrize("layout", TWINS)
def test_prices_mass_and_energy_add_up(layout: str) -> None:
    prices = {part["id"]: part for section in shelf().values() for part in section}
    kind, parallel = TWINS[layout]
    for kit in asked(layout).kits:
        assert sum(line["price_cents"] for line in kit["lines"]) == kit["price_cents"]
        twin = kit["parts"][kind][0]
        lines = [line for line in kit["lines"] if line["part"] == twin]
        assert sum(line["price_cents"] for line in lines) == 2 * round(prices[twin]["price"] * 100)
        assert sum(line["quantity"] for line in kit["lines"] if (line["part"] or "").startswith(("wye-", "tee-"))) == (
            2 if parallel else 0
        )
        of_charge = [line for line in kit["lines"] if (line["part"] or "").startswith("charge-wye-")]
        assert sum(line["quantity"] for line in of_charge) == (2 if kind == "core" else 0)
        assert kit["energy"]["closure"] < 1e-9


def test_to_swap_twins_side_by_side_is_no_other_kit_and_in_series_it_is() -> None:
    zones = {}
    for layout in ("twin-exchangers-parallel", "twin-exchangers-series"):
        zones[layout] = {(kit["zones"]["exchanger-1"], kit["zones"]["exchanger-2"]) for kit in asked(layout).kits}
    assert zones == {
        "twin-exchangers-parallel": {("left", "right")},
        "twin-exchangers-series": {("left", "right"), ("right", "left")},
    }


def test_layouts_asked_for_together_are_those_asked_for_apart() -> None:
    both = asked("twin-exchangers-parallel", "twin-exchangers-series")
    apart = [kit for layout in list(TWINS)[:2] for kit in asked(layout).kits]
    assert both.answer["counts"]["kits_kept"] == len(apart)
    told = Counter((kit["layout"], kit["price_cents"], kit["thermal"]["margin_k"]) for kit in both.kits)
    assert told == Counter((kit["layout"], kit["price_cents"], kit["thermal"]["margin_k"]) for kit in apart)


def hosted(**changes: Any) -> set[str]:
    """The layouts of all kits listed, whether they meet the aim or not."""
    answer = answered(aim={"charge_air": "150 degC"}, **changes).answer
    return {kit["layout"] for kit in (*answer["kits"], *answer["closest"])}


@pytest.mark.parametrize(
    ("changes", "layouts"),
    [
        ({}, {"single", "twin-exchangers-parallel", "twin-exchangers-series"}),
        ({"layouts": ["single"]}, {"single"}),
        ({"without": ["exchanger"]}, {"single"}),
        ({"bay__zones__right__takes": ["reservoir"]}, {"single"}),
        ({"own": ["exchanger-170-tall"]}, {"single"}),
        ({"own": [{"id": "exchanger-170-tall", "fitted": True}]}, {"single"}),
        (
            {"engine__charger_outlets": 2, "bay__zones__engine__wide": "420 mm"},
            {"single", *TWINS},
        ),
        ({"layouts": ["single"], "engine__charger_outlets": 2}, {"single"}),
    ],
)
def test_layouts_that_a_brief_can_host(changes: dict[str, Any], layouts: set[str]) -> None:
    assert hosted(**changes) == layouts


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"layouts": ["twin-exchangers-series"], "without": ["exchanger"]}, "twin-exchangers-series need two parts"),
    ],
)
def test_a_layout_that_cannot_be_is_said(changes: dict[str, Any], words: str) -> None:
    run = answered(**changes)
    assert (run.code, run.answer["outcome"]) == (1, "no_kit")
    assert run.answer["conflict"]["rules"] == ["layout"]
    assert words in run.answer["conflict"]["text"]


def test_an_unknown_layout_is_a_problem_of_the_brief() -> None:
    run = answered(layouts=["twin-exchanger-series"])
    assert run.code == 3
    (problem,) = run.answer["problems"]
    assert problem["key"] == "layouts[0]"
    assert "did you mean 'twin-exchangers-series'" in problem["text"]


def layout_of(loop: list[Any]) -> Tree:
    """A layout of one of each in some order."""
    slots = [{"slot": kind, "kind": kind, "least": 1, "most": 1} for kind in ("reservoir", "pump", "core", "exchanger")]
    slots.append({"slot": "cap", "kind": "cap", "least": 0, "most": 1, "path": "on reservoir"})
    return {"id": "mine", "name": "mine", "slots": slots, "loop": loop}


def with_layout(loop: list[Any], *options: str) -> Run:
    brief = example("roadster", limits=None, aim={"charge_air": "150 degC"})
    return suggest(brief, "--json", "--all-variants", "--top", "1000", *options, shelf=shelf(layouts=[layout_of(loop)]))


def test_a_layout_of_ones_own_with_the_exchanger_first() -> None:
    run = with_layout(["reservoir", "pump", "exchanger", "core"])
    assert run.code == 0
    order = [("reservoir", "pump"), ("pump", "exchanger"), ("exchanger", "core"), ("core", "reservoir")]
    for kit in run.kits:
        assert kit["layout"] == "mine"
        names = [(joint["from"].split(".")[0], joint["to"].split(".")[0]) for joint in kit["joints"]]
        assert names == order
        assert kit["energy"]["closure"] < 1e-9


@pytest.mark.parametrize(
    ("loop", "words"),
    [
        (["reservoir", "core", "pump", "exchanger"], "the pump is fed by core"),
        (["pump", "reservoir", "core", "exchanger"], "the reservoir lies on the pump's outlet"),
        (["reservoir", "pump", ["core", "exchanger"]], "lie side by side"),
    ],
)
def test_a_flow_order_that_harms_is_refused_when_the_catalogue_is_read(loop: list[Any], words: str) -> None:
    run = with_layout(loop)
    assert run.code == 3
    assert any(words in problem["text"] for problem in run.answer["problems"])
