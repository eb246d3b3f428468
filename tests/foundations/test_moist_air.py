"""Water in compressed air, held against published tables and worked values."""

from __future__ import annotations

import pytest

from configurator.foundations.moist_air import (
    dew_point_at_pressure_k,
    dew_point_k,
    humidity_ratio,
    saturation_pa,
    water_shed_at_most,
)

P1 = 101_325.0

# Saturation over liquid water [degC, Pa]: IAPWS-IF97, computed with the library iapws; 0.05 % is the step between the
# two published formulas.
SATURATED = ((10, 1228.18), (20, 2339.21), (30, 4246.69), (40, 7384.43))

# Air [degC, humidity], charge [kPa absolute] -> humidity ratio, dew point outside and of the charge [degC], and the
# latter by CoolProp's HAPropsSI (ASHRAE RP-1485), which counts the enhancement factor: 0.04 to 0.10 K lower.
COMPRESSED = (
    (20, 0.5, 200, 0.007263, 9.273, 19.788, 19.740),
    (30, 0.6, 200, 0.016043, 21.388, 32.980, 32.930),
    (25, 0.5, 180, 0.009883, 13.864, 23.027, 22.990),
    (15, 0.7, 300, 0.007416, 9.580, 26.843, 26.744),
)

# Water that a charge saturated at [degC] has shed [g per kg of dry air]: mass balance with the pressures above.
SHED = ((0, (5, 10, 20, 30), (4.538, 3.420, 0, 0)), (1, (5, 10, 20, 30), (13.318, 12.201, 8.683, 2.551)))


@pytest.mark.parametrize(("t_c", "pa"), SATURATED)
def test_saturation_is_that_of_the_steam_tables(t_c, pa):
    assert saturation_pa(t_c + 273.15) == pytest.approx(pa, rel=5e-4)


@pytest.mark.parametrize(("air_c", "humidity", "kpa", "ratio", "outside_c", "charge_c", "real_c"), COMPRESSED)
def test_boost_raises_the_dew_point(air_c, humidity, kpa, ratio, outside_c, charge_c, real_c):
    air_k = air_c + 273.15
    vapour = humidity * saturation_pa(air_k)
    assert humidity_ratio(vapour, P1) == pytest.approx(ratio, rel=2e-3)
    assert dew_point_k(vapour) == pytest.approx(outside_c + 273.15, abs=0.02)
    found = dew_point_at_pressure_k(air_k, humidity, P1, kpa * 1000.0)
    assert found == pytest.approx(charge_c + 273.15, abs=0.02)
    assert found == pytest.approx(real_c + 273.15, abs=0.15)


@pytest.mark.parametrize(("row", "at_c", "grams"), SHED)
def test_water_that_saturated_charge_has_shed(row, at_c, grams):
    air_c, humidity, kpa, *_ = COMPRESSED[row]
    for t_c, shed in zip(at_c, grams, strict=True):
        found = water_shed_at_most(air_c + 273.15, humidity, P1, kpa * 1000.0, t_c + 273.15)
        assert 1000 * found == pytest.approx(shed, rel=0.02, abs=0.005)


def test_dew_point_turns_saturation_round_and_rises_with_pressure_and_humidity():
    for t_k in (275.0, 300.0, 350.0):
        assert dew_point_k(saturation_pa(t_k)) == pytest.approx(t_k, abs=1e-6)
    points = [dew_point_at_pressure_k(298.15, share, P1, 2 * P1) for share in (0.2, 0.5, 0.8)]
    assert points == sorted(points)
    points = [dew_point_at_pressure_k(298.15, 0.5, P1, bar * P1) for bar in (1, 2, 3)]
    assert points == sorted(points)
