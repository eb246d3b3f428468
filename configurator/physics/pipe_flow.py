"""Pressure lost by a liquid in round pipes: friction, steps of bore, short restrictions, bends.

Symbols: f Darcy friction factor, Re = V D rho / mu, K loss over rho V²/2. A loss that does not hang on Re is
carried as K/A² [1/m⁴]: loss = rho Q²/2 × K/A², so that losses of different bores add up.
Bore, speed and Reynolds number are definitions, published in any textbook of hydraulics.
"""

from __future__ import annotations

import math
from typing import Final

import numpy as np

from configurator.foundations.numbers import Array, Numbers

LAMINAR_TO: Final = 2300.0
"""Reynolds number up to which a pipe or channel is taken as laminar."""

TURBULENT_FROM: Final = 4000.0
"""Reynolds number from which it is taken as turbulent; between the two, a straight line in the Reynolds number."""

_LEAST_REYNOLDS: Final = 1e-12
_NEWTON_STEPS: Final = 3  # from Haaland's 2 %, each step squares the error: 3 reach rounding
_STEEL_ROUGHNESS_M: Final = 45.7e-6
_BEND_RADII: Final = (1.0, 1.5, 2.0, 3.0, 4.0, 6.0, 8.0, 10.0)
_BEND_LENGTHS: Final = (20.0, 14.0, 12.0, 12.0, 14.0, 17.0, 24.0, 30.0)


def area(bore_m: Numbers) -> Array:
    """Cross-section of a round bore [m²], pi D²/4, shape of `bore_m` [m], >= 0."""
    return np.pi * np.asarray(bore_m, dtype=np.float64) ** 2 / 4.0


def velocity(flow_m3_per_s: Numbers, bore_m: Numbers) -> Array:
    """Mean speed [m/s] of `flow_m3_per_s` [m³/s] in a round bore `bore_m` [m], > 0, broadcast together."""
    return np.asarray(flow_m3_per_s, dtype=np.float64) / area(bore_m)


def reynolds(flow_m3_per_s: Numbers, bore_m: Numbers, density: Numbers, viscosity: Numbers) -> Array:
    """Reynolds number in a round pipe [-], V D rho / mu.

    `flow_m3_per_s` [m³/s], `bore_m` [m], `density` [kg/m³], `viscosity` dynamic [Pa s], broadcast together.
    Range: any flow, the others > 0.
    """
    v = velocity(flow_m3_per_s, bore_m)
    return np.asarray(v * np.asarray(bore_m) * np.asarray(density) / np.asarray(viscosity))


def friction_factor(
    re: Numbers, relative_roughness: Numbers = 0.0, laminar_constant: Numbers = 64.0
) -> Array:
    """Darcy friction factor of developed flow [-], continuous in Re.

    Below Re 2300 laminar, `laminar_constant` [-] / Re (64 in a round pipe). Above 4000 Colebrook, 1/sqrt(f) = -2
    log10(e/3.7 + 2.51/(Re sqrt(f))), to rounding. Between, a straight line in Re from the one edge value to
    the other: flow there is uncertain, and only continuity is claimed. `re`: Reynolds number on the hydraulic
    diameter [-], >= 0, to 1e8; `relative_roughness`: e/D [-], 0 to 0.05. They broadcast together. Below Re
    1e-12 the factor stays where it is, so that factor times a speed of 0 is 0. Published: Colebrook, J. Inst.
    Civ. Eng. 11 (1939); Haaland's explicit form (1983) starts the iteration (both from memory); the blend is
    our own.
    """
    re_, e, constant = np.broadcast_arrays(
        *(np.asarray(x, dtype=np.float64) for x in (re, relative_roughness, laminar_constant))
    )
    laminar = np.asarray(constant / np.clip(re_, _LEAST_REYNOLDS, LAMINAR_TO))
    if not (re_ > LAMINAR_TO).any():
        return laminar
    turbulent = _colebrook(np.maximum(re_, TURBULENT_FROM), e)
    share = np.clip((re_ - LAMINAR_TO) / (TURBULENT_FROM - LAMINAR_TO), 0.0, 1.0)
    return np.asarray((1.0 - share) * laminar + share * turbulent)


def _colebrook(re: Array, e: Array) -> Array:
    """Darcy friction factor by Colebrook, through Newton's steps on x = 1/sqrt(f)."""
    x = -1.8 * np.log10((e / 3.7) ** 1.11 + 6.9 / re)
    slope = 2.0 / math.log(10.0)
    for _ in range(_NEWTON_STEPS):
        inner = e / 3.7 + 2.51 * x / re
        x = x - (x + slope * np.log(inner)) / (1.0 + slope * (2.51 / re) / inner)
    return x**-2.0


def pipe_loss(
    flow_m3_per_s: Numbers,
    length_m: Numbers,
    bore_m: Numbers,
    roughness_m: Numbers,
    density: Numbers,
    viscosity: Numbers,
) -> Array:
    """Pressure lost to the wall of a straight round pipe [Pa], Darcy-Weisbach: f (L/D) rho V²/2; 0 at no
    flow.

    `flow_m3_per_s` >= 0 [m³/s]; `length_m`, `bore_m`, `roughness_m` (sand-grain equivalent) [m]; `density`
    [kg/m³]; `viscosity` dynamic [Pa s]. They broadcast together. Developed flow; `friction_factor` states the
    range.
    """
    v = velocity(flow_m3_per_s, bore_m)
    f = friction_factor(
        reynolds(flow_m3_per_s, bore_m, density, viscosity), np.asarray(roughness_m) / np.asarray(bore_m)
    )
    return np.asarray(f * np.asarray(length_m) / np.asarray(bore_m) * np.asarray(density) * v**2 / 2.0)


def contraction_factor(area_ratio: Numbers) -> Array:
    """Loss factor K of a sudden contraction on the small bore's speed [-]: 0.5 (1 - sigma).

    `area_ratio`: sigma, small over large area [-], 0 to 1. Turbulent flow, sharp edge; published data lie 25
    % either side. Published: Crane, Technical Paper 410 (from memory).
    """
    return 0.5 * (1.0 - np.asarray(area_ratio, dtype=np.float64))


def expansion_factor(area_ratio: Numbers) -> Array:
    """Loss factor K of a sudden expansion on the small bore's speed [-]: (1 - sigma)², Borda and Carnot.

    `area_ratio`: sigma, small over large area [-], 0 to 1. Turbulent flow. Published: White, Fluid Mechanics,
    ch. 6 (from memory; it follows from the momentum balance).
    """
    return (1.0 - np.asarray(area_ratio, dtype=np.float64)) ** 2


def bend_factor(bore_m: Numbers, radius_over_bore: Numbers = 1.5) -> Array:
    """Loss factor K of a smooth 90 degree bend on the speed in its bore [-]: n fT.

    fT = 0.25/log10((e/D)/3.7)² is the friction factor of rough steel of that bore, e = 45.7 um; n goes from
    20 bores of pipe at a radius of one bore over 12 at 2 to 3 bores to 30 at 10, straight lines between.
    `bore_m` [m], 10 to 100 mm; `radius_over_bore`: of the centre line [-], 1 to 10, held at the nearer end
    outside. They broadcast together. Other sources lie up to 30 % lower in small tight bends. Published:
    Crane, Technical Paper 410 (from memory).
    """
    rough = 0.25 / np.log10(_STEEL_ROUGHNESS_M / np.asarray(bore_m, dtype=np.float64) / 3.7) ** 2
    return np.interp(radius_over_bore, _BEND_RADII, _BEND_LENGTHS) * rough
