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


@pytest.mark.parametrize("form", ["npt", "g", "rc"])
@pytest.mark.parametrize(("dash", "inches"), [("-4", "1/4"), ("-12", "3/4"), ("-16", "1"), ("-20", "1-1/4")])
def test_of_a_pipe_thread_a_dash_size_is_the_same_tube_in_inches(form: str, dash: str, inches: str) -> None:
    """Published: a dash size counts sixteenths of an inch (SAE J514, from memory): 12/16 in is 3/4."""
    assert f"did you mean '{inches}'?" in str(size_fault(form, dash))


@pytest.mark.parametrize(
    ("form", "size"),
    [
        ("npt", "-10"),  # 5/8, of which there is no pipe thread here
        ("metric-flat", "1/8"),
        ("metric", "-12"),
        ("metric", "M20x1.5"),
        ("orb", "-40"),
        ("orb", "M18x1.5"),
        ("g", "M18x1.5"),
        ("npt", "5/8"),
    ],
)
def test_a_size_that_looks_like_another_is_not_taken_for_it(form: str, size: str) -> None:
    assert "is not a size of form" in str(size_fault(form, size)) and "did you mean" not in str(size_fault(form, size))


@pytest.mark.parametrize(
    ("form", "size", "meant"),
    [
        ("metric", "m22 x 1.5", "M22x1.5"),
        ("npt", "3/4 in", "3/4"),
        ("g", "1 1/4", "1-1/4"),
        ("orb", "12", "-12"),
        ("flare37", "- 12", "-12"),
        ("flare37", "-18", "-16' or '-20"),
        ("flare37", "-22", "-20"),
    ],
)
def test_a_size_written_otherwise_is_found(form: str, size: str, meant: str) -> None:
    assert f"did you mean '{meant}'?" in str(size_fault(form, size))


def test_a_whole_inch_stays_apart_from_its_fraction() -> None:
    """1 1/4 in written close together is 11/4 in, more than twice as much."""
    assert as_typed("1 1/4 in") == "1 1/4in"
    assert as_typed("63.5 mm") == "63.5mm"
