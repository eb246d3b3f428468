"""A box is judged in the layouts that its brief names alone: held against what `suggest` makes of the same parts."""

from __future__ import annotations

import pytest

from tests.journeys.checks import check, flowing
from tests.journeys.kitwright import Tree, all_kits, example, shelf_part, shipped

SINGLE = ["reservoir-1-round", "pump-40-small", "core-250-light", "exchanger-350-slim", "cap-32-0.5"]
TWO_CORES = [*SINGLE, "core-250-light"]
NAMES = {layout["id"]: layout["name"] for layout in shipped("layouts")}


def roomy(*layouts: str, outlets: int = 1) -> Tree:
    """The road car with room for two cores, and a brief that names layouts."""
    brief = example("road", layouts=list(layouts))
    brief["engine"]["charger_outlets"] = outlets
    zones = brief["bay"]["zones"]
    zones["gearbox"] |= {"wide": "420 mm", "high": "260 mm", "deep": "420 mm"}
    zones["wing"] |= {"wide": "300 mm", "high": "450 mm", "deep": "350 mm"}
    brief["limits"], brief["aim"] = {"price": 4000}, {"above_air": "60 K"}
    return brief


def judged(parts: list[str], brief: Tree) -> Tree:
    return check({"kit": "box", "parts": parts}, "--json", brief=brief).answer


def runs(joints: list[Tree]) -> set[tuple[str, str]]:
    return {(joint["from"], joint["to"]) for joint in joints if joint["hose"]}


@pytest.mark.parametrize(
    ("layout", "outlets", "parts"),
    [
        ("twin-cores-series", 2, TWO_CORES),
        ("twin-cores-parallel", 2, TWO_CORES),
        ("bypass", 1, SINGLE),
        ("bypass", 1, [*SINGLE, "valve-19"]),
        ("single", 1, [*SINGLE, "valve-19"]),
    ],
)
def test_a_box_is_joined_and_billed_as_the_kit_of_the_layout_that_the_brief_names(
    layout: str, outlets: int, parts: list[str]
) -> None:
    brief = roomy(layout, outlets=outlets)
    found = judged(parts, brief)
    assert found["outcome"] == "fits_together" and found["in_car"]["layout"] == layout
    assert found["layout"] == (None if layout == "single" else NAMES[layout])
    assert "pair" not in {row["about"] for row in found["assumed"]}
    wanted = {**brief, "wanted": [part for part in dict.fromkeys(parts) if not part.startswith(("cap", "valve"))]}
    kits = all_kits(wanted)
    kit = next(kit for kit in kits if kit["parts"].get("cap") == ["cap-32-0.5"])
    assert kit["layout"] == layout and runs(found["joints"]) == runs(kit["joints"])
    held = [part for part in parts if part != "valve-19" or layout == "bypass"]
    paid = sum(round(100 * shelf_part(part)["price"]) for part in held)
    assert paid + found["price_cents"] == kit["price_cents"]


def test_a_valve_that_the_brief_asks_for_and_the_box_lacks_is_to_be_bought() -> None:
    lines = {line["part"] for line in judged(SINGLE, roomy("bypass"))["to_buy"]}
    assert {"valve-19", "wye-19"} <= lines
    assert "valve-19" not in {line["part"] for line in judged(SINGLE, roomy())["to_buy"]}


def test_of_several_layouts_named_the_parts_say_which() -> None:
    both = roomy("single", "bypass")
    assert judged(SINGLE, both)["in_car"]["layout"] == "single"
    assert judged([*SINGLE, "valve-19"], both)["in_car"]["layout"] == "bypass"
    twins = judged(TWO_CORES, roomy("single", "twin-cores-series", outlets=2))
    assert twins["layout"] == NAMES["twin-cores-series"] and twins["layouts"] == [NAMES["twin-cores-series"]]


@pytest.mark.parametrize(
    ("parts", "layout", "lacks", "words"),
    [
        (SINGLE, "twin-cores-series", "core", "it wants one more core"),
        (SINGLE, "twin-exchangers-parallel", "exchanger", "it wants one more front exchanger"),
        ([part for part in SINGLE if "exchanger" not in part], "bypass", "exchanger", "it wants a front exchanger"),
    ],
)
def test_what_the_parts_lack_of_the_layout_that_the_brief_names_is_told(
    parts: list[str], layout: str, lacks: str, words: str
) -> None:
    box = {"kit": "box", "parts": parts}
    ran = check(box, "--json", brief=roomy(layout, outlets=2))
    (rule,) = ran.answer["unknown"]
    assert (ran.code, rule["rule"], rule["subjects"]) == (4, "part-missing", [lacks])
    assert rule["text"].endswith(words) and NAMES[layout] in rule["text"]
    assert ran.answer["broken"] == [] and ran.answer["in_car"]["parts"] is None
    assert ran.answer["commissioning"] is None
    assert f"without the missing {lacks}" in flowing(check(box, brief=roomy(layout, outlets=2)).out)


def test_two_that_differ_are_a_no_too_where_no_layout_of_the_brief_has_a_place_for_two() -> None:
    box = {"kit": "box", "parts": [*TWO_CORES[:-1], "core-175-short"]}
    ran = check(box, "--json", brief=roomy("bypass"))
    (rule,) = ran.answer["broken"]
    assert (ran.code, rule["rule"]) == (1, "no-layout") and rule["text"].endswith("no place for 1 of the 2 cores")


def test_a_part_for_which_no_layout_of_the_brief_has_a_place_is_a_no() -> None:
    for layout in ("bypass", "single"):
        ran = check({"kit": "box", "parts": TWO_CORES}, "--json", brief=roomy(layout))
        (rule,) = ran.answer["broken"]
        assert (ran.code, rule["rule"], rule["subjects"]) == (1, "no-layout", ["core"])
        assert rule["text"].endswith("it has no place for 1 of the 2 cores")
        assert ran.answer["in_car"]["parts"] is None
