"""The coolest that a charge can be behind a core, whatever loop it is in: a bound, not a prediction.

Coolant at an end of a drive is no colder than the coldest that it ever met, and no pump drives more than its free
flow. Heat and capacity rate of a core both rise with the flow of coolant of a given temperature, so that most flow
and coldest coolant bound every loop; what stands between them in a real one only warms the charge.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from configurator.foundations.coolants import properties
from configurator.physics.effectiveness import conductance
from configurator.physics.operating_point import FLOW_CEILING, head, operating_flow
from configurator.prediction.bench import Bench
from configurator.prediction.charge import charge_at
from configurator.prediction.conditions import IDLE_SHARE, Conditions
from configurator.prediction.surface_figures import Surface, overall_conductance

_WARMEST_K = 400.0
_TEMPERATURES = 12
"""Warm coolant is thinner and takes heat better: its properties are tried from the coldest up to this warmth."""


def free_flow(bench: Bench) -> float:
    """The most that any pump of a bench drives, with nothing in its way [m3/s]."""
    pumps = np.arange(len(bench.pumps))
    flows = operating_flow(
        lambda flow: head(bench.curves, pumps, flow), np.zeros_like, FLOW_CEILING * bench.pump_free_flow
    )
    return float(flows.max(initial=0.0))


def coolest_charge_k(
    surfaces: Sequence[Surface], conditions: Conditions, coolant_k: float, flow_m3_per_s: float, cores: int = 1
) -> float:
    """The coolest charge that the best of some cores leaves at the worst moment of the drive [K]; inf without one.

    `coolant_k`: the coldest coolant; `flow_m3_per_s`: the most of it; `cores` alike share the charge.
    """
    told = (conditions, coolant_k, flow_m3_per_s, cores)
    return min((coolest_behind_k(core, *told) for core in surfaces), default=np.inf)


def coolest_behind_k(
    core: Surface, conditions: Conditions, coolant_k: float, flow_m3_per_s: float, cores: int = 1, end: int = 0
) -> float:
    """The same of one core; `end` -1: with its conductance low and its loss high."""
    shares = {piece.moment.share for piece in conditions.pieces if piece.moment.engine}
    if conditions.standing is not None:
        shares = {IDLE_SHARE}
    liquid = properties(conditions.coolant, np.linspace(coolant_k, _WARMEST_K, _TEMPERATURES))
    flow = np.full(_TEMPERATURES, flow_m3_per_s)
    none = np.zeros(1)
    worst = 0.0
    for share in shares:
        charge = charge_at(conditions, share, core, none, none, -float(end), cores)
        each = np.full(_TEMPERATURES, charge.air_kg_per_s / cores)
        rate = float(charge.rate_w_per_k[0]) / cores
        ua = overall_conductance(core, each, flow, liquid, end)
        coolant_rate = flow * liquid.density * liquid.specific_heat
        taken = conductance(core.flow, core.passes, core.pass_order, ua, rate, coolant_rate)
        best = min(float(taken.max()) / rate, 1.0)
        in_k = float(charge.in_k[0])
        worst = max(worst, in_k - best * (in_k - coolant_k))
    return worst
