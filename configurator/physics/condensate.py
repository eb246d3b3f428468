"""Water that falls out of moist charge on the cold surface of a core, and what that does to charge and coolant."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import NamedTuple

import numpy as np

from configurator.foundations.moist_air import VAPOUR_RATIO, saturation_pa
from configurator.foundations.numbers import Array
from configurator.foundations.units import ZERO_CELSIUS_K

_PIECES = 12
"""Pieces of the march: up to an effectiveness of 0.9 what is shed is within 0.4 % of the charge's water, and either
temperature within 1 K, of 400 pieces; at 0.95 within 1 % and, where the film is less than half of the resistance,
7 K. Derived, on drawn cores."""

_NEWTON_STEPS = 2
"""Beside eight they move what is shed by 0.1 % of the charge's water at most."""

_NUDGE_K = 0.01
"""Far below what a slope of the saturation curve changes over, far above the error of a float."""

_NEARLY = 1e-5
"""Below this a series takes the place of a quotient of two small figures."""

_LEAST_SHARE = 1e-3
"""No side has less of the resistance: sums divide by either share."""
_TABLE_K = np.arange(250.0, 451.0, 0.5)


def latent_heat_j_per_kg(t_k: Array | float) -> Array:
    """Heat that a kilogram of vapour gives off as it condenses at `t_k` [K]: L = 2.501e6 - 2361 t, t in degC [J/kg].

    0 to 100 degC within 0.4 %. Published: straight line through the steam tables, as in ASHRAE Fundamentals, chapter 1
    (from memory).
    """
    return np.asarray(2.501e6 - 2361.0 * (np.asarray(t_k) - ZERO_CELSIUS_K))


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


@dataclass(frozen=True)
class WetCore:
    """What a core does to moist charge.

    `shed`: water [kg/kg] of dry air; `charge_out_k`: the charge as it leaves [K]; `feed_k`: the coolant's feed [K].
    """

    shed: Array
    charge_out_k: Array
    feed_k: Array


def wet_core(
    charge_in_k: Array,
    coolant_out_k: Array,
    effectiveness: Array,
    capacity_ratio: Array,
    air_share: Array,
    water: Array | float,
    pressure_pa: Array,
    specific_heat: Array,
) -> WetCore:
    """A core that sheds water: a march along the charge's way, against the coolant's.

    Between charge T and coolant Tc lies the surface Ts; heat and water reach it through the same film (Lewis number 1),
    so that with n the film's transfer units on the way, r the film's share of the resistance between charge and
    coolant, and R the charge's capacity rate over the coolant's,

        dT/dn = -(T - Ts),   dW/dn = -max(W - Wsat(Ts, p), 0),   dTc/dn = R (dT/dn + L/cp dW/dn),
        (Ts - Tc) r / (1 - r) = (T - Ts) + L/cp max(W - Wsat(Ts, p), 0).

    n is that of the dry core as counter-flow: n r = ln((1 - R e) / (1 - e)) / (1 - R), e its effectiveness on the
    charge. So water falls out wherever the surface is below the dew point, though the charge on the mean is far above
    it, and its heat warms the coolant that the charge meets before. A dry core leaves the charge just as e says.

    `charge_in_k`: T1 [K]; `coolant_out_k`: the coolant as it leaves the core, where the charge comes in [K];
    `effectiveness`: e, 0 < e < 1, R e < 1; `capacity_ratio`: R, 0 for a coolant that stays as warm as it is;
    `air_share`: r, 0 < r < 1; `water`: W at the inlet [kg/kg]; `pressure_pa`: of the charge [Pa absolute];
    `specific_heat`: of the charge [J/(kg K)]. Arrays of any shape that go together; the results have it too. Where the
    coolant is no cooler than T1 nothing is shed. Condensate leaves at the surface's temperature, its own heat (under
    2 % of L) left out.
    Published: heat and mass transfer on wetted coils with Lewis number 1, ASHRAE Handbook, air-cooling coils;
    counter-flow effectiveness, Kays & London (both from memory); the march itself derived.
    """
    r = np.clip(air_share, _LEAST_SHARE, 1 - _LEAST_SHARE)
    e = np.clip(effectiveness, 1e-9, 1 - 1e-9)
    apart = 1.0 - capacity_ratio
    # ln((1 - R e) / (1 - e)) / (1 - R), which goes to e / (1 - e) as R goes to 1
    odds = np.maximum(e / (1 - e) * apart, -1 + 1e-9)
    units = np.where(abs(odds) < _NEARLY, e / (1 - e), np.log1p(odds) / np.where(apart == 0.0, 1.0, apart)) / r
    piece = np.where(charge_in_k > coolant_out_k, units, 0.0) / _PIECES
    t, tc, w, r, apart = np.broadcast_arrays(charge_in_k, coolant_out_k, np.asarray(water, float), r, apart)

    def moved(t: Array, tc: Array, w: Array, at: _Surface, n: Array) -> tuple[Array, Array, Array]:
        """So many film units on, what the surface takes up staying as it is."""
        fades = r * apart
        once, twice = _integrals(fades, n)
        grows = at.latent_k * ((1 - r) * apart + 1 - apart)
        between = t - tc
        cooler = t - r * (between * once + grows * twice) + (1 - r) * at.latent_k * n
        dried = np.where(at.latent_k > 0, at.water + (w - at.water) * np.exp(-n), w)
        return cooler, cooler - between * np.exp(-fades * n) - grows * once, dried

    for _ in range(_PIECES):
        here = _on_surface(t, tc, w, r, pressure_pa, specific_heat)
        middle = moved(t, tc, w, here, piece / 2)
        t, tc, w = moved(t, tc, w, _on_surface(*middle, r, pressure_pa, specific_heat), piece)
    return WetCore(np.asarray(water - w), t, tc)


def _integrals(rate: Array, n: Array) -> tuple[Array, Array]:
    """What exp(-rate x) comes to from 0 to n, and what that comes to in its turn."""
    steep = abs(rate * n) > _NEARLY
    safe = np.where(steep, rate, 1.0)
    once = np.where(steep, -np.expm1(-safe * n) / safe, n * (1 - rate * n / 2))
    return once, np.where(steep, (n - once) / safe, n * n * (0.5 - rate * n / 6))


class _Surface(NamedTuple):
    """Water that the air on a surface holds [kg/kg]; the latent heat of what the charge holds above it, over cp [K]."""

    water: Array
    latent_k: Array


def _on_surface(t: Array, tc: Array, w: Array, r: Array, pressure_pa: Array, specific_heat: Array) -> _Surface:
    """Ts = T - r (T - Tc) + (1 - r) L/cp max(W - Wsat(Ts), 0), the balance solved for Ts.

    By Newton's rule from the dry surface: it grows with Ts and bends one way.
    """
    per_k = latent_heat_j_per_kg(tc) / specific_heat
    surface = bare = t - r * (t - tc)
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
    return _Surface(held, per_k * np.maximum(w - held, 0.0))
