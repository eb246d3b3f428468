"""An answer for other programs: one JSON document, SI figures with the unit in the key, format 1.

A figure whose computation is not built yet is null, never a number.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from configurator.fitting.laid_hoses import LaidHose
from configurator.foundations.units import celsius
from configurator.joining.ratings import LowestRated
from configurator.parts.kit import Joint, before_core, path_per_m4
from configurator.parts.layouts import kind_of_slot
from configurator.prediction.report import StandstillTold
from configurator.prediction.what_if import WhatIf
from configurator.presentation.counted import proof_json
from configurator.presentation.failures_json import failures_json, pump_json
from configurator.presentation.fork_facts import fork_json, stopped_json
from configurator.presentation.ice_json import bypass_json, ice_json
from configurator.presentation.improve_json import improve_json
from configurator.presentation.problems_json import FORMAT
from configurator.presentation.ways_facts import conflict_json, nearest_json
from configurator.questions.answer import Answer, Fit, OfferedKit, Pressure
from configurator.questions.gains import Improvement
from configurator.reasons.wording import exclusion_text
from configurator.search.bill import Line


def answer_json(answer: Answer, names: Mapping[str, str], improved: Improvement | None = None) -> str:
    """The whole answer as JSON text; `names`: spoken names of parts; `improved`: what one change buys."""
    document: dict[str, Any] = {
        "format": FORMAT,
        "outcome": answer.outcome,
        "brief": {"name": answer.brief_name, "fingerprint": answer.brief_fingerprint},
        "catalogue": {"parts": answer.catalogue_parts, "fingerprint": answer.catalogue_fingerprint},
        "kits": [_kit(kit, answer) for kit in answer.kits],
        "closest": [_kit(kit, answer) for kit in answer.closest],
        "exclusions": [
            {
                "part": exclusion.part,
                "code": exclusion.code,
                "found": exclusion.found,
                "limit": exclusion.limit,
                "unit": exclusion.unit,
                "text": exclusion_text(exclusion, names.get(exclusion.part, exclusion.part)),
            }
            for exclusion in answer.exclusions
        ],
        "own_unused": [part.id for part in answer.own_unused],
        "not_checked": [{"rule": rule.rule, "needs": rule.needs} for rule in answer.not_checked],
        "conflict": conflict_json(answer),
        "nearest": nearest_json(answer),
        "stopped": stopped_json(answer),
        "proof": proof_json(answer),
        "kits_on_front": answer.on_the_front,
        "fork": fork_json(answer, names),
        "not_tried": [] if answer.ways_out is None else list(answer.ways_out.not_tried),
        "assumed": [{"about": assumed.about, "text": assumed.text} for assumed in answer.assumed],
        "cautions": [{"code": caution.code, "text": caution.text} for caution in answer.cautions],
        "counts": {
            "loops_predicted": answer.counts.loops,
            "core_exchanger_choices_that_fit": answer.counts.choices_fitting,
            "core_exchanger_choices_kept": answer.counts.choices_kept,
            "kits_kept": answer.counts.kits_kept,
        },
        "sizes_to_measure": list(answer.sizes_to_measure),
        "improve": improve_json(improved, answer.currency),
    }
    return json.dumps(document, indent=1, ensure_ascii=False, allow_nan=False)


def _kit(kit: OfferedKit, answer: Answer) -> dict[str, Any]:
    parts: dict[str, list[str]] = {}
    for slot, part in kit.parts:
        parts.setdefault(kind_of_slot(slot), []).append(part)
    return {
        "rank": kit.rank,
        "layout": kit.layout,
        "picks": list(kit.picks),
        "proven": kit.proven,
        "parts": parts,
        "zones": dict(kit.zones),
        "missed": list(kit.missed),
        "thermal": thermal_json(kit),
        "pumps": [pump_json(pump) for pump in kit.pumps],
        "failures": failures_json(kit.failures),
        "energy": _energy(kit),
        "ice": ice_json(kit.thermal.ice),
        "bypass": bypass_json(kit.bypass),
        "pressure": {"charge": pressure_json(kit.charge_pressure), "coolant": pressure_json(kit.coolant_pressure)},
        "fit": _fit(kit.fit),
        "joints": [
            {
                "from": joint.start,
                "to": joint.finish,
                "through": list(joint.through),
                "hose": joint.hose,
                "hose_length_m": round(joint.hose_length_m, 3),
                "needs": [
                    {"item": need.item, "part": need.part, "quantity": need.quantity, "unit": need.unit}
                    for need in joint.needs
                ],
                "before_hose": joint.before_hose,
                "bore_mm": round(joint.bore_m * 1000, 2),
                "loss_pa": round(loss, 1),
                **_route(kit.laid(joint)),
            }
            for joint, loss in zip(kit.joints, _joint_losses(kit), strict=True)
        ],
        "lines": [line_json(line) for line in kit.lines],
        "short": [
            {"part": one.part, "takes": round(one.takes, 2), "there": one.there, "unit": one.unit} for one in kit.short
        ],
        "idle_ports": [{"slot": slot, "end": end, "is": words} for slot, end, words in kit.idle_ports],
        "price_cents": kit.price_cents,
        "mass_dry_g": kit.mass_dry_g,
        "mass_wet_g": kit.mass_wet_g,
        "current_a": round(kit.current_a, 2),
        "wire_drop_v": None if kit.wire_drop_v is None else [round(drop, 3) for drop in kit.wire_drop_v],
        "coolant_l": round(kit.coolant_l, 2),
        "cautions": [
            {"code": caution.code, "text": caution.text} for caution in (*kit.cautions, *answer.cautions)
        ],
    }


def _route(hose: LaidHose | None) -> dict[str, Any]:
    """The way of a joint's hose: its corner points, the length along its middle line and their frame; or why not."""
    if hose is None:
        return {}
    if hose.route is None:
        return {"not_routed": hose.why_not}
    return {
        "route_mm": [[round(at, 3) for at in point] for point in hose.route.corners_mm],
        "route_length_m": hose.length_m,
        "frame": hose.frame,
    }


