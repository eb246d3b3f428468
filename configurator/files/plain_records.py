"""Frozen records as plain data for JSON, and back again without reading or checking them once more.

A table of rows, what is inside before what holds it, equal ones once. A row is the number of its shape and its
values. A shape is the class, the names, which of them were written, and for each value whether it is text, a whole
number, a float or a flag in the row (`t`, `i`, `f`, `b`), the number of another row (`>`), or None and not there (`-`).
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from typing import Any, Final

from configurator.foundations.records import Record
from configurator.foundations.units import Figure

_Make = Callable[[list[Any], list[Any]], Any]
_Shape = tuple[str, tuple[Any, ...], tuple[str, ...], str]
_PLAIN: Final = {str: "t", int: "i", float: "f", bool: "b"}


class _Table:
    """Rows and shapes so far, each with its number."""

    def __init__(self) -> None:
        self.shapes: dict[_Shape, int] = {}
        self.rows: list[list[Any]] = []
        self.numbers: dict[tuple[Any, ...], int] = {}

    def put(self, value: Any) -> int:
        """The number of the row that says this."""
        if isinstance(value, Figure):
            return self._row("figure", {"si": float(value), **vars(value)})
        if isinstance(value, Record):
            fields, written = value.__dict__, value.__pydantic_fields_set__
            of = f"{type(value).__module__}.{type(value).__qualname__}"
            return self._row(of, fields, tuple(name for name in fields if name in written))
        if isinstance(value, tuple):
            return self._row("tuple", dict(enumerate(value)))
        if isinstance(value, dict):
            return self._row("dict", value)
        raise TypeError(f"{type(value).__name__} is not kept")

    def _row(self, of: str, values: dict[Any, Any], written: tuple[str, ...] = ()) -> int:
        kinds = ""
        row: list[Any] = [0]
        for value in values.values():
            if value is None:
                kinds += "-"
                continue
            kind = _PLAIN.get(type(value), ">")
            kinds += kind
            row.append(self.put(value) if kind == ">" else value)
        names = () if of == "tuple" else tuple(values)
        row[0] = self.shapes.setdefault((of, names, written, kinds), len(self.shapes))
        key = tuple(row)
        number = None if 0 in row[1:] and "f" in kinds else self.numbers.get(key)  # 0.0 equals -0.0
        if number is None:
            number = self.numbers[key] = len(self.rows)
            self.rows.append(row)
        return number


def written_plainly(value: Any) -> str:
    """A record, a figure, a tuple or a dict with text for keys, with all that it holds, as JSON.

    Raises TypeError for what it holds of another type.
    """
    table = _Table()
    root = table.put(value)
    return json.dumps({"shapes": list(table.shapes), "rows": table.rows, "root": root}, separators=(",", ":"))


def read_plainly(text: str | bytes) -> Any:
    """What `written_plainly` was given, equal in every value and in its repr. Equal records in it are the same one."""
    plain = json.loads(text)
    classes = {f"{model.__module__}.{model.__qualname__}": model for model in _all_records(Record)}
    makers = [_maker(classes, *shape) for shape in plain["shapes"]]
    made: list[Any] = []
    for row in plain["rows"]:
        made.append(makers[row[0]](row, made))
    return made[plain["root"]]


def _all_records(model: type[Record]) -> Iterator[type[Record]]:
    for below in model.__subclasses__():
        yield below
        yield from _all_records(below)


def _maker(classes: dict[str, type[Record]], of: str, names: list[str], written: list[str], kinds: str) -> _Make:
    """How a row of one shape becomes its value."""
    places: list[tuple[str, int]] = []
    place = 0
    for kind in kinds:
        place += kind != "-"
        places.append((kind, place))

    def values(row: list[Any], made: list[Any]) -> list[Any]:
        return [None if kind == "-" else made[row[at]] if kind == ">" else row[at] for kind, at in places]

    if of == "figure":
        return lambda row, made: Figure(*values(row, made))
    if of == "tuple":
        return lambda row, made: tuple(values(row, made))
    if of == "dict":
        return lambda row, made: dict(zip(names, values(row, made), strict=True))
    model = classes[of]

    def record(row: list[Any], made: list[Any]) -> Record:
        new = model.__new__(model)
        new.__setstate__(
            {
                "__dict__": dict(zip(names, values(row, made), strict=True)),
                "__pydantic_fields_set__": set(written),
                "__pydantic_extra__": None,
                "__pydantic_private__": None,
            }
        )
        return new

    return record
