"""No answer holds a figure that no car has: infinite, no number, or colder than absolute zero.

Absolute zero is 0 K, -273.15 degC (SI Brochure, 9th edition 2019). The answers are those of the other tests here.
"""

from __future__ import annotations

import json
import math
from typing import Any

import pytest

from tests.fuzz.finite import unfit_figures
from tests.independent.plain import NAMES, answer_of


@pytest.mark.parametrize("name", NAMES)
def test_every_figure_of_an_example_is_one(name: str) -> None:
    run = answer_of(name)

    def refuse(word: str) -> Any:
        raise ValueError(f"{word} is no JSON (RFC 8259, section 6)")

    document = json.loads(run.out, parse_constant=refuse)
    assert document["kits"] and list(unfit_figures(document)) == []
    assert run.trace and all(math.isfinite(value) for row in run.trace for value in row.values())
    assert list(unfit_figures(list(run.trace))) == []


def test_the_walk_finds_what_it_should() -> None:
    found = unfit_figures(
        {"a": [1.0, {"charge_k": -1e-9, "margin_k": -5.0, "charge_c": -273.16, "b": math.inf}], "c": (math.nan,)}
    )
    assert [line.split(":")[0] for line in found] == [".a[1].charge_k", ".a[1].charge_c", ".a[1].b", ".c[0]"]
