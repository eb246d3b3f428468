"""What a looser limit lets in, besides a kit: how near boiling its coolant comes."""

from __future__ import annotations

import math

import pytest

from configurator.search.loosening import Limit, Wanting, boil_margin_of, looser_limits

LIMITS = {"aim": Limit("aim", 75.0, "degC", 1), "price": Limit("price", 900.0, "money", 1)}
KITS = (
    Wanting({"aim": 122}, 0.4),
    Wanting({"aim": 122}, 14.0),
    Wanting({"aim": 125}, 0.1),
    Wanting({"price": 950}, 30.0),
    Wanting({"aim": 90, "price": 950}, 0.2),
)


@pytest.mark.parametrize(("code", "steps", "margin_k"), [("aim", 122.0, 0.4), ("price", 950.0, 30.0)])
def test_the_hottest_coolant_of_the_kits_that_a_way_lets_in_counts(code: str, steps: float, margin_k: float) -> None:
    """Neither a kit that needs a larger change counts, nor one that needs another limit besides."""
    (way,) = (changes for changes in looser_limits(LIMITS, KITS) if changes[0].what == code)
    assert way[0].after == steps
    assert boil_margin_of(way, LIMITS, KITS) == margin_k


def test_of_no_kit_nothing_is_told() -> None:
    (way, _) = looser_limits(LIMITS, KITS)
    assert boil_margin_of(way, LIMITS, ()) == math.inf
