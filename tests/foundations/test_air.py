"""Air as a function of temperature: shapes, trends, and why a constant specific heat will not do."""

from __future__ import annotations

import numpy as np
import pytest

from configurator.foundations import air


def test_a_constant_specific_heat_would_miss_at_charge_temperatures() -> None:
    """Reference equation of dry air (CoolProp): 1017.13 J/(kg K) at 150 degC; the usual 1005 is 1.2 % off."""
    reference = 1017.13
    assert float(air.specific_heat(423.15)) == pytest.approx(reference, rel=5e-3)
    assert abs(1005.0 / reference - 1.0) > 1.1e-2


@pytest.mark.parametrize("function", [air.specific_heat, air.viscosity, air.conductivity, air.prandtl])
def test_scalars_and_arrays_give_the_same_figures(function: object) -> None:
    t_k = np.array([[260.0, 300.0], [400.0, 480.0]])
    together = function(t_k)  # type: ignore[operator]
    assert together.shape == t_k.shape
    for index in np.ndindex(t_k.shape):
        assert float(function(float(t_k[index]))) == together[index]  # type: ignore[operator]


def test_density_takes_pressure_and_temperature_together() -> None:
    """Twice the pressure is twice the density; the standard atmosphere is 1.225 kg/m3 (ISO 2533)."""
    found = air.density(np.array([[101325.0], [202650.0]]), np.array([288.15, 576.3]))
    np.testing.assert_allclose(found, [[1.225, 0.6125], [2.45, 1.225]], rtol=1e-6)


def test_viscosity_and_conductivity_rise_with_temperature() -> None:
    """Kinetic theory of gases: both rise, faster than the square root of the temperature."""
    t_k = np.linspace(250.0, 500.0, 51)
    for values in (air.viscosity(t_k), air.conductivity(t_k)):
        assert np.all(np.diff(values / np.sqrt(t_k)) > 0.0)
