"""Water that falls out of moist charge on the cold surface of a core, and what that does to charge and coolant."""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import NDArray

from configurator.foundations.moist_air import VAPOUR_RATIO, saturation_pa

Array = NDArray[np.float64]

_MELTS_K = 273.15
_PIECES = 12
_NEWTON_STEPS = 2
_NUDGE_K = 0.01
_TABLE_K = np.arange(250.0, 451.0, 0.5)


def latent_heat_j_per_kg(t_k: Array | float) -> Array:
    """Heat that a kilogram of vapour gives off as it condenses at `t_k` [K]: L = 2.501e6 - 2361 t, t in degC [J/kg].

    0 to 100 degC within 0.4 %. Published: straight line through the steam tables, as in ASHRAE Fundamentals, chapter 1
    (from memory).
    """
    return np.asarray(2.501e6 - 2361.0 * (np.asarray(t_k) - _MELTS_K))


def saturated_ratio(t_k: Array | float, pressure_pa: Array | float) -> Array:
    """Water per dry air over a wet surface [kg/kg]: 0.621945 ps / (p - ps).

    `t_k`: of the surface [K]; `pressure_pa`: of the charge [Pa absolute]; any shapes that go together. 250 to 450 K,
    below the boiling point at that pressure. `saturation_pa` read from a table of half kelvins: within 1e-5 of it.
    Published: ASHRAE Fundamentals, chapter 1 (from memory).
    """
    ps = np.exp(np.interp(t_k, _TABLE_K, _log_saturation()))
    return np.asarray(VAPOUR_RATIO * ps / np.maximum(pressure_pa - ps, 1.0))


@cache
def _log_saturation() -> Array:
    return np.log([saturation_pa(float(t)) for t in _TABLE_K])


def shed_on_surface(
    charge_in_k: Array,
    charge_out_k: Array,
    coolant_k: Array,
    air_share: Array,
    water: Array | float,
    pressure_pa: Array,
    specific_heat: Array,
) -> tuple[Array, Array]:
    """Water shed in a core [kg/kg] of dry air, and by how much its latent heat leaves the charge warmer [K].

    A march along the charge's way. Between charge T and coolant Tc lies the surface Ts; heat and water reach it through
    the same film (Lewis number 1), so that with n the film's transfer units on the way, and r the film's share of the
    resistance between charge and coolant,

        dT/dn = -(T - Ts),   dW/dn = -max(W - Wsat(Ts, p), 0),
        (Ts - Tc) r / (1 - r) = (T - Ts) + L/cp max(W - Wsat(Ts, p), 0).

    n is that of the dry core: n r = ln((T1 - Tc)/(T2 - Tc)). So water falls out wherever the surface is below the dew
    point, though the charge on the mean is far above it.

    `charge_in_k`, `charge_out_k`: of the dry core, T1 > T2 [K]; `coolant_k`: the coolant's mean in the core [K], below
    T2; `air_share`: r, 0 < r < 1; `water`: W at the inlet [kg/kg]; `pressure_pa`: of the charge [Pa absolute];
    `specific_heat`: of the charge [J/(kg K)]. Arrays of any shape that go together; the results have it too. Where the
    coolant is no cooler than T2 nothing is shed. Condensate leaves at the surface's temperature, its own heat (under
    2 % of L) left out.
    Published: heat and mass transfer on wetted coils with Lewis number 1, ASHRAE Handbook, air-cooling coils (from
    memory); the march itself derived.
    """
    fall = np.maximum(charge_in_k - coolant_k, 1e-6)
    left = np.maximum(charge_out_k - coolant_k, 1e-6)
    cools = (charge_out_k > coolant_k) & (charge_in_k > charge_out_k)
    r = np.clip(air_share, 1e-3, 1 - 1e-3)
    units = np.where(cools, np.log(np.maximum(fall / left, 1.0)) / r, 0.0)
    t, w = np.broadcast_arrays(np.asarray(charge_in_k, float), np.asarray(water, float))
    per_k = latent_heat_j_per_kg(coolant_k) / specific_heat
    piece = units / _PIECES

    def moved(at_surface: Array, over: Array, n: Array) -> tuple[Array, Array]:
        settles = coolant_k + (1 - r) / r * per_k * over
        dried = at_surface + (w - at_surface) * np.exp(-n)
        return settles + (t - settles) * np.exp(-r * n), np.where(over > 0, dried, w)

    for _ in range(_PIECES):
        middle = moved(*_on_surface(t, w, coolant_k, r, per_k, pressure_pa), piece / 2)
        t, w = moved(*_on_surface(*middle, coolant_k, r, per_k, pressure_pa), piece)
    dry = coolant_k + fall * np.exp(-units * r)
    return np.asarray(water - w), np.asarray(np.maximum(t - dry, 0.0))


def _on_surface(
    t: Array, w: Array, coolant_k: Array, r: Array, per_k: Array, pressure_pa: Array
) -> tuple[Array, Array]:
    """Water that the air on the surface holds, and what the charge holds above it [kg/kg].

    Ts = T - r (T - Tc) + (1 - r) L/cp max(W - Wsat(Ts), 0), the balance solved for Ts, by Newton's rule from the dry
    surface: it grows with Ts and bends one way.
    """
    surface = bare = t - r * (t - coolant_k)
    held = saturated_ratio(surface, pressure_pa)
    wet = w > held
    for _ in range(_NEWTON_STEPS):
        if not wet.any():
            break
        steeper = (saturated_ratio(surface + _NUDGE_K, pressure_pa) - held) / _NUDGE_K
        balance = surface - bare - (1 - r) * per_k * (w - held)
        surface = np.where(wet, surface - balance / (1 + (1 - r) * per_k * steeper), surface)
        held = saturated_ratio(surface, pressure_pa)
        wet = w > held
    return held, np.maximum(w - held, 0.0)