def line_json(line: Line) -> dict[str, Any]:
    """One line of a bill."""
    return {
        "group": line.group,
        "item": line.item,
        "part": line.part,
        "place": line.place,
        "quantity": round(line.quantity, 2),
        "unit": line.unit,
        "price_cents": line.price_cents,
        "bring_yourself": line.bring_yourself,
    }


def _joint_losses(kit: OfferedKit) -> list[float]:
    """Pressure each joint takes: coolant runs at the operating point, charge couplers at full power [Pa]."""
    runs = iter(kit.thermal.run_losses_pa)
    return [next(runs) if joint.medium == "coolant" else _charge_loss(kit, joint) for joint in kit.joints]


def _charge_loss(kit: OfferedKit, joint: Joint) -> float:
    """What a charge joint takes of the loss of its side of the core [Pa]."""
    before = before_core(joint)
    lost = kit.thermal.charge_before_pa if before else kit.thermal.charge_after_pa
    side = path_per_m4(other for other in kit.joints if other.medium == "charge" and before_core(other) == before)
    return 0.0 if side == 0.0 else lost * (joint.loss_per_m4 * joint.share**2 / side)


def thermal_json(kit: OfferedKit) -> dict[str, Any]:
    """What a kit does with the heat."""
    t = kit.thermal
    return {
        "margin_k": round(t.margin_k, 2),
        "margin_low_k": round(t.margin_low_k, 2),
        "margin_high_k": round(t.margin_high_k, 2),
        "word": t.word,
        "pressure_ratio": round(t.pressure_ratio, 4),
        "air_kg_per_s": round(t.air_kg_per_s, 5),
        "charge_in_c": _celsius(t.charge_in_k),
        "charge_out_worst_c": _celsius(t.charge_out_worst_k),
        "worst_at_s": round(t.worst_at_s, 1),
        "charge_out_low_c": _celsius(t.charge_out_bad_end_k),
        "charge_out_high_c": _celsius(t.charge_out_good_end_k),
        "charge_out_plateau_c": _celsius(t.charge_out_plateau_k),
        "charge_out_full_power_c": _celsius(t.charge_out_full_power_k),
        "coolant_plateau_c": _celsius(t.coolant_plateau_k),
        "coolant_full_power_c": _celsius(t.coolant_full_power_k),
        "standstill": _standstill(t.standstill),
        **_what_if("half_air", t.half_air),
        **_what_if("less_flow", t.less_flow),
        "coolant_worst_c": _celsius(t.coolant_worst_k),
        "boil_margin_k": kit.boil_margin_k,
        "dew_point_c": None if t.moisture is None else _celsius(t.moisture.dew_point_k),
        "condensate_g": None if t.moisture is None else round(1000 * t.moisture.shed_kg, 2),
        "condensate_most_g_per_s": None if t.moisture is None else round(1000 * t.moisture.most_kg_per_s, 3),
        "coolant_end_c": _celsius(t.coolant_end_k),
        "core_gap_k": round(t.core_gap_k, 2),
        "heat_peak_w": round(t.heat_peak_w, 1),
        "heat_mean_w": round(t.heat_mean_w, 1),
        "coolant_flow_l_per_min": round(t.coolant_flow_m3_per_s * 60e3, 2),
        "loop_loss_pa": round(t.loop_loss_pa, 1),
        "core_reynolds": round(t.core_reynolds),
        "charge_loss_pa": round(t.charge_loss_pa, 1),
        "charge_loss_of_kit_pa": round(t.charge_loss_of_kit_pa, 1),
        "density_gain": [round(t.bought.density_gain_low, 4), round(t.bought.density_gain_high, 4)],
        "pump_w": round(t.bought.pump_w, 1),
        "air_rise_k": {
            rise.slot: {"at_worst": round(rise.at_worst_k, 2), "mean": round(rise.mean_k, 2)}
            for rise in t.bought.air_rises
        },
        "recovery_s": None if t.recovery_s is None else round(t.recovery_s, 1),
        "time_to_plateau_s": None if t.time_to_plateau_s is None else round(t.time_to_plateau_s, 1),
        "limiting_air_c": None if kit.limiting_air_k is None else _celsius(kit.limiting_air_k),
    }


