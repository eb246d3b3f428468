"""Which ends let air out of a part as it is turned."""

from __future__ import annotations

from typing import Final

from configurator.foundations.boxes import Triple
from configurator.parts.ends import OPPOSITE, End, Face

UPPER_SHARE: Final = 0.25
"""A bleed in a side lets air out where it lies in so much of the part's height below its top. Common practice, no
source."""


def vents(end: End, up: Face, size: Triple) -> bool:
    """Whether an end lets the air out of a part of this size [mm] that has the face `up` on top.

    A bleed or drain that points up does; a bleed in a side does near the top, or where its height is not stated.
    """
    if end.face == up:
        return end.role in ("bleed", "drain")
    if end.role != "bleed" or end.face is None or end.face == OPPOSITE[up]:
        return False
    place_m = None if end.at is None else getattr(end.at, f"{up[1]}_m")
    if place_m is None:
        return True
    tall = size["xyz".index(up[1])]
    from_floor = float(place_m) * 1000 if up[0] == "+" else tall - float(place_m) * 1000
    return from_floor >= (1 - UPPER_SHARE) * tall
