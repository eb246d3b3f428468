"""Boxes along the axes of the car, in whole millimetres, and the careful rounding that makes them.

Frame of the car: x back, y right, z up. A part's box is rounded up and a free box down, so that what is
said to fit on whole millimetres fits in the metal.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

Triple = tuple[int, int, int]

_NOISE_MM = 1e-6
"""Far above the error of a float that holds a length in metres, far below any tape measure."""


@dataclass(frozen=True)
class Box:
    """An axis-aligned box between two corners [mm]: the lowest and the highest x, y and z."""

    low: Triple
    high: Triple

    @property
    def size(self) -> Triple:
        """Extent along x, y and z [mm]."""
        return (self.high[0] - self.low[0], self.high[1] - self.low[1], self.high[2] - self.low[2])

    @property
    def volume(self) -> int:
        """Volume [mm3]."""
        return math.prod(self.size)

    def grown(self, by: int) -> Box:
        """The box with every face moved outwards [mm]."""
        x, y, z = self.low
        far_x, far_y, far_z = self.high
        return Box((x - by, y - by, z - by), (far_x + by, far_y + by, far_z + by))

    def overlaps(self, other: Box) -> bool:
        """Whether the two share volume; faces that touch do not."""
        return all(self.low[k] < other.high[k] and other.low[k] < self.high[k] for k in range(3))


def millimetres_up(length_m: float) -> int:
    """The least whole number of millimetres [mm] that is not below the length `length_m` [m]."""
    return math.ceil(length_m * 1000 - _NOISE_MM)


def millimetres_down(length_m: float) -> int:
    """The greatest whole number of millimetres [mm] that is not above the length `length_m` [m]."""
    return math.floor(length_m * 1000 + _NOISE_MM)
