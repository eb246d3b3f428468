"""A check for other programs: one JSON document, SI figures with the unit in the key, format 1."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Sequence
from typing import Any

from configurator.foundations.verdicts import Verdict
from configurator.presentation.answer_json import line_json, pressure_json, thermal_json
from configurator.presentation.commission_json import commission_json
from configurator.presentation.failures_json import failures_json, pump_json
from configurator.presentation.improve_json import improve_json
from configurator.presentation.problems_json import FORMAT
from configurator.questions.check_answer import Checked, DesignShares, InCar
from configurator.questions.gains import Improvement
from configurator.questions.in_car import STATED_CAP


def check_json(checked: Checked, improved: Improvement | None = None) -> str:
    """The whole check as JSON text; `improved`: what one change buys."""
    document: dict[str, Any] = {
        "format": FORMAT,
        "outcome": checked.outcome,
        "kit": {"name": checked.name, "fingerprint": checked.fingerprint},
        "catalogue": {"parts": checked.catalogue_parts, "fingerprint": checked.catalogue_fingerprint},
        "parts": [{"slot": slot, "part": part.id, "name": part.name} for slot, part in checked.slots],
        "pieces": [{"part": part.id, "name": part.name} for part in checked.pieces],
        "joints": [
            {
                "medium": joint.medium,
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
            }
            for joint in checked.joints
        ],
        "unjoined": [{"medium": medium, "place": place} for medium, place in checked.unjoined],
        "pressure": {
            "charge": None if checked.charge is None else pressure_json(checked.charge),
            "coolant": None if checked.coolant is None else pressure_json(checked.coolant),
        },
        "boost_pa_gauge": None if checked.boost_pa_gauge is None else round(checked.boost_pa_gauge),
        "coolant_from": None if checked.coolant_from is None else _shares(checked.coolant_from),
        "pipes_unknown": list(checked.pipes_unknown),
        "leave_out": list(checked.leave_out),
        "too_many": [part.id for part in checked.too_many],
        "without_them": checked.without_them,
        "broken": _rules(checked.broken),
        "unknown": _rules(checked.unknown),
        "look_alikes": [
            {
                "part": look.part,
                "end": look.end,
                "other": look.other,
                "other_end": look.other_end,
                "why": look.why,
                "hazard": look.hazard,
                "trap": look.trap,
            }
            for look in checked.look_alikes
        ],
        "cap_stated_pa_gauge": None
        if checked.cap_stated_pa_gauge is None
        else round(checked.cap_stated_pa_gauge),
        "layout": checked.layout,
        "layouts": list(checked.layouts),
        "spare": list(dict.fromkeys(part.id for part in checked.spare)),
        "spare_counts": dict(Counter(part.id for part in checked.spare)),
        "refused": _rules(checked.refused),
        "to_buy": [line_json(line) for line in checked.to_buy],
        "price_cents": sum(line.price_cents for line in checked.to_buy),
        "in_car": None if checked.in_car is None else _in_car(checked.in_car),
        "commissioning": None if checked.commissioning is None else commission_json(checked.commissioning),
        "improve": improve_json(improved, checked.currency),
        "assumed": [{"about": assumed.about, "text": assumed.text} for assumed in checked.assumed],
        "not_checked": [{"rule": rule.rule, "needs": rule.needs} for rule in checked.not_checked],
        "cautions": [{"code": caution.code, "text": caution.text} for caution in checked.cautions],
    }
    return json.dumps(document, indent=1, ensure_ascii=False, allow_nan=False)


def _shares(shares: DesignShares) -> dict[str, int]:
    """Of what the design pressure at the weakest place of the coolant side is made."""
    return {
        "opens_pa_gauge": round(shares.opens_pa_gauge),
        "cap_pa": round(shares.cap_pa),
        "pump_pa": round(shares.pump_pa),
        "liquid_pa": round(shares.liquid_pa),
    }


def _rules(verdicts: Sequence[Verdict]) -> list[dict[str, Any]]:
    return [
        {
            "rule": verdict.rule,
            "subjects": list(verdict.subjects),
            "found": verdict.found,
            "limit": verdict.limit,
            "unit": verdict.unit,
            "text": verdict.text,
        }
        for verdict in verdicts
    ]


def _in_car(told: InCar) -> dict[str, Any]:
    """What the kit does in the car; `missed` names what the brief asks and it does not keep."""
    kit = told.kit
    return {
        "brief": {"name": told.answer.brief_name, "fingerprint": told.answer.brief_fingerprint},
        "layout": None if kit is None else kit.layout,
        "parts": None if kit is None else [part for _, part in kit.parts if part != STATED_CAP],
        "missed": None if kit is None else list(kit.missed),
        "thermal": None if kit is None else thermal_json(kit),
        "pumps": None if kit is None else [pump_json(pump) for pump in kit.pumps],
        "failures": None if kit is None else failures_json(kit.failures),
        "clearance_mm": None if kit is None or not kit.fit.decided else kit.fit.clearance_mm,
    }
