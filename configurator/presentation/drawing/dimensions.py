"""Dimension chains: gap, part, gap in a row, with ticks, extension lines and figures that never lie on each other."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from configurator.fitting.turns import SIDES
from configurator.presentation.drawing.labels import spread
from configurator.presentation.drawing.lengths import figure, typed, unit_of
from configurator.presentation.drawing.marks import (
    LINE_MM,
    Line,
    Mark,
    Piece,
    Rectangle,
    Ring,
    Words,
    bounds_of,
    width_of,
)
from configurator.presentation.drawing.scene import Block, Gap, gap

FIRST_MM: Final = 6.0
"""From the edge of a view to its first chain: the word of the wall stands between."""
RING_MM: Final = 2.5
_TICK_MM: Final = 0.8
_LEADER_MM: Final = 2.8
_WORDS: Final = ("deep", "wide", "high")


@dataclass(frozen=True)
class Stretch:
    """From one station to another along an axis of a zone [mm of the car]; `heads` are the parts that it measures.

    `whole`: the zone from wall to wall.
    """

    start: float
    finish: float
    heads: tuple[str, ...]
    lines: tuple[str, ...]
    whole: bool = False


Chain = tuple[Stretch, ...]


@dataclass(frozen=True)
class _Link:
    """Parts that lie alike along an axis, with the gap on either side."""

    heads: tuple[str, ...]
    low: float
    high: float
    before: Gap
    after: Gap


def chains(block: Block, axis: int) -> tuple[Chain, ...]:
    """The chains of a zone along an axis: parts one behind the other on one line, and the zone itself on the last."""
    unit = unit_of(block.measured.wide_m)
    rows: list[list[_Link]] = []
    for link in _links(block, axis):
        for row in rows:
            if _follows(row[-1], link) or row[-1].high + row[-1].after.mm <= link.low - link.before.mm:
                row.append(link)
                break
        else:
            rows.append([link])
    measured = (block.measured.deep_m, block.measured.wide_m, block.measured.high_m)[axis]
    whole = Stretch(0.0, block.size[axis], (), (f"{_WORDS[axis]} {typed(measured)}",), whole=True)
    return (*(_chain(row, unit) for row in rows), (whole,))


def _links(block: Block, axis: int) -> list[_Link]:
    alike: dict[tuple[float, float, Gap, Gap], tuple[str, ...]] = {}
    for body in block.parts:
        before, after = (gap(block, body, side) for side in SIDES[2 * axis : 2 * axis + 2])
        lies = (body.low[axis], body.high[axis], before, after)
        alike[lies] = (*alike.get(lies, ()), body.key)
    return sorted((_Link(heads, *lies) for lies, heads in alike.items()), key=lambda link: (link.low, link.high))


def _follows(link: _Link, following: _Link) -> bool:
    """Whether the gap behind one is the gap before the other."""
    return link.after.to in following.heads and following.before.to in link.heads


def _chain(row: Sequence[_Link], unit: str) -> Chain:
    found: list[Stretch] = []
    for index, link in enumerate(row):
        if index and _follows(row[index - 1], link):
            found[-1] = Stretch(found[-1].start, link.low, (), figure(link.before.mm, unit))
        else:
            found.append(Stretch(link.low - link.before.mm, link.low, (), _told(link.before, unit)))
        found.append(Stretch(link.low, link.high, link.heads, figure(link.high - link.low, unit)))
        found.append(Stretch(link.high, link.high + link.after.mm, (), _told(link.after, unit)))
    return tuple(found)


def _told(way: Gap, unit: str) -> tuple[str, ...]:
    lines = figure(way.mm, unit)
    return lines if way.to == "wall" else (*lines[:-1], f"{lines[-1]} to {way.to}")


def drawn(chain: Chain, along: Callable[[float], float], edge: float, off: float, *, upright: bool) -> Piece:
    """A chain beside a view: `along` turns stations into places on paper, `edge` is the view's edge, `off` its line.

    Upright chains stand to the right of a view with their figures beside them, the others lie below it.
    """
    ways = [(along(stretch.start), along(stretch.finish)) for stretch in chain]
    middles = [(a + b) / 2 for a, b in ways]
    lengths = [_tall(stretch) if upright else _long(stretch) + 2.0 for stretch in chain]
    falling = ways[0][0] > ways[-1][1]
    order = sorted(range(len(chain)), key=lambda n: (middles[n], -n if falling else n))
    at = dict(zip(order, spread([middles[n] for n in order], [lengths[n] for n in order]), strict=True))
    marks: list[Mark] = []

    def line(a1: float, o1: float, a2: float, o2: float, look: str) -> None:
        marks.append(Line(o1, a1, o2, a2, look) if upright else Line(a1, o1, a2, o2, look))

    slope = _TICK_MM if upright else -_TICK_MM
    for place in dict.fromkeys(place for way in ways for place in way):
        line(place, edge, place, off + 1.0, "thin")
        line(place - _TICK_MM, off + slope, place + _TICK_MM, off - slope, "tick")
    for start, finish in dict.fromkeys(ways):
        line(start, off, finish, off, "dim")
    for index, stretch in enumerate(chain):
        if stretch.whole:
            marks += _along(stretch, middles[index], off, upright=upright)
            continue
        line(middles[index], off, at[index], off + _LEADER_MM, "thin")
        marks += _beside(stretch, at[index], off) if upright else _below(stretch, at[index], off)
    return tuple(marks)


def _along(stretch: Stretch, middle: float, off: float, *, upright: bool) -> list[Mark]:
    """The words of a whole zone, along its line."""
    if upright:
        return [Words(off + 4.2, middle, stretch.lines[0], "t", "middle", turned=True)]
    return [Words(middle, off + 4.2, stretch.lines[0], "t", "middle")]


def _tall(stretch: Stretch) -> float:
    return max(LINE_MM * len(stretch.lines), 2 * RING_MM + 0.3 if stretch.heads else 0.0)


def _long(stretch: Stretch) -> float:
    return _rings(stretch) + max(width_of(line) for line in stretch.lines)


def _rings(stretch: Stretch) -> float:
    return (2 * RING_MM + 0.3) * len(stretch.heads) + (0.5 if stretch.heads else 0.0)


def _beside(stretch: Stretch, middle: float, off: float) -> list[Mark]:
    left = off + _LEADER_MM + 0.5
    marks: list[Mark] = []
    for number, head in enumerate(stretch.heads):
        marks += balloon(head, left + RING_MM + number * (2 * RING_MM + 0.3), middle)
    first = middle - LINE_MM * (len(stretch.lines) - 1) / 2 + 1.25
    left += _rings(stretch)
    return [*marks, *_clear([Words(left, first + n * LINE_MM, text) for n, text in enumerate(stretch.lines)])]


def _below(stretch: Stretch, middle: float, off: float) -> list[Mark]:
    left = middle - _long(stretch) / 2
    down = off + _LEADER_MM + RING_MM + 0.3
    marks: list[Mark] = []
    for number, head in enumerate(stretch.heads):
        marks += balloon(head, left + RING_MM + number * (2 * RING_MM + 0.3), down)
    centre = left + (_long(stretch) + _rings(stretch)) / 2
    words = [Words(centre, down + 1.25 + n * LINE_MM, text, "t", "middle") for n, text in enumerate(stretch.lines)]
    return [*marks, *_clear(words)]


def _clear(words: Sequence[Words]) -> list[Mark]:
    """Words on bare paper: extension lines of other chains end where a figure stands."""
    boxes = [bounds_of(word) for word in words]
    bare = [Rectangle(b[0], b[1] + 0.3, b[2] - b[0], b[3] - b[1] - 0.6, "paper") for b in boxes]
    return [*bare, *words]


def balloon(key: str, x: float, y: float) -> tuple[Mark, ...]:
    """A part's number in its ring."""
    return Ring(x, y, RING_MM, "balloon"), Words(x, y + 1.25, key, "t key", "middle")
