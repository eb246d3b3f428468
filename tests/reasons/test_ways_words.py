"""A way out in words: in the unit of the brief, rounded so that what is told helps when it is written in."""

from __future__ import annotations

import pytest

from configurator.reasons.ways_words import conflict_text, in_whole_steps, way_text
from configurator.search.loosening import Change, Choice

HP_KW = 0.745699872
"""NIST SP 811, appendix B.8: horsepower (550 ft lbf/s) is 7.456 999 E+02 W."""


def test_power_and_boost_are_told_in_horsepower_and_psi_and_never_rounded_up() -> None:
    changes = (Change("power", 230, 131, "kW", written="hp"), Change("boost", 1.4, 1.04, "bar", written="psi"))
    assert way_text(changes, "") == (
        "power of 175.67 hp (131 kW) with 15.08 psi (1.04 bar) of boost instead of 308.44 hp with 20.31 psi"
    )
    assert 175.67 * HP_KW <= 131 < 175.68 * HP_KW


@pytest.mark.parametrize(
    ("change", "text"),
    [
        (Change("mass", 5.443, 9, "kg", written="lb"), "a dry mass of 19.85 lb (9 kg) instead of 12 lb (+3.56 kg)"),
        (Change("mass", 5.443, 10.17, "kg", written="kg"), "a dry mass of 10.17 kg instead of 5.44 kg (+4.73 kg)"),
        (Change("mass", 5.443, 10.17, "kg"), "a dry mass of 10.17 kg instead of 5.44 kg (+4.73 kg)"),
        (Change("aim", 40, 62, "degC", written="°C"), "an aim of 62 degC instead of 40 degC (+22 K)"),
        (Change("aim", 40, 62, "degC", written="K"), "an aim of 335.15 K (62 degC) instead of 313.15 K (+22 K)"),
        (Change("start", 25, 5, "degC", written="degF"), "coolant that starts at 41 degF (5 degC) instead of 77 degF"),
    ],
)  # fmt: skip
def test_a_figure_is_told_in_the_unit_of_the_brief_with_the_usual_one_beside_it(change: Change, text: str) -> None:
    assert way_text((change,), "") == text


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ([Change("aim", 60, 67, "degC")], " in whole kelvin"),
        ([Change("power", 230, 149, "kW"), Change("boost", 1.4, 1.25, "bar")], " in whole kW"),
        ([Change("driving", 100, 65, "%"), Change("aim", 40, 62, "K")], " in whole kelvin and %"),
        ([Change("air", 20, 31, "%", "nose"), Change("power", 9, 8, "kW"), Change("start", 9, 5, "degC")],
         " in whole kelvin, kW and %"),
        ([Change("mass", 5, 5.4, "kg"), Change("air", 2, 2.4, "m/s", "nose"), Choice("adapter", "a:1", "b:1")], ""),
    ],
)  # fmt: skip
def test_that_less_does_not_help_is_told_of_the_steps_that_were_tried(changes: list[Change], words: str) -> None:
    """67 degC was told as the least where 66.4 degC would do: an aim is searched in whole kelvin."""
    assert in_whole_steps(changes) == words


def test_a_gap_in_inches_is_rounded_up() -> None:
    """Published: NIST SP 811, appendix B.8: an inch is 25.4 mm."""
    (size, *_) = way_text((Change("wide", 457.2, 470, "mm", "nose", "in"),), "").split(" (")
    assert size == "nose 18.51 in"
    assert 18.50 * 25.4 < 470 <= 18.51 * 25.4


def test_what_a_loop_without_a_front_exchanger_costs_stands_beside_it() -> None:
    text = way_text((Choice("front exchanger", "in the loop", "left out"),), "EUR")
    assert text == (
        "no front exchanger (`without: [exchanger]`): then nothing takes the heat out of the coolant but standing for "
        "hours, and a drive soon after another starts as warm as that one ended"
    )
    alone = conflict_text((("front exchanger", ()),))
    assert alone == "One thing alone rules out every kit of this shelf in this car: a front exchanger in the loop."
