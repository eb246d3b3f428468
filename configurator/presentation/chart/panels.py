"""A course as panels of a chart: one for the whole drive; of many short rounds their highest, and the worst round."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from configurator.questions.trace import Course, Record, around_core

Point = tuple[float, float]
"""Seconds from the start, and degrees Celsius."""

CHARGE: Final = "charge_out_c"
MANY: Final = 12
"""More rounds than this are too narrow to be told apart beside each other."""
_SAME_S: Final = 1e-6


@dataclass(frozen=True)
class Span:
    """A piece of the drive, its share of full power, and whether the engine runs."""

    begins_s: float
    ends_s: float
    share: float
    engine: bool


@dataclass(frozen=True)
class Panel:
    """Lines over one stretch of time: points by kind of line, the charge's band as an outline, spans, two marks."""

    caption: str
    time_name: str
    begins_s: float
    ends_s: float
    minutes: bool
    lines: Mapping[str, tuple[Point, ...]]
    band: tuple[Point, ...]
    spans: tuple[Span, ...]
    worst: Point
    restart: Point | None = None


def panels_of(
    course: Course, round_s: float, worst: Point, restart_c: float | None, *, minutes: bool
) -> tuple[Panel, ...]:
    """The panels of a course whose pattern lasts `round_s`; `restart_c`: the charge as the engine idles again."""
    spans = spans_of(course.nominal)
    ends_s = spans[-1].ends_s
    restart = None if restart_c is None else (ends_s, restart_c)
    name = f"{'minutes' if minutes else 'seconds'} from the start"
    rounds = [rounds_of(_driven(course), round_s) for course in (course.nominal, course.warm, course.cool)]
    if len(rounds[0]) <= MANY:
        band = _outline(*(_points(_driven(one), CHARGE) for one in (course.cool, course.warm)))
        lines = _lines(course.nominal, _driven(course.nominal))
        return (Panel("", name, 0.0, ends_s, minutes, lines, band, spans, worst, restart),)
    keys = dict(_keys(course.nominal[0]))
    standing = [record for record in course.nominal if not _runs(record)]
    lines = {
        kind: (*_highest(rounds[0], key), *(() if kind == "charge" else _points(standing, key)))
        for kind, key in keys.items()
    }
    band = _outline(_highest(rounds[2], CHARGE), _highest(rounds[1], CHARGE))
    caption = f"the highest in each round of {round_s:g} s"
    whole = Panel(caption, name, 0.0, ends_s, minutes, lines, band, spans, worst, restart)
    at = next(n for n, one in enumerate(rounds[0]) if worst[0] <= one[-1]["time_s"] + _SAME_S)
    one, warm, cool = (of[at] for of in rounds)
    begins_s, over_s = one[0]["time_s"], one[-1]["time_s"]
    band = _outline(_points(cool, CHARGE), _points(warm, CHARGE))
    caption, name = f"round {at + 1}, the worst", "seconds of the round"
    return (whole, Panel(caption, name, begins_s, over_s, False, _lines(one, one), band, spans_of(one), worst))


def spans_of(records: Sequence[Record]) -> tuple[Span, ...]:
    """Pieces of a course in which the share of full power stays."""
    found: list[Span] = []
    for before, after in pairwise(records):
        if after["time_s"] <= before["time_s"]:
            continue
        share, ends_s = after["share"], after["time_s"]
        goes_on = bool(found) and found[-1].share == share == before["share"]
        begins_s = found.pop().begins_s if goes_on else before["time_s"]
        found.append(Span(begins_s, ends_s, share, _runs(after)))
    return tuple(found)


def rounds_of(records: Sequence[Record], round_s: float) -> list[list[Record]]:
    """A course cut at the ends of its rounds; where two records share that moment, the second begins the next."""
    found: list[list[Record]] = [[records[0]]]
    for before, after in pairwise(records):
        if before["time_s"] == after["time_s"] >= len(found) * round_s - _SAME_S:
            found.append([])
        found[-1].append(after)
    return found


def _runs(record: Record) -> bool:
    """Whether the engine runs: it never takes less than its idle flow."""
    return record["share"] > 0.0


def _driven(records: Sequence[Record]) -> list[Record]:
    return [record for record in records if _runs(record)]


def _keys(record: Record) -> tuple[tuple[str, str], ...]:
    into, leaving = around_core(record)
    return ("charge", CHARGE), ("warm", leaving), ("cold", into)


def _lines(records: Sequence[Record], driven: Sequence[Record]) -> dict[str, tuple[Point, ...]]:
    """The charge while the engine runs, the coolant all the while."""
    return {kind: _points(driven if kind == "charge" else records, key) for kind, key in _keys(records[0])}


def _points(records: Sequence[Record], key: str) -> tuple[Point, ...]:
    return tuple((record["time_s"], record[key]) for record in records)


def _highest(rounds: Sequence[Sequence[Record]], key: str) -> tuple[Point, ...]:
    """The highest point of each round, in its own moment."""
    return tuple(max(_points(one, key), key=lambda point: point[1]) for one in rounds)


def _outline(one: Sequence[Point], other: Sequence[Point]) -> tuple[Point, ...]:
    return (*one, *reversed(other))
