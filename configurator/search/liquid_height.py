"""How high the liquid of a job may stand over its loop: from the heights of the zones, as far as they are known."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import product
from typing import Final

from configurator.brief.bay import Zone
from configurator.brief.request import Brief
from configurator.joining.ratings import ASSUMED_HEIGHT_M
from configurator.parts.own import OwnPart

UNDER_LIQUID: Final = ("core", "exchanger", "pump")
"""Kinds of a loop that liquid stands over."""


@dataclass(frozen=True)
class LiquidHeight:
    """The most liquid above any part of a loop [m]; `known` where no height behind it had to be assumed."""

    most_m: float
    known: bool


def liquid_over(brief: Brief, own: Iterable[OwnPart], head_m: float | None = None) -> LiquidHeight:
    """The liquid over a loop in a brief's car, with what of the customer's stays there.

    `head_m`: where it is stated [m], which counts before all. Else the most that the top of a zone for the reservoir
    stands over the floor of a zone for what lies under liquid, of the kinds that are wanted, at least
    `ASSUMED_HEIGHT_M`: no part has more over it, wherever parts come to lie. How high a part lies that stays in the car
    nobody says.
    """
    if head_m is not None:
        return LiquidHeight(head_m, known=True)
    stays = {held.part.kind for held in own if held.fitted}
    absent = stays | {*brief.without}
    zones = () if brief.bay is None else brief.bay.zones.values()
    tanks = [zone for zone in zones if "reservoir" in {*zone.takes} - absent]
    below = [zone for zone in zones if {*zone.takes} & {*UNDER_LIQUID} - absent]
    found = [_over_m(tank, zone) for tank, zone in product(tanks, below)]
    heights = [height for height in found if height is not None]
    known = len(heights) == len(found) > 0 and stays.isdisjoint(("reservoir", *UNDER_LIQUID))
    return LiquidHeight(max((ASSUMED_HEIGHT_M, *heights)), known)


def _over_m(tank: Zone, zone: Zone) -> float | None:
    """How high a zone's top stands over another's floor [m]; None where they differ and a height is not known."""
    if tank is zone:
        return float(tank.high_m)
    if tank.at.up_m is None or zone.at.up_m is None:
        return None
    return round(float(tank.at.up_m) + float(tank.high_m) - float(zone.at.up_m), 6)
