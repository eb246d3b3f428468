"""What a front exchanger in circuit with an ice tank brings in from the outside air."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from configurator.foundations.air import density, specific_heat
from configurator.foundations.coolants import properties
from configurator.parts.kinds import Exchanger
from configurator.physics.effectiveness import conductance
from configurator.prediction.conditions import Conditions
from configurator.prediction.surface_figures import overall_conductance
from configurator.prediction.surfaces import exchanger_surface
from configurator.prediction.zone_air import ZoneAir

COOLANT_M3_PER_S = 30e-3 / 60
"""Common practice, no source: 30 L/min, the flow at which front exchangers are compared."""


def warming_w(exchanger: Exchanger, airs: Iterable[ZoneAir], conditions: Conditions) -> float:
    """Heat that an exchanger brings into coolant as cold as at the start, in the fastest air of the drive [W].

    G (air - coolant) at 30 L/min; `airs`: the air of each zone it may sit in, of which the one that brings most counts.
    """
    surface = exchanger_surface(exchanger)
    liquid = properties(conditions.coolant, conditions.start_k)
    flow = np.array([COOLANT_M3_PER_S])
    rate = flow * liquid.density * liquid.specific_heat
    road = max(moment.speed_m_per_s for moment in conditions.moments)
    found = []
    for air in airs:
        into_k = conditions.ambient_k + air.preheat_k
        speed = max(air.ram_share * road, air.face_speed_m_per_s, air.fan_speed_m_per_s)
        kg_per_s = np.array([speed]) * surface.face_area_m2 * density(conditions.ambient_pa, into_k)
        ua = overall_conductance(surface, kg_per_s, flow, liquid, 0)
        arrangement = (surface.flow, surface.passes, surface.pass_order)
        g = conductance(*arrangement, ua, kg_per_s * specific_heat(into_k), rate)
        found.append(float(g[0]) * (into_k - conditions.start_k))
    return max(found)
