"""Ice in the reservoir: what a filling is, and the loop stepped through while the ice melts.

Ice floats, and so displaces just the water that it melts to: the level stays, and water and ice together weigh what
the reservoir's volume of water weighs. Within a step the ice's conductance, the share that warms melt water, and the
water's heat capacity keep their values of the middle of the step, found by a trial of half of it. So every step is one
linear system, stepped exactly; steps are short, and half of them change nothing that is told. Where the ice is gone
inside a step, that moment is found to a millisecond and the rest of the step goes on without ice.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple, Protocol

import numpy as np

from configurator.foundations.freezing import WATER_FREEZES_K
from configurator.foundations.numbers import Array, Numbers
from configurator.physics.ice import ICE_DENSITY, heat_to_melt, ice_conductance
from configurator.physics.lumps import integrals, moved, step

ICE_STEP_S = 0.5
"""Longest step while there is ice [s]; half of it moves no temperature by 0.02 K."""

WATER_DENSITY = 1000.0
"""Of water near 0 degC [kg/m3]; published: any handbook."""

HEAPED = 0.6
"""Share of its room that heaped ice fills. Common practice, no source: 0.5 to 0.65 for cubes and crushed ice."""

_GONE_WITHIN_S = 1e-3
_LEAST_MIDDLE = 3.0**-1.5
"""Share of the ice of a step's start that it is held at, at least: so ice that is gone within the step is gone at the
right time, as the mean of (1 - t)^2, its surface on the way to none, is a third."""


@dataclass(frozen=True)
class IceFilling:
    """The ice of a brief: what is in the tank at the start of every pass, and how often there is one.

    Conductances per kilogram of whole pieces [W/(K kg)], with the pump running and in still water, and how far they may
    be off. `water_k`: what the tank is filled with before it is pulled down. `between_s`: None where nobody says.
    """

    name: str
    start_kg: float
    stirred: float
    still: float
    band: float
    ice_k: float
    water_k: float
    passes: int
    between_s: float | None

    @property
    def heat_j_per_kg(self) -> float:
        """What a kilogram of this ice takes until it is water at 0 degC [J/kg]."""
        return float(heat_to_melt(self.ice_k))

    @property
    def heap_m3(self) -> float:
        """Room that the heaped ice takes [m3]."""
        return self.start_kg / ICE_DENSITY / HEAPED

    @property
    def displaced_m3(self) -> float:
        """Water that the floating ice displaces, and melts to [m3]."""
        return self.start_kg / WATER_DENSITY

    def per_kg(self, pump: bool, end: Numbers = 0) -> Numbers:
        """Conductance per kilogram of whole pieces at one end of its band [W/(K kg)]."""
        return (self.stirred if pump else self.still) * (1 + end * self.band)


@dataclass(frozen=True)
class IceTank:
    """The first lump of every row with its ice. `full_j_per_k`: the lump's heat capacity when all ice is water.

    `per_kg`: by whether the pump runs; `liquid_j_per_kg_k`: specific heat of the water.
    """

    start_kg: float
    heat_j_per_kg: Numbers
    per_kg: tuple[Numbers, Numbers]
    full_j_per_k: Array
    liquid_j_per_kg_k: Array


def ice_tank(filling: IceFilling, full_j_per_k: Array, liquid_j_per_kg_k: Array, end: Numbers) -> IceTank:
    """A filling in the first lump of every row, at one end of its band."""
    per_kg = (filling.per_kg(False, end), filling.per_kg(True, end))
    return IceTank(filling.start_kg, filling.heat_j_per_kg, per_kg, full_j_per_k, liquid_j_per_kg_k)


class Linear(Protocol):
    """dX/dt = m X + b, per row."""

    @property
    def m(self) -> Array:
        """[1/s], shape (rows, lumps, lumps)."""

    @property
    def b(self) -> Array:
        """[K/s], shape (rows, lumps)."""


@dataclass(frozen=True)
class Vessel:
    """The whole loop as one stirred lump: `m` (rows, 1, 1) [1/s] and `b` (rows, 1) [K/s]."""

    m: Array
    b: Array


class IceStep(NamedTuple):
    """One step: its length, state and ice behind it, the integral of the state, heat to the ice, heat to the tank."""

    seconds: float
    state: Array
    kg: Array
    kelvin_seconds: Array
    ice_j: Array
    tank_j: Array


def ice_steps(
    load: Linear,
    tank: IceTank,
    pump: bool,
    seconds: float,
    state: Array,
    kg: Array,
    longest_s: float = ICE_STEP_S,
) -> Iterator[IceStep]:
    """Step a piece of the drive: `state` (rows, lumps) [K] and ice `kg` (rows) at its start."""
    count = max(math.ceil(seconds / longest_s - 1e-9), 1)
    for _ in range(count):
        after = _step(load, tank, tank.per_kg[pump], seconds / count, state, kg)
        yield after
        state, kg = after.state, after.kg


@dataclass(frozen=True)
class _Held:
    """A step's linear system with the ice as it is held through it."""

    m: Array
    b: Array
    g: Array
    share: Array
    tank_j_per_k: Array

    def melted(self, kelvin_seconds: Array, seconds: Array | float, tank: IceTank) -> Array:
        """Ice that melts while the tank's temperature integrates to so much [kg]."""
        return np.asarray(self.g * (kelvin_seconds[:, 0] - WATER_FREEZES_K * seconds) / tank.heat_j_per_kg)


