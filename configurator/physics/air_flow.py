"""How much air an engine breathes: from the power it makes, and from the volume it sweeps.

Definitions and mass balances; published in any textbook of engines.
"""

from __future__ import annotations

import numpy as np

from configurator.foundations.air import density
from configurator.foundations.numbers import Array, Numbers


def air_flow_from_power(power_w: Numbers, consumption_kg_per_j: Numbers, air_fuel_ratio: Numbers) -> Array:
    """Air mass flow [kg/s] that the fuel for a power needs: power × specific consumption × air-fuel ratio.

    `power_w`: brake power [W]; `consumption_kg_per_j`: fuel per brake energy [kg/J] (300 g/kWh is 8.333e-8);
    `air_fuel_ratio`: mass of air per mass of fuel as burned [-], richness included. They broadcast together;
    all >= 0. A definition, exact at any size.
    """
    power = np.asarray(power_w, dtype=np.float64)
    return np.asarray(power * np.asarray(consumption_kg_per_j) * np.asarray(air_fuel_ratio))


def air_flow_from_displacement(
    displacement_m3: Numbers,
    revs_per_s: Numbers,
    volumetric_efficiency: Numbers,
    pressure_pa: Numbers,
    temperature_k: Numbers,
) -> Array:
    """Air mass flow [kg/s] of a four-stroke engine: m = eta_v V (n/2) p/(R T), one filling in two
    revolutions.

    `displacement_m3`: swept volume of all cylinders [m³]; `revs_per_s`: engine speed [1/s];
    `volumetric_efficiency` [-], referred to the density in the manifold, 0.7 to 1.1 in practice;
    `pressure_pa` [Pa absolute], `temperature_k` [K]: the charge in the manifold. They broadcast together.
    Published: Heywood, Internal Combustion Engine Fundamentals, 1st ed., ch. 2 (from memory).
    """
    swept = np.asarray(displacement_m3, dtype=np.float64) * np.asarray(revs_per_s) / 2.0
    return np.asarray(np.asarray(volumetric_efficiency) * swept * density(pressure_pa, temperature_k))
