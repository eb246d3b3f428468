"""Axes of a chart: round figures between two values, and where a value lies on paper."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

_STEPS: Final = (1, 2, 5)
_MINUTE_STEPS_S: Final = (30, 60, 120, 300, 600, 1200, 1800, 3600)


@dataclass(frozen=True)
class Axis:
    """A straight axis: the values at its two ends, where these lie on paper [mm], and the ticks between."""

    first: float
    last: float
    from_mm: float
    to_mm: float
    ticks: tuple[float, ...]

    def at(self, value: float) -> float:
        """Where a value lies on paper [mm]."""
        return self.from_mm + (value - self.first) / (self.last - self.first) * (self.to_mm - self.from_mm)


def round_step(span: float, most: int) -> float:
    """The least round step (1, 2 or 5 times a power of ten) that divides a span into at most so many pieces."""
    power = 10.0 ** math.floor(math.log10(span / most))
    return next(
        step * power * ten for ten in (1.0, 10.0) for step in _STEPS if span / (step * power * ten) <= most + 1e-9
    )


def level_axis(values: Sequence[float], from_mm: float, to_mm: float, most: int) -> Axis:
    """An axis over values that begins and ends on a tick beyond them."""
    low, high = min(values), max(values)
    step = round_step(max(high - low, 1.0), most)
    first, last = math.ceil(low / step - 1e-9) - 1, math.floor(high / step + 1e-9) + 1
    return Axis(first * step, last * step, from_mm, to_mm, tuple(n * step for n in range(first, last + 1)))


def time_axis(begins_s: float, ends_s: float, from_mm: float, to_mm: float, most: int, *, minutes: bool) -> Axis:
    """An axis from one moment to another, with ticks at round times after the first."""
    lasts_s = ends_s - begins_s
    step = round_step(lasts_s, most)
    if minutes:
        step = next((s for s in _MINUTE_STEPS_S if lasts_s / s <= most), round_step(lasts_s / 3600, most) * 3600)
    ticks = tuple(begins_s + n * step for n in range(math.floor(lasts_s / step + 1e-9) + 1))
    return Axis(begins_s, ends_s, from_mm, to_mm, ticks)
