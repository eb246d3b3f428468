"""A chart as marks on paper: shaded stretches, lines, power below, and every name in a column beside the lines."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from configurator.presentation.chart.axes import Axis, level_axis, time_axis
from configurator.presentation.chart.facts import ChartFacts, Label
from configurator.presentation.chart.look import HATCH, SHADES, STYLE
from configurator.presentation.chart.panels import Panel, Point, Span
from configurator.presentation.drawing.labels import spread
from configurator.presentation.drawing.marks import (
    LINE_MM,
    Line,
    Mark,
    Path,
    Piece,
    Rectangle,
    Ring,
    Spot,
    Words,
    bounds,
    moved,
    wrapped,
)
from configurator.presentation.drawing.svg import svg_document

WIDE_MM: Final = 256.0
_MARGIN: Final = 7.0
_INNER: Final = WIDE_MM - 2 * _MARGIN
_LEFT: Final = 21.0
_RIGHT: Final = 186.0
_TOP: Final = 24.0
_BOTTOM: Final = 116.0
_POWER_TOP: Final = 120.0
_POWER_BOTTOM: Final = 130.0
_WORDS_TOP: Final = 146.5
_TITLE: Final = 4.6
_HEADING: Final = 15.37
"""Where a heading of two lines ends."""
_LABELS: Final = 194.0
_LABEL_WIDE: Final = WIDE_MM - _MARGIN - _LABELS
_LABEL_GAP: Final = 1.6
_SMALL: Final = 3.1
_LEVELS: Final = 8
_TICK_MM: Final = 14.0
_WIDTHS: Final = {1: ((_LEFT, _RIGHT),), 2: ((_LEFT, 122.0), (128.0, _RIGHT))}
"""Left and right edge of each panel, by how many there are."""
_LEAST_SHARE: Final = 0.45
"""The aim is left outside where it would press all else into less than this share of the height."""
_FLAT_MM: Final = 0.02
"""A point that lies so near to the straight way between its neighbours says nothing new."""
_NARROW_MM: Final = 4.0
"""Stretches narrower than this on average are not shaded behind the lines: stripes would hide them."""

def chart_svg(facts: ChartFacts) -> str:
    """The chart of one kit as an SVG document."""
    marks = (*_heading(facts), *_shifted(facts, (*chart_marks(facts), *_words(facts))))
    high = max(mark.y for mark in marks if isinstance(mark, Words)) + _MARGIN
    return svg_document((WIDE_MM, high, high), facts.title, told(facts), STYLE, marks, HATCH)


def told(facts: ChartFacts) -> list[str]:
    """The chart in sentences, for those who hear it read."""
    lines = [f"{label.name}: {label.figures}." for label in facts.labels]
    return [f"{facts.subtitle}.", *lines, *facts.notes, *facts.cautions]


def chart_marks(facts: ChartFacts) -> tuple[Mark, ...]:
    """The chart itself, without the heading over it and the notes and cautions under it."""
    return tuple(_under(facts))


def _shifted(facts: ChartFacts, marks: Iterable[Mark]) -> Piece:
    """What stands below a heading of two lines, as far down as the heading there is reaches."""
    return moved(marks, 0.0, bounds(tuple(_heading(facts)))[3] - _HEADING)


def _heading(facts: ChartFacts) -> Iterator[Mark]:
    down = 9.0
    for line in wrapped(facts.title, _INNER / 1.1, _TITLE):
        yield Words(_MARGIN, down, line, "t head", size=_TITLE)
        down += 5.6
    for number, line in enumerate(wrapped(facts.subtitle, _INNER)):
        yield Words(_MARGIN, down + LINE_MM * number, line)


def _under(facts: ChartFacts) -> Iterator[Mark]:
    """Everything below a heading of two lines."""
    levels = level_axis(_levels(facts), _BOTTOM, _TOP, _LEVELS)
    yield from _labels(facts, levels)
    for panel, (left, right) in zip(facts.panels, _WIDTHS[len(facts.panels)], strict=True):
        most = max(2, int((right - left) / _TICK_MM))
        times = time_axis(panel.begins_s, panel.ends_s, left, right, most, minutes=panel.minutes)
        yield from _shades(panel.spans, times)
        yield from _scales(panel, levels, times)
        yield from _lines(facts, panel, times, levels)
        yield from _power(panel.spans, times)
    yield from _names_of_scales(levels)


def _levels(facts: ChartFacts) -> list[float]:
    """Everything that is drawn, with the aim where it leaves the rest enough height."""
    drawn = [label.level_c for label in facts.labels if label.level_c is not None and label.kind != "aim"]
    for panel in facts.panels:
        drawn += [level for points in (panel.band, *panel.lines.values()) for _, level in points]
        drawn += [] if panel.restart is None else [panel.restart[1]]
    span = max(max(drawn) - min(drawn), 1.0)
    for label in facts.labels:
        if label.kind == "aim" and label.level_c is not None:
            whole = max(*drawn, label.level_c) - min(*drawn, label.level_c)
            drawn += [label.level_c] if span >= _LEAST_SHARE * whole else []
    return drawn


def _beyond(label: Label, levels: Axis) -> bool:
    """Whether a level line lies outside what is drawn."""
    return label.level_c is not None and not levels.first <= label.level_c <= levels.last


def _shades(spans: Sequence[Span], times: Axis) -> Iterator[Mark]:
    """Behind the lines: the darker, the more power; standstill hatched."""
    narrow = (times.to_mm - times.from_mm) / len(spans) < _NARROW_MM
    for span in spans:
        left, right = times.at(span.begins_s), times.at(span.ends_s)
        if not span.engine:
            yield Rectangle(left, _TOP, right - left, _BOTTOM - _TOP, "still")
        elif not narrow:
            look = f"shade s{round(SHADES * span.share)}"
            yield Rectangle(left, _TOP, right - left, _BOTTOM - _TOP, look, (("share", f"{span.share:g}"),))


def _scales(panel: Panel, levels: Axis, times: Axis) -> Iterator[Mark]:
    """Frame, grid and caption of a panel, and its time below."""
    left, right = times.from_mm, times.to_mm
    yield Rectangle(left, _TOP, right - left, _BOTTOM - _TOP, "frame")
    yield Words((left + right) / 2, _TOP - 2.0, panel.caption, "t", "middle")
    for level in levels.ticks:
        yield Line(left, levels.at(level), right, levels.at(level), "grid")
    for time in times.ticks:
        x = times.at(time)
        yield Line(x, _TOP, x, _BOTTOM, "grid")
        yield Line(x, _POWER_BOTTOM, x, _POWER_BOTTOM + 1.2, "frame")
        shown = (time - panel.begins_s) / (60 if panel.minutes else 1)
        yield Words(x, _POWER_BOTTOM + 4.6, f"{shown:g}", "t", "middle")
    yield Words((left + right) / 2, _POWER_BOTTOM + 9.2, panel.time_name, "t", "middle")


def _lines(facts: ChartFacts, panel: Panel, times: Axis, levels: Axis) -> Iterator[Mark]:
    """The band, levels, lines, and the charge at its worst and as the engine idles again after a standstill."""
    yield Path(_spots(panel.band, times, levels), "band", closed=True)
    for label in reversed(facts.labels):
        points = panel.lines.get(label.kind, ())
        if label.level_c is not None:
            points = ((panel.begins_s, label.level_c), (panel.ends_s, label.level_c))
        if not _beyond(label, levels):
            yield Path(_spots(points, times, levels), label.kind, data=(("line", label.kind),))
    if panel.restart is not None:
        x, y = times.at(panel.restart[0]), levels.at(panel.restart[1])
        yield Rectangle(x - 1.2, y - 1.2, 2.4, 2.4, "square", (("restart", f"{panel.restart[1]:.2f}"),))
    x, y = times.at(panel.worst[0]), levels.at(panel.worst[1])
    yield Ring(x, y, 1.3, "ring", (("worst", f"{panel.worst[1]:.2f}"),))


def _power(spans: Sequence[Span], times: Axis) -> Iterator[Mark]:
    """The share of full power as steps under the lines."""
    high = _POWER_BOTTOM - _POWER_TOP
    steps: list[Spot] = [(times.from_mm, _POWER_BOTTOM)]
    for span in spans:
        y = _POWER_BOTTOM - high * span.share
        steps += [(times.at(span.begins_s), y), (times.at(span.ends_s), y)]
    yield Path((*steps, (times.to_mm, _POWER_BOTTOM)), "power", closed=True)
    yield Rectangle(times.from_mm, _POWER_TOP, times.to_mm - times.from_mm, high, "frame")


def _names_of_scales(levels: Axis) -> Iterator[Mark]:
    yield Words(_LEFT - 1.8, _TOP - 3.2, "degC", "t", "end")
    for level in levels.ticks:
        yield Words(_LEFT - 1.8, levels.at(level) + 1.2, f"{level:g}", "t", "end")
    yield Words(_LEFT - 1.8, _POWER_TOP + 2.6, "100 %", "t", "end", size=_SMALL)
    yield Words(_LEFT - 1.8, _POWER_BOTTOM, "0", "t", "end", size=_SMALL)
    yield Words(_LABELS, (_POWER_TOP + _POWER_BOTTOM) / 2 + 1.2, "share of full power", "t strong")


def _labels(facts: ChartFacts, levels: Axis) -> Iterator[Mark]:
    """Each line's name and figures beside its end, pushed apart where ends lie close, with a thin way between."""
    told = []
    for label in facts.labels:
        figures = label.figures
        level = facts.panels[-1].lines[label.kind][-1][1] if label.level_c is None else label.level_c
        if _beyond(label, levels):
            figures += f", {'above' if level > levels.last else 'below'} this chart"
            level = min(max(level, levels.first), levels.last)
        lines = wrapped(figures, _LABEL_WIDE)
        told.append((levels.at(level), label, lines, LINE_MM * (1 + len(lines)) + _LABEL_GAP))
    told.sort(key=lambda entry: entry[0])
    heights = [entry[3] for entry in told]
    middles = _kept_in([entry[0] for entry in told], heights)
    for middle, (y, label, lines, high) in zip(middles, told, strict=True):
        if not _beyond(label, levels):
            way = ((_RIGHT, y), (_RIGHT + 1.5, y), (_LABELS - 2.5, middle), (_LABELS - 1.0, middle))
            yield Path(way, "leader")
        top = middle - (high - _LABEL_GAP) / 2
        yield Words(_LABELS, top + 3.3, label.name, "t strong")
        for number, line in enumerate(lines, start=1):
            yield Words(_LABELS, top + 3.3 + LINE_MM * number, line)


