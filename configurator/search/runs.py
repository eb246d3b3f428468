"""Hose runs between zones: as the brief gives them, else estimated from the zones' places."""

from __future__ import annotations

from dataclasses import dataclass

from configurator.brief.bay import Bay, Zone

UNPLACED_M = 1.5
SAME_ZONE_M = 0.5
DETOUR = 1.1
SLACK_M = 0.3
"""Estimates: along the axes between zone centres, a tenth more, and 0.3 m; common practice, no source."""


@dataclass(frozen=True)
class Run:
    """Length of hose between two zones, and whether it was given or is an estimate.

    `placed` is false where the zones or their places are not known, so that it is a usual length and no more.
    """

    length_m: float
    given: bool
    placed: bool = True


def run_between(bay: Bay | None, first: str, second: str) -> Run:
    """The run between the zones of two parts that follow each other in the loop."""
    if bay is None:
        return Run(UNPLACED_M, False, placed=False)
    given = bay.run_m(first, second)
    if given is not None:
        return Run(given, True)
    if first == second and first in bay.zones:
        return Run(SAME_ZONE_M, False)
    one, two = bay.zones.get(first), bay.zones.get(second)
    here = None if one is None else _centre(one)
    there = None if two is None else _centre(two)
    if here is None or there is None:
        return Run(UNPLACED_M, False, placed=False)
    straight = sum(abs(a - b) for a, b in zip(here, there, strict=True))
    return Run(round(straight * DETOUR + SLACK_M, 2), False)


def _centre(zone: Zone) -> tuple[float, float, float] | None:
    """Centre of a zone in the car's frame [m]; None where its place is not wholly known."""
    if zone.at.back_m is None or zone.at.right_m is None or zone.at.up_m is None:
        return None
    return (
        float(zone.at.back_m) + float(zone.deep_m) / 2,
        float(zone.at.right_m) + float(zone.wide_m) / 2,
        float(zone.at.up_m) + float(zone.high_m) / 2,
    )
