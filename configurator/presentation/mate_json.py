"""The verdict on two ends for other programs: one JSON document, SI figures with the unit in the key, format 1."""

from __future__ import annotations

import json
from typing import Any

from configurator.joining.one_piece import Bridge
from configurator.joining.run_ways import STUB_LENGTH_M
from configurator.joining.words import end_words
from configurator.parts.ends import End
from configurator.parts.kit import Need
from configurator.presentation.problems_json import FORMAT
from configurator.questions.mate_ends import MateAnswer


def mate_json(answer: MateAnswer) -> str:
    """The whole answer as JSON text."""
    mating, service = answer.mating, answer.service
    hottest_k = None if service.hottest_k is None else round(service.hottest_k, 2)
    document: dict[str, Any] = {
        "format": FORMAT,
        "verdict": mating.verdict,
        "rule": mating.rule,
        "why": mating.why,
        "hazard": mating.hazard or None,
        "question": mating.question or None,
        "remedy": mating.remedy or None,
        "needs": _needs(mating.needs),
        "buy": None if answer.bridge is None else _bridge(answer.bridge),
        "missing": answer.missing or None,
        "refused": answer.refused or None,
        "cautions": [{"code": caution.code, "text": caution.text} for caution in answer.cautions],
        "ends": [_end(end) for end in answer.ends],
        "medium": service.medium,
        "boost_pa_gauge": round(service.boost_pa_gauge),
        "pressure_pa_gauge": round(service.pressure_pa_gauge),
        "suction": service.suction,
        "hottest_k": hottest_k if answer.heat_told else None,
        "assumed_hottest_k": None if answer.heat_told else hottest_k,
    }
    return json.dumps(document, indent=1, ensure_ascii=False, allow_nan=False)


def _end(end: End) -> dict[str, Any]:
    return {
        "form": end.form,
        "size": end.size,
        "sex": None if end.gender == "none" else end.gender,
        "swivel": end.swivel,
        "held": end.bead or end.barb,
        "profile": end.profile_id,
        "text": end_words(end),
    }


def _bridge(bridge: Bridge) -> dict[str, Any]:
    adapter = bridge.adapter
    return {
        "adapter": None if adapter is None else {"part": adapter.id, "price_cents": adapter.price_cents},
        "hoses": [{"part": stub.id, "length_m": STUB_LENGTH_M} for stub in bridge.stubs],
        "needs": _needs(bridge.needs),
        "price_cents": bridge.price_cents,
    }


def _needs(needs: tuple[Need, ...]) -> list[dict[str, Any]]:
    return [{"item": need.item, "quantity": need.quantity, "unit": need.unit} for need in needs]
