"""What a kit buys, in words: a range, never a promise."""

from __future__ import annotations

from configurator.prediction.what_it_buys import AirRise, Bought
from configurator.presentation.buys_words import buys_rows


def test_density_is_a_range_and_no_promise_of_power() -> None:
    rise = AirRise("exchanger", 12.4, 7.6)
    density, air = buys_rows(Bought(0.18, 0.24, 48.0, (rise,)), 240e3)
    assert "18 to 24 %" in density[1] and "48 W, 0.02 %" in density[1] and "no promise of power" in density[1]
    assert "12 K warmer to the radiator" in air[1] and "8 K in the mean" in air[1]


def test_without_a_front_there_is_no_air_and_without_a_gain_none_is_told() -> None:
    (density,) = buys_rows(Bought(-0.02, 0.03, 48.0, ()), 240e3)
    assert "denser" not in density[1] and "-2 to 3 %" in density[1]


def test_two_fronts_are_told_in_the_order_of_their_slots() -> None:
    rises = (AirRise("exchanger-1", 11.2, 9.9), AirRise("exchanger-2", 4.0, 3.0))
    assert "11 and 4 K" in buys_rows(Bought(0.1, 0.1, 48.0, rises), 240e3)[1][1]
