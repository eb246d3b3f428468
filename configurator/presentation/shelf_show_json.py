"""One part of the shelf for other programs: one JSON document, SI figures with the unit in the key, format 1."""

from __future__ import annotations

import json
from typing import Any

from configurator.joining.words import end_words
from configurator.parts.ends import End
from configurator.parts.kinds import Pump, RigidPart
from configurator.parts.passages import Passage
from configurator.prediction.working_point import AtWork
from configurator.presentation.problems_json import FORMAT
from configurator.presentation.shelf_list_json import listed_part, rounded
from configurator.questions.shelf_list import Listed
from configurator.questions.shelf_mates import EndMates
from configurator.questions.shelf_show import Heat, Shown


def shelf_show_json(shown: Shown, fingerprint: str) -> str:
    """The whole part as JSON text."""
    part = shown.part
    document = {
        "format": FORMAT,
        "catalogue": fingerprint,
        **listed_part(Listed(part, shown.kind, shown.figures)),
        "note": part.note,
        "source": shown.source or None,
        "turns": _turns(part) if isinstance(part, RigidPart) else None,
        "passages": {medium: _passage(passage) for medium, passage in shown.passages},
        "ends": [_end(mates) for mates in shown.ends],
        "performance": None if shown.heat is None else _heat(shown.heat),
        "curve": _curve(part) if isinstance(part, Pump) else None,
    }
    return json.dumps(document, indent=1, ensure_ascii=False, allow_nan=False)


def _turns(part: RigidPart) -> dict[str, Any]:
    fronts = part.turns.front or part.turns.air
    return {"up": list(part.turns.up), "front": None if fronts is None else list(fronts), "mounts": list(part.mounts)}


def _passage(passage: Passage) -> dict[str, Any]:
    rating = passage.rating
    return {
        "working_pa_gauge": rounded(rating.working_pa_gauge),
        "stated_as": rating.stated_as,
        "hottest_k": rounded(passage.hottest_k),
        "coldest_k": rounded(passage.coldest_k),
        "volume_m3": rounded(passage.volume_m3),
        "bans": list(passage.bans),
    }


def _end(mates: EndMates) -> dict[str, Any]:
    end = mates.end
    return {
        "medium": mates.medium,
        "end": end.name,
        "form": end.form,
        "size": end.size,
        "sex": None if end.gender == "none" else end.gender,
        "role": end.role,
        "face": end.face,
        "at_m": _at(end),
        "text": end_words(end),
        "straight_on": {kind: list(ids) for kind, ids in mates.pieces},
        "pipes_m": [rounded(size) for size in mates.pipes_m],
        "by_hose": list(mates.by_hose),
        "with_adapter": list(mates.with_adapter),
        "missing": mates.missing or None,
    }


def _at(end: End) -> dict[str, float] | None:
    if end.at is None:
        return None
    places = (("x", end.at.x_m), ("y", end.at.y_m), ("z", end.at.z_m))
    return {axis: round(float(place), 6) for axis, place in places if place is not None}


def _heat(heat: Heat) -> dict[str, Any]:
    point = heat.point
    ends = {"low": heat.low, "nominal": heat.nominal, "high": heat.high}
    return {
        "tier": heat.tier or None,
        "ua_band": heat.ua_band,
        "loss_band": heat.loss_band,
        "impossible": heat.impossible or None,
        "point": {
            "air_kg_per_s": point.air_kg_per_s,
            "face_speed_m_per_s": point.face_speed_m_per_s,
            "air_in_k": point.air_in_k,
            "air_pa_gauge": point.air_pa_gauge,
            "coolant_m3_per_s": rounded(point.coolant_m3_per_s),
            "fluid": point.coolant.kind,
            "glycol_by_volume": point.coolant.glycol_by_volume,
            "coolant_in_k": point.coolant_in_k,
        },
        **{name: None if one is None else _at_work(one) for name, one in ends.items()},
    }


def _at_work(one: AtWork) -> dict[str, Any]:
    return {
        "ua_w_per_k": rounded(one.ua_w_per_k),
        "effectiveness": rounded(one.effectiveness),
        "air_out_k": rounded(one.air_out_k),
        "heat_w": rounded(one.heat_w),
        "charge_loss_pa": rounded(one.charge_loss_pa),
        "coolant_loss_pa": rounded(one.coolant_loss_pa),
    }


def _curve(part: Pump) -> list[dict[str, Any]]:
    return [{"flow_m3_per_s": rounded(p.flow_m3_per_s), "head_pa": rounded(p.head_pa)} for p in part.curve]
