"""The suction margin of a pump, held against sums by hand with vapour pressures of the steam tables."""

from __future__ import annotations

import pytest

from configurator.foundations.boiling import vapour_pressure_pa
from configurator.foundations.coolants import Coolant, properties
from configurator.physics.suction import suction_margin_pa

WATER = Coolant("water", 0.0)

CASES = (
    # degC, surface kPa, metres over the pump, loss kPa, margin kPa
    (20.0, 101.325, 3.0, 2.4, 125.96),  # 3 m of 9.789 kN/m3 are 29.37; 101.325 + 29.37 = 130.69; - 2.40 - 2.34 (vapour)
    (60.0, 101.325, 0.0, 3.0, 78.38),  # 101.325 - 3.00 - 19.95 (vapour)
    (90.0, 79.495, 0.3, 1.0, 11.16),  # 0.3 m of 9.467 kN/m3 are 2.84; 79.495 + 2.84 = 82.34; - 1.00 - 70.18 (vapour)
    (100.0, 101.325, -0.2, 2.0, -3.98),  # 0.2 m of 9.399 kN/m3 are 1.88; 101.325 - 1.88 = 99.44; - 2 - 101.42 (vapour)
)
"""Vapour pressures and weights of water: published, IAPWS R7-97, from memory. 79.495 kPa: ISO 2533 at 2000 m."""


@pytest.mark.parametrize("t_c,surface,above,loss,margin", CASES)
def test_a_sum_by_hand(t_c: float, surface: float, above: float, loss: float, margin: float) -> None:
    t_k = t_c + 273.15
    density = float(properties(WATER, t_k).density)
    found = suction_margin_pa(surface * 1e3, above, loss * 1e3, vapour_pressure_pa(WATER, t_k), density)
    assert found / 1e3 == pytest.approx(margin, abs=0.1)


def test_water_that_boils_in_an_open_tank_has_nothing_but_its_height() -> None:
    """Textbook rule: NPSH available is then the height less the loss.

    960 kg/m3 weigh 9414.4 N/m3; 2 m are 18,828.8 Pa, less 500.
    """
    vapour = vapour_pressure_pa(WATER, 370.0)
    assert suction_margin_pa(vapour, 2.0, 500.0, vapour, 960.0) == pytest.approx(18_328.8, abs=0.1)
