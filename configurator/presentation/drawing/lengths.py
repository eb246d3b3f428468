"""Lengths on a drawing: millimetres, and beside them the unit in which the customer measured."""

from __future__ import annotations

import re
from typing import Final

from configurator.foundations.units import Figure

INCH_MM: Final = 25.4


def typed(length_m: float) -> str:
    """A length as its user wrote it, with millimetres beside it where that is another unit."""
    mm = plain(float(length_m) * 1000)
    text = length_m.text if isinstance(length_m, Figure) else ""
    return f"{mm} mm" if not text or unit_of(length_m) == "mm" else f"{text} ({mm} mm)"


def unit_of(length_m: float) -> str:
    """The unit in which a length was written; mm where nobody knows."""
    text = length_m.text if isinstance(length_m, Figure) else ""
    found = re.search(r"[a-z]+$", text)
    return found.group() if found else "mm"


def figure(mm: float, unit: str) -> tuple[str, ...]:
    """A dimension figure in lines: bare millimetres, below the customer's inches or centimetres where he uses these."""
    if unit in ("in", "inch", "ft"):
        return f"{mm / INCH_MM:.2f} in", f"({plain(mm)} mm)"
    if unit == "cm":
        return f"{plain(mm / 10)} cm", f"({plain(mm)} mm)"
    return (plain(mm),)


def plain(mm: float) -> str:
    """Millimetres to a tenth, without a trailing zero."""
    return f"{round(mm, 1) + 0.0:g}" if abs(mm) < 1e5 else f"{mm:.0f}"
