"""The columns beside the drawing: title, scale bar and axes, parts, obstacles, what lines mean, cautions."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

from configurator.presentation.drawing.dimensions import balloon
from configurator.presentation.drawing.facts import Row, SheetFacts
from configurator.presentation.drawing.lengths import INCH_MM, unit_of
from configurator.presentation.drawing.marks import (
    BOLD_LOOKS,
    LINE_MM,
    Line,
    Mark,
    Piece,
    Rectangle,
    Ring,
    Words,
    arrow,
    bounds,
    moved,
    width_of,
    wrapped,
)
from configurator.presentation.drawing.scene import Block

WIDE_MM: Final = 92.0
_INDENT_MM: Final = 8.0
_GLYPH_MM: Final = 17.0
_GLYPH_LINES: Final = 3
_FIRST: Final = 2
"""Cautions that stand before the parts; the others follow them."""
_BETWEEN_MM: Final = 1.6
_BAR_MM: Final = 82.0
SHORT_BAR_MM: Final = 55.0
_LEAST_STEP_MM: Final = 9.0
KINDS: Final = {
    "plain": "plain: nothing may go there",
    "hot": "hot: keep off by the dotted line",
    "moving": "moving: keep off by the dotted line",
    "crash": "crash: structure, leave untouched",
}


def heads(facts: SheetFacts, scale: int, paper: str, count: int) -> list[Piece]:
    """What stands at the top of the column of each sheet: title, scale bar and axes."""
    found = []
    for number in range(1, count + 1):
        lines = [facts.kit] if number == 1 else []
        sheet = f", sheet {number} of {count}" if count > 1 else ""
        lines.append(f"Scale 1:{scale} on {paper}{sheet}; third angle")
        lines += [*facts.room, "Figures without a unit are millimetres."] if number == 1 else []
        found.append(stacked([_title(facts.brief, lines), _bars(facts, scale), _axes()]))
    return found


def items(facts: SheetFacts) -> list[Piece]:
    """The rest of the words, piece by piece, each with its top left corner at the origin."""
    found = [_text([text], "t" if number else "t warn") for number, text in enumerate(facts.cautions[:_FIRST])]
    found += [_part(row) for row in facts.parts]
    found += [_obstacle(row) for row in facts.obstacles]
    found.append(_looks(facts))
    if facts.routes:
        found.append(_text([f"Hoses: {', '.join(route.name for route in facts.routes)}."]))
    if facts.notes:
        found.append(_text(facts.notes))
    return found + [_text([text]) for text in facts.cautions[_FIRST:]]


def key(facts: SheetFacts, scale: int) -> Piece:
    """What reads the views alone: scale bars of the zones, axes, and what lines and hatches mean."""
    head = (Words(0.0, 3.5, "Scale of the zones", "t strong"),)
    return stacked([head, *bars(facts.blocks, scale, SHORT_BAR_MM), _axes(), _looks(facts)])


def columns(tops: Sequence[Piece], pieces: Sequence[Piece], high: float) -> list[Piece] | None:
    """Each column begins with its top; pieces follow under each other. None where the columns do not hold them."""
    filled = [list(top) for top in tops]
    number, down = 0, bounds(tops[0])[3] + _BETWEEN_MM
    for piece in pieces:
        tall = bounds(piece)[3]
        while down + tall > high:
            number += 1
            if number == len(filled):
                return None
            down = bounds(tops[number])[3] + _BETWEEN_MM
        filled[number] += moved(piece, 0.0, down)
        down += tall + _BETWEEN_MM
    return [tuple(column) for column in filled]


def stacked(pieces: Sequence[Piece]) -> Piece:
    marks: list[Mark] = []
    down = 0.0
    for piece in pieces:
        marks += moved(piece, 0.0, down)
        down += bounds(piece)[3] + _BETWEEN_MM
    return tuple(marks)


def _title(brief: str, lines: Sequence[str]) -> Piece:
    names = wrapped(brief, WIDE_MM / 1.1, 5.0)
    marks: list[Mark] = [Words(0.0, 5.0 + 6.0 * n, text, "t head", size=5.0) for n, text in enumerate(names)]
    down = 6.0 * len(names)
    for line in lines:
        look = "t strong" if line.startswith("TIGHT") else "t"
        for text in wrapped(line, WIDE_MM / 1.1 if look == "t strong" else WIDE_MM):
            down += LINE_MM
            marks.append(Words(0.0, down, text, look))
    return (*marks, Line(0.0, down + 2.0, WIDE_MM, down + 2.0, "dim"))


def _bars(facts: SheetFacts, scale: int) -> Piece:
    told = (Words(0.0, 3.0, f"1 mm is {scale} mm in the car; true on any copy:"),)
    return stacked([told, *bars(facts.blocks, scale, _BAR_MM)])


def bars(blocks: Sequence[Block], scale: float, most_mm: float, key: str = "unit") -> list[Piece]:
    """Scale bars, true on any copy of the sheet: in millimetres, and in inches for those who measured in them.

    `key` names the unit in their data: a sheet has the bars of its zones, and those of where these lie.
    """
    units = {unit_of(block.measured.wide_m) for block in blocks}
    inches = [_bar("in", INCH_MM, scale, most_mm, key)] if units & {"in", "inch", "ft"} else []
    return [_bar("mm", 1.0, scale, most_mm, key), *inches]


def _bar(unit: str, unit_mm: float, scale: float, most_mm: float, key: str) -> Piece:
    step = next(s * 10**n for n in range(6) for s in (1, 2, 5) if s * 10**n * unit_mm / scale >= _LEAST_STEP_MM)
    paper = step * unit_mm / scale
    count = int(most_mm / paper)
    marks: list[Mark] = []
    for n in range(count):
        data = ((key, unit), ("from", f"{n * step}"), ("to", f"{(n + 1) * step}"))
        marks.append(Rectangle(n * paper, 0.0, paper, 2.0, "bar full" if n % 2 == 0 else "bar", data))
    marks += [Line(n * paper / 5, 2.0, n * paper / 5, 3.2, "thin") for n in range(6)]
    every = max(1, -(-int(width_of(f"{count * step}") + 2.0) // int(paper)))
    for n in range(0, count + 1, every):
        left = n * paper - (width_of(f"{n * step}") / 2 if n else 0.0)
        marks.append(Words(left, 6.6, f"{n * step} {unit}" if n + every > count else f"{n * step}"))
    return tuple(marks)


def _axes() -> Piece:
    """The three directions of the car."""
    marks: list[Mark] = [*arrow(20.0, 9.5, 20.0, 1.0), *arrow(20.0, 9.5, 30.0, 9.5), *arrow(20.0, 9.5, 13.5, 13.5)]
    marks += [
        Words(21.5, 4.0, "up, from the ground"),
        Words(31.5, 10.7, "back, from the bumper"),
        Words(12.5, 14.5, "right", "t", "end"),
    ]
    told = "Before the car, its right is on your left."
    return (*marks, *moved(_text([told]), 0.0, 15.0))


def _part(row: Row) -> Piece:
    """A part's row: balloon, words, and a small side view of its turn with the faces that look up and to the front."""
    marks: list[Mark] = [*balloon(row.key, 2.8, 3.0)]
    title, text = row.lines[0], " ".join(row.lines[1].split())
    lines = [(line, "t strong") for line in wrapped(title, (WIDE_MM - _INDENT_MM - _GLYPH_MM) / 1.08)]
    while text:
        beside = _GLYPH_MM if len(lines) < _GLYPH_LINES else 0.0
        line = wrapped(text, WIDE_MM - _INDENT_MM - beside)[0]
        lines.append((line, "t"))
        text = text[len(line):].strip()
    marks += [Words(_INDENT_MM, LINE_MM * n, line, look) for n, (line, look) in enumerate(lines, start=1)]
    left = WIDE_MM - 8.0
    marks += [
        Rectangle(left, 5.0, 7.0, 7.0, "part"),
        *arrow(left + 3.5, 8.5, left + 3.5, 1.0), *arrow(left + 3.5, 8.5, left - 3.5, 8.5),
        Words(left + 4.5, 4.0, row.up), Words(left - 1.0, 7.4, row.front, "t", "end"),
    ]  # fmt: skip
    down = max(LINE_MM * len(lines) + 1.6, 12.8)
    return (*marks, Line(0.0, down, WIDE_MM, down, "thin"))


