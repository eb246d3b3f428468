"""A core or front exchanger as plain numbers, from the best that is known of it.

Measured points come first, then fins of a kind that has a correlation, then the outer size alone; each with its band.
Each measured point states the losses. Without points a passage's own `loss` at `loss_at` comes before any estimate.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from configurator.foundations.air import SEA_LEVEL_PA
from configurator.foundations.air import density as air_density
from configurator.foundations.coolants import Coolant, properties
from configurator.parts.kinds import Core, Exchanger
from configurator.parts.passages import LossPassage
from configurator.prediction.estimates import (
    ALUMINIUM_J_PER_KG_K,
    Channels,
    Estimate,
    core_from_geometry,
    core_from_size,
    default_core_channels,
    default_exchanger_channels,
    exchanger_from_geometry,
    exchanger_from_size,
    given_channels,
)
from configurator.prediction.measured_points import AIR_EXPONENT, core_from_points, exchanger_from_points
from configurator.prediction.surface_figures import BANDS, Surface

STATED_LIQUID = Coolant("water", 0.0)
STATED_K = 293.15
"""What a loss that a passage states is taken as found with: water, or air of sea level, at 20 degC, as on a flow bench;
then coolant loss goes with density * flow², charge loss as above. A sheet seldom says. Common practice, no source."""


@lru_cache(maxsize=4096)
def core_surface(core: Core) -> Surface:
    """The numbers of a core, from the best that is known of it."""
    performance = core.performance
    channels = (
        given_channels(performance.channels, core.arrangement.passes)
        if performance.channels is not None
        else default_core_channels(core)
    )
    base = _bare(core, channels, float(core.coolant.volume_m3 or channels.volume_m3), face_area_m2=0.0)
    if performance.measured:
        return core_from_points(core, base, performance.measured)
    fins = performance.fins
    if fins is not None and fins.kind == "offset strip" and performance.block is not None:
        estimate = core_from_geometry(core)
        tier = "geometry"
    else:
        estimate = core_from_size(core, channels)
        tier = "size"
    estimated = _with_stated_loss(_from_estimate(base, estimate, tier), core.coolant)
    loss = core.charge.stated_loss
    if loss is None:
        return estimated
    air = float(air_density(SEA_LEVEL_PA, STATED_K))
    return replace(
        estimated, charge_loss_pa=loss.pa, charge_loss_flow=air * loss.at_m3_per_s, charge_loss_density=air
    )


@lru_cache(maxsize=4096)
def exchanger_surface(exchanger: Exchanger) -> Surface:
    """The numbers of a front exchanger, from the best that is known of it."""
    performance = exchanger.performance
    channels = (
        given_channels(performance.channels, exchanger.arrangement.passes)
        if performance.channels is not None
        else default_exchanger_channels(exchanger)
    )
    face = float(exchanger.face.wide_m) * float(exchanger.face.high_m)
    base = _bare(
        exchanger, channels, float(exchanger.coolant.volume_m3 or channels.volume_m3), face_area_m2=face
    )
    if performance.measured:
        return exchanger_from_points(exchanger, base, performance.measured)
    fins = performance.fins
    if fins is not None and fins.kind == "louvred" and performance.channels is not None:
        estimate = exchanger_from_geometry(exchanger)
        tier = "geometry"
    else:
        estimate = exchanger_from_size(exchanger, channels)
        tier = "size"
    return _with_stated_loss(_from_estimate(base, estimate, tier), exchanger.coolant)


def _from_estimate(base: Surface, estimate: Estimate, tier: str) -> Surface:
    """A part that nobody measured, with the bands of the tier its estimate belongs to."""
    return replace(
        base,
        air_resistance=estimate.air_resistance,
        air_exponent=estimate.air_exponent,
        film_scale=estimate.film_scale,
        ports_per_m4=estimate.ports_per_m4,
        charge_loss_pa=estimate.charge_loss_pa,
        charge_loss_flow=estimate.charge_loss_flow,
        charge_loss_density=estimate.charge_loss_density,
        ua_band=BANDS[tier][0],
        loss_band=BANDS[tier][1],
        tier=tier,
    )


def _with_stated_loss(estimated: Surface, coolant: LossPassage) -> Surface:
    """The coolant loss that a passage states, all of it as density * flow²; the band stays that of the estimate."""
    loss = coolant.stated_loss
    if loss is None:
        return estimated
    dynamic = float(properties(STATED_LIQUID, STATED_K).density) * loss.at_m3_per_s**2 / 2
    return replace(estimated, friction_scale=0.0, ports_per_m4=loss.pa / dynamic)


def _bare(part: Core | Exchanger, channels: Channels, liquid_m3: float, face_area_m2: float) -> Surface:
    heat = part.specific_heat_j_per_kg_k or ALUMINIUM_J_PER_KG_K
    return Surface(
        flow=part.arrangement.flow,
        passes=part.arrangement.passes,
        pass_order=part.arrangement.pass_order,
        air_resistance=0.0,
        air_exponent=AIR_EXPONENT,
        film_scale=1.0,
        channels=channels,
        friction_scale=1.0,
        ports_per_m4=0.0,
        charge_loss_pa=0.0,
        charge_loss_flow=1.0,
        charge_loss_density=1.0,
        face_area_m2=face_area_m2,
        liquid_m3=liquid_m3,
        metal_j_per_k=float(part.mass_kg or 0.0) * float(heat),
        ua_band=0.0,
        loss_band=0.0,
        tier="",
        worst_misfit=0.0,
    )
