"""Boxes in the car or in a zone as where they begin and end, in metres."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

Spans = tuple[tuple[float, float], tuple[float, float], tuple[float, float]]
"""Begin and end along back, right and up [m]."""

NOISE_M: Final = 1e-6
"""Far below a tape measure, far above the error of a float."""


def shared_m(one: Spans, other: Spans) -> tuple[float, float, float]:
    """What two boxes have in common along each axis [m]; below nothing where a gap parts them."""
    x, y, z = (min(a[1], b[1]) - max(a[0], b[0]) for a, b in zip(one, other, strict=True))
    return (x, y, z)


def moved_m(box: Spans, by_m: Sequence[float]) -> Spans:
    """A box moved along each axis [m]."""
    x, y, z = ((low + step, high + step) for (low, high), step in zip(box, by_m, strict=True))
    return (x, y, z)


def touch(one: Spans, other: Spans) -> bool:
    """Whether two boxes share part of a face or more: along one axis they may just meet."""
    shared = shared_m(one, other)
    return min(shared) > -NOISE_M and sum(length > NOISE_M for length in shared) >= 2