def _what_if(name: str, told: WhatIf | None) -> dict[str, float | None]:
    """The charge and the margin of a what-if; null where it does not apply."""
    charge, margin = (None, None) if told is None else (_celsius(told.charge_k), round(told.margin_k, 2))
    return {f"{name}_c": charge, f"{name}_margin_k": margin}


def _standstill(told: StandstillTold | None) -> dict[str, Any] | None:
    """What a kit does after the standstill that the aim asks for; null without one."""
    if told is None:
        return None
    return {
        "lasts_s": round(told.seconds, 1),
        "after_run_s": round(told.after_run_s, 1),
        "bay_c": _celsius(told.bay_k),
        "core_c": _celsius(told.core_k),
        "charge_out_restart_c": _celsius(told.restart_k),
        "charge_out_restart_low_c": _celsius(told.restart_bad_end_k),
        "charge_out_restart_high_c": _celsius(told.restart_good_end_k),
        "charge_out_pull_away_c": _celsius(told.pull_away_k),
    }


def _energy(kit: OfferedKit) -> dict[str, Any]:
    ledger = kit.ledger
    return {
        "charge_j": round(ledger.charge_j, 1),
        "condensate_j": None if ledger.condensate_j is None else round(ledger.condensate_j, 1),
        "pump_j": round(ledger.pump_j, 1),
        "soak_j": None if ledger.soak_j is None else round(ledger.soak_j, 1),
        "rejected_j": round(ledger.rejected_j, 1),
        "ice_j": round(ledger.ice_j, 1),
        "stored_coolant_j": round(ledger.stored_coolant_j, 1),
        "stored_metal_j": round(ledger.stored_metal_j, 1),
        "closure": round(ledger.closure, 9),
    }


def pressure_json(side: Pressure) -> dict[str, Any]:
    """What one side has to hold, and its weakest member."""
    lowest: LowestRated | None = side.lowest
    member = None if lowest is None else lowest.member
    cold = None if member is None or member.cold_pa_gauge is None else round(member.cold_pa_gauge)
    hot_k = None if member is None else member.derated_at_k
    return {
        "design_pa_gauge": round(side.design_pa_gauge if lowest is None else lowest.design_pa_gauge),
        "design_most_pa_gauge": round(side.design_pa_gauge),
        "rating_pa_gauge": None
        if lowest is None or lowest.rating_pa_gauge is None
        else round(lowest.rating_pa_gauge),
        "stated_as": None if member is None else member.stated_as,
        "rating_cold_pa_gauge": cold,
        "derated_at_c": None if hot_k is None else _celsius(hot_k),
        "limited_by": None if lowest is None else lowest.part,
        "place": None if lowest is None else lowest.place,
        "margin": None if lowest is None or lowest.margin is None else round(lowest.margin, 3),
        "unproven": [] if lowest is None else list(lowest.unproven),
    }


def _fit(fit: Fit) -> dict[str, Any]:
    return {
        "decided": fit.decided,
        "clearance_mm": fit.clearance_mm if fit.decided else None,
        "set_by": list(fit.set_by),
        "heights_mm": {slot: [round(span.floor_mm), round(span.top_mm)] for slot, span in fit.spans},
        "placements": [
            {
                "part": place.part,
                "slot": place.slot,
                "zone": place.zone,
                "at_mm": list(place.at_mm),
                "frame": place.frame,
                "size_mm": list(place.size_mm),
                "up": place.up,
                "front": place.front,
            }
            for place in fit.placements
        ],
    }


def _celsius(kelvin: float) -> float | None:
    return None if kelvin != kelvin else round(celsius(kelvin), 2)
