"""Is a core, a front exchanger or a pump what such parts usually are? Its figures against limits that are data.

Every judgement is a verdict that names the part. Conductances are worked out from the stated points themselves,
UA from effectiveness by the part's own arrangement; parts without points are judged by what is estimated for them.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from typing import Final, NamedTuple, Protocol

import numpy as np

from configurator.foundations.air import SEA_LEVEL_PA, density
from configurator.foundations.coolants import Coolant, properties
from configurator.foundations.units import celsius
from configurator.foundations.verdicts import Verdict
from configurator.parts.bounds import Bounds, CoreBounds, ExchangerBounds, FaceTable, PumpBounds
from configurator.parts.kinds import Core, Exchanger, Part, Pump
from configurator.parts.performance import CorePoint, ExchangerPoint
from configurator.prediction.estimates import CORE_MASS_FLUX, box_m3, fin_depth_m
from configurator.prediction.measured_points import point_ua
from configurator.prediction.surface_figures import Surface, overall_conductance
from configurator.prediction.surfaces import core_surface, exchanger_surface

ALUMINIUM_KG_PER_M3 = 2700.0
"""Density of wrought aluminium; published, handbook value, from memory."""

_USUAL_FLOW = 30e-3 / 60
_USUAL_COOLANT = Coolant("ethylene glycol", 0.30)
_USUAL_COOLANT_K = 313.15
_USUAL_AIR_K = 298.15
_USUAL_SPEED = 4.0
"""Where parts without stated points are judged: the state that the table of usual figures is for."""


Path = tuple[str | int, ...]


_OF_FACE: Final = "times what is usual for its face"
"""The unit of a conductance over that of a usual exchanger; its limit is told as so many times that."""


class Limits(Protocol):
    """Anything with a least and a most."""

    @property
    def least(self) -> float: ...

    @property
    def most(self) -> float: ...


class Claim(NamedTuple):
    """A figure that a part's file makes, to be held against what is usual.

    `at`: where below the part's entry it is written; `where`: which of several points it is of, in words. `found` and
    `limits` are told in `unit`, divided by `per`.
    """

    at: Path
    rule: str
    found: float
    limits: Limits
    unit: str
    per: float = 1.0
    where: str = ""


def judge(part_id: str, claim: Claim) -> Verdict:
    """Kept where least <= found <= most, else broken; the limit is the one that is broken or nearer."""
    found, least, most = (figure / claim.per for figure in (claim.found, claim.limits.least, claim.limits.most))
    kept = least <= found <= most
    limit = least if found < least or (kept and found - least < most - found) else most
    side = "within" if kept else "below" if found < least else "above"
    unit = "times that" if claim.unit == _OF_FACE else claim.unit
    span = f"{least:.4g} to {most:.4g} {unit}" if kept else f"{limit:.4g} {unit}"
    rule = claim.rule.replace("-", " ")
    text = f"{rule}{claim.where} is {found:.4g} {claim.unit}, {side} {span}"
    return Verdict(claim.rule, "kept" if kept else "broken", (part_id,), found, limit, claim.unit, text)


def claims(part: Part, bounds: Bounds) -> Iterator[Claim]:
    """What a core, a front exchanger or a pump claims; of other kinds nothing.

    Points that no size reaches make no claim of conductance: they are told as impossible, not as unusual.
    """
    if isinstance(part, Core):
        yield from (*_core_points(part, bounds.core), *_box(part, bounds.core))
    elif isinstance(part, Exchanger):
        yield from (*_exchanger_points(part, bounds.exchanger), *_box(part, bounds.exchanger))
    elif isinstance(part, Pump):
        yield from _pump(part, bounds.pump)


def usual_face_ua(table: FaceTable, fin_depth_m: float, face_speed_m_per_s: float) -> float:
    """Usual UA per face area [W/K per m2] at a fin depth [m] and a face speed [m/s], on straight lines between the
    figures of the table; outside the table the value at its edge.
    """
    depths = [float(depth) for depth in table.fin_depths_m]
    speeds = [float(row.face_speed_m_per_s) for row in table.rows]
    by_speed = [float(np.interp(fin_depth_m, depths, row.ua_kw_per_k_m2)) for row in table.rows]
    return 1e3 * float(np.interp(face_speed_m_per_s, speeds, by_speed))


def _core_points(core: Core, limits: CoreBounds) -> Iterator[Claim]:
    litres, usual_ua = box_m3(core) * 1e3, limits.ua_w_per_k_per_box_litre
    for index, point in enumerate(core.performance.measured):
        at, where = _at(index)
        yield from _stated(at, where, point, limits)
        yield Claim((*at, "charge_loss"), "charge-loss", point.charge_loss_pa, limits.charge_loss, "kPa", 1e3, where)
        with suppress(ValueError):
            per_litre = point_ua(core, point) / litres
            yield Claim(at, "conductance", per_litre, usual_ua, "W/K per litre of its box", where=where)
    if not core.performance.measured:
        ua = _estimated_ua(core_surface(core), CORE_MASS_FLUX * float(core.size.y_m) * float(core.size.z_m))
        yield Claim(_estimated_from(core), "conductance", ua / litres, usual_ua, "W/K per litre of its box")


def _exchanger_points(exchanger: Exchanger, limits: ExchangerBounds) -> Iterator[Claim]:
    face, depth, over_usual = _face_m2(exchanger), fin_depth_m(exchanger), limits.face_ua_over_usual
    for index, point in enumerate(exchanger.performance.measured):
        at, where = _at(index)
        yield from _stated(at, where, point, limits)
        usual = usual_face_ua(limits.usual_face_ua, depth, float(point.face_speed_m_per_s))
        with suppress(ValueError):
            times = point_ua(exchanger, point) / face / usual
            yield Claim(at, "conductance", times, over_usual, _OF_FACE, where=where)
    if not exchanger.performance.measured:
        air = _USUAL_SPEED * face * float(density(SEA_LEVEL_PA, _USUAL_AIR_K))
        ua = _estimated_ua(exchanger_surface(exchanger), air)
        usual = usual_face_ua(limits.usual_face_ua, depth, _USUAL_SPEED)
        yield Claim(_estimated_from(exchanger), "conductance", ua / face / usual, over_usual, _OF_FACE)


def _at(index: int) -> tuple[Path, str]:
    """Where a measured point is written, and which it is in words."""
    return ("performance", "measured", index), f" at point {index + 1}"


def _stated(
    at: Path, where: str, point: CorePoint | ExchangerPoint, limits: CoreBounds | ExchangerBounds
) -> Iterator[Claim]:
    """What points of cores and of exchangers state alike."""
    yield Claim((*at, "effectiveness"), "effectiveness", point.effectiveness, limits.effectiveness, "%", 0.01, where)
    yield Claim((*at, "coolant_loss"), "coolant-loss", point.coolant_loss_pa, limits.coolant_loss, "kPa", 1e3, where)


def _estimated_from(part: Core | Exchanger) -> tuple[str, ...]:
    """Where that is written from which the conductance of a part without points is estimated."""
    return ("size",) if part.performance.fins is None else ("performance", "fins")


def _pump(pump: Pump, limits: PumpBounds) -> Iterator[Claim]:
    coolant = pump.coolant
    rating = coolant.rating
    if rating.working_pa_gauge is not None:
        stated = ("coolant", rating.stated_as)
        yield Claim(stated, "working-pressure", rating.working_pa_gauge / 1e5, limits.working_bar, "bar")
    if coolant.hottest_k is not None:
        yield Claim(("coolant", "hottest"), "hottest", celsius(coolant.hottest_k), limits.hottest_degc, "degC")
    for index, end in enumerate(coolant.ends):
        if end.form == "spigot" and end.size_m is not None:
            size = ("coolant", "ends", index, "size")
            yield Claim(size, f"spigot-{end.name}", end.size_m * 1e3, limits.end_mm, "mm")
    yield Claim(("current",), "current", pump.current_a, limits.current_a, "A")
    if pump.mass_kg is not None:
        per_litre = float(pump.mass_kg) / (box_m3(pump) * 1e3)
        yield Claim(("mass",), "mass", per_litre, limits.mass_per_box_litre, "kg per litre of its box")


def _estimated_ua(surface: Surface, air_kg_per_s: float) -> float:
    liquid = properties(_USUAL_COOLANT, _USUAL_COOLANT_K)
    return float(overall_conductance(surface, air_kg_per_s, _USUAL_FLOW, liquid))


def _box(part: Core | Exchanger, limits: CoreBounds | ExchangerBounds) -> Iterator[Claim]:
    box, mass = box_m3(part), float(part.mass_kg)
    yield Claim(("mass",), "mass", mass / (box * 1e3), limits.mass_per_box_litre, "kg per litre of its box")
    if part.coolant.volume_m3 is not None:
        filled = (mass / ALUMINIUM_KG_PER_M3 + float(part.coolant.volume_m3)) / box
        yield Claim(("coolant", "volume"), "metal-and-coolant", filled, limits.filled, "% of its box", 0.01)


def _face_m2(exchanger: Exchanger) -> float:
    return float(exchanger.face.wide_m) * float(exchanger.face.high_m)
