"""The charge in front of the core: pressure ratio, temperature, and what cores and couplers take from its pressure."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from configurator.foundations.air import density, specific_heat
from configurator.foundations.numbers import Array, Numbers
from configurator.physics.compression import outlet_temperature, pressure_ratio
from configurator.prediction.conditions import Conditions
from configurator.prediction.surface_figures import Surface, charge_loss_pa

_ROUNDS = 6
"""Loss and temperature settle each other: every round shrinks the error about tenfold."""


@dataclass(frozen=True)
class Charge:
    """The charge at one share of power: flow [kg/s], heat capacity rate [W/K], and per row ratio, heat, loss.

    `outlet_pa`: at the charger's outlet, absolute.
    """

    air_kg_per_s: float
    rate_w_per_k: Array
    pressure_ratio: Array
    in_k: Array
    core_loss_pa: Array
    loss_pa: Array
    before_loss_pa: Array
    after_loss_pa: Array
    outlet_pa: Array

    @property
    def core_outlet_pa(self) -> Array:
        """Absolute pressure where it leaves the cores [Pa]; what the pipes take is taken to lie before them."""
        return np.asarray(self.outlet_pa - self.loss_pa + self.after_loss_pa)


def charge_at(
    conditions: Conditions,
    share: float,
    core: Surface,
    before_per_m4: Array,
    after_per_m4: Array,
    loss_sign: Numbers,
    cores: int = 1,
) -> Charge:
    """The charge at a share of full power in front of each row's core.

    Boost is gauge pressure at the throttle. A charger that holds it there works against what core, couplers and
    pipes lose; one that holds it at its own outlet does not. `loss_sign` -1, 0, +1 takes the core's loss at the
    low, middle or high end of its band. Of two `cores` each takes half of the flow. The joints' K / A² before and
    after the cores [1/m4] stand on the whole flow.
    """
    flow = share * conditions.air_kg_per_s
    each = flow / cores
    boost = conditions.boost_at(share)
    scale = (flow / conditions.air_kg_per_s) ** 2
    inlet_loss = conditions.inlet_loss_pa * scale
    core_loss = np.zeros_like(before_per_m4)
    before, after = np.zeros_like(core_loss), np.zeros_like(core_loss)
    total = np.zeros_like(core_loss)
    ratio, in_k = np.ones_like(core_loss), np.full_like(core_loss, conditions.inlet_k)
    at_throttle = conditions.ambient_pa + boost
    for _ in range(_ROUNDS):
        held_against = total if conditions.boost_held_at_throttle else np.zeros_like(total)
        ratio = pressure_ratio(conditions.ambient_pa, boost, held_against, inlet_loss)
        in_k = outlet_temperature(conditions.inlet_k, ratio, conditions.charger_efficiency)
        here = density(at_throttle + held_against, in_k)
        core_loss = charge_loss_pa(core, each, here, -loss_sign)
        before = before_per_m4 * flow**2 / (2 * here)
        after = after_per_m4 * flow**2 / (2 * here)
        total = (
            np.full_like(core_loss, conditions.loss_to_throttle_pa * scale)
            if conditions.loss_to_throttle_pa is not None
            else core_loss + before + after + conditions.pipe_loss_pa * scale
        )
    rate = flow * specific_heat((in_k + conditions.ambient_k) / 2)
    outlet = (conditions.ambient_pa - inlet_loss) * ratio
    return Charge(flow, rate, ratio, in_k, core_loss, total, before, after, outlet)
