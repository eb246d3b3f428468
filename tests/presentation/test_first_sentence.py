"""The first sentence is of the kit that was asked for, on the screen as on the sheet."""

from __future__ import annotations

from tests.journeys.kitwright import Tree, example, suggest
from tests.presentation.sheets import plain, second, shelf
from tests.presentation.test_sheet import Page


def begins(kit: Tree) -> str:
    """How the sentence of a kit begins."""
    return f"Kit {kit['rank']}, {kit['price_cents'] / 100:,.2f}: keeps the charge to about "


def test_the_sheet_of_kit_2_begins_with_the_sentence_of_kit_2() -> None:
    """It told price, room and stock of kit 1 under the heading of kit 2."""
    for made, at in ((plain(), 0), (second(), 1)):
        kit = made.answer["kits"][at]
        said = Page(made.page).section("answer")
        assert begins(kit) in said and f"{kit['fit']['clearance_mm']:g} mm to spare" in said
        assert begins(made.answer["kits"][1 - at]) not in said


def test_the_screen_of_kit_2_begins_with_its_sentence_and_says_which_of_its_parts_is_to_be_ordered() -> None:
    """What the shelf has none of was told of kit 1 alone."""
    parts = shelf()
    first, other = suggest(example("hatch"), "--json", shelf=parts).kits
    for exchanger in parts["exchangers"]:
        exchanger["stock"] = 0 if exchanger["id"] in other["parts"]["exchanger"] else 3
    screens = [suggest(example("hatch"), *of, shelf=parts).out for of in ((), ("--kit", "2"))]
    said = [" ".join(screen.split("\n\n")[0].split()) for screen in screens]
    assert said[0].startswith(begins(first)) and "all in stock but the exchanger" not in said[0]
    assert said[1].startswith(begins(other)) and "all in stock but the exchanger" in said[1]
