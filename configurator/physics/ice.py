"""Ice in water: what it takes to melt, where warm water and ice settle, how much cools a tank, how fast it melts.

Sums of heat, as in any textbook of physics. Figures of ice: IAPWS R10-06 (2009), equation of state of ice Ih, beside
IAPWS R6-95 for the water that it melts to; both published, recomputed with a reference library.
"""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np

from configurator.foundations.freezing import WATER_FREEZES_K
from configurator.foundations.numbers import Array, Numbers

LATENT_HEAT: Final = 333_427.0
"""Heat that melts ice at 0 degC and 1 atm [J/kg]: IAPWS R10-06 beside R6-95. Textbooks print 334 kJ/kg."""

ICE_DENSITY: Final = 916.7
"""Density of ice at 0 degC [kg/m3]: IAPWS R10-06."""

_ICE_K: Final = (253.15, 263.15, 273.15)
_ICE_J_PER_KG_K: Final = (1950.0, 2023.0, 2097.0)
"""Specific heat of ice at -20, -10 and 0 degC: IAPWS R10-06."""

_SHRINKS: Final = 2.0 / 3.0


class Settled(NamedTuple):
    """Where warm water and ice come to rest: `temperature_k` [K], and ice `melted_kg` [kg], negative where it froze."""

    temperature_k: Array
    melted_kg: Array


def ice_specific_heat(t_k: Numbers) -> Array:
    """Specific heat of ice [J/(kg K)] at `t_k` [K], any shape; between -20 and 0 degC, beyond it the nearer edge.

    Published: IAPWS R10-06 at -20, -10 and 0 degC; straight lines between, within 0.1 %.
    """
    return np.asarray(np.interp(t_k, _ICE_K, _ICE_J_PER_KG_K))


def heat_to_melt(ice_k: Numbers) -> Array:
    """Heat that a kilogram of ice takes until it is water at 0 degC [J/kg]: c_ice (0 degC - T) + L.

    `ice_k`: temperature of the ice [K], any shape, at most 0 degC; c_ice at the middle of the way.
    """
    cold = np.maximum(WATER_FREEZES_K - np.asarray(ice_k, dtype=np.float64), 0.0)
    return np.asarray(ice_specific_heat(WATER_FREEZES_K - cold / 2) * cold + LATENT_HEAT)


def settled(
    water_kg: Numbers,
    water_k: Numbers,
    ice_kg: Numbers,
    ice_k: Numbers,
    *,
    water_j_per_kg_k: Numbers = 4186.0,
    ice_j_per_kg_k: Numbers | None = None,
    latent_heat: Numbers = LATENT_HEAT,
) -> Settled:
    """Where warm water and ice settle that exchange heat with nothing else.

    `water_kg`, `ice_kg`: masses [kg], >= 0, not both 0; `water_k` >= 0 degC and `ice_k` <= 0 degC: temperatures [K];
    specific heats `water_j_per_kg_k` and `ice_j_per_kg_k` [J/(kg K)] (by `ice_specific_heat` where none is given),
    `latent_heat` [J/kg]. All broadcast together. With E = m c T the heat of the water above 0 degC and F = mi ci |Ti|
    the cold of the ice below it: E < F, water freezes at 0 degC; F <= E < F + mi L, both stay at 0 degC, (E - F) / L
    has melted; more, all is water at (E - F - mi L) / ((m + mi) c). Where F is more than E and all water's latent
    heat, all is ice below 0 degC. Published: any textbook of physics (method of mixtures).
    """
    m, t, mi, ti = np.broadcast_arrays(*(np.asarray(x, dtype=np.float64) for x in (water_kg, water_k, ice_kg, ice_k)))
    c, latent = np.asarray(water_j_per_kg_k, dtype=np.float64), np.asarray(latent_heat, dtype=np.float64)
    middle_k = (ti + WATER_FREEZES_K) / 2
    ci = ice_specific_heat(middle_k) if ice_j_per_kg_k is None else np.asarray(ice_j_per_kg_k, dtype=np.float64)
    left_over = m * c * (t - WATER_FREEZES_K) - mi * ci * (WATER_FREEZES_K - ti)
    melted = np.clip(left_over / latent, -m, mi)
    warm, cold = left_over - mi * latent, left_over + m * latent
    rise = np.where(warm > 0.0, warm / c, np.where(cold < 0.0, cold / ci, 0.0)) / (m + mi)
    return Settled(WATER_FREEZES_K + rise, melted)


def pull_down_kg(
    capacity_j_per_k: Numbers, from_k: Numbers, to_k: Numbers, ice_k: Numbers = WATER_FREEZES_K, *, c: Numbers = 4186.0
) -> Array:
    """Ice that cools a tank from one temperature to another [kg]: C (from - to) / (h + c (to - 0 degC)).

    `capacity_j_per_k`: heat capacity C of all that is cooled [J/K]; for water alone mass times `c`, the specific heat
    of water [J/(kg K)]. `from_k`, `to_k` [K], `to_k` at least 0 degC; `ice_k` [K]: the ice as it goes in, with h by
    `heat_to_melt`. All broadcast together; 0 where nothing is to be cooled. Every kilogram melts and is warmed to the
    end temperature: no ice is left over. Published: any textbook of physics (method of mixtures).
    """
    cooled = np.maximum(np.asarray(from_k, dtype=np.float64) - to_k, 0.0)
    return np.asarray(capacity_j_per_k * cooled / (heat_to_melt(ice_k) + c * (np.asarray(to_k) - WATER_FREEZES_K)))


def ice_conductance(per_kg: Numbers, start_kg: Numbers, left_kg: Numbers) -> Array:
    """Heat per kelvin from the water to the ice that is left [W/K]: k m0 (m / m0)^(2/3); 0 without ice.

    `per_kg`: conductance of a kilogram of whole pieces, k [W/(K kg)]; `start_kg` m0 and `left_kg` m [kg] broadcast
    together, 0 <= m <= m0. So many pieces stay as there were and keep their shape, each shrinks: their surface goes
    with mass^(2/3), and the film on it is taken as it is. So ice is gone in a finite time, at a constant T after
    3 h / (k T), h by `heat_to_melt`. Common practice, no source.
    """
    whole = np.asarray(start_kg, dtype=np.float64)
    left = np.clip(np.asarray(left_kg, dtype=np.float64), 0.0, whole)
    share = np.where(whole > 0.0, left / np.where(whole > 0.0, whole, 1.0), 0.0)
    return np.asarray(per_kg * whole * share**_SHRINKS)