def _held(load: Linear, tank: IceTank, per_kg: Numbers, kg: Array, tank_k: Array) -> _Held:
    """The loop with so much ice in a tank of that temperature: film heat melts, and melt water is warmed besides."""
    g = ice_conductance(per_kg, tank.start_kg, kg)
    share = 1 + tank.liquid_j_per_kg_k * np.maximum(tank_k - WATER_FREEZES_K, 0.0) / tank.heat_j_per_kg
    capacity = tank.full_j_per_k - tank.liquid_j_per_kg_k * kg
    scale, to_ice = tank.full_j_per_k / capacity, g * share / capacity
    m, b = load.m.copy(), load.b.copy()
    m[:, 0] *= scale[:, None]
    b[:, 0] *= scale
    m[:, 0, 0] -= to_ice
    b[:, 0] += to_ice * WATER_FREEZES_K
    return _Held(m, b, g, share, capacity)


def _step(load: Linear, tank: IceTank, per_kg: Numbers, seconds: float, state: Array, kg: Array) -> IceStep:
    trial = _held(load, tank, per_kg, kg, state[:, 0])
    phi, shift = step(trial.m, trial.b, seconds / 2)
    middle = moved(phi, shift, state)
    melted = trial.melted((state + middle) / 2 * (seconds / 2), seconds / 2, tank)
    held = _held(load, tank, per_kg, np.maximum(kg - melted, _LEAST_MIDDLE * kg), middle[:, 0])
    whole = integrals(held.m, held.b, state, seconds)
    after = _moved(held.m, held.b, state, whole, seconds)
    left = kg - held.melted(whole, seconds, tank)
    gains = held.tank_j_per_k * (after[:, 0] - state[:, 0])
    heat = held.g * held.share * (whole[:, 0] - WATER_FREEZES_K * seconds)
    gone = (left <= 0.0) & (kg > 0.0)
    if gone.any():
        with_ice = _until_gone(held, tank, seconds, state, kg)
        melt_s = np.where(gone, with_ice, seconds)
        first = integrals(held.m, held.b, state, melt_s)
        bare = _moved(held.m, held.b, state, first, melt_s)
        rest = integrals(load.m, load.b, bare, seconds - melt_s)
        end = _moved(load.m, load.b, bare, rest, seconds - melt_s)
        whole = np.where(gone[:, None], first + rest, whole)
        after = np.where(gone[:, None], end, after)
        in_two = held.tank_j_per_k * (bare[:, 0] - state[:, 0]) + tank.full_j_per_k * (end[:, 0] - bare[:, 0])
        gains = np.where(gone, in_two, gains)
        heat = np.where(gone, held.g * held.share * (first[:, 0] - WATER_FREEZES_K * melt_s), heat)
    return IceStep(seconds, after, np.maximum(left, 0.0), whole, heat, gains)


def _until_gone(held: _Held, tank: IceTank, seconds: float, state: Array, kg: Array) -> Array:
    """When in a step the ice is gone, per row, to a millisecond by halving [s]; the step's end where it lasts."""
    low, high = np.zeros_like(kg), np.full_like(kg, seconds)
    for _ in range(math.ceil(math.log2(max(seconds / _GONE_WITHIN_S, 1.0)))):
        middle = (low + high) / 2
        lasts = held.melted(integrals(held.m, held.b, state, middle), middle, tank) < kg
        low, high = np.where(lasts, middle, low), np.where(lasts, high, middle)
    return high


def _moved(m: Array, b: Array, state: Array, kelvin_seconds: Array, seconds: Array | float) -> Array:
    """The state after a step, from the integral of the state over it: X + M integral + b t."""
    time = np.broadcast_to(np.asarray(seconds, dtype=np.float64), state.shape[:1])[:, None]
    return np.asarray(state + (m @ kelvin_seconds[:, :, None])[:, :, 0] + b * time)
