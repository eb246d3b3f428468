"""Where the zones lie in the car: three small views with bumper face, centre line and ground, and the hoses' ways."""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot
from typing import Final

from configurator.presentation.drawing.labels import edges_of, nearest_on, place
from configurator.presentation.drawing.legend import SHORT_BAR_MM, stacked
from configurator.presentation.drawing.legend import bars as bars_of
from configurator.presentation.drawing.marks import (
    HEADING_MM,
    LETTERS_MM,
    LINE_MM,
    Bounds,
    Line,
    Mark,
    Path,
    Piece,
    Rectangle,
    Words,
    bounds,
    bounds_of,
    moved,
    width_of,
)
from configurator.presentation.drawing.scene import Block, Body, Point, Route
from configurator.presentation.drawing.view_drawing import Paper
from configurator.presentation.drawing.views import VIEWS, View

SCALES: Final = (5, 10, 20, 50, 100, 200, 500, 1000, 2000)
ROOM_MM: Final = (100.0, 95.0)
_BEYOND_MM: Final = 3.0
_PLANES: Final = ("bumper", "centre line", "ground")


def drawn(
    blocks: Sequence[Block], routes: Sequence[Route], room_mm: tuple[float, float] = ROOM_MM, prints_at: float = 1.0
) -> Piece:
    """The overview, its top left corner at the origin; nothing where no zone's place in the car is known.

    Its scale is the largest at which the bare views go into `room_mm`, wide and high. `prints_at` is the share of its
    size at which it is printed: it is drawn so that it then has the scale that it tells.
    """
    known = [block for block in blocks if block.corner is not None]
    if not known:
        return ()
    low, high = _extent(known, routes)
    sizes = ((scale, _size(low, high, scale * prints_at)) for scale in SCALES)
    scale = next((one for one, (wide, tall) in sizes if wide <= room_mm[0] and tall <= room_mm[1]), 5000)
    drawn_at = scale * prints_at
    plan, front, side = (_view(view, known, routes, low, high, drawn_at) for view in VIEWS)
    down = bounds(plan)[3] + 2.0 - bounds(front)[1]
    right = bounds(front)[2] + 3.0 - bounds(side)[0]
    views = (*plan, *moved(front, 0.0, down), *moved(side, right, down))
    left, top, _, _ = bounds(views)
    heading = (
        Words(0.0, HEADING_MM, f"In the car, 1:{scale}", "t head", size=HEADING_MM),
        Words(0.0, 5.0 + LINE_MM, "only where the zones lie: measure on the zones"),
    )
    shown = (*heading, *moved(views, -left, 14.0 - top))
    bars = stacked(bars_of(blocks, drawn_at, SHORT_BAR_MM, "overview-unit"))
    return (*shown, *moved(bars, 0.0, bounds(shown)[3] + 2.0))


def _extent(known: Sequence[Block], routes: Sequence[Route]) -> tuple[Point, Point]:
    """The box round zones and routes, with bumper face, centre line and ground."""
    points: list[Point] = [(0.0, 0.0, 0.0)]
    for block in known:
        points += [_low(block), _high(block)]
    points += [point for route in routes for point in route.points]
    xs, ys, zs = zip(*points, strict=True)
    return (min(xs), min(ys), min(zs)), (max(xs), max(ys), max(zs))


def _size(low: Point, high: Point, scale: float) -> tuple[float, float]:
    deep, wide, tall = (b - a for a, b in zip(low, high, strict=True))
    return (deep + wide) / scale, (deep + tall) / scale


def _low(block: Block) -> Point:
    assert block.corner is not None
    return block.corner


def _high(block: Block) -> Point:
    return _in_car(block, block.size)


def _in_car(block: Block, point: Point) -> Point:
    x, y, z = (c + p for c, p in zip(_low(block), point, strict=True))
    return (x, y, z)


def _view(
    view: View, known: Sequence[Block], routes: Sequence[Route], low: Point, high: Point, scale: float
) -> Piece:
    paper = Paper(view, low, high, scale)
    marks: list[Mark] = [Words(paper.wide / 2, -paper.high - 6.0, view.title, "t strong", "middle")]
    marks += _planes(paper, low, high)
    for block in known:
        marks += [_box(paper, block, body, view) for body in block.bodies]
    rooms = [paper.bounds(_low(block), _high(block)) for block in known]
    for block, room in zip(known, rooms, strict=True):
        data = (("overview", view.name), ("zone", block.zone))
        marks.append(Rectangle(room[0], room[1], room[2] - room[0], room[3] - room[1], "room", data))
    for route in routes:
        marks.append(Path(tuple(paper.spot(point) for point in route.points), "run", data=(("run", route.name),)))
    taken = [bounds_of(mark) for mark in marks if isinstance(mark, Words)]
    titles = taken[:1]
    edges = [edge for room in rooms for edge in edges_of(room)]
    for block, room in zip(known, rooms, strict=True):
        marks += _name(block, room, [other for other in rooms if other is not room], taken, edges, titles)
    return tuple(marks)


def _box(paper: Paper, block: Block, body: Body, view: View) -> Mark:
    left, top, right, bottom = paper.bounds(_in_car(block, body.low), _in_car(block, body.high))
    look = "small" if body.kind == "part" else f"small {body.kind}"
    data = (("overview", view.name), ("zone", block.zone), ("key", body.key))
    return Rectangle(left, top, right - left, bottom - top, look, data)


def _planes(paper: Paper, low: Point, high: Point) -> list[Mark]:
    """Bumper face, centre line and ground, where they are seen edgewise, each with its word."""
    wide, tall = paper.wide, paper.high
    marks: list[Mark] = []
    for axis, word in enumerate(_PLANES):
        x, y = paper.spot((0.0, 0.0, 0.0))
        if axis == paper.view.across[0]:
            marks.append(Line(x, -tall - _BEYOND_MM, x, _BEYOND_MM, "axis"))
            marks.append(Words(x, _BEYOND_MM + 3.4, word, "t soft", "middle"))
        elif axis == paper.view.upwards[0]:
            marks.append(Line(-_BEYOND_MM, y, wide + _BEYOND_MM, y, "axis"))
            marks.append(Words(wide + _BEYOND_MM + 0.8, y + 1.2, word, "t soft"))
    return marks


def _name(
    block: Block,
    room: Bounds,
    others: Sequence[Bounds],
    taken: list[Bounds],
    edges: Sequence[Bounds],
    titles: Sequence[Bounds],
) -> list[Mark]:
    keys = ", ".join(body.key for body in block.parts)
    text = f"{block.zone} ({keys})" if keys else f"{block.zone} (empty)"
    wide, high = width_of(text) + 0.8, LETTERS_MM + 0.6
    anchor = ((room[0] + room[2]) / 2, (room[1] + room[3]) / 2)
    found = place(wide, high, anchor, taken, edges, others, titles)
    if found is None:
        return []
    x, y = found
    box = (x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)
    taken.append(box)
    edge = nearest_on(room, (x, y))
    end = nearest_on(box, edge)
    leader: list[Mark] = [Line(*edge, *end, "leader")] if hypot(edge[0] - end[0], edge[1] - end[1]) > 0.6 else []
    return [*leader, Words(x, y + 1.25, text, "t", "middle")]
