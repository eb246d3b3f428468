"""The sheets of a kit: the largest of the usual scales at which everything finds room, and where it all goes.

Sheets of one file stand under each other, each as high as a page, so that they print page by page and true to scale.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import permutations
from typing import Final

from configurator.presentation.drawing import block_drawing, legend, overview
from configurator.presentation.drawing.facts import SheetFacts
from configurator.presentation.drawing.marks import Bounds, Line, Piece, Rectangle, bounds, moved, overlap
from configurator.presentation.drawing.scene import Block

MARGIN_MM: Final = 8.0
_GUTTER_MM: Final = 5.0
_FEW: Final = 5
"""Of so many pieces every order is tried."""

_A4: Final = ("A4", 297.0, 210.0)
_A3: Final = ("A3", 420.0, 297.0)
_Paper = tuple[str, float, float]
_ATTEMPTS: Final = ((1, 1), (2, 1), (5, 3), (10, 4), (20, 99), (50, 99), (100, 99), (200, 99), (500, 99), (1000, 99))
"""Scales from the largest, each with how many sheets it is worth."""
_COARSE: Final = 20
"""Where the bare views fit at this scale, none beyond it is tried: words and figures take the room."""


@dataclass(frozen=True)
class Sheets:
    """All sheets of a kit under each other: one page [mm], their number, the scale, and everything on them."""

    wide: float
    high: float
    count: int
    scale: int
    marks: Piece


def laid_out(facts: SheetFacts) -> Sheets:
    """The sheets of a kit. Zones that hold no part are in the overview alone."""
    used = [block for block in facts.blocks if block.parts]
    outlook = overview.drawn(facts.blocks, [route for route in facts.routes if not route.zone])
    for scale, most in _ATTEMPTS:
        if scale != _ATTEMPTS[-1][0] and not all(_may_fit(block, scale) for block in used):
            continue
        drawn = [block_drawing.drawn(block, scale, facts.routes) for block in used]
        pieces = [*drawn, *([outlook] if outlook else [])]
        for paper, limit in ((_A4, 1), (_A3, most)):
            found = _on(paper, scale, pieces, facts, limit)
            if found is not None:
                return found
        if scale >= _COARSE:
            break
    found = _on(_roll(pieces, facts), scale, pieces, facts, 1)
    assert found is not None
    return found


def _roll(pieces: Sequence[Piece], facts: SheetFacts) -> _Paper:
    """Paper as long as all pieces under each other: for zones so crowded that no smaller scale makes them smaller."""
    boxes = [bounds(piece) for piece in (*pieces, *legend.items(facts))]
    wide = max(box[2] for box in boxes) + legend.WIDE_MM + _GUTTER_MM + 2 * MARGIN_MM
    return "a roll", max(wide, _A3[1]), sum(box[3] + _GUTTER_MM for box in boxes) + _A3[2]


def _may_fit(block: Block, scale: int) -> bool:
    """Whether the bare views of a zone are smaller than the largest sheet: if not, no need to draw it at this scale."""
    deep, wide, high = block.size
    return (wide + deep) / scale < _A3[1] - legend.WIDE_MM and (deep + high) / scale < _A3[2]


def _on(paper: _Paper, scale: int, pieces: Sequence[Piece], facts: SheetFacts, most: int) -> Sheets | None:
    """All pieces on at most so many sheets of a paper, the words in a column on the right of each; None: no room."""
    name, wide, high = paper
    inner = high - 2 * MARGIN_MM
    edge = wide - MARGIN_MM - legend.WIDE_MM
    placed = _sheets_of([bounds(piece) for piece in pieces], edge - _GUTTER_MM - MARGIN_MM, inner, most)
    if placed is None:
        return None
    words = legend.items(facts)
    for count in range(max(len(placed), 1), most + 1):
        told = legend.columns(legend.heads(facts, scale, name, count), words, inner)
        if told is not None:
            break
    else:
        return None
    marks: list[Piece] = []
    for number, column in enumerate(told):
        down = number * high
        rule = edge - _GUTTER_MM / 2
        top, bottom = down + MARGIN_MM / 2, down + high - MARGIN_MM / 2
        marks.append((Rectangle(MARGIN_MM / 2, top, wide - MARGIN_MM, high - MARGIN_MM, "frame"),))
        marks.append((Line(rule, top, rule, bottom, "dim"),))
        marks.append(moved(column, edge, down + MARGIN_MM))
        corners = placed[number] if number < len(placed) else {}
        marks += [
            moved(pieces[index], MARGIN_MM + x, down + MARGIN_MM + y) for index, (x, y) in sorted(corners.items())
        ]
    return Sheets(wide, high, len(told), scale, tuple(mark for piece in marks for mark in piece))


def _sheets_of(
    boxes: Sequence[Bounds], wide: float, high: float, most: int
) -> list[dict[int, tuple[float, float]]] | None:
    """Top left corners of boxes, sheet by sheet: each box, the largest first, on the first sheet that takes it."""
    by_size = sorted(range(len(boxes)), key=lambda index: (-boxes[index][2] * boxes[index][3], index))
    sheets: list[dict[int, tuple[float, float]]] = []
    for index in by_size:
        for number in range(most):
            if number == len(sheets):
                sheets.append({})
            members = sorted((*sheets[number], index))
            corners = packed([boxes[member] for member in members], wide, high)
            if corners is not None:
                sheets[number] = dict(zip(members, corners, strict=True))
                break
        else:
            return None
    return sheets


def packed(boxes: Sequence[Bounds], wide: float, high: float) -> list[tuple[float, float]] | None:
    """Where the top left corners of boxes go on paper of this size, none on another; None where no order does it.

    In each order every box goes as high, then as far left, as it can among the corners that the earlier ones leave.
    """
    sizes = [(box[2], box[3]) for box in boxes]
    if any(w > wide or h > high for w, h in sizes) or sum(w * h for w, h in sizes) > wide * high:
        return None
    for order in _orders(sizes):
        found: dict[int, tuple[float, float]] = {}
        for index in order:
            spot = _first_spot(sizes[index], [(found[i], sizes[i]) for i in found], wide, high)
            if spot is None:
                break
            found[index] = spot
        else:
            return [found[index] for index in range(len(sizes))]
    return None


def _orders(sizes: Sequence[tuple[float, float]]) -> Iterator[tuple[int, ...]]:
    """Orders worth trying: of the few largest all, the rest behind them by size."""
    by_size = sorted(range(len(sizes)), key=lambda index: (-sizes[index][0] * sizes[index][1], index))
    few, rest = sorted(by_size[:_FEW]), by_size[_FEW:]
    for order in permutations(few):
        yield (*order, *rest)


def _first_spot(
    size: tuple[float, float],
    there: Sequence[tuple[tuple[float, float], tuple[float, float]]],
    wide: float,
    high: float,
) -> tuple[float, float] | None:
    xs = sorted({0.0, *(x + w + _GUTTER_MM for (x, _), (w, _) in there)})
    ys = sorted({0.0, *(y + h + _GUTTER_MM for (_, y), (_, h) in there)})
    taken = [(x - _GUTTER_MM, y - _GUTTER_MM, x + w + _GUTTER_MM, y + h + _GUTTER_MM) for (x, y), (w, h) in there]
    for y in ys:
        for x in xs:
            box = (x, y, x + size[0], y + size[1])
            if box[2] <= wide and box[3] <= high and not any(overlap(box, other) for other in taken):
                return (x, y)
    return None
