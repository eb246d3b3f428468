"""What a record of the models takes: its keys, and an example of how each is written."""

from __future__ import annotations

import types
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from configurator.files.problems import KeyPath
from configurator.foundations.figures import UnitField
from configurator.foundations.records import Record

_FIGURES = {
    "length": "230 mm",
    "area": "2.5 mm2",
    "volume": "1.5 L",
    "mass": "3.9 kg",
    "pressure": "1.4 bar",
    "temperature": "24 degC",
    "temperature difference": "10 K",
    "power": "230 kW",
    "volume flow": "30 L/min",
    "mass flow": "0.2 kg/s",
    "speed": "60 km/h",
    "time": "90 s",
    "share": "50 %",
    "current": "8 A",
    "rotational speed": "7400 rpm",
    "specific consumption": "330 g/kWh",
    "specific heat": "900 J/kg/K",
    "conductance per area": "15 W/K/m2",
}
_LENGTHS = {"least": "25 mm", "most": "40 mm"}
"""Of a clamp's range; a gap or a part is larger."""

_END_SIZE = "19 mm"

_BY_KEY = {
    "size": "{x: 230 mm, y: 150 mm, z: 130 mm}",
    "id": "core-230-short",
    "fuel": "petrol",
    "charger": "turbo",
    "driving": "hill-climb",
    "brief": "Hill-climb hatch",
    "bay": "unmeasured",
    "takes": "[core]",
    "aim": "{charge_air: 80 degC}",
    "price": "340",
    "volts": "12",
    "passes": "1",
    "air": "24 degC",
    "name": "Short-flow core",
    "fluid": "water",
    "boost": "1.4 bar",
    "class": "D-1 EPDM",
    "coldest": "-40 degC",
    "hottest": "125 degC",
    "humidity": "50 %",
}


def keys_of(record: type[Record]) -> dict[str, tuple[str, Any]]:
    """The keys of a record as they are written, each with the name and the definition of its field."""
    return {field.alias or name: (name, field) for name, field in record.model_fields.items()}


def field_type(field: Any) -> Any:
    """The annotation of a field, with what pydantic has taken off it put back."""
    kept = tuple(item for item in field.metadata if isinstance(item, UnitField))
    return Annotated[(field.annotation, *kept)] if kept else field.annotation


def types_at(annotation: Any, path: KeyPath) -> list[Any]:
    """The plain types that may stand at `path` below a value of type `annotation`."""
    found = _alternatives(annotation)
    for element in path:
        found = [below for kind in found for below in _below(kind, element)]
    return found


def record_at(annotation: Any, path: KeyPath) -> type[Record] | None:
    """The kind of record at `path`, None where none can stand there."""
    for kind in types_at(annotation, path):
        if isinstance(kind, type) and issubclass(kind, Record):
            return kind
    return None


def example(key: str, annotation: Any) -> str:
    """How a key is written: `boost: 1.4 bar`."""
    return f"{key}: {_value(key, annotation)}"


def _value(key: str, annotation: Any, depth: int = 0) -> str:
    kinds = _alternatives(annotation)
    first = kinds[0] if kinds else str
    if isinstance(first, UnitField):
        by_key = _LENGTHS.get(key, "") if first.kind == "length" else _BY_KEY.get(key, "")
        known = by_key and first.kind in ("pressure", "temperature", "length")
        return by_key if known else _FIGURES.get(first.kind, "...")
    if get_origin(first) is Literal:
        return str(get_args(first)[0])
    if isinstance(first, type) and issubclass(first, Record):
        if key in _BY_KEY:
            return _BY_KEY[key]
        needed = [(name, field) for name, (_, field) in keys_of(first).items() if field.is_required()]
        if depth or not needed:
            return "{...}"
        return (
            "{" + ", ".join(f"{name}: {_value(name, field_type(f), depth + 1)}" for name, f in needed) + "}"
        )
    if get_origin(first) is tuple and key not in _BY_KEY:
        return f"[{_value('', get_args(first)[0], depth + 1)}]"
    if key == "size":
        return _END_SIZE
    if key in _BY_KEY:
        return _BY_KEY[key]
    return {float: "12", int: "1", bool: "true"}.get(first, "...")


def _alternatives(annotation: Any) -> list[Any]:
    """Union members, without None; a figure's own type is its UnitField."""
    origin = get_origin(annotation)
    if origin is Annotated:
        inner, *extra = get_args(annotation)
        units = [item for item in extra if isinstance(item, UnitField)]
        return list(units) if units else _alternatives(inner)
    if origin in (Union, types.UnionType):
        return [kind for part in get_args(annotation) for kind in _alternatives(part)]
    return [] if annotation is type(None) else [annotation]


def _below(kind: Any, element: str | int) -> list[Any]:
    origin, arguments = get_origin(kind), get_args(kind)
    if origin is tuple and isinstance(element, int):
        return _alternatives(arguments[0])
    if isinstance(kind, type) and issubclass(kind, Record):
        field = keys_of(kind).get(str(element))
        return _alternatives(field_type(field[1])) if field is not None else []
    if origin is not None and len(arguments) == 2 and origin is not tuple:
        return _alternatives(arguments[1])
    return []
