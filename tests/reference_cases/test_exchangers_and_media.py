"""Values from outside of exchangers, the coupled loop, surfaces, air and coolants, through public functions.

The name of each says whether its value was read in print, recalled or computed.
"""

from __future__ import annotations

from typing import Any

import pytest

from configurator.foundations.coolants import Coolant
from tests.reference_cases.cases import arguments, hold, load_cases, public_function, told

PLAIN = ("effectiveness", "coupled_loop", "air_properties", "compact_surfaces")


@pytest.mark.parametrize("case", [c for name in PLAIN for c in load_cases(name)], ids=told)
def test_reference_value_is_met(case: dict[str, Any]) -> None:
    hold(case, public_function(case["through"])(**arguments(case)))


@pytest.mark.parametrize("case", load_cases("coolants"), ids=told)
def test_reference_coolant_is_met(case: dict[str, Any]) -> None:
    inputs = arguments(case)
    coolant = Coolant(inputs.pop("kind"), inputs.pop("share"))
    hold(case, public_function(case["through"])(coolant, **inputs))


@pytest.mark.parametrize("name", [*PLAIN, "coolants"])
def test_a_value_off_by_more_than_its_tolerance_is_refused(name: str) -> None:
    """The runner itself can fail: the same case with its expected value moved three tolerances away."""
    case = next(c for c in load_cases(name) if isinstance(c["expected"], float | list))
    moved = 1.0 + 3.0 * max(case["tolerance"].get("relative", 0.0), case["tolerance"].get("absolute", 0.0))
    expected = case["expected"]
    wrong = [value * moved + 1e-5 for value in expected] if isinstance(expected, list) else expected * moved
    inputs = arguments(case)
    first = [Coolant(inputs.pop("kind"), inputs.pop("share"))] if name == "coolants" else []
    with pytest.raises(AssertionError, match="wanted"):
        hold({**case, "expected": wrong}, public_function(case["through"])(*first, **inputs))
