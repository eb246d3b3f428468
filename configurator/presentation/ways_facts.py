"""What an answer without a kit says of the cause and of ways out: as lines for people, as records for programs."""

from __future__ import annotations

from typing import Any

from configurator.questions.answer import Answer
from configurator.questions.conflict import Demand
from configurator.questions.levers import MOST_MM
from configurator.questions.ways_out import Way, WaysOut
from configurator.reasons.thresholds import LEAST_BOIL_MARGIN_K
from configurator.reasons.ways_words import (
    NOT_KNOWN,
    conflict_text,
    in_whole_steps,
    lacking_text,
    near_boiling_text,
    no_one_side_text,
    way_text,
)
from configurator.search.loosening import Change, Choice

WANTED_OUT = "Wanted, and in no kit, each with its first reason"
OWN_UNUSED = "Your own, and in no kit told here"


def why_none(answer: Answer) -> str:
    """Which demands leave no kit, in a sentence; nothing where there are kits."""
    ways = answer.ways_out
    if ways is None or ways.conflict is None or answer.blocked is not None:
        return ""
    return _conflict_text(answer, ways)


def ways_told(answer: Answer) -> tuple[str, tuple[str, ...]]:
    """What stands above the ways out; each of them, and what was not tried."""
    ways = answer.ways_out
    if ways is None:
        return "", ()
    every, amounts = ways.ways, [way.least for way in ways.ways if way.least is not None]
    steps = in_whole_steps([change for way in every if way.least for change in way.changes])
    least = f", each the least that helps{steps}" if all(amounts) else ""
    title = f"Ways out{': one is enough' if every else ''}{f'{least} (give more for a margin)' if amounts else ''}"
    lines = [f"{_way_text(way, answer)}{'' if least or not way.least else _sure(way)}" for way in every]
    if ways.not_tried:
        lines.append(f"not tried to the end, for want of time: {', '.join(ways.not_tried)}")
    return title, tuple(lines)


def _sure(way: Way) -> str:
    return f";{in_whole_steps(way.changes)} a smaller change does not"


def conflict_json(answer: Answer) -> dict[str, Any] | None:
    """The rules that leave no kit, and their sentence; null where there are kits, or where it was not looked for."""
    ways = answer.ways_out
    if answer.blocked is not None:
        beside = () if ways is None else tuple(one.code for one in ways.conflict or ())
        return {"rules": [answer.blocked.rule, *beside], "also_alone": [], "text": answer.blocked.text}
    if ways is None or ways.conflict is None:
        return None
    rules, alone = ([_rule(one) for one in demands] for demands in (ways.conflict, ways.also_alone))
    return {"rules": rules, "also_alone": alone, "text": _conflict_text(answer, ways)}


def _rule(demand: Demand) -> str:
    return " ".join((demand.code, *demand.zones)) if demand.code == "room" else demand.code


def nearest_json(answer: Answer) -> list[dict[str, Any]]:
    """Each way out: the first change, under `and` what has to change with it."""
    ways = () if answer.ways_out is None else answer.ways_out.ways
    return [
        {
            **_change(way.changes[0]),
            "and": [_change(change) for change in way.changes[1:]],
            "least": way.least,
            "text": _way_text(way, answer),
        }
        for way in ways
    ]


def _change(change: Change | Choice) -> dict[str, Any]:
    zone = (change.zone or None) if isinstance(change, Change) else None
    unit = change.unit if isinstance(change, Change) else ""
    return {"change": change.what, "zone": zone, "from": change.before, "to": change.after, "unit": unit}


def _way_text(way: Way, answer: Answer) -> str:
    text = f"{way_text(way.changes, answer.currency)}{'; a smaller change may do' if way.least is False else ''}"
    if way.boil_margin_k is None or way.boil_margin_k >= LEAST_BOIL_MARGIN_K:
        return text
    return f"{text}; {near_boiling_text(way.boil_margin_k)}"


def _conflict_text(answer: Answer, ways: WaysOut) -> str:
    lacking = [of.kind for of in answer.left if of.lacking and of.needed]
    if lacking:
        return lacking_text(lacking, mended=bool(ways.ways))
    each = (tuple((one.code, one.zones) for one in demands) for demands in (ways.conflict or (), ways.also_alone))
    told = conflict_text(*each) if ways.conflict or not ways.not_tried else NOT_KNOWN
    return f"{told}{no_one_side_text(ways.no_one_side, MOST_MM)}"
