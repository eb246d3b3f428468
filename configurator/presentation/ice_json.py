"""The ice of a kit, and the valve that keeps its front exchanger out, as JSON."""

from __future__ import annotations

from typing import Any

from configurator.foundations.units import celsius
from configurator.prediction.ice_report import IceTold
from configurator.questions.answer import Bypass


def bypass_json(bypass: Bypass | None) -> dict[str, Any] | None:
    """How a kit's bypass valve stands, and what it keeps out; null without one."""
    if bypass is None:
        return None
    watts = None if bypass.would_add_w is None else round(bypass.would_add_w, 1)
    return {"valve": bypass.valve, "shut_out": bypass.shut_out, "would_add_w": watts}


def ice_json(ice: IceTold | None) -> dict[str, Any] | None:
    """What is told of a kit's ice; null where the brief has none."""
    if ice is None:
        return None
    return {
        "kind": ice.name,
        "start_kg": round(ice.start_kg, 3),
        "water_start_kg": round(ice.water_kg, 3),
        "start_c": _celsius(ice.start_k),
        "melted_pass_kg": round(ice.melted_kg, 3),
        "left_after_pass_kg": round(ice.left_kg, 3),
        "tank_end_c": _celsius(ice.tank_end_k),
        "settles_c": _celsius(ice.settles_k),
        "left_settled_kg": round(ice.settled_left_kg, 3),
        "pull_down_kg": round(ice.pull_down_kg, 3),
        "per_pass_kg": round(ice.per_pass_kg, 3),
        "passes": ice.passes,
        "per_event_kg": round(ice.event_kg, 3),
        "brought_kg": round(ice.brought_kg, 3),
        "refill_after_passes": ice.lasts_passes,
        "ready_s": None if ice.ready_s is None else round(ice.ready_s, 1),
    }


def _celsius(kelvin: float) -> float:
    return round(celsius(kelvin), 2)
