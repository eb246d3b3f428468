"""What a kit does when something fails, and the suction of its pump, for other programs."""

from __future__ import annotations

from typing import Any

from configurator.foundations.units import celsius
from configurator.questions.when_it_fails import Crack, Suction, WhenItFails


def pump_json(told: Suction) -> dict[str, Any]:
    """One pump with its suction margin; pressures absolute unless gauge is said."""
    return {
        "slot": told.slot,
        "part": told.part,
        "suction_margin_pa": round(told.margin_pa),
        "suction_margin_under_cap_pa": round(told.under_cap_pa),
        "npsh_required_pa": round(told.needs_pa),
        "npsh_required_stated": told.stated,
        "coolant_c": round(celsius(told.coolant_k), 2),
        "vapour_pressure_pa": round(told.vapour_pa),
        "suction_loss_pa": round(told.loss_pa, 1),
        "reservoir_above_m": None if told.above_m is None else round(told.above_m, 4),
    }


def failures_json(told: WhenItFails) -> dict[str, Any]:
    """A stopped pump and a cracked core."""
    stopped, cracked = told.pump_stopped, told.cracked_core
    return {
        "pump_stopped": {
            "charge_out_c": round(celsius(stopped.charge_out_k), 2),
            "coolant_start_c": round(celsius(stopped.core.start_k), 2),
            "boils_at_c": round(celsius(stopped.boils_k), 2),
            "core_j_per_k": round(stopped.core.capacity_j_per_k, 1),
            "charge_w_per_k": round(stopped.core.w_per_k, 2),
            "boils_after_s": None if stopped.boils_after_s is None else round(stopped.boils_after_s, 1),
        },
        "cracked_core": {
            "boost": _crack(cracked.boost),
            "idle": _crack(cracked.idle),
            "standstill": _crack(cracked.standstill),
            "height_known": cracked.height_known,
            "core_sits": cracked.sits,
        },
    }


def _crack(told: Crack) -> dict[str, Any]:
    return {
        "goes": told.goes,
        "charge_pa_gauge": [round(pressure) for pressure in told.charge_pa_gauge],
        "coolant_pa_gauge": [round(pressure) for pressure in told.coolant_pa_gauge],
    }
