"""Values from outside of atmosphere, charger, pipes, pumps, lumps in time and ice, through public functions.

The name of each says whether its value was read in print, recalled or computed.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from tests.reference_cases.cases import arguments, hold, load_cases, public_function, told

NAMES = ("atmosphere", "compression", "air_flow", "pipe_flow", "pump_point", "lumps", "ice")


@pytest.mark.parametrize("case", [c for name in NAMES for c in load_cases(name)], ids=told)
def test_reference_value_is_met(case: dict[str, Any]) -> None:
    hold(case, public_function(case["through"])(**arguments(case)))


@pytest.mark.parametrize("name", NAMES)
def test_a_value_off_by_more_than_its_tolerance_is_refused(name: str) -> None:
    """The check itself can fail: every case of a file, its first value moved two tolerances away."""
    for case in load_cases(name):
        wrong = {**case, "expected": _moved(case["expected"], case["tolerance"])}
        with pytest.raises(AssertionError, match="wanted"):
            hold(wrong, public_function(case["through"])(**arguments(case)))


def _moved(expected: Any, tolerance: dict[str, Any]) -> Any:
    if isinstance(expected, dict):
        first = next(iter(expected))
        return {**expected, first: _moved(expected[first], tolerance.get(first, tolerance))}
    value = np.array(expected, dtype=np.float64)
    away = 2.1 * (tolerance.get("absolute", 0.0) + tolerance.get("relative", 0.0) * np.abs(value))
    return (value + away / (1 - 2.1 * tolerance.get("relative", 0.0))).tolist()