def _obstacle(row: Row) -> Piece:
    marks: list[Mark] = [Rectangle(0.2, 0.4, 5.2, 5.2, "tag"), Words(2.8, 4.25, row.key, "t", "middle")]
    down = 0.0
    for number, line in enumerate(row.lines):
        for text in wrapped(line, WIDE_MM - _INDENT_MM):
            down += LINE_MM
            marks.append(Words(_INDENT_MM, down, text, "t strong" if number == 0 else "t"))
    return tuple(marks)


def _looks(facts: SheetFacts) -> Piece:
    """What lines and hatches mean, of those that there are."""
    bodies = [body for block in facts.blocks for body in block.bodies]
    kinds = [kind for kind in KINDS if any(body.kind == kind for body in bodies)]
    samples: list[tuple[Callable[[float], Mark], str]] = [
        (lambda y: Line(0.5, y, 6.0, y, "wall open"), "open wall"),
        (lambda y: Rectangle(0.5, y - 1.6, 5.5, 3.0, "hidden"), "hidden behind another body"),
        (lambda y: Ring(3.2, y, 0.9, "end"), "end of a part, by its key under the zone"),
    ]
    if facts.routes:
        samples.append((lambda y: Line(0.5, y, 6.0, y, "run"), "way of a hose"))
    for kind in kinds:
        samples.append((lambda y, kind=kind: Rectangle(0.5, y - 1.7, 5.5, 3.4, f"obstacle {kind}"), KINDS[kind]))  # type: ignore[misc]
    marks: list[Mark] = []
    for number, (sample, words) in enumerate(samples):
        marks += [sample(3.0 + 4.8 * number), Words(_INDENT_MM, 4.2 + 4.8 * number, words)]
    return tuple(marks)


def _text(lines: Sequence[str], look: str = "t") -> Piece:
    wide = WIDE_MM / 1.1 if look in BOLD_LOOKS else WIDE_MM
    texts = [text for line in lines for text in wrapped(line, wide)]
    return tuple(Words(0.0, LINE_MM * number, text, look) for number, text in enumerate(texts, start=1))


def sentences(facts: SheetFacts) -> list[str]:
    """The sheet in sentences, for those who hear it read."""
    told = [f"{facts.kit}.", *facts.room]
    told += [f"{row.key}: {'; '.join(row.lines)}." for row in (*facts.parts, *facts.obstacles)]
    return [*told, *facts.notes, *facts.cautions]
