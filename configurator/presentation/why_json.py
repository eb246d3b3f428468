"""Why parts are in or out, for other programs: one JSON document, SI figures with their unit, format 1."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict
from typing import Any

from configurator.parts.layouts import kind_of_slot
from configurator.presentation.problems_json import FORMAT
from configurator.presentation.why_text import CAUTIONS, part_way_out
from configurator.questions.why_answer import BestKit, PartStory, Whys
from configurator.reasons.ways_out import shortfall_text, way_out
from configurator.reasons.wording import exclusion_text
from configurator.search.job import Exclusion


def why_json(whys: Whys, outcome: str) -> str:
    """The whole answer as JSON text."""
    document: dict[str, Any] = {
        "format": FORMAT,
        "outcome": outcome,
        "brief": whys.brief_name,
        "kits": whys.kits,
        "beside": None if whys.beside is None else asdict(whys.beside),
        "parts": [_part(story, whys) for story in whys.stories],
        "cautions": [{"code": caution.code, "text": caution.text} for caution in CAUTIONS],
    }
    return json.dumps(document, indent=1, ensure_ascii=False, allow_nan=False)


def _part(story: PartStory, whys: Whys) -> dict[str, Any]:
    first = _reason(story.reasons[0], story.name) if story.reasons else dict.fromkeys(_KEYS)
    told = {"part": story.part, "name": story.name, "kind": story.kind, "in": story.is_in, **first}
    if whys.every_part:
        return told
    return {
        **told,
        "way_out": part_way_out(story, whys) or None,
        "alone": story.alone,
        "breaks": [_reason(reason, story.name) for reason in story.reasons],
        "kits": story.kits,
        "zones": list(story.zones),
        "goes_with": [
            {
                "rule": pairing.rule,
                "kind": pairing.kind,
                "parts": list(pairing.goes),
                "of": pairing.of,
                "refused": pairing.refused or None,
            }
            for pairing in story.pairings
        ],
        "crowd": None if story.crowd is None else {"zone": story.crowd[0], "parts": list(story.crowd[1])},
        "best": None if story.best is None else _best(story.best, whys.rises_from_k),
        "fewer": None if story.fewer is None else _best(story.fewer, whys.rises_from_k),
    }


_KEYS = ("code", "found", "limit", "unit", "text", "way_out")


def _reason(reason: Exclusion, name: str) -> Mapping[str, Any]:
    text = exclusion_text(reason, name)
    return dict(
        zip(_KEYS, (reason.code, reason.found, reason.limit, reason.unit, text, way_out(reason)), strict=True)
    )


def _best(best: BestKit, rises_from_k: float | None) -> dict[str, Any]:
    parts: dict[str, list[str]] = {}
    for slot, part in best.parts:
        parts.setdefault(kind_of_slot(slot), []).append(part)
    return {
        "rank": best.rank,
        "of": best.of,
        "listed": best.listed,
        "stands": best.stands,
        "parts": parts,
        "zones": dict(best.zones),
        "layout": best.layout,
        "price_cents": best.price_cents,
        "margin_k": best.margin_k,
        "proven": best.proven,
        "joints": [
            {"from": joint.start, "to": joint.finish, "through": list(joint.through), "hose": joint.hose}
            for joint in best.joints
        ],
        "misses": [
            {
                "demand": shortfall.rule,
                "found": shortfall.found,
                "limit": shortfall.limit,
                "unit": shortfall.unit,
                "text": shortfall_text(shortfall, rises_from_k),
            }
            for shortfall in best.shortfalls
        ],
        "behind": None
        if best.behind is None
        else {"step": best.behind.step, "winner": best.behind.winner, "this": best.behind.this},
    }
