"""The list of a shelf for other programs: one JSON document, SI figures with the unit in the key, format 1."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from configurator.presentation.problems_json import FORMAT
from configurator.questions.shelf_list import Listed


def shelf_list_json(listed: Sequence[Listed], of: int, fingerprint: str) -> str:
    """The whole list as JSON text; `of`: how many parts the shelf holds."""
    document = {"format": FORMAT, "catalogue": fingerprint, "of": of, "parts": [listed_part(one) for one in listed]}
    return json.dumps(document, indent=1, ensure_ascii=False, allow_nan=False)


def listed_part(one: Listed) -> dict[str, Any]:
    """One part with its key figures."""
    part = one.part
    return {
        "part": part.id,
        "name": part.name,
        "kind": one.kind,
        "price_cents": part.price_cents,
        "stock": part.stock,
        "lead_days": part.lead_days,
        "mass_g": None if part.mass_kg is None else round(float(part.mass_kg) * 1000, 3),
        "figures": {figure.name: _plain(figure.value) for figure in one.figures},
    }


def rounded(value: float | None) -> float | None:
    """A figure to seven digits, which is beyond any measurement and below the noise of a float."""
    return None if value is None else float(f"{float(value):.7g}")


def _plain(value: Any) -> Any:
    if isinstance(value, tuple):
        return [_plain(item) for item in value]
    return rounded(value) if isinstance(value, float) else value
