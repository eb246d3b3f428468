"""The suction margin of a pump, held against sums by hand with vapour pressures of the steam tables."""

from __future__ import annotations

import pytest

from configurator.foundations.boiling import vapour_pressure_pa
from configurator.foundations.coolants import Coolant, properties
from configurator.physics.suction import suction_margin_pa

WATER = Coolant("water", 0.0)

CASES = (
    # degC, surface kPa, metres over the pump, loss kPa, margin kPa; p_v of the tables: 2.339, 19.95, 70.18, 101.42 kPa
    (20.0, 101.325, 3.0, 2.4, 101.325 + 998.2 * 9.80665 * 3.0 / 1000 - 2.4 - 2.339),
    (60.0, 101.325, 0.0, 3.0, 101.325 - 3.0 - 19.95),
    (90.0, 79.495, 0.3, 1.0, 79.495 + 965.3 * 9.80665 * 0.3 / 1000 - 1.0 - 70.18),
    (100.0, 101.325, -0.2, 2.0, 101.325 - 958.4 * 9.80665 * 0.2 / 1000 - 2.0 - 101.42),
)
"""Vapour pressures and densities of water: published, IAPWS R7-97, from memory. 79.495 kPa: ISO 2533 at 2000 m."""


@pytest.mark.parametrize("t_c,surface,above,loss,margin", CASES)
def test_a_sum_by_hand(t_c: float, surface: float, above: float, loss: float, margin: float) -> None:
    t_k = t_c + 273.15
    density = float(properties(WATER, t_k).density)
    found = suction_margin_pa(surface * 1e3, above, loss * 1e3, vapour_pressure_pa(WATER, t_k), density)
    assert found / 1e3 == pytest.approx(margin, abs=0.1)


def test_water_that_boils_in_an_open_tank_has_nothing_but_its_height() -> None:
    """Textbook rule: NPSH available is then the height less the loss."""
    vapour = vapour_pressure_pa(WATER, 370.0)
    assert suction_margin_pa(vapour, 2.0, 500.0, vapour, 960.0) == pytest.approx(2.0 * 960.0 * 9.80665 - 500.0)
