"""A value changed where it stands: the rest of the file byte for byte as it was."""

from __future__ import annotations

import difflib

import pytest

from configurator.files.edit_in_place import CannotEdit, Edit, edited
from configurator.files.read_yaml import read_text

HAND = """\
# My shelf.   Prices are net.


caps:   # two of them

  - id: cap-a      # the good one
    name:  "Wide cap: 'A'"
    price:   9.50   # since March
    # stock is counted on Fridays
    opens: 0.5 bar
    coolant: {working: 2 bar, ends: [{name: cap, form: neck, size: 45 mm, sex: female}]}

  - {id: cap-b, name: Narrow cap, price: 8, opens: 0.9 bar,  # braces
     coolant: {ends: [{name: cap, form: neck, size: 32 mm, sex: female}]}}
  -   price: 7
      id: cap-c
      stock: 3
      lead: 2 # days
"""


def changed(text: str, *edits: Edit) -> list[str]:
    """The lines that go and come, as `diff` has them."""
    new = edited(read_text(text, "x.yaml"), edits).text
    lines = difflib.unified_diff(text.splitlines(keepends=True), new.splitlines(keepends=True), n=0)
    return [line for line in lines if line[:2] not in ("--", "++", "@@")]


def test_a_value_is_replaced_between_its_marks() -> None:
    assert changed(HAND, Edit(("caps", 0), {"price": "10.25"}, "price")) == [
        "-    price:   9.50   # since March\n",
        "+    price:   10.25   # since March\n",
    ]


def test_a_missing_key_stands_behind_the_price_with_its_indent() -> None:
    assert changed(HAND, Edit(("caps", 0), {"stock": "4", "lead": "14"}, "price")) == [
        "+    stock: 4\n",
        "+    lead: 14\n",
    ]
    assert changed(HAND, Edit(("caps", 2), {"price": "1", "stock": "0", "lead": "5"}, "price")) == [
        "-  -   price: 7\n", "+  -   price: 1\n", "-      stock: 3\n", "-      lead: 2 # days\n",
        "+      stock: 0\n", "+      lead: 5 # days\n",
    ]  # fmt: skip


def test_inside_braces_it_stands_behind_the_value() -> None:
    assert changed(HAND, Edit(("caps", 1), {"price": "8.5", "stock": "2"}, "price")) == [
        "-  - {id: cap-b, name: Narrow cap, price: 8, opens: 0.9 bar,  # braces\n",
        "+  - {id: cap-b, name: Narrow cap, price: 8.5, stock: 2, opens: 0.9 bar,  # braces\n",
    ]


def test_several_entries_at_once_and_back_again() -> None:
    there = [Edit(("caps", n), {"price": str(n + 1)}, "price") for n in range(3)]
    back = [Edit(("caps", n), {"price": old}, "price") for n, old in enumerate(("9.50", "8", "7"))]
    new = edited(read_text(HAND, "x.yaml"), there).text
    assert new != HAND and edited(read_text(new, "x.yaml"), back).text == HAND


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_line_ends_stay_and_so_does_a_missing_last_one(newline: str) -> None:
    text = f"caps:{newline}- id: ä𝄞{newline}  price: 5"
    put = Edit(("caps", 0), {"price": "6", "stock": "1"}, "price")
    assert edited(read_text(text, "x"), [put]).text == f"caps:{newline}- id: ä𝄞{newline}  price: 6{newline}  stock: 1"
    put = Edit(("caps", 0), {"stock": "1"}, "price")
    assert edited(read_text(text + newline, "x"), [put]).text == f"{text}{newline}  stock: 1{newline}"


@pytest.mark.parametrize(
    "text",
    [
        "caps:\n- id: a\n  ? price\n  : 5\n  name: x\n",
        "caps:\n- {id: a, price: 5\n   , name: x}\n",
        "caps:\n- id: a\n  price:\n    5\n  name: x\n",
        "caps: [{id: a,\n  price: 5, # five\n  name: x}]\n",
    ],
)
def test_an_unusual_hand_is_edited_right_or_refused(text: str) -> None:
    """Whatever comes back says what was asked and nothing else."""
    document = read_text(text, "x")
    try:
        new = edited(document, [Edit(("caps", 0), {"price": "6", "stock": "2"}, "price")]).text
    except CannotEdit:
        return
    wanted = {"id": "a", "price": 6, "name": "x", "stock": 2}
    assert read_text(new, "x").data["caps"] == [wanted]


def test_an_entry_without_what_it_is_to_stand_behind_is_refused() -> None:
    with pytest.raises(CannotEdit, match="no 'price'"):
        edited(read_text("caps:\n- id: a\n", "x"), [Edit(("caps", 0), {"stock": "1"}, "price")])
