"""More passes: what they gain and cost. The gain is the liquid film's alone.

One bundle of channels is cut into passes in turn: the liquid goes through a part of them at a time, so many times
faster. How large gain and loss are is common practice, no source; their causes are the channels' own correlations.
"""

from __future__ import annotations

import pytest

from configurator.foundations.coolants import Coolant, properties
from configurator.physics.effectiveness import conductance
from configurator.prediction.estimates import Channels, channel_friction_pa, film_conductance

FLOW = 30 / 60e3
WATER, GLYCOL = Coolant("water", 0.0), Coolant("ethylene glycol", 0.5)
FILM_SHARE = 0.2
"""Of the resistance in water, one pass; common practice, no source."""


def channels(passes: int) -> Channels:
    """Gaps of 3 mm, together 1500 mm2 of flow and 150 mm long, cut into passes in turn."""
    area, gap, long = 1500e-6, 0.003, 0.150
    return Channels(area / passes, 2 * gap, gap / 0.05, long, long * passes, 2 * area / gap * long)


def film(passes: int, coolant: Coolant) -> float:
    """h A of the liquid [W/K]."""
    return float(film_conductance(channels(passes), 1.0, FLOW, properties(coolant, 323.15)))


def whole(passes: int, coolant: Coolant) -> float:
    """UA of air side and film together [W/K]."""
    air = film(1, WATER) * FILM_SHARE / (1 - FILM_SHARE)
    return 1 / (1 / air + 1 / film(passes, coolant))


def test_two_passes_gain_through_the_film_in_water_more_than_in_glycol() -> None:
    gain = {coolant.kind: whole(2, coolant) / whole(1, coolant) - 1 for coolant in (WATER, GLYCOL)}
    assert 0.05 < gain["water"] < 0.20
    assert 0.01 < gain["ethylene glycol"] < 0.08
    assert gain["ethylene glycol"] < 0.75 * gain["water"]


def test_outside_a_surface_that_its_air_side_rules_gains_nothing_by_passes() -> None:
    """Air side a hundredth of the film: whatever the film does, the whole does not feel it."""
    air = film(1, WATER) / 100
    one, two = (1 / (1 / air + 1 / film(passes, WATER)) for passes in (1, 2))
    assert 1 < two / one < 1.01


def test_they_cost_a_multiple_of_the_loss() -> None:
    for coolant in (WATER, GLYCOL):
        liquid = properties(coolant, 323.15)
        one, two = (float(channel_friction_pa(channels(passes), FLOW, liquid)) for passes in (1, 2))
        assert 3 < two / one < 8


@pytest.mark.parametrize("ua", [150.0, 300.0, 900.0])
def test_side_by_side_at_fixed_conductance_they_gain_nothing(ua: float) -> None:
    """Each pass meets fresh air: with the same UA the division itself moves no more heat."""
    single = conductance("cross-flow both unmixed", 1, None, ua, 280.0, 2000.0)
    for passes in (2, 3, 4):
        divided = conductance("cross-flow both unmixed", passes, "side by side", ua, 280.0, 2000.0)
        assert 0.96 * single < divided <= single


def test_outside_passes_in_turn_at_fixed_conductance_gain_a_little_by_counter_flow() -> None:
    """Overall counter-flow: the folklore is right where the two capacity rates are near each other."""
    near, far = (
        conductance("cross-flow both unmixed", 3, "in turn", 900.0, 280.0, rate)
        / conductance("cross-flow both unmixed", 1, None, 900.0, 280.0, rate)
        for rate in (300.0, 20000.0)
    )
    assert near > 1.05
    assert far == pytest.approx(1.0, abs=0.005)
