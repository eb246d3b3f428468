"""What one change of a kit buys, for other programs."""

from __future__ import annotations

from typing import Any

from configurator.presentation.improve_text import change_words_of, gain_text
from configurator.questions.gains import Gain, Improvement
from configurator.search.loosening import Change


def improve_json(told: Improvement | None, currency: str) -> list[dict[str, Any]] | None:
    """Every change that was tried, most margin first; null where nobody asked."""
    return None if told is None else [_gain(gain, told.kit.rank, currency) for gain in told.gains]


def _gain(gain: Gain, rank: int, currency: str) -> dict[str, Any]:
    per_100 = gain.kelvin_per_100
    return {
        "kit": rank,
        "kind": gain.kind,
        "change": change_words_of(gain),
        "brief": None if gain.change is None else _change(gain.change),
        "part": gain.part,
        "from": gain.replaced,
        "along": list(gain.along),
        "layout": gain.layout,
        "moved": dict(gain.moved),
        "margin_k": round(gain.margin_k, 2),
        "margin_low_k": None if gain.margin_low_k is None else round(gain.margin_low_k, 2),
        "plateau_k": round(gain.plateau_k, 2),
        "recovery_s": None if gain.recovery_s is None else round(gain.recovery_s, 1),
        "clearance_mm": gain.clearance_mm,
        "price_cents": gain.price_cents,
        "mass_dry_g": gain.mass_dry_g,
        "current_a": round(gain.current_a, 2),
        "kelvin_per_100": None if per_100 is None else round(per_100, 3),
        "breaks": list(gain.breaks),
        "shown": gain.shown,
        "text": gain_text(gain, currency),
    }


def _change(change: Change) -> dict[str, Any]:
    zone = change.zone or None
    return {"of": change.what, "zone": zone, "from": change.before, "to": change.after, "unit": change.unit}
