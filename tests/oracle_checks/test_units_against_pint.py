"""Every factor of the table of units held against pint, a general units library."""

from __future__ import annotations

import pint
import pytest

from configurator.foundations.units import UNITS, read_figure

pytestmark = pytest.mark.oracle

SI = {
    "length": "m",
    "area": "m**2",
    "volume": "m**3",
    "mass": "kg",
    "pressure": "Pa",
    "temperature": "K",
    "temperature difference": "K",
    "power": "W",
    "volume flow": "m**3/s",
    "mass flow": "kg/s",
    "speed": "m/s",
    "time": "s",
    "share": "",
    "current": "A",
    "rotational speed": "turn/s",
    "specific consumption": "kg/J",
    "heat capacity": "J/K",
    "specific heat": "J/kg/K",
    "conductivity": "W/m/K",
    "conductance per mass": "W/K/kg",
    "conductance per area": "W/K/m**2",
}
# where pint's name is another than the trade's spelling
IN_PINT = {
    "W/K/m2": "W/K/m**2",
    "mm2": "mm**2",
    "cm2": "cm**2",
    "m2": "m**2",
    "in2": "inch**2",
    "in": "inch",
    "in3": "inch**3",
    "cm3": "cm**3",
    "m3": "m**3",
    "US gal": "US_liquid_gallon",
    "US qt": "US_liquid_quart",
    "litres": "litre",
    "°C": "degC",
    "°F": "degF",
    "PS": "metric_horsepower",
    "metric hp": "metric_horsepower",
    "hp": "horsepower",
    "bhp": "horsepower",
    "lpm": "L/min",
    "US gpm": "US_liquid_gallon/min",
    "US gal/min": "US_liquid_gallon/min",
    "m3/h": "m**3/hour",
    "m3/s": "m**3/s",
    "cfm": "foot**3/minute",
    "h": "hour",
    "L/h": "L/hour",
    "kg/h": "kg/hour",
    "km/h": "km/hour",
    "%": "percent",
    "rpm": "turn/minute",
    "rev/min": "turn/minute",
    "g/kWh": "g/(kW*hour)",
    "lb/hp/h": "pound/horsepower/hour",
    "lb": "pound",
    "lb/min": "pound/minute",
    "oz": "ounce",
}
EVERY_UNIT = [(kind, unit) for kind, units in UNITS.items() for unit in units]


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry:
    return pint.UnitRegistry()


@pytest.mark.parametrize(("kind", "unit"), EVERY_UNIT)
@pytest.mark.parametrize("number", [1.0, 7.5, 120.0])
def test_unit_agrees(registry: pint.UnitRegistry, kind: str, unit: str, number: float) -> None:
    expected = registry.Quantity(number, IN_PINT.get(unit, unit)).to(SI[kind]).magnitude
    assert read_figure(f"{number} {unit}", kind) == pytest.approx(expected, rel=1e-9)
