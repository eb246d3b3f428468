"""Cautions in words: of several places at once they speak in the plural."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import pytest

from configurator.foundations.verdicts import Caution
from configurator.reasons.cautions import drains_back, reservoir_below


@pytest.mark.parametrize("caution", [drains_back, reservoir_below])
def test_one_place_stands_higher_and_two_stand_higher(caution: Callable[[Sequence[str]], Caution]) -> None:
    """Of two places it was told that they stands higher."""
    assert "the core stands higher" in caution(["core"]).text.lower()
    assert "the core and the exchanger stand higher" in caution(["core", "exchanger"]).text.lower()
