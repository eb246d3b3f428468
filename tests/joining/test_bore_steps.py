"""Losses of steps against a table worked by hand."""

from __future__ import annotations

import math

import pytest

from configurator.joining.bore_steps import (
    area_ratio,
    bend_per_m4,
    chain_per_m4,
    end_bore_m,
    least_known_m,
    pipe_bore_m,
    step_per_m4,
)
from tests.joining.made_parts import end


@pytest.mark.parametrize(
    ("ratio", "contraction", "enlargement", "on_small", "on_large"),
    [
        (0.9, 0.10, 0.04, 0.13, 0.20),
        (0.8, 0.18, 0.13, 0.31, 0.76),
        (0.7, 0.26, 0.26, 0.52, 2.2),
        (0.6, 0.32, 0.41, 0.73, 5.6),
        (0.5, 0.38, 0.56, 0.94, 15.0),
        (0.4, 0.42, 0.71, 1.13, 44.0),
    ],
)
def test_steps(ratio: float, contraction: float, enlargement: float, on_small: float, on_large: float) -> None:
    """K = 0.5 (1 - sigma) and (1 - sigma)² by diameter ratio (standard handbooks, from memory; recomputed).

    Held within half a unit of the last printed digit or 3 %, whichever is wider.
    """
    small, large = 0.020 * ratio, 0.020
    small_area, large_area = (math.pi / 4 * bore**2 for bore in (small, large))
    into, out = step_per_m4(large, small) * small_area**2, step_per_m4(small, large) * small_area**2
    both = chain_per_m4((large, small, large))
    assert into == pytest.approx(contraction, rel=0.03, abs=0.0051)
    assert out == pytest.approx(enlargement, rel=0.03, abs=0.0051)
    assert both * small_area**2 == pytest.approx(on_small, rel=0.03, abs=0.0051)
    unit = 0.005 if on_large < 1 else 0.05 if on_large < 10 else 0.5
    assert both * large_area**2 == pytest.approx(on_large, rel=0.03, abs=unit)


def test_equal_bores_lose_nothing() -> None:
    assert step_per_m4(0.0155, 0.0155) == 0.0
    assert chain_per_m4((0.02,)) == 0.0


def test_a_bore_that_nobody_knows_is_no_step() -> None:
    assert chain_per_m4((0.016, 0.0, 0.016)) == 0.0
    assert chain_per_m4((0.0, 0.016, 0.012)) == chain_per_m4((0.016, 0.012)) > 0.0
    assert area_ratio(0.0, 0.016) == 1.0
    assert (least_known_m(0.016, 0.0, 0.012), least_known_m(0.0)) == (0.012, 0.0)


def test_a_smooth_bend_is_within_what_the_trade_reckons() -> None:
    """0.3 to 0.5 on the bore's speed: common practice, no source."""
    for bore in (0.016, 0.019, 0.025, 0.032):
        assert 0.28 <= bend_per_m4(bore) * (math.pi / 4 * bore**2) ** 2 <= 0.5


def test_bore_of_an_end_is_its_own_or_the_usual_one() -> None:
    """Usual bores: 37° fittings from memory of catalogues; barbs 19 mm to 15.5 mm, 16 mm to 12.5 mm, practice."""
    assert end_bore_m(end("spigot 19 barb bore=17")) == pytest.approx(0.017)
    assert end_bore_m(end("orb -12 female")) == pytest.approx(0.0155)
    assert end_bore_m(end("spigot 19 barb")) == pytest.approx(0.0155)
    assert end_bore_m(end("spigot 16 barb")) == pytest.approx(0.0125)
    assert 0 < end_bore_m(end("spigot 3 barb")) < 0.003
    assert pipe_bore_m(end("spigot 57 bead")) == pytest.approx(0.054)
    assert pipe_bore_m(end("spigot 57 bead bore=53")) == pytest.approx(0.053)
