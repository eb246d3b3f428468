"""What of a brief may be moved, step by step, in the hope of a kit: power, drive, start, air and room, each alone."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from configurator.foundations.units import Figure, celsius
from configurator.prediction.zone_air import ram_share
from configurator.questions.changed_brief import FASTEST_M_PER_S, FULL_SHARE, SIZES, scaled_power
from configurator.search.circuit import unwanted
from configurator.search.job import Job
from configurator.search.loosening import Change

LEAST_OF_POWER = 0.3
LEAST_OF_DRIVE = 30
"""Less than this of the power or of the drive [%] is another job, not a way out."""

COLDEST_START_C = 5
MOST_MM = 200
"""A gap that is wider by more than this is another car."""

_NOISE = 1e-6


@dataclass(frozen=True)
class Lever:
    """A figure in whole steps, from the brief's own to as far as it is tried; `changes` says what a step asks.

    `zones`: of which; `of_room`: a size, which helps only what has no room there.
    """

    words: str
    first: int
    last: int
    changes: Callable[[int], tuple[Change, ...]]
    zones: tuple[str, ...] = ()
    of_room: bool = False


def levers(job: Job) -> Iterator[Lever]:
    """The levers of a brief, in the order in which they are tried."""
    brief = job.brief
    power_kw = float(brief.engine.power_w) / 1e3
    least_kw = math.ceil(LEAST_OF_POWER * power_kw)
    yield Lever("power", math.ceil(power_kw), least_kw, lambda step: scaled_power(brief, job.tables, step))
    yield from _airs(job)
    yield from _sizes(job)
    yield Lever("driving", 100, LEAST_OF_DRIVE, lambda step: (Change("driving", 100, step, "%"),))
    start_c = celsius(job.conditions.start_k)
    if job.conditions.ice is None and start_c > COLDEST_START_C + 1:
        first = math.ceil(start_c - _NOISE)
        yield Lever("start", first, COLDEST_START_C, lambda step: (start_change(job, step),))


def start_change(job: Job, start_c: float) -> Change:
    """Coolant that starts at another temperature than the brief says, or than the air has."""
    said = job.brief.coolant.start_k
    written = (said if isinstance(said, Figure) else job.brief.site.air_k).unit
    return Change("start", round(celsius(job.conditions.start_k), 2), start_c, "degC", written=written)


def _airs(job: Job) -> Iterator[Lever]:
    bay = job.brief.bay
    for name, zone in {} if bay is None else bay.zones.items():
        air = zone.air
        if air is None or "exchanger" not in zone.takes or "exchanger" in unwanted(job.brief, job.layout):
            continue
        if air.face_speed_m_per_s is not None:
            now, last, per_unit, unit = float(air.face_speed_m_per_s), FASTEST_M_PER_S, 10, "m/s"
            written = air.face_speed_m_per_s.unit
        elif air.kind == "ram":
            now, last, per_unit, unit, written = 100 * ram_share(zone), float(FULL_SHARE), 1, "%", "%"
        else:
            continue
        first = math.floor(now * per_unit + _NOISE)
        if now < last:
            changes = _air(round(now, 6), per_unit, unit, name, written)
            yield Lever(f"air at {name}", first, round(last * per_unit), changes, (name,))


def _air(now: float, per_unit: int, unit: str, zone: str, written: str) -> Callable[[int], tuple[Change, ...]]:
    return lambda step: (Change("air", now, step / per_unit, unit, zone, written),)


def _sizes(job: Job) -> Iterator[Lever]:
    """A zone made of several keeps its size: none of the brief's own figures is that size."""
    bay = job.brief.bay
    for name, zone in {} if bay is None else bay.zones.items():
        for size in SIZES if " + " not in name else ():
            side: Figure = getattr(zone, f"{size}_m")
            now = round(float(side) * 1e3, 6)
            first = math.floor(now + _NOISE)
            changes = _size(size, now, name, side.unit)
            yield Lever(f"{size} of {name}", first, first + MOST_MM, changes, (name,), of_room=True)


def _size(size: str, now: float, zone: str, written: str) -> Callable[[int], tuple[Change, ...]]:
    return lambda step: (Change(size, now, step, "mm", zone, written),)
