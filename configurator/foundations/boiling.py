"""Where a coolant boils: its boiling point at a pressure, and the pressure of its vapour.

The figures stand in `boiling_tables.json`, each with its source.
"""

from __future__ import annotations

import json
import math
from functools import lru_cache
from importlib.resources import files
from typing import Any, Final

from configurator.foundations.coolants import Coolant

_GAS_J_PER_MOL_K: Final = 8.314462618
_BAR_PA: Final = 1e5
_NORMAL_PA: Final = 101325.0
_COLDEST_K: Final = 250.0


def vapour_pressure_pa(coolant: Coolant, t_k: float) -> float:
    """Pressure of the vapour [Pa absolute] above `coolant` at `t_k` [K].

    Raoult: p = (1 - x) p_water + x p_glycol, x the mole fraction of glycol in what was poured (share by volume,
    densities of the pure liquids at 20 degC). p_water: ln(p/p_c) = T_c/T sum a_i (1 - T/T_c)^n_i (published, IAPWS
    SR1-86). p_glycol: Antoine for ethylene glycol; for propylene glycol ln(p/p_n) = H/R (1/T_n - 1/T), Clausius and
    Clapeyron with one heat of vaporisation. One coolant, one temperature; 320 to 450 K, further out extrapolated.
    Water is good to 0.1 K; the mixtures, taken as ideal, to about 1 K of boiling point.
    """
    share = _mole_fraction(coolant)
    water = (1.0 - share) * _water_pa(t_k)
    return water if share == 0.0 else water + share * _glycol_pa(coolant.kind, t_k)


@lru_cache(maxsize=4096)
def boiling_point_k(coolant: Coolant, pressure_pa: float) -> float:
    """Temperature [K] at which `coolant` boils under `pressure_pa` [Pa absolute].

    Where `vapour_pressure_pa` is that pressure, by halving to 1e-9 K; 20 kPa to 1 MPa is vouched for; sources as of
    `vapour_pressure_pa`. Above the critical pressure of water its critical temperature, below what 250 K gives 250 K.
    """
    low, high = _COLDEST_K, float(_tables()["water"]["critical_k"])
    while high - low > 1e-9:
        middle = (low + high) / 2
        if vapour_pressure_pa(coolant, middle) < pressure_pa:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def _mole_fraction(coolant: Coolant) -> float:
    if coolant.glycol_by_volume == 0.0:
        return 0.0
    water, glycol = _tables()["water"], _tables()[coolant.kind]
    of_glycol = coolant.glycol_by_volume * glycol["kg_per_m3"] / glycol["g_per_mol"]
    of_water = (1.0 - coolant.glycol_by_volume) * water["kg_per_m3"] / water["g_per_mol"]
    return float(of_glycol / (of_glycol + of_water))


def _water_pa(t_k: float) -> float:
    water = _tables()["water"]
    below = 1.0 - t_k / water["critical_k"]
    terms = zip(water["coefficients"], water["exponents"], strict=True)
    total = sum(coefficient * below**exponent for coefficient, exponent in terms)
    return float(water["critical_pa"] * math.exp(water["critical_k"] / t_k * total))


def _glycol_pa(kind: str, t_k: float) -> float:
    glycol = _tables()[kind]
    if "antoine_log10_bar" in glycol:
        a, b, c = glycol["antoine_log10_bar"]
        return float(_BAR_PA * 10.0 ** (a - b / (t_k + c)))
    slope = glycol["vaporisation_j_per_mol"] / _GAS_J_PER_MOL_K
    return _NORMAL_PA * math.exp(slope * (1.0 / glycol["boils_k"] - 1.0 / t_k))


@lru_cache(maxsize=1)
def _tables() -> dict[str, Any]:
    text = (files("configurator.foundations") / "boiling_tables.json").read_text(encoding="utf-8")
    tables: dict[str, Any] = json.loads(text)
    return tables
