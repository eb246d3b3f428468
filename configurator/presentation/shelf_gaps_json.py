"""Which briefs a shelf cannot serve and what would serve them, for other programs: one JSON document, format 1."""

from __future__ import annotations

import json

from configurator.presentation.problems_json import FORMAT
from configurator.questions.shelf_gaps import Gaps


def shelf_gaps_json(gaps: Gaps, fingerprint: str) -> str:
    """The gaps as JSON text."""
    document = {
        "format": FORMAT,
        "outcome": "gaps" if gaps.unserved else "all_served",
        "catalogue": fingerprint,
        "briefs": [{"file": one.file, "brief": one.name, "kits": one.kits} for one in gaps.briefs],
        "unserved": [one.file for one in gaps.unserved],
        "best": None if gaps.best is None else gaps.best.part.id,
        "candidates": [
            {
                "part": one.part.id,
                "name": one.part.name,
                "price_cents": one.part.price_cents,
                "serves": list(one.serves),
            }
            for one in gaps.candidates
        ],
    }
    return json.dumps(document, indent=1, ensure_ascii=False, allow_nan=False)
