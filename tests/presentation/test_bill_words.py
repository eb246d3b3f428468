"""Sums of money as they stand in a column."""

from __future__ import annotations

import pytest

from configurator.presentation.bill_words import money


@pytest.mark.parametrize(
    ("cents", "currency", "words"),
    [(74362, "", "743.62"), (101400, "", "1,014.00"), (57600, "EUR", "576.00 EUR"), (0, "", "0.00")],
)
def test_every_sum_has_two_decimals(cents: int, currency: str, words: str) -> None:
    assert money(cents, currency) == words
