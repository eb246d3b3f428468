"""A heat-moving part as plain numbers: the record, and what each of its numbers gives at given flows.

Heat: 1/UA = air_resistance * flow^-n + 1 / (film_scale * h * A), with h from the liquid's own Nusselt number.
Coolant loss: friction_scale * channel friction + ports * density * flow² / 2. Charge loss: flow^1.8 / density.
Every function takes one part or columns of parts, floats or arrays alike. `end` -1 is the end of the bands with
conductance low and losses high, 0 as stated, +1 the other one.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from configurator.foundations.coolants import Liquid
from configurator.foundations.numbers import Numbers
from configurator.prediction.estimates import Channels, Values, channel_friction_pa, film_conductance

LOSS_EXPONENT = 1.8
"""Charge loss rises with flow to this power at equal density; common practice for finned surfaces."""

BANDS = {
    "several points": (0.07, 0.07),
    "one point": (0.10, 0.10),
    "geometry": (0.22, 0.25),
    "size": (0.40, 0.40),
}
"""Half-widths on conductance and on loss by tier. One point and several: as bench practice has it; geometry: the
stated accuracy of the fin correlations; size only: common practice, no source. Several points that lie further than
that from the one surface through them widen both, each as far as its own points are off."""

WIDEST_BAND = 0.9
"""No band is wider, however far measured points contradict each other: a part still moves some heat. No source."""

_STANDING_AIR = 1e-9
_STANDING_FILM = 1e-9
"""The least flow of air [kg/s] and conductance of a film [W/K] that are reckoned with, so that nothing is divided by
none."""


@dataclass(frozen=True)
class Surface:
    """One core or exchanger as numbers; in columns every figure is an array. See the module's head."""

    flow: str
    passes: int
    pass_order: str | None
    air_resistance: Values
    air_exponent: Values
    film_scale: Values
    channels: Channels
    friction_scale: Values
    ports_per_m4: Values
    charge_loss_pa: Values
    charge_loss_flow: Values
    charge_loss_density: Values
    face_area_m2: Values
    liquid_m3: Values
    metal_j_per_k: Values
    ua_band: Values
    loss_band: Values
    tier: str
    worst_misfit: float


def charge_loss_pa(surface: Surface, air_flow: Values, density: Values, end: Numbers = 0) -> Values:
    """What a core takes of the charge's pressure at a flow [kg/s] and a density [kg/m3]; `end` of its band [Pa]."""
    by_flow = (air_flow / surface.charge_loss_flow) ** LOSS_EXPONENT
    stated = surface.charge_loss_pa * (1 - end * surface.loss_band)
    return stated * by_flow * surface.charge_loss_density / density


def coolant_loss_pa(surface: Surface, flow: Values, liquid: Liquid, end: Numbers = 0) -> Values:
    """What a core or exchanger takes of the coolant's pressure at a flow [m3/s]; `end` of its band [Pa]."""
    friction = surface.friction_scale * channel_friction_pa(surface.channels, flow, liquid)
    ports = surface.ports_per_m4 * liquid.density * flow**2 / 2
    return (friction + ports) * (1 - end * surface.loss_band)


def air_resistance(surface: Surface, air_flow: Values) -> Values:
    """Resistance on its air side with the wall at a flow of air or charge [kg/s], next to endless where none flows
    [K/W].
    """
    return surface.air_resistance * np.maximum(air_flow, _STANDING_AIR) ** -surface.air_exponent


def liquid_resistance(surface: Surface, flow: Values, liquid: Liquid) -> Values:
    """Resistance on its liquid side at a coolant flow [m3/s], next to endless where none flows [K/W]."""
    film = film_conductance(surface.channels, surface.film_scale, flow, liquid)
    return 1 / np.maximum(film, _STANDING_FILM)


def ua_of_resistances(surface: Surface, to_air: Values, to_liquid: Values, end: Numbers = 0) -> Values:
    """Overall conductance UA of its two resistances [K/W], at an `end` of its band [W/K]."""
    return (1 + end * surface.ua_band) / (to_air + to_liquid)


def overall_conductance(surface: Surface, air_flow: Values, flow: Values, liquid: Liquid, end: Numbers = 0) -> Values:
    """Overall conductance UA at its flows of air [kg/s] and coolant [m3/s]; next to none where either stands [W/K]."""
    to_liquid = liquid_resistance(surface, flow, liquid)
    return ua_of_resistances(surface, air_resistance(surface, air_flow), to_liquid, end)
