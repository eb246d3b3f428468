"""What lies in a box against what the brief of its car says: judged all the same, and said so."""

from __future__ import annotations

from tests.journeys.checks import check, kit_file
from tests.journeys.kitwright import Tree, example

OTHER_FRONT = "exchanger-700-broad"


def car(**changes: Tree | list[str] | list[Tree]) -> Tree:
    return {**example("hatch"), **changes}


def assumed(brief: Tree) -> str:
    return " ".join(row["text"] for row in check(kit_file("good"), "--json", brief=brief).answer["assumed"])


def test_a_part_of_the_box_in_the_place_of_one_that_stays_is_told() -> None:
    """`suggest` keeps what is fitted; a box with another of its kind would have replaced it without a word."""
    brief = car(own=[{"id": OTHER_FRONT, "fitted": True}])
    assert f"[{OTHER_FRONT}] stays in the car, as the brief says: that of the box takes its place" in assumed(brief)
    assert "takes its place" not in assumed(car())


def test_a_part_of_the_box_that_the_brief_does_not_want_is_told() -> None:
    held = kit_file("good")["parts"][0]
    assert "the brief does not want" in assumed(car(without=[held]))
    assert "the brief does not want" not in assumed(car())


def test_a_stated_cap_that_is_refused_is_not_to_be_brought_and_another_is_named() -> None:
    box = {**kit_file("good"), "cap": "7 psi"}
    box["parts"] = [part for part in box["parts"] if "cap" not in part and "reservoir" not in part]
    ran = check({**box, "parts": [*box["parts"], "reservoir-6-vented"]}, "--json")
    told = next(verdict["text"] for verdict in ran.answer["broken"] if "vented" in verdict["text"])
    assert "fit one such as 'cap-45-vented' (vented)" in told
    assert not any("cap that opens" in line["item"] for line in ran.answer["to_buy"])
