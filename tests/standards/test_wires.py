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


@pytest.mark.parametrize(
    ("area", "current", "one_way_m", "volts", "of", "percent"),
    [
        (1.5, 8.0, 4.0, 0.851200, 12.0, 7.0933),
        (2.5, 10.0, 5.0, 0.798000, 13.5, 5.9111),
        (4.0, 15.0, 5.0, 0.742500, 12.0, 6.1875),
    ],
)
def test_drops_worked_by_hand(
    area: float, current: float, one_way_m: float, volts: float, of: float, percent: float
) -> None:
    """2 L I R with the class 5 resistances at 20 degC, to the last of six digits; worked apart from this package."""
    drop = voltage_drop(2 * one_way_m, current, area)
    assert drop == pytest.approx(volts, rel=1e-6)
    assert 100 * drop / of == pytest.approx(percent, abs=6e-5)


def test_the_heat_of_a_thin_wire() -> None:
    """0.8512 V at 8 A is 6.8096 W, worked by hand."""
    # The first of them at 60 degC, by 1 + 0.00393 * 40.
    assert voltage_drop(8.0, 8.0, 1.5, at_k=333.15) == pytest.approx(0.985009, abs=5e-7)
    assert voltage_drop(8.0, 8.0, 1.5) * 8.0 == pytest.approx(6.8096, rel=1e-6)


def test_six_square_millimetres_are_too_little_for_15_a_five_metres_away() -> None:
    """3 % of 12 V over 10 m at 15 A leaves 2.400 ohm/km; 6 mm2 has 3.30, 10 mm2 has 1.91 (IEC 60228 class 5)."""
    assert resistance_ohm_per_m(6.0) * 1000 > 2.400 > resistance_ohm_per_m(10.0) * 1000


# Longest wire one way [m] for 0.36 V by current [A]: worked by hand with 0.0175 ohm mm2/m alone, to 0.1 m.
COPPER_ALONE_M = {
    1.0: {3: 3.4, 5: 2.1, 8: 1.3, 10: 1.0, 15: 0.7, 20: 0.5},
    1.5: {3: 5.1, 5: 3.1, 8: 1.9, 10: 1.5, 15: 1.0, 20: 0.8},
    2.5: {3: 8.6, 5: 5.1, 8: 3.2, 10: 2.6, 15: 1.7, 20: 1.3},
    4.0: {3: 13.7, 5: 8.2, 8: 5.1, 10: 4.1, 15: 2.7, 20: 2.1},
    6.0: {3: 20.6, 5: 12.3, 8: 7.7, 10: 6.2, 15: 4.1, 20: 3.1},
}


@pytest.mark.parametrize("area", COPPER_ALONE_M)
def test_the_longest_wire_is_shorter_than_copper_alone_would_have_it(area: float) -> None:
    """The published resistances lie 12 to 15 % above 0.0175 / area (1.0 mm2: 11 %): the runs are so much shorter."""
    dearer = IEC_CLASS_5[area] * area / 17.5
    assert 1.11 < dearer < 1.15
    for current, metres in COPPER_ALONE_M[area].items():
        longest = 0.36 / voltage_drop(2.0, current, area)
        assert longest * dearer == pytest.approx(metres, abs=0.051)
