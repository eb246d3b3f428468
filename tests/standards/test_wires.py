"""Copper wire: published resistances, what a loom carries, and the sums of a pump's wiring."""

from __future__ import annotations

import math

import pytest

from configurator.standards.wires import carries_a, resistance_ohm_per_m, voltage_drop

# Published: IEC 60228, class 5 (flexible), plain copper, largest resistance at 20 degC in ohm/km; from memory of
# cable makers' reprints of the table.
IEC_CLASS_5 = {0.5: 39.0, 0.75: 26.0, 1.0: 19.5, 1.5: 13.3, 2.5: 7.98, 4.0: 4.95, 6.0: 3.30, 10.0: 1.91, 16.0: 1.21}


@pytest.mark.parametrize(("area", "ohm_per_km"), IEC_CLASS_5.items())
def test_resistance_is_the_published_one(area: float, ohm_per_km: float) -> None:
    assert resistance_ohm_per_m(area) == pytest.approx(ohm_per_km / 1000, rel=1e-12)


def test_copper_alone_would_resist_less_than_the_published_limit() -> None:
    """Resistivity 0.0172 ohm mm2/m (published, IEC 60028) over the area is below the limit, by no more than 20 %."""
    for area, ohm_per_km in IEC_CLASS_5.items():
        assert 1.0 < ohm_per_km / (17.2 / area) < 1.2


def test_an_area_between_two_takes_the_smaller_and_one_below_all_is_unknown() -> None:
    """AWG 12 has 3.31 mm2 (published, ASTM B258): it counts as 2.5 mm2."""
    assert resistance_ohm_per_m(3.31) == resistance_ohm_per_m(2.5)
    assert resistance_ohm_per_m(0.2) == math.inf


def test_a_loom_carries_what_the_chart_says() -> None:
    """Published motorsport wiring chart, from memory: AWG 18 9 A, 16 13 A, 12 23 A, 8 46 A."""
    assert [carries_a(area) for area in (0.82, 1.31, 3.31, 8.37)] == [9.0, 13.0, 23.0, 46.0]
    assert carries_a(0.5) == 0.0 and carries_a(50.0) == 46.0
    assert carries_a(1.0) == pytest.approx(9 + 4 * (1.0 - 0.82) / (1.31 - 0.82))


def test_the_drop_of_an_8_a_pump_3_5_m_away() -> None:
    """3 % of 12 V is 0.36 V (published target). By hand: 7 m * 8 A * 4.95 mohm/m = 0.277 V; of 2.5 mm2 0.447 V."""
    assert voltage_drop(7.0, 8.0, 4.0) == pytest.approx(0.2772)
    assert voltage_drop(7.0, 8.0, 2.5) == pytest.approx(0.44688)
