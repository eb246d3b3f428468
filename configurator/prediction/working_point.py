"""One core or exchanger by itself at a stated working point: what it moves and what it takes, at an end of its bands.

As measured points are read (`prediction.surfaces`): the liquid in the state that it comes in with, the air's specific
heat at its inlet, an exchanger's air at sea level.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from configurator.foundations.air import SEA_LEVEL_PA
from configurator.foundations.air import density as air_density
from configurator.foundations.air import specific_heat as air_specific_heat
from configurator.foundations.coolants import Coolant, properties
from configurator.parts.kinds import Core, Exchanger
from configurator.parts.performance import CorePoint, ExchangerPoint
from configurator.physics.effectiveness import conductance
from configurator.prediction.measured_points import fluid_of
from configurator.prediction.surface_figures import Surface, charge_loss_pa, coolant_loss_pa, overall_conductance
from configurator.prediction.surfaces import core_surface, exchanger_surface


@dataclass(frozen=True)
class WorkingPoint:
    """What meets a part: air [kg/s] of a core, or face speed [m/s] of an exchanger, and the coolant; inlets [K].

    `air_pa_gauge`: of the charge; an exchanger's air stands at none.
    """

    air_kg_per_s: float | None
    face_speed_m_per_s: float | None
    air_in_k: float
    air_pa_gauge: float
    coolant_m3_per_s: float
    coolant: Coolant
    coolant_in_k: float


@dataclass(frozen=True)
class AtWork:
    """What a part does: UA [W/K], effectiveness on its air, air out [K], heat [W], losses [Pa]; charge: cores alone."""

    ua_w_per_k: float
    effectiveness: float
    air_out_k: float
    heat_w: float
    charge_loss_pa: float | None
    coolant_loss_pa: float


_USUAL: Final = Coolant("ethylene glycol", 0.30)
CORE_POINT: Final = WorkingPoint(0.2, None, 423.15, 1.0e5, 30e-3 / 60, _USUAL, 313.15)
EXCHANGER_POINT: Final = WorkingPoint(None, 5.0, 298.15, 0.0, 30e-3 / 60, _USUAL, 328.15)
"""Where parts are told side by side: as single points are usually measured; common practice, no source."""


def at_work(part: Core | Exchanger, point: WorkingPoint, end: int = 0) -> AtWork:
    """A part at a point. `end` -1: conductance low and losses high; 0: as stated; +1: the other way round.

    Raises ValueError where one of its measured points is out of reach of its arrangement.
    """
    surface = core_surface(part) if isinstance(part, Core) else exchanger_surface(part)
    air = point.air_kg_per_s
    if air is None:
        speed = float(point.face_speed_m_per_s or 0.0)
        air = speed * float(surface.face_area_m2) * float(air_density(SEA_LEVEL_PA, point.air_in_k))
    air_rate = air * float(air_specific_heat(point.air_in_k))
    liquid = properties(point.coolant, point.coolant_in_k)
    flow = point.coolant_m3_per_s
    ua = float(overall_conductance(surface, air, flow, liquid, end))
    liquid_rate = flow * float(liquid.density * liquid.specific_heat)
    moved = float(conductance(surface.flow, surface.passes, surface.pass_order, ua, air_rate, liquid_rate))
    share = moved / air_rate
    return AtWork(
        ua_w_per_k=ua,
        effectiveness=share,
        air_out_k=point.air_in_k - share * (point.air_in_k - point.coolant_in_k),
        heat_w=moved * abs(point.air_in_k - point.coolant_in_k),
        charge_loss_pa=_charge_loss_pa(surface, point, air, end) if isinstance(part, Core) else None,
        coolant_loss_pa=float(coolant_loss_pa(surface, flow, liquid, end)),
    )


def measured_at(point: CorePoint | ExchangerPoint) -> WorkingPoint:
    """Where a measured point was taken."""
    liquid = (float(point.coolant_m3_per_s), fluid_of(point.fluid), float(point.coolant_in_k))
    if isinstance(point, CorePoint):
        charge_pa = float(point.charge_pressure_pa_gauge)
        return WorkingPoint(float(point.air_kg_per_s), None, float(point.charge_in_k), charge_pa, *liquid)
    return WorkingPoint(None, float(point.face_speed_m_per_s), float(point.air_in_k), 0.0, *liquid)


def _charge_loss_pa(surface: Surface, point: WorkingPoint, air_kg_per_s: float, end: int) -> float:
    here = float(air_density(SEA_LEVEL_PA + point.air_pa_gauge, point.air_in_k))
    return float(charge_loss_pa(surface, air_kg_per_s, here, end))
