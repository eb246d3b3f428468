"""Sums of money as they stand in a column, and litres of coolant that make up what is told of them."""

from __future__ import annotations

import pytest

from configurator.foundations.coolants import Coolant
from configurator.presentation.bill_words import bill_notes, money
from configurator.search.bill import Line, coolant_lines


@pytest.mark.parametrize(
    ("cents", "currency", "words"),
    [(74362, "", "743.62"), (101400, "", "1,014.00"), (57600, "EUR", "576.00 EUR"), (0, "", "0.00")],
)
def test_every_sum_has_two_decimals(cents: int, currency: str, words: str) -> None:
    assert money(cents, currency) == words


@pytest.mark.parametrize(
    ("longer_m", "beyond", "words"),
    [
        (0.0, False, "rounded up"),
        (0.04, False, "rounded up"),
        (0.43, False, "rounded up; as routed 0.4 m more, out of what is for cutting"),
        (1.2, True, "rounded up; as routed 1.2 m more, told on a line of its own"),
    ],
)
def test_the_metres_of_hose_are_not_told_as_enough_where_its_ways_are_longer(
    longer_m: float, beyond: bool, words: str
) -> None:
    """A hose of 0.5 m was routed 0.93 m, and the note under the bill said that all runs are in it."""
    lines = [Line("hose", "h", 5.5, "m", 100, "coolant side")]
    if beyond:
        lines.append(Line("more h as routed, not in the price: 1.00", None, 0.7, "m", 0, "coolant side", True))
    (note,) = bill_notes(lines, None, longer_m)
    assert note.endswith(words)


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
