"""Air from power and from displacement."""

from __future__ import annotations

import numpy as np
import pytest

from configurator.physics.air_flow import air_flow_from_displacement, air_flow_from_power


def test_displacement_counts_one_filling_in_two_revolutions() -> None:
    """By hand: 1 m³ at 2 revolutions a second fills once a second; 287.05287 Pa at 1 K is 1 kg/m³."""
    assert float(air_flow_from_displacement(1.0, 2.0, 1.0, 287.05287, 1.0)) == pytest.approx(1.0, rel=1e-12)


def test_power_and_displacement_agree_on_an_ordinary_boosted_engine() -> None:
    """The rough rule of 10 hp for each lb/min of air (common practice, no source) holds for both within 15 %.

    1.6 L, 7400 rpm, 1.4 bar of boost, 330 K in the manifold; 230 kW at 310 g/kWh and 11.8 parts of air.
    """
    by_power = float(air_flow_from_power(230e3, 0.310 / 3.6e6, 11.8))
    by_volume = float(air_flow_from_displacement(1.6e-3, 7400 / 60, 0.95, 101325 + 1.4e5, 330.0))
    rule = 230e3 / 745.7 / 10 * 0.45359237 / 60
    assert by_power == pytest.approx(rule, rel=0.15)
    assert by_volume == pytest.approx(rule, rel=0.15)


def test_columns_broadcast() -> None:
    flows = air_flow_from_power(np.array([[100e3], [200e3]]), 8.5e-8, np.array([11.0, 12.0, 13.0]))
    assert flows.shape == (2, 3)
    assert flows[1] == pytest.approx(2 * flows[0])
    volumes = air_flow_from_displacement(2e-3, np.array([50.0, 100.0]), 0.9, 2e5, 320.0)
    assert volumes[1] == pytest.approx(2 * volumes[0])
