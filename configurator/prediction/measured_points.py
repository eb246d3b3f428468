"""The surface through a part's measured points: resistances and losses that meet them best, and how far they miss."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from configurator.foundations.air import SEA_LEVEL_PA
from configurator.foundations.air import density as air_density
from configurator.foundations.air import specific_heat as air_specific_heat
from configurator.foundations.coolants import Coolant, Liquid, properties
from configurator.foundations.numbers import Array
from configurator.parts.kinds import Core, Exchanger
from configurator.parts.performance import CorePoint, ExchangerPoint
from configurator.physics.effectiveness import conductance_to_ua
from configurator.prediction.estimates import channel_friction_pa, film_conductance
from configurator.prediction.surface_figures import BANDS, LOSS_EXPONENT, WIDEST_BAND, Surface, charge_loss_pa

AIR_EXPONENT = 0.6
"""Air-side resistance falls with flow to this power; common practice for finned surfaces, no source."""

LIQUID_SHARE = 0.20
"""Share of the whole resistance on the liquid side where one measured point stands alone; common practice."""

LEAST_SHARE = 1e-6
"""Share of the whole resistance that the side is given whose share the points would make negative: next to none, and
not none, as sums divide by it.
"""

_PORT_SHARE_LEAST = 0.2


def fluid_of(words: str) -> Coolant:
    """The liquid of a measured point: `water`, or a glycol with its share by volume, `ethylene glycol 30 %`."""
    if words == "water":
        return Coolant("water", 0.0)
    kind, _, share = words.rpartition("glycol ")
    return Coolant(f"{kind}glycol", float(share.removesuffix("%").strip()) / 100)  # type: ignore[arg-type]


def point_ua(part: Core | Exchanger, point: CorePoint | ExchangerPoint) -> float:
    """UA that gives one measured point, an exchanger's air at sea level [W/K]. Raises ValueError where no size does."""
    return float(_ua(part, (point,))[0])


def core_from_points(core: Core, base: Surface, points: tuple[CorePoint, ...]) -> Surface:
    """A core through its measured points, `base` with what they say; ValueError where one is out of its reach."""
    fitted = _with_coolant_loss(_with_heat(core, base, points), points)
    flows, _ = _air(core, points)
    densities = np.array([_charge_density(point) for point in points])
    measured = np.array([float(point.charge_loss_pa) for point in points])
    as_first = measured * (flows[0] / flows) ** LOSS_EXPONENT * densities / densities[0]
    fitted = replace(
        fitted,
        # The figure whose largest relative miss is least.
        charge_loss_pa=float(2 / (1 / as_first.min() + 1 / as_first.max())),
        charge_loss_flow=float(flows[0]),
        charge_loss_density=float(densities[0]),
    )
    return _as_wide_as_missed(fitted, charge_loss_pa(fitted, flows, densities), measured)


def _charge_density(point: CorePoint) -> float:
    return float(air_density(SEA_LEVEL_PA + float(point.charge_pressure_pa_gauge), float(point.charge_in_k)))


def exchanger_from_points(part: Exchanger, base: Surface, points: tuple[ExchangerPoint, ...]) -> Surface:
    """A front exchanger through its measured points, as `core_from_points`."""
    return _with_coolant_loss(_with_heat(part, base, points), points)


def _air(part: Core | Exchanger, points: Sequence[CorePoint | ExchangerPoint]) -> tuple[Array, Array]:
    """Flow of charge or air [kg/s] and its temperature on its way in [K] at each point."""
    flows, inlets = np.zeros(len(points)), np.zeros(len(points))
    for at, point in enumerate(points):
        if isinstance(point, CorePoint):
            flows[at], inlets[at] = point.air_kg_per_s, point.charge_in_k
        else:
            assert isinstance(part, Exchanger)
            face_m2 = float(part.face.wide_m) * float(part.face.high_m)
            inlets[at] = point.air_in_k
            flows[at] = float(point.face_speed_m_per_s) * face_m2 * float(air_density(SEA_LEVEL_PA, inlets[at]))
    return flows, inlets


def _ua(part: Core | Exchanger, points: Sequence[CorePoint | ExchangerPoint]) -> Array:
    """UA behind measured points; ValueError where the arrangement cannot reach one of them at any size."""
    flows, inlets = _air(part, points)
    air_rates = flows * air_specific_heat(inlets)
    reached = np.array([float(point.effectiveness) for point in points])
    liquid_rates = np.array([_capacity_rate(point) for point in points])
    way = part.arrangement
    return conductance_to_ua(way.flow, way.passes, way.pass_order, reached * air_rates, air_rates, liquid_rates)


def _capacity_rate(point: CorePoint | ExchangerPoint) -> float:
    liquid = _liquid(point)
    return float(point.coolant_m3_per_s) * float(liquid.density * liquid.specific_heat)


def _with_heat(part: Core | Exchanger, base: Surface, points: Sequence[CorePoint | ExchangerPoint]) -> Surface:
    """Fit the air resistance and the liquid film to measured points (see the head of `surface_figures`)."""
    (flows, _), resistances = _air(part, points), 1 / _ua(part, points)
    films = np.array(
        [1 / film_conductance(base.channels, 1.0, float(p.coolant_m3_per_s), _liquid(p)) for p in points]
    )
    from_geometry = part.performance.channels is not None
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
        air = max(air, LEAST_SHARE * float(resistances[0] * flows[0] ** exponent))
        film = max(film, LEAST_SHARE * float(resistances[0] / films[0]))
    fitted = air * flows**-exponent + film * films
    tier = "several points" if len(flows) > 1 else "one point"
    misfit = float(np.max(np.abs(fitted / resistances - 1)))
    return replace(
        base,
        air_resistance=float(air),
        air_exponent=exponent,
        film_scale=float(1 / film),
        ua_band=_band(BANDS[tier][0], misfit),
        loss_band=BANDS[tier][1],
        tier=tier,
        worst_misfit=misfit,
    )


def _two_terms(flows: Array, resistances: Array, films: Array, n: float) -> tuple[float, float, float]:
    """Air and film factors, neither negative, that meet the measured resistances best; and the misfit left.

    Least squares of two unknowns, relative; where one would be negative the other is fitted alone.
    """
    air_term, film_term = flows**-n / resistances, films / resistances
    both = np.linalg.lstsq(np.column_stack([air_term, film_term]), np.ones(len(flows)), rcond=None)[0]
    tries = [(float(both[0]), float(both[1]))] if min(both) >= 0 else []
    tries.append((float(air_term.sum() / (air_term @ air_term)), 0.0))
    tries.append((0.0, float(film_term.sum() / (film_term @ film_term))))
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
    fitted = replace(base, friction_scale=scale, ports_per_m4=ports)
    return _as_wide_as_missed(fitted, scale * friction + ports * dynamic, measured)


def _as_wide_as_missed(fitted: Surface, found: Array, measured: Array) -> Surface:
    """The surface with a band on its losses that holds every measured one."""
    return replace(fitted, loss_band=_band(float(fitted.loss_band), float(np.max(np.abs(measured / found - 1)))))


def _band(usual: float, misfit: float) -> float:
    return min(max(usual, misfit), WIDEST_BAND)


def _liquid(point: CorePoint | ExchangerPoint) -> Liquid:
    return properties(fluid_of(point.fluid), float(point.coolant_in_k))
