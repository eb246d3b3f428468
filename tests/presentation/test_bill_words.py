"""Sums of money as they stand in a column, and litres of coolant that make up what is told of them."""

from __future__ import annotations

import pytest

from configurator.foundations.coolants import Coolant
from configurator.presentation.bill_words import bill_notes, money
from configurator.search.bill import coolant_lines


@pytest.mark.parametrize(
    ("cents", "currency", "words"),
    [(74362, "", "743.62"), (101400, "", "1,014.00"), (57600, "EUR", "576.00 EUR"), (0, "", "0.00")],
)
def test_every_sum_has_two_decimals(cents: int, currency: str, words: str) -> None:
    assert money(cents, currency) == words


def test_coolant_to_buy_is_one_figure_rounded_up() -> None:
    """15.34 L and 15 % are 17.641 L: 17.7 L to buy, and no second figure beside it."""
    (note,) = bill_notes(coolant_lines(Coolant("water", 0.0), 15.34, {}), 15.34)
    assert note == "L of coolant: the 15.3 L that the loop holds + 15 % to spare, rounded up: 17.7 L water"


@pytest.mark.parametrize(("litres", "share"), [(4.0, 0.35), (4.98, 0.5), (5.6, 0.2), (10.61, 0.2)])
def test_antifreeze_and_water_make_up_the_coolant_to_buy(litres: float, share: float) -> None:
    lines = coolant_lines(Coolant("ethylene glycol", share), litres, {})
    (note,) = bill_notes(lines, litres)
    whole = float(note.partition("rounded up = ")[2].partition(" L")[0])
    assert sum(line.quantity for line in lines) == pytest.approx(whole)
    assert 0.0 <= whole - litres * 1.15 < 0.1
    (in_short,) = bill_notes(lines[:1], litres)
    assert f"rounded up = {whole:g} L, of it {lines[0].quantity:g} L ethylene glycol" in in_short
