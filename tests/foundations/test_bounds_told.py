"""Every bound of a figure, told in every unit it can be written in, is a figure that is accepted."""

from __future__ import annotations

import re
from typing import Any, get_args

import pytest
from pydantic import TypeAdapter, ValidationError

from configurator.foundations import figures
from configurator.foundations.figures import UnitField
from configurator.foundations.units import UNITS

FIELDS: dict[str, tuple[Any, UnitField]] = {
    name: (field, get_args(field)[1])
    for name, field in vars(figures).items()
    if len(get_args(field)) == 2 and type(get_args(field)[1]) is UnitField
}
CASES = [
    (name, unit, bound, outward)
    for name, (_, field) in FIELDS.items()
    for unit in UNITS[field.kind]
    for bound, outward in ((field.least, -1), (field.most, +1), (field.above, -1))
    if bound is not None
]


def written(number: float) -> str:
    return f"{number:.9f}".rstrip("0").rstrip(".")


@pytest.mark.parametrize(("name", "unit", "bound", "outward"), CASES)
def test_a_bound_that_is_told_can_be_typed_back(name: str, unit: str, bound: float, outward: int) -> None:
    annotation, field = FIELDS[name]
    factor, offset = UNITS[field.kind][unit]
    beyond = (bound - offset) / factor + outward * max(1.0, abs((bound - offset) / factor))
    with pytest.raises(ValidationError) as refused:
        TypeAdapter(annotation).validate_python(f"{written(beyond)} {unit}")
    told = refused.value.errors()[0]["msg"]
    if "absolute zero" in told:
        return
    match = re.search(r"it must be (more than|at least|at most) (-?[0-9.]+) ([^(]+?)(?: \((-?[0-9.]+) (.+)\))?$", told)
    assert match is not None and match[3] == unit, told
    shown = [(match[2], match[3])] + ([(match[4], match[5])] if match[4] else [])
    for number, of in shown:
        if match[1] != "more than":
            TypeAdapter(annotation).validate_python(f"{number} {of}")
        assert float(number) * UNITS[field.kind][of][0] + UNITS[field.kind][of][1] == pytest.approx(bound, rel=1e-4)


def test_there_are_bounds_to_look_at() -> None:
    assert len(FIELDS) > 20 and len(CASES) > 100
