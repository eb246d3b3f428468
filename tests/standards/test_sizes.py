"""Sizes of ends: what is said of one that a form does not have, and how one is written back."""

from __future__ import annotations

import pytest

from configurator.standards.forms import as_typed, size_fault


@pytest.mark.parametrize(("inches", "dash"), [("1/4", -4), ("3/8", -6), ("5/8", -10), ("3/4", -12), ("1 1/4", -20)])
def test_a_dash_size_is_the_tubes_sixteenths_of_an_inch(inches: str, dash: int) -> None:
    """Published: SAE J514 and J1926-1 number their sizes so (from memory): 3/8 in is -6, however it looks."""
    assert f"did you mean '{dash}'?" in str(size_fault("orb", inches))


def test_a_fraction_that_is_no_dash_size_is_given_none() -> None:
    """7/16 in is the thread of -4, and would be dash 7, which nobody makes."""
    assert "did you mean" not in str(size_fault("orb", "7/16"))


def test_a_whole_inch_stays_apart_from_its_fraction() -> None:
    """1 1/4 in written close together is 11/4 in, more than twice as much."""
    assert as_typed("1 1/4 in") == "1 1/4in"
    assert as_typed("63.5 mm") == "63.5mm"
