"""The loop as a picture: parts along the flow from top to bottom, the way back on the left, figures at each point."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from configurator.presentation.drawing.marks import (
    LINE_MM,
    Line,
    Mark,
    Path,
    Piece,
    Rectangle,
    Ring,
    Words,
    arrow,
    bounds,
    wrapped,
)
from configurator.presentation.drawing.svg import svg_inside
from configurator.presentation.html import Html
from configurator.presentation.sheet.loop_facts import LoopFacts, PointFacts

STYLE: Final = """
svg{color:#16191c;background:#fff}
text{font-family:sans-serif;font-size:3.5px;fill:currentColor}
.strong{font-weight:bold}
rect,line,circle,path{stroke:currentColor;fill:none;stroke-width:.25}
.part{stroke-width:.5}
.way{stroke-width:.7}
.head{fill:currentColor}
.spot{fill:#fff;stroke-width:.35}
.other{stroke-dasharray:1.6 1}
@media (prefers-color-scheme:dark){
svg{color:#e8eaec;background:#16191c}
.spot{fill:#16191c}
}
@media print{
svg{color:#000;background:#fff}
.spot{fill:#fff}
}
"""
WIDE_MM: Final = 118.0
_BACK: Final = 4.0
_LEFT: Final = 12.0
_RIGHT: Final = 66.0
_MIDDLE: Final = (_LEFT + _RIGHT) / 2
_WORDS: Final = 71.0
_GAP_MM: Final = 17.0
_NAME_LINES: Final = 2
_SMALL: Final = 3.0
_BETWEEN_TWINS_MM: Final = 2.0


def loop_picture(facts: LoopFacts, names: Mapping[str, str]) -> Html:
    """The loop with its figures; `names` are the spoken names of parts by slot."""
    marks = tuple(_marks(facts, names))
    said = [f"{point.number}, {point.where}: {point.flow}, {point.pressure}, {point.warmth}." for point in facts.points]
    said += [f"{slot}: {', '.join(lines)}." for slot, lines in facts.through]
    size = (WIDE_MM, bounds(marks)[3] + 3.0)
    return Html(svg_inside("loop-picture", size, "The loop, part by part along the flow", said, marks))


def _marks(facts: LoopFacts, names: Mapping[str, str]) -> Iterator[Mark]:
    """Parts from the reservoir down, and the way from the last back into the reservoir."""
    stops = tuple(dict.fromkeys(point.slots for point in facts.points))
    by_end = {(point.slots, point.side): point for point in facts.points}
    through = dict(facts.through)
    down = 3.0
    first = 0.0
    for at, slots in enumerate(stops):
        high = _height(slots, names)
        yield from _parts(slots, names, down, high)
        lines = through.get(slots[0])
        if lines is not None:
            yield from _other(lines, down, high)
        first = first or down + high / 2
        out, into = by_end[slots, "out"], by_end[stops[(at + 1) % len(stops)], "in"]
        down += high
        flow = (out.flow,) if out.flow == into.flow else (f"{out.flow},", f"then {into.flow}")
        end = down + _GAP_MM + LINE_MM * (len(flow) - 1)
        if at + 1 < len(stops):
            yield from arrow(_MIDDLE, down, _MIDDLE, end)
        else:
            yield Path(((_MIDDLE, down), (_MIDDLE, end), (_BACK, end), (_BACK, first)), "way")
            yield from arrow(_BACK, first, _LEFT, first)
        yield from _figures(out, into, flow, down, end)
        down = end


def _height(slots: Sequence[str], names: Mapping[str, str]) -> float:
    lines = 0 if len(slots) > 1 else len(_name_lines(names.get(slots[0], "")))
    return max(12.0, 6.5 + 3.8 * lines)


def _name_lines(name: str) -> list[str]:
    """A part's name in so many lines, cut where it has more: the table of parts has it whole."""
    lines = wrapped(name, _RIGHT - _LEFT - 4.0, _SMALL)
    return lines if len(lines) <= _NAME_LINES else [*lines[: _NAME_LINES - 1], f"{lines[_NAME_LINES - 1][:-1]}…"]


def _parts(slots: Sequence[str], names: Mapping[str, str], down: float, high: float) -> Iterator[Mark]:
    """The box of a part, or two beside each other."""
    wide = (_RIGHT - _LEFT - _BETWEEN_TWINS_MM * (len(slots) - 1)) / len(slots)
    for number, slot in enumerate(slots):
        left = _LEFT + number * (wide + _BETWEEN_TWINS_MM)
        yield Rectangle(left, down, wide, high, "part", (("slot", slot),))
        yield Words(left + 2.0, down + 5.0, slot, "t strong", size=_SMALL if len(slots) > 1 else 3.5)
        lines = [] if len(slots) > 1 else _name_lines(names.get(slot, ""))
        for count, line in enumerate(lines, start=1):
            yield Words(left + 2.0, down + 5.0 + 3.8 * count, line, size=_SMALL)


def _other(lines: tuple[str, str], down: float, high: float) -> Iterator[Mark]:
    """What a core or an exchanger trades its heat with: charge or air, in and out again."""
    rows = (down + high / 2 - 2.6, down + high / 2 + 2.6)
    yield from arrow(_WORDS - 1.0, rows[0], _RIGHT, rows[0])
    yield from arrow(_RIGHT, rows[1], _WORDS - 1.0, rows[1])
    for row, words in zip(rows, lines, strict=True):
        yield Words(_WORDS, row + 1.2, words)


def _figures(out: PointFacts, into: PointFacts, flow: Sequence[str], down: float, end: float) -> Piece:
    """Two points of one hose, behind a part and before the next; between them the lines of its flow."""
    marks: list[Mark] = []
    for point, y in ((out, down + 4.0), (into, end - 4.5)):
        marks += [
            Line(_MIDDLE, y, _WORDS - 1.0, y, "thin"),
            Ring(_MIDDLE, y, 2.5, "spot"),
            Words(_MIDDLE, y + 1.2, point.number, "t strong", "middle"),
            Words(_WORDS, y + 1.2, f"{point.warmth}, {point.pressure}"),
        ]
    first = (down + end - 0.5 - LINE_MM * (len(flow) - 1)) / 2 + 1.2
    return (*marks, *(Words(_WORDS, first + LINE_MM * number, line) for number, line in enumerate(flow)))
