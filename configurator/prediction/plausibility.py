"""Is a core or a front exchanger what such parts usually are? Its figures against limits that are data.

Every judgement is a verdict that names the part. Conductances are worked out from the stated points themselves,
UA from effectiveness by the part's own arrangement; parts without points are judged by what is estimated for them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import permutations
from typing import Protocol

import numpy as np

from configurator.foundations.air import density, specific_heat
from configurator.foundations.coolants import Coolant, properties
from configurator.foundations.verdicts import State, Verdict
from configurator.parts.bounds import Bounds, CoreBounds, ExchangerBounds, FaceTable, PriceBounds
from configurator.parts.kinds import Core, Exchanger, Part, RigidPart
from configurator.parts.performance import CorePoint, ExchangerPoint
from configurator.physics.effectiveness import conductance_to_ua
from configurator.prediction.estimates import CORE_MASS_FLUX, film_conductance
from configurator.prediction.surfaces import Surface, core_surface, exchanger_surface, fluid_of

ALUMINIUM_KG_PER_M3 = 2700.0
"""Density of wrought aluminium; published, handbook value, from memory."""

_SEA_LEVEL_PA = 101325.0
_USUAL_FLOW = 30e-3 / 60
_USUAL_COOLANT = Coolant("ethylene glycol", 0.30)
_USUAL_COOLANT_K = 313.15
_USUAL_AIR_K = 298.15
_USUAL_SPEED = 4.0
"""Where parts without stated points are judged: the state that the table of usual figures is for."""


class Limits(Protocol):
    """Anything with a least and a most."""

    @property
    def least(self) -> float: ...

    @property
    def most(self) -> float: ...


def judge(rule: str, part_id: str, found: float, limits: Limits, unit: str, where: str = "") -> Verdict:
    """Kept where least <= found <= most, else broken; the limit is the one that is broken or nearer.

    `found` and `limits` in `unit`; `where` says in words which figure of the part it is.
    """
    least, most = float(limits.least), float(limits.most)
    kept = least <= found <= most
    limit = least if found < least or (kept and found - least < most - found) else most
    side = "within" if kept else "below" if found < least else "above"
    span = f"{least:.4g} to {most:.4g} {unit}" if kept else f"{limit:.4g} {unit}"
    text = f"{part_id}: {rule.replace('-', ' ')}{where} is {found:.4g} {unit}, {side} {span}"
    return Verdict(rule, "kept" if kept else "broken", (part_id,), found, limit, unit, text)


def usual_face_ua(table: FaceTable, fin_depth_m: float, face_speed_m_per_s: float) -> float:
    """Usual UA per face area [W/K per m2] at a fin depth [m] and a face speed [m/s], on straight lines between the
    figures of the table; outside the table the value at its edge.
    """
    depths = [float(depth) for depth in table.fin_depths_m]
    speeds = [float(row.face_speed_m_per_s) for row in table.rows]
    by_speed = [float(np.interp(fin_depth_m, depths, row.ua_kw_per_k_m2)) for row in table.rows]
    return 1e3 * float(np.interp(face_speed_m_per_s, speeds, by_speed))


def judge_core(core: Core, bounds: Bounds) -> tuple[Verdict, ...]:
    """Every stated point of a core, its conductance, its mass and what fills its box."""
    return (*_core_points(core, bounds.core), *_box(core, bounds.core), *_surface(core, bounds))


def judge_exchanger(exchanger: Exchanger, bounds: Bounds) -> tuple[Verdict, ...]:
    """Every stated point of a front exchanger, its conductance per face area, its mass and what fills its box."""
    limits = bounds.exchanger
    return (*_exchanger_points(exchanger, limits), *_box(exchanger, limits), *_surface(exchanger, bounds))


def judge_prices(parts: Sequence[RigidPart], limits: PriceBounds) -> tuple[Verdict, ...]:
    """Each pair of parts of one kind of which one is larger every way: the larger is not much the cheaper."""
    least = 1.0 - float(limits.cheaper_by)
    found = []
    for small, large in permutations(parts, 2):
        if not _larger_every_way(large, small, 1.0 + float(limits.larger_by)) or small.price == 0:
            continue
        ratio = large.price / small.price
        text = f"{large.id} is larger every way than {small.id} and costs {ratio:.2f} times as much"
        state: State = "kept" if ratio >= least else "broken"
        found.append(Verdict("price-and-size", state, (large.id, small.id), ratio, least, "-", text))
    return tuple(found)


def core_point_ua(core: Core, point: CorePoint) -> float:
    """UA [W/K] of a core that gives one of its measured points. Raises ValueError where no size reaches it."""
    charge = float(point.air_kg_per_s) * float(specific_heat(float(point.charge_in_k)))
    return _point_ua(core, point, charge)


def exchanger_point_ua(exchanger: Exchanger, point: ExchangerPoint) -> float:
    """UA [W/K] of an exchanger that gives one of its measured points, at sea level. Raises ValueError where no
    size reaches it.
    """
    air_k = float(point.air_in_k)
    mass_flow = float(point.face_speed_m_per_s) * _face_m2(exchanger) * float(density(_SEA_LEVEL_PA, air_k))
    return _point_ua(exchanger, point, mass_flow * float(specific_heat(air_k)))


def _point_ua(part: Core | Exchanger, point: CorePoint | ExchangerPoint, air_rate: float) -> float:
    liquid = properties(fluid_of(point.fluid), float(point.coolant_in_k))
    liquid_rate = float(point.coolant_m3_per_s) * float(liquid.density * liquid.specific_heat)
    way = part.arrangement
    wanted = float(point.effectiveness) * air_rate
    return float(conductance_to_ua(way.flow, way.passes, way.pass_order, wanted, air_rate, liquid_rate))


def _core_points(core: Core, limits: CoreBounds) -> Iterator[Verdict]:
    litres = _box_m3(core) * 1e3
    for number, point in enumerate(core.performance.measured, start=1):
        where = f" at point {number}"
        yield judge("effectiveness", core.id, float(point.effectiveness), limits.effectiveness, "-", where)
        yield judge("charge-loss", core.id, float(point.charge_loss_pa), limits.charge_loss, "Pa", where)
        yield judge("coolant-loss", core.id, float(point.coolant_loss_pa), limits.coolant_loss, "Pa", where)
        try:
            ua = core_point_ua(core, point)
        except ValueError as error:
            yield _unreachable(core, where, error)
            continue
        yield judge("conductance", core.id, ua / litres, limits.ua_w_per_k_per_box_litre, "W/K per litre", where)
    if not core.performance.measured:
        surface = core_surface(core)
        ua = _estimated_ua(surface, CORE_MASS_FLUX * float(core.size.y_m) * float(core.size.z_m))
        yield judge("conductance", core.id, ua / litres, limits.ua_w_per_k_per_box_litre, "W/K per litre")


def _exchanger_points(exchanger: Exchanger, limits: ExchangerBounds) -> Iterator[Verdict]:
    face, depth = _face_m2(exchanger), float(exchanger.fin_depth_m or exchanger.size.x_m)
    for number, point in enumerate(exchanger.performance.measured, start=1):
        where = f" at point {number}"
        yield judge("effectiveness", exchanger.id, float(point.effectiveness), limits.effectiveness, "-", where)
        yield judge("coolant-loss", exchanger.id, float(point.coolant_loss_pa), limits.coolant_loss, "Pa", where)
        try:
            ua = exchanger_point_ua(exchanger, point)
        except ValueError as error:
            yield _unreachable(exchanger, where, error)
            continue
        usual = usual_face_ua(limits.usual_face_ua, depth, float(point.face_speed_m_per_s))
        yield judge("conductance", exchanger.id, ua / face / usual, limits.face_ua_over_usual, "of usual", where)
    if not exchanger.performance.measured:
        air = _USUAL_SPEED * face * float(density(_SEA_LEVEL_PA, _USUAL_AIR_K))
        ua = _estimated_ua(exchanger_surface(exchanger), air)
        usual = usual_face_ua(limits.usual_face_ua, depth, _USUAL_SPEED)
        yield judge("conductance", exchanger.id, ua / face / usual, limits.face_ua_over_usual, "of usual")


def _estimated_ua(surface: Surface, air_kg_per_s: float) -> float:
    liquid = properties(_USUAL_COOLANT, _USUAL_COOLANT_K)
    film = float(film_conductance(surface.channels, surface.film_scale, _USUAL_FLOW, liquid))
    return float(1 / (surface.air_resistance * air_kg_per_s**-surface.air_exponent + 1 / film))


def _box(part: Core | Exchanger, limits: CoreBounds | ExchangerBounds) -> Iterator[Verdict]:
    box = _box_m3(part)
    mass = float(part.mass_kg)
    yield judge("mass", part.id, mass / (box * 1e3), limits.mass_per_box_litre, "kg per litre")
    if part.coolant.volume_m3 is not None:
        filled = (mass / ALUMINIUM_KG_PER_M3 + float(part.coolant.volume_m3)) / box
        yield judge("metal-and-coolant", part.id, filled, limits.filled, "of its box")


def _surface(part: Core | Exchanger, bounds: Bounds) -> Iterator[Verdict]:
    """Whether several measured points can be those of one surface; a point out of reach is named on its own."""
    if len(part.performance.measured) < 2:
        return
    try:
        surface = core_surface(part) if isinstance(part, Core) else exchanger_surface(part)
    except ValueError:
        return
    yield judge("points-disagree", part.id, surface.worst_misfit, bounds.points_disagree, "of the conductance")


def _unreachable(part: Part, where: str, error: ValueError) -> Verdict:
    return Verdict("conductance", "broken", (part.id,), unit="W/K", text=f"{part.id}: conductance{where}: {error}")


def _larger_every_way(large: RigidPart, small: RigidPart, times: float) -> bool:
    pairs = ((large.size.x_m, small.size.x_m), (large.size.y_m, small.size.y_m), (large.size.z_m, small.size.z_m))
    return all(float(a) >= times * float(b) for a, b in pairs)


def _box_m3(part: RigidPart) -> float:
    return float(part.size.x_m) * float(part.size.y_m) * float(part.size.z_m)


def _face_m2(exchanger: Exchanger) -> float:
    return float(exchanger.face.wide_m) * float(exchanger.face.high_m)
