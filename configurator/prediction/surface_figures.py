"""A heat-moving part as plain numbers: the record, and what each of its numbers gives at given flows.

Heat: 1/UA = air_resistance * flow^-n + 1 / (film_scale * h * A), with h from the liquid's own Nusselt number.
Coolant loss: friction_scale * channel friction + ports * density * flow² / 2. Charge loss: flow^1.8 / density.
Every function takes one part or columns of parts, floats or arrays alike.
"""

from __future__ import annotations

from dataclasses import dataclass

from configurator.foundations.coolants import Liquid
from configurator.prediction.estimates import Channels, Values, channel_friction_pa

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


def charge_loss_pa(surface: Surface, air_kg_per_s: Values, density: Values) -> Values:
    """What a core takes of the charge's pressure at a flow [kg/s] and a density [kg/m3], as stated [Pa]."""
    by_flow = (air_kg_per_s / surface.charge_loss_flow) ** LOSS_EXPONENT
    return surface.charge_loss_pa * by_flow * surface.charge_loss_density / density


def coolant_loss_pa(surface: Surface, flow: Values, liquid: Liquid) -> Values:
    """What a core or exchanger takes of the coolant's pressure at a flow [m3/s], as stated [Pa]."""
    friction = surface.friction_scale * channel_friction_pa(surface.channels, flow, liquid)
    return friction + surface.ports_per_m4 * liquid.density * flow**2 / 2
