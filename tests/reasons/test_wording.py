"""Exclusions in words: two figures of which one is over the other are never told as the same."""

from __future__ import annotations

import pytest

from configurator.joining.words import told_apart
from configurator.reasons.wording import exclusion_text
from configurator.search.job import Exclusion


@pytest.mark.parametrize(
    ("code", "found", "limit", "words"),
    [
        ("aim-missed", 353.35, 353.15, "reach 80.2 degC, 80.0 degC is the aim"),
        ("aim-missed", 361.05, 353.15, "reach 88 degC, 80 degC is the aim"),
        ("mass-over-limit", 16.004, 16.0, "weighs 16.004 kg, the kit may weigh 16.000 kg dry"),
        ("mass-over-limit", 17.0, 16.0, "weighs 17.0 kg, the kit may weigh 16.0 kg dry"),
        ("charge-loss-over-limit", 12_030.0, 12_000.0, "takes 12.03 kPa of the charge pressure, 12.00 kPa is allowed"),
        ("current-over-limit", 20.04, 20.0, "draws 20.04 A, 20.00 A are to spare"),
        ("price-over-limit", 2_500_000.0, 1500.5, "costs 2,500,000.00, the whole kit may cost 1,500.50"),
        ("too-hot", 393.45, 393.15, "stands 120.0 degC, the charge arrives at 120.3 degC"),
        ("ice-over-tank", 0.01002, 0.01, "holds 10.00 L to its brim, heaped ice takes 10.02 L"),
    ],
)
def test_found_and_limit_are_told_with_as_many_decimals_as_tell_them_apart(
    code: str, found: float, limit: float, words: str
) -> None:
    assert words in exclusion_text(Exclusion("p", code, found, limit, ""), "The part")


def test_equal_figures_have_no_more_decimals_than_others() -> None:
    assert told_apart(12.0, 12.0, "kPa", 1) == ("12.0 kPa", "12.0 kPa")
