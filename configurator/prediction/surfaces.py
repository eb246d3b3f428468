"""A heat-moving part as plain numbers: resistances on both sides, losses, stores of heat, bands.

Heat: 1/UA = air_resistance * flow^-n + 1 / (film_scale * h * A), with h from the liquid's own Nusselt number.
Coolant loss: friction_scale * channel friction + ports * density * flow² / 2. Charge loss: flow^1.8 / density.
Measured points come first, then fins of a kind that has a correlation, then the outer size alone; each with its band.
Each measured point states the losses. Without points a passage's own `loss` at `loss_at` comes before any estimate.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from configurator.foundations.air import density as air_density
from configurator.foundations.air import specific_heat as air_specific_heat
from configurator.foundations.coolants import Coolant, Liquid, properties
from configurator.parts.kinds import Core, Exchanger
from configurator.parts.passages import LossPassage
from configurator.parts.performance import CorePoint, ExchangerPoint
from configurator.physics.effectiveness import conductance_to_ua
from configurator.prediction.estimates import (
    ALUMINIUM_J_PER_KG_K,
    Channels,
    Estimate,
    Values,
    channel_friction_pa,
    core_from_geometry,
    core_from_size,
    default_core_channels,
    default_exchanger_channels,
    exchanger_from_geometry,
    exchanger_from_size,
    film_conductance,
    given_channels,
)

Array = NDArray[np.float64]

AIR_EXPONENT = 0.6
"""Air-side resistance falls with flow to this power; common practice for finned surfaces, no source."""

LIQUID_SHARE = 0.20
"""Share of the whole resistance on the liquid side where one measured point stands alone; common practice."""

LOSS_EXPONENT = 1.8
"""Charge loss rises with flow to this power at equal density; common practice for finned surfaces."""

BANDS = {
    "several points": (0.07, 0.07),
    "one point": (0.10, 0.10),
    "geometry": (0.22, 0.25),
    "size": (0.40, 0.40),
}
"""Half-widths on conductance and on loss by tier. One point and several: as bench practice has it; geometry: the
stated accuracy of the fin correlations; size only: common practice, no source."""

_SEA_LEVEL_PA = 101325.0

STATED_LIQUID = Coolant("water", 0.0)
STATED_K = 293.15
"""What a loss that a passage states is taken as found with: water, or air of sea level, at 20 degC, as on a flow bench;
then coolant loss goes with density * flow², charge loss as above. A sheet seldom says. Common practice, no source."""

_PORT_SHARE_LEAST = 0.2


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
        return _core_from_points(core, base, performance.measured)
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
    air = float(air_density(_SEA_LEVEL_PA, STATED_K))
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
        return _exchanger_from_points(exchanger, base, performance.measured)
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


def fluid_of(words: str) -> Coolant:
    """The liquid of a measured point: `water`, or a glycol with its share by volume, `ethylene glycol 30 %`."""
    if words == "water":
        return Coolant("water", 0.0)
    kind, _, share = words.rpartition("glycol ")
    return Coolant(f"{kind}glycol", float(share.removesuffix("%").strip()) / 100)  # type: ignore[arg-type]


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


def _core_from_points(core: Core, base: Surface, points: tuple[CorePoint, ...]) -> Surface:
    flows = np.array([float(point.air_kg_per_s) for point in points])
    charge = flows * air_specific_heat(np.array([float(point.charge_in_k) for point in points]))
    resistances = 1 / _ua(base, points, charge)
    films = [1 / film_conductance(base.channels, 1.0, float(p.coolant_m3_per_s), _liquid(p)) for p in points]
    from_geometry = core.performance.channels is not None
    fitted = _with_heat(base, flows, resistances, np.array(films), from_geometry)
    fitted = _with_coolant_loss(fitted, points)
    loss = points[0]
    losses = [
        float(p.charge_loss_pa)
        * (float(loss.air_kg_per_s) / float(p.air_kg_per_s)) ** LOSS_EXPONENT
        * _charge_density(p)
        / _charge_density(loss)
        for p in points
    ]
    return replace(
        fitted,
        # The figure whose largest relative miss is least.
        charge_loss_pa=2 / (1 / min(losses) + 1 / max(losses)),
        charge_loss_flow=float(loss.air_kg_per_s),
        charge_loss_density=_charge_density(loss),
    )


def _charge_density(point: CorePoint) -> float:
    return float(air_density(_SEA_LEVEL_PA + float(point.charge_pressure_pa_gauge), float(point.charge_in_k)))


def _exchanger_from_points(part: Exchanger, base: Surface, points: tuple[ExchangerPoint, ...]) -> Surface:
    air_k = np.array([float(point.air_in_k) for point in points])
    flows = np.array([float(point.face_speed_m_per_s) for point in points]) * base.face_area_m2
    flows *= air_density(_SEA_LEVEL_PA, air_k)
    resistances = 1 / _ua(base, points, flows * air_specific_heat(air_k))
    films = [1 / film_conductance(base.channels, 1.0, float(p.coolant_m3_per_s), _liquid(p)) for p in points]
    from_geometry = part.performance.channels is not None
    fitted = _with_heat(base, flows, resistances, np.array(films), from_geometry)
    return _with_coolant_loss(fitted, points)


def _ua(base: Surface, points: Sequence[CorePoint | ExchangerPoint], air_rates: Array) -> Array:
    """UA behind measured points; ValueError where the arrangement cannot reach one of them at any size."""
    reached = np.array([float(point.effectiveness) for point in points])
    liquid_rates = np.array([_capacity_rate(point) for point in points])
    return conductance_to_ua(base.flow, base.passes, base.pass_order, reached * air_rates, air_rates, liquid_rates)


def _capacity_rate(point: CorePoint | ExchangerPoint) -> float:
    liquid = _liquid(point)
    return float(point.coolant_m3_per_s) * float(liquid.density * liquid.specific_heat)


def _with_heat(base: Surface, flows: Array, resistances: Array, films: Array, from_geometry: bool) -> Surface:
    """Fit the air resistance and the liquid film to measured resistances (see the module's head)."""
    if len(flows) == 1:
        share = min(max(films[0] / resistances[0], 0.05), 0.6) if from_geometry else LIQUID_SHARE
        exponent = AIR_EXPONENT
        air = (1 - share) * resistances[0] * flows[0] ** exponent
        film = share * resistances[0] / films[0]
    else:
        candidates = np.arange(0.40, 0.81, 0.05) if len(flows) > 2 else np.array([AIR_EXPONENT])
        fits = [_two_terms(flows, resistances, films, float(n)) for n in candidates]
        best = min(range(len(fits)), key=lambda index: fits[index][2])
        exponent, (air, film, _) = float(candidates[best]), fits[best]
    fitted = air * flows**-exponent + film * films
    tier = "several points" if len(flows) > 1 else "one point"
    return replace(
        base,
        air_resistance=float(air),
        air_exponent=exponent,
        film_scale=float(1 / film) if film > 0 else 1e6,
        ua_band=BANDS[tier][0],
        loss_band=BANDS[tier][1],
        tier=tier,
        worst_misfit=float(np.max(np.abs(fitted / resistances - 1))),
    )


def _two_terms(flows: Array, resistances: Array, films: Array, n: float) -> tuple[float, float, float]:
    """Air and film factors, neither negative, that meet the measured resistances best; and the misfit left.

    Least squares of two unknowns, relative; where one would be negative the other is fitted alone.
    """
    air_term, film_term = flows**-n / resistances, films / resistances
    both = np.linalg.lstsq(np.column_stack([air_term, film_term]), np.ones(len(flows)), rcond=None)[0]
    tries = [(float(both[0]), float(both[1]))] if min(both) >= 0 else []
    tries.append((float(air_term.sum() / (air_term @ air_term)), 0.0))
    misfits = [
        (float(np.sum((air * air_term + film * film_term - 1) ** 2)), air, film) for air, film in tries
    ]
    misfit, air, film = min(misfits)
    return air, film, misfit


def _with_coolant_loss(base: Surface, points: Sequence[CorePoint | ExchangerPoint]) -> Surface:
    """Split measured coolant losses into channel friction and ports: ports take what friction leaves."""
    flows = np.array([float(point.coolant_m3_per_s) for point in points])
    liquids = [_liquid(point) for point in points]
    friction = np.array(
        [channel_friction_pa(base.channels, q, fluid) for q, fluid in zip(flows, liquids, strict=True)]
    )
    dynamic = np.array([float(fluid.density) for fluid in liquids]) * flows**2 / 2
    measured = np.array([float(point.coolant_loss_pa) for point in points])
    scale = min(1.0, float(np.min((1 - _PORT_SHARE_LEAST) * measured / friction)))
    ports = float(np.mean((measured - scale * friction) / dynamic))
    return replace(base, friction_scale=scale, ports_per_m4=ports)


def _liquid(point: CorePoint | ExchangerPoint) -> Liquid:
    return properties(fluid_of(point.fluid), float(point.coolant_in_k))
