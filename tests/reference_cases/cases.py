"""Values from outside the product as data, and the one way in which they are read and held.

A file of cases is a list of: `case` (what it is), `through` (the public function, as module.function),
`inputs` (its arguments by name), `expected` (a number, a list, or values by the name of a result),
`tolerance` ({relative: x} or {absolute: x}, for all expected values or by name), `source` and `standing` (how
far to trust the figure). `source` is where formula and inputs stand; whether the value itself was seen in print, only
`standing` says, and the name of each test by `told`.
"""

from __future__ import annotations

from importlib import import_module
from pathlib import Path
from typing import Any

import numpy as np
import yaml

NEEDED = {"case", "through", "inputs", "expected", "tolerance", "source", "standing"}
STANDINGS = ("computed", "worked by hand", "from memory", "exact", "read")
"""One word of every standing; of several the first here counts."""


def load_cases(name: str) -> list[dict[str, Any]]:
    """The cases of `<name>.yaml` beside this module; every one complete, no name twice."""
    path = Path(__file__).with_name(f"{name}.yaml")
    cases: list[dict[str, Any]] = yaml.safe_load(path.read_text(encoding="utf-8"))
    assert cases, f"{path.name} holds no case"
    for case in cases:
        assert set(case) == NEEDED, f"{path.name}: {case.get('case')}: {sorted(set(case) ^ NEEDED)}"
    names = [case["case"] for case in cases]
    assert len(set(names)) == len(names), f"{path.name}: a case stands twice"
    return cases


def told(case: dict[str, Any]) -> str:
    """The name of a case, with where its value comes from: computed is whatever was worked out anew."""
    return f"{next(word for word in STANDINGS if word in case['standing'])}: {case['case']}"


def public_function(dotted: str) -> Any:
    """The function that a case goes through."""
    module, _, function = dotted.rpartition(".")
    return getattr(import_module(module), function)


def arguments(case: dict[str, Any]) -> dict[str, Any]:
    """The inputs of a case; lists of numbers become arrays."""
    return {
        key: np.array(value, dtype=np.float64) if isinstance(value, list) else value
        for key, value in case["inputs"].items()
    }


def hold(case: dict[str, Any], result: Any) -> None:
    """Assert that a result keeps the case's expected values at its tolerance."""
    expected, tolerance = case["expected"], case["tolerance"]
    if not isinstance(expected, dict):
        _near(case["case"], result, expected, tolerance)
        return
    for name, value in expected.items():
        found = result[name] if isinstance(result, dict) else getattr(result, name)
        _near(f"{case['case']}: {name}", found, value, tolerance.get(name, tolerance))


def _near(what: str, found: Any, expected: Any, tolerance: dict[str, float]) -> None:
    wanted = np.asarray(expected, dtype=np.float64)
    assert set(tolerance) & {"relative", "absolute"}, f"{what}: no tolerance"
    room = tolerance.get("absolute", 0.0) + tolerance.get("relative", 0.0) * np.abs(wanted)
    assert np.shape(found) == wanted.shape, f"{what}: shape {np.shape(found)}, wanted {wanted.shape}"
    text = f"{what}: found {found}, wanted {expected} within {tolerance}"
    assert np.all(np.abs(found - wanted) <= room), text
