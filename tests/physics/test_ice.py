"""Ice in water: regimes of rest, conductance as it shrinks, numbers or arrays alike."""

from __future__ import annotations

import numpy as np
import pytest

from configurator.physics.ice import (
    LATENT_HEAT,
    WATER_FREEZES_K,
    heat_to_melt,
    ice_conductance,
    pull_down_kg,
    settled,
)


def test_cold_ice_freezes_water_and_very_much_of_it_freezes_all() -> None:
    """By hand, in kJ: 10 kg at -20 degC take 10 * 2.02 * 20 = 404 to reach 0 degC; 2 kg of water at 5 degC give
    2 * 4.19 * 5 = 42 until they freeze, and then 333.4 each: 362 / 333.4 = 1.09 kg freeze.

    Published: IAPWS R10-06, heat of melting 333.4 kJ/kg and 2.02 kJ/(kg K) at -10 degC, from memory.
    """
    some = settled(2.0, WATER_FREEZES_K + 5, 10.0, WATER_FREEZES_K - 20)
    assert some.temperature_k == pytest.approx(WATER_FREEZES_K)
    assert some.melted_kg == pytest.approx(-1.09, abs=0.01)
    every = settled(0.5, WATER_FREEZES_K + 5, 10.0, WATER_FREEZES_K - 20)
    assert every.melted_kg == pytest.approx(-0.5)
    assert WATER_FREEZES_K - 20 < every.temperature_k < WATER_FREEZES_K


def test_heat_is_kept_in_every_regime() -> None:
    """Water at T gives up what ice and melt water take: no heat is lost, and melted ice lies between its bounds."""
    t = np.linspace(0.0, 90.0, 31)
    for kg in (0.0, 0.2, 1.0, 5.0):
        rest = settled(3.0, WATER_FREEZES_K + t, kg, WATER_FREEZES_K, water_j_per_kg_k=4186.0)
        gave = 3.0 * 4186.0 * (WATER_FREEZES_K + t - rest.temperature_k)
        took = rest.melted_kg * (LATENT_HEAT + 4186.0 * (rest.temperature_k - WATER_FREEZES_K))
        assert gave == pytest.approx(took, abs=1e-6)
        assert np.all((rest.melted_kg >= 0) & (rest.melted_kg <= kg))


def test_conductance_goes_with_the_surface_and_is_none_without_ice() -> None:
    """An eighth of the mass has a quarter of the surface: pieces half as wide."""
    g = ice_conductance(260.0, 10.0, np.array([10.0, 1.25, 0.0, 12.0]))
    assert g == pytest.approx([2600.0, 650.0, 0.0, 2600.0])
    assert float(ice_conductance(260.0, 0.0, 0.0)) == 0.0


def test_colder_ice_cools_more_and_nothing_to_cool_takes_none() -> None:
    cold, cool, melting = (heat_to_melt(WATER_FREEZES_K - below_k) for below_k in (18, 5, 0))
    assert cold > cool > melting == LATENT_HEAT
    assert pull_down_kg(8e4, 300.0, 276.0, 263.15) < pull_down_kg(8e4, 300.0, 276.0)
    assert float(pull_down_kg(8e4, 275.0, 276.0)) == 0.0


def test_what_pulling_down_takes_is_where_water_and_ice_come_to_rest() -> None:
    """The same sum the other way about: so much ice in the warm water settles at the wanted temperature."""
    kg = float(pull_down_kg(20.0 * 4186.0, WATER_FREEZES_K + 25, WATER_FREEZES_K + 2))
    found = settled(20.0, WATER_FREEZES_K + 25, kg, WATER_FREEZES_K)
    assert found.temperature_k == pytest.approx(WATER_FREEZES_K + 2, abs=1e-9)
