"""Temperature classes of coolant hose.

Published: SAE J20 (2022), class table; the roughness of a smooth rubber tube is common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

ZERO_CELSIUS_K: Final = 273.15
SMOOTH_RUBBER_M: Final = 0.01e-3
"""Wall roughness [m] of a hose that states none."""


@dataclass(frozen=True)
class HoseClass:
    """The temperatures that hose of a class stands [K]."""

    coldest_k: float
    hottest_k: float


def _hose_class(coldest_c: float, hottest_c: float) -> HoseClass:
    return HoseClass(coldest_c + ZERO_CELSIUS_K, hottest_c + ZERO_CELSIUS_K)


HOSE_CLASSES: Final = {
    "A": _hose_class(-55, 175),  # silicone
    "B": _hose_class(-40, 100),  # NBR
    "C": _hose_class(-40, 100),  # CR
    "D-1": _hose_class(-40, 125),  # EPDM
    "D-2": _hose_class(-40, 125),  # EPDM
    "D-3": _hose_class(-40, 150),  # EPDM
    "E": _hose_class(-40, 125),  # EPDM, fibre reinforced
}


def class_of(text: str) -> HoseClass | None:
    """The class that a hose's label names (`D-1 EPDM`, `A silicone`): its first word; None for none."""
    words = text.split()
    return HOSE_CLASSES.get(words[0]) if words else None
