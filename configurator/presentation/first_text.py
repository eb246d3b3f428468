"""Why kit 1 stands first: in the terminal, and for other programs."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from typing import Any

from configurator.parts.layouts import kind_of_slot
from configurator.presentation.bill_words import money
from configurator.presentation.lines import WIDTH, hung, listed, wrapped
from configurator.presentation.no_kit_words import margin_words
from configurator.presentation.problems_json import FORMAT
from configurator.questions.why_answer import Behind, FirstKit, Flip, WhyFirst
from configurator.reasons.order_words import flip_text, step_text

NONE = "No kit keeps every demand of this brief, so none stands first."
AMONG_LISTED = frozenset({"air", "driving"})
"""Moves for which only the kits that are listed are predicted anew: what comes before kit 1 may itself be passed."""
_UNITS = {"margin": "K", "room": "mm", "price": "cents"}
_STEADY = "no other core + exchanger comes first within the moves tried"
TRIED = (
    "Tried: `enough` up to 30 K more or less, the aim 10 K, the day 5 K, the drive down to 80 %, each alone, and the "
    "price of each part of kit 1. For another day or drive only the kits above were looked at."
)


def first_text(told: WhyFirst, names: Mapping[str, str], next_command: str) -> str:
    """The whole screen as text without colour."""
    blocks = [*_blocks(told, names), f"Next: {next_command}"]
    return "\n\n".join(block.rstrip() for block in blocks if block.strip()) + "\n"


def _blocks(told: WhyFirst, names: Mapping[str, str]) -> Iterator[str]:
    if not told.kits:
        yield wrapped(f"{told.brief_name}: {NONE}", WIDTH)
        return
    first = told.kits[0]
    yield wrapped(
        f"{told.brief_name}: kit 1 is {_choice(first)}, at {money(first.price_cents, told.currency)}, with "
        f"{margin_words(first.margin_low_k)} of margin at the low end and {first.clearance_mm:g} mm of room. It stands "
        "before",
        WIDTH,
    )
    lines: list[str] = []
    for place, kit in enumerate(told.kits[1:], start=2):
        lines += hung(f"kit {place}", f"{_choice(kit)}, by {_decided(kit, told.currency)}", WIDTH)
    yield "\n".join(lines)
    flips = [_flip(flip, told.currency, names) for flip in told.flips] or [_STEADY]
    yield listed("Kit 1 would be first no longer", flips, WIDTH)
    yield wrapped(TRIED, WIDTH)


def _choice(kit: FirstKit | Flip) -> str:
    """What a kit is called by; twins with how they lie."""
    kinds = {part: kind_of_slot(slot) for slot, part in kit.parts}
    twins = dict(kit.twins)
    return " + ".join(
        f"2 × {part} ({twins[kind]})" if kind in twins else part
        for part, kind in kinds.items()
        if kind in {"core", "exchanger", "fan", "timer"}
    )


def _decided(kit: FirstKit, currency: str) -> str:
    assert kit.behind is not None
    return behind_words(kit.behind, currency)


def behind_words(behind: Behind, currency: str) -> str:
    """What put kit 1 before another, with both figures."""
    return step_text(behind.step, *(_figure(behind, figure, currency) for figure in (behind.winner, behind.this)))


def _figure(behind: Behind, figure: float | None, currency: str) -> str:
    if figure is None:
        return ""
    if behind.step == "price":
        return money(round(figure), currency)
    return f"{figure:+.1f} K" if behind.step == "margin" else f"{figure:g} mm"


def _flip(flip: Flip, currency: str, names: Mapping[str, str]) -> str:
    kit = f"kit {flip.place}"
    if flip.change.what in AMONG_LISTED:
        kit += " comes before it"
    if flip.place is None:
        rest = [part for slot, part in flip.parts if kind_of_slot(slot) in {"pump", "reservoir", "cap"}]
        kit = f"{_choice(flip)}, with {' and '.join(rest)}, which costs {money(flip.price_cents, currency)} now"
    dearer = money(round(100 * (flip.change.after - flip.change.before)), currency) if flip.part else ""
    return flip_text(flip.change, kit, names.get(flip.part, flip.part), dearer)


def first_json(told: WhyFirst, names: Mapping[str, str], outcome: str) -> str:
    """The same for other programs: one JSON document, format 1."""
    document: dict[str, Any] = {
        "format": FORMAT,
        "outcome": outcome,
        "brief": told.brief_name,
        "kits": [
            {
                "rank": place,
                "parts": [part for _, part in kit.parts],
                "margin_low_k": kit.margin_low_k,
                "clearance_mm": kit.clearance_mm,
                "price_cents": kit.price_cents,
                "behind": None if kit.behind is None else _behind_json(kit.behind, _decided(kit, told.currency)),
            }
            for place, kit in enumerate(told.kits, start=1)
        ],
        "flips": [
            {
                "change": flip.change.what,
                "part": flip.part or None,
                "from": flip.change.before,
                "to": flip.change.after,
                "unit": flip.change.unit,
                "first": [part for _, part in flip.parts],
                "price_cents": flip.price_cents,
                "place": flip.place,
                "text": _flip(flip, told.currency, names),
            }
            for flip in told.flips
        ],
    }
    return json.dumps(document, indent=1, ensure_ascii=False, allow_nan=False)


def _behind_json(behind: Behind, text: str) -> dict[str, Any]:
    unit = _UNITS.get(behind.step)
    return {"step": behind.step, "first": behind.winner, "this": behind.this, "unit": unit, "text": text}