def _kept_in(wishes: Sequence[float], heights: Sequence[float]) -> list[float]:
    """Middles of labels from top to bottom, none on another and none below the plot."""
    middles = spread(wishes, heights)
    floor = _BOTTOM + 2.0
    for index in reversed(range(len(middles))):
        middles[index] = min(middles[index], floor - heights[index] / 2)
        floor = middles[index] - heights[index] / 2
    return middles


def _words(facts: ChartFacts) -> Iterator[Mark]:
    down = _WORDS_TOP
    for text in (*facts.notes, *facts.cautions):
        for line in wrapped(text, _INNER, _SMALL):
            yield Words(_MARGIN, down, line, size=_SMALL)
            down += 4.0
        down += 0.6


def _spots(points: Sequence[Point], times: Axis, levels: Axis) -> tuple[Spot, ...]:
    """Points on paper, without those that lie on the straight way between their neighbours."""
    spots = [(times.at(time), levels.at(level)) for time, level in points]
    kept = spots[:1]
    start = 0
    for index in range(2, len(spots)):
        if not _straight(spots[start], spots[index], spots[start + 1 : index]):
            start = index - 1
            kept.append(spots[start])
    return (*kept, *spots[-1:])


def _straight(one: Spot, other: Spot, between: Sequence[Spot]) -> bool:
    """Whether all points between lie on the way from one to the other, in its order."""
    (x1, y1), (x2, y2) = one, other
    if x2 == x1:
        return all(x == x1 and min(y1, y2) <= y <= max(y1, y2) for x, y in between)
    return all(abs(y1 + (y2 - y1) * (x - x1) / (x2 - x1) - y) <= _FLAT_MM for x, y in between)
