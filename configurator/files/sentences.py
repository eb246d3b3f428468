"""What the models object to, in plain sentences: one mistake, one sentence, with the way out."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Final

from pydantic import ValidationError

from configurator.files.problems import KeyPath, closest, key_path, nearest
from configurator.files.questions_to_ask import (
    question_for_key,
    question_for_missing,
    question_for_value,
    spoken_word,
)
from configurator.files.record_shape import example, field_type, keys_of, record_at
from configurator.foundations.records import Record
from configurator.foundations.units import comma_words

NO_ZONES: Final = "there is no zone: measure the gaps, or write bay: unmeasured"


@dataclass(frozen=True)
class Mistake:
    """One thing wrong in a record: where below it, whether the key or the value is meant, and a sentence."""

    path: KeyPath
    text: str
    kind: str
    on_key: bool = False
    record: KeyPath | None = None
    """Where the record stands whose own check this comes from; None for a mistake in a single value."""
    meant: KeyPath | None = None
    """Of an unknown key: where the key stands, or would, that it is likely to be meant for."""


def mistakes_of(error: ValidationError, model: type[Record], data: Any, name: str) -> list[Mistake]:
    """Every mistake that a failed reading of `data` as `model` shows; `name` is what people call it."""
    by_path: dict[KeyPath, list[dict[str, Any]]] = {}
    found: list[Mistake] = []
    for details in error.errors(include_url=False):
        item: dict[str, Any] = {**details}
        path, on_key = _real_path(item, data)
        if item["type"] == "faults":
            found += [
                Mistake(path + fault.at, fault.text, "fault", record=path) for fault in item["ctx"]["faults"]
            ]
            continue
        if item["type"] == "too_short" and len(_value_at(data, path) or ()) >= item["ctx"]["min_length"]:
            continue  # enough were written; the bad ones among them are told one by one
        by_path.setdefault(path, []).append({**item, "on_key": on_key})
    for path, items in by_path.items():
        chosen = _telling(items, any(path == other[: len(path)] != other for other in by_path))
        if chosen is not None:
            found.append(_mistake(chosen, path, model, data, name, items))
    return found


def _mistake(
    item: dict[str, Any],
    path: KeyPath,
    model: type[Record],
    data: Any,
    name: str,
    items: list[dict[str, Any]],
) -> Mistake:
    kind: str = item["type"]
    parent = key_path({}, path[:-1])
    where = f"{name}.{parent}" if name and parent else name or parent
    if kind == "missing":
        record = record_at(model, path[:-1])
        field = keys_of(record).get(str(path[-1])) if record is not None else None
        shown = (
            f" (write it like: {example(str(path[-1]), field_type(field[1]))})" if field is not None else ""
        )
        place = f" in {where}" if where else ""
        asked = question_for_missing(str(path[-1]), record, _value_at(data, path[:-1]))
        return Mistake(path, f"missing key '{path[-1]}'{place}{asked or shown}", kind)
    if kind == "extra_forbidden":
        record = record_at(model, path[:-1])
        allowed = list(keys_of(record)) if record is not None else []
        place = f" in {where}" if where else ""
        asked = question_for_key(str(path[-1]), record, _value_at(data, path))
        if asked:
            return Mistake(path, f"unknown key '{path[-1]}'{place}{asked}", kind, on_key=True)
        text = f"unknown key '{path[-1]}'{place}{nearest(path[-1], allowed)} (allowed: {', '.join(allowed)})"
        meant = closest(path[-1], allowed)
        return Mistake(path, text, kind, on_key=True, meant=None if meant is None else (*path[:-1], meant))
    value = _value_at(data, path)
    if item["on_key"]:
        allowed = _quoted(item)
        text = f"'{path[-1]}' is not allowed here{nearest(path[-1], allowed)} (allowed: {', '.join(allowed)})"
        return Mistake(path, text, kind, on_key=True)
    if path == ("bay", "zones") and not value:
        return Mistake(path, NO_ZONES, kind)
    spoken = spoken_word(str(path[-1]) if path else "", record_at(model, path[:-1]), value)
    if spoken:
        return Mistake(path, f"'{value}' is not allowed here; {spoken} (allowed: {', '.join(_quoted(item))})", kind)
    text = _SENTENCES[kind](item, value) if kind in _SENTENCES else _custom(item)
    text += question_for_value(str(path[-1]) if path else "", record_at(model, path[:-1]), value, kind)
    words = [word for other in items if other["type"] == "literal_error" for word in _quoted(other)]
    if words and kind != "literal_error":
        text += f", or write {' or '.join(words)}"
    return Mistake(path, text, kind)


def _telling(items: list[dict[str, Any]], more_below: bool) -> dict[str, Any] | None:
    """Of several objections to one value (one for each form it might have had), the one that helps."""
    shape = {"string_type", "model_type", "dict_type", "tuple_type", "model_attributes_type"}
    own = [item for item in items if item["type"] not in shape]
    if not own and more_below:
        return None
    for item in own:
        if item["type"] != "literal_error":
            return item
    return (own or items)[0]


def _real_path(item: dict[str, Any], data: Any) -> tuple[KeyPath, bool]:
    """The path in the file: without the names of models and alternatives that pydantic puts in between."""
    path: list[str | int] = []
    on_key = False
    location = item["loc"]
    for step, element in enumerate(location):
        last = step == len(location) - 1
        if _has(data, element):
            data = data[element]
        elif element == "[key]":
            on_key = True
            continue
        elif not (last and item["type"] == "missing"):
            continue
        path.append(element)
    return tuple(path), on_key


def _value_at(data: Any, path: KeyPath) -> Any:
    for element in path:
        if not _has(data, element):
            return None
        data = data[element]
    return data


def _has(data: Any, element: str | int) -> bool:
    if isinstance(data, dict):
        return element in data
    return isinstance(data, list) and isinstance(element, int) and element < len(data)


def _quoted(item: dict[str, Any]) -> list[str]:
    return re.findall(r"'([^']*)'", str(item.get("ctx", {}).get("expected", "")))


def _found(value: Any) -> str:
    if isinstance(value, dict):
        return "found a mapping"
    if isinstance(value, list):
        return "found a list"
    if isinstance(value, bool):
        return f"found {str(value).lower()}"
    return f"found '{value}'"


def _custom(item: dict[str, Any]) -> str:
    context = item.get("ctx", {})
    return str(context.get("text") or item["msg"])


def _literal(item: dict[str, Any], value: Any) -> str:
    allowed = _quoted(item)
    if isinstance(value, dict | list):
        return f"one word is expected here, {_found(value)} (allowed: {', '.join(allowed)})"
    both = [word for word in allowed if word in (f"+{value}", f"-{value}")]
    advice = f"; did you mean '{both[0]}' or '{both[1]}'?" if len(both) == 2 else nearest(value, allowed)
    return f"'{value}' is not allowed here{advice} (allowed: {', '.join(allowed)})"


def _number(item: dict[str, Any], value: Any) -> str:
    whole = "whole " if "int" in item["type"] else ""
    words = f"a bare {whole}number is expected here, without a unit or quotes"
    comma = re.search(r"[-+]?[0-9][0-9.]*,[0-9][0-9.,]*", value) if isinstance(value, str) else None
    if comma is None:
        return f"{words}, {_found(value)}"
    # what is offered in place of the comma is a bare number itself, whatever sign of money stood beside it
    return comma_words(value) if comma[0] == value.strip() else f"{words}: {comma_words(comma[0])}"


def _bound(words: str, key: str) -> Callable[[dict[str, Any], Any], str]:
    return lambda item, value: f"{value} is out of range: it must be {words} {item['ctx'][key]:g}"


def _text(item: dict[str, Any], value: Any) -> str:
    if isinstance(value, dict | list):
        return f"text is expected here, {_found(value)}"
    shown = str(value).lower() if isinstance(value, bool) else value
    return f'text is expected here; put it in quotes: "{shown}"'


def _too_few(item: dict[str, Any], value: Any) -> str:
    least = item["ctx"]["min_length"]
    if not value:
        return f"nothing is listed here; at least {least} {'is' if least == 1 else 'are'} needed"
    return f"at least {least} are needed here, found {len(value)}"


_SENTENCES: dict[str, Callable[[dict[str, Any], Any], str]] = {
    "literal_error": _literal,
    "string_type": _text,
    "string_too_short": lambda item, value: "the text is empty; write something here",
    "string_too_long": lambda item, value: (
        f"the text is too long: at most {item['ctx']['max_length']} letters"
    ),
    "string_pattern_mismatch": lambda item, value: (
        f"'{value}' cannot be an id: lower-case letters, digits, '-' and '.', as in 'core-230-short'"
    ),
    "float_type": _number,
    "float_parsing": _number,
    "int_type": _number,
    "int_parsing": _number,
    "int_from_float": _number,
    "finite_number": _number,
    "bool_type": lambda item, value: f"write true or false, {_found(value)}",
    "bool_parsing": lambda item, value: f"write true or false, {_found(value)}",
    "greater_than": _bound("more than", "gt"),
    "greater_than_equal": _bound("at least", "ge"),
    "less_than": _bound("less than", "lt"),
    "less_than_equal": _bound("at most", "le"),
    "too_short": _too_few,
    "too_long": lambda item, value: f"too many: at most {item['ctx']['max_length']} are allowed here",
    "tuple_type": lambda item, value: f"a list is expected here, like [a, b]; {_found(value)}",
    "model_type": lambda item, value: (
        f"keys and values are expected here, like {{key: value}}; {_found(value)}"
    ),
    "dict_type": lambda item, value: (
        f"keys and values are expected here, like {{key: value}}; {_found(value)}"
    ),
    "mapping_type": lambda item, value: (
        f"keys and values are expected here, like {{key: value}}; {_found(value)}"
    ),
}
