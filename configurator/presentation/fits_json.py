"""What fits, for other programs: one JSON document, format 1."""

from __future__ import annotations

import json
from typing import Any

from configurator.presentation.fits_text import miss_words
from configurator.presentation.problems_json import FORMAT
from configurator.questions.fits_only import Fits, ZonedPart, sides_mm
from configurator.reasons.cautions import ALONE_ONLY, STRUCTURE


def fits_json(fits: Fits, outcome: str) -> str:
    """The whole answer as JSON text; figures in millimetres."""
    document: dict[str, Any] = {
        "format": FORMAT,
        "outcome": outcome,
        "brief": {"name": fits.brief_name},
        "slots": {slot: [_entry(entry) for entry in fits.of(slot)] for slot in fits.slots},
        "measure_for": [
            {"slot": slot, "part": part.id, "name": part.name, "sides_mm": list(sides_mm(part))}
            for slot, part in fits.gaps
        ],
        "cautions": [{"code": caution.code, "text": caution.text} for caution in (ALONE_ONLY, STRUCTURE)],
    }
    return json.dumps(document, indent=1, ensure_ascii=False, allow_nan=False)


def _entry(entry: ZonedPart) -> dict[str, Any]:
    place, miss = entry.place, entry.miss
    return {
        "part": entry.part.id,
        "name": entry.part.name,
        "zone": entry.zone,
        "fits": entry.fits,
        "up": None if place is None else place.up,
        "front": None if place is None else place.front,
        "size_mm": None if place is None else list(place.size_mm),
        "clearance_mm": entry.room_mm if entry.fits else None,
        "cause": None if miss is None else miss.cause,
        "miss_mm": None if miss is None else miss.miss_mm,
        "text": None if miss is None else miss_words(entry),
    }
