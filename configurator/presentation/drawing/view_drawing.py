"""One view of one zone: walls, bodies, hidden edges, ends, arrows of the turn, balloons."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from configurator.presentation.drawing.dimensions import RING_MM, balloon
from configurator.presentation.drawing.labels import edges_of, nearest_on, place
from configurator.presentation.drawing.marks import (
    LETTERS_MM,
    Bounds,
    Line,
    Mark,
    Path,
    Piece,
    Rectangle,
    Ring,
    Spot,
    Words,
    bounds_of,
    width_of,
)
from configurator.presentation.drawing.scene import ORIGIN, Block, Body, EndMark, Point, Route, ways_inside
from configurator.presentation.drawing.views import View, far_to_near, flat, hidden, seen

END_MM: Final = 0.9
_ARROW_MM: Final = 6.0
_HEAD_MM: Final = 1.1
_FAR_MM: Final = 1e4
_SHARES: Final = (0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9)
_ROOM_MM: Final = 11.0
"""A body at least so long along an arrow and across it has its arrow drawn inside."""


class Paper:
    """Where points lie on the paper of one view: the box from `low` to `high` has its left bottom at the origin."""

    def __init__(self, view: View, low: Point, high: Point, scale: float) -> None:
        self.view = view
        self.scale = scale
        self.left, self.bottom, right, top = flat(view, low, high)
        self.wide = (right - self.left) / scale
        self.high = (top - self.bottom) / scale

    def spot(self, point: Point) -> Spot:
        """A point on paper."""
        right, up = seen(self.view, point)
        return (right - self.left) / self.scale, -(up - self.bottom) / self.scale

    def bounds(self, low: Point, high: Point) -> Bounds:
        """A box on paper."""
        one, other = self.spot(low), self.spot(high)
        return min(one[0], other[0]), min(one[1], other[1]), max(one[0], other[0]), max(one[1], other[1])


def drawn(block: Block, view: View, scale: int, routes: Sequence[Route]) -> Piece:
    """A view with its title and the words of its walls, its left bottom corner at the origin."""
    paper = Paper(view, ORIGIN, block.size, scale)
    walls = _walls(block, paper)
    painted = far_to_near(view, block.bodies)
    marks: list[Mark] = [_zone(block, paper)]
    for body in block.bodies:
        marks += _kept_off(block, body, paper)
    for body in painted:
        look = "part" if body.kind == "part" else f"obstacle {body.kind}"
        marks.append(_box(paper.bounds(body.low, body.high), look, _data(block, view, body)))
    for body in painted:
        if hidden(view, body, block):
            marks.append(_box(paper.bounds(body.low, body.high), "hidden"))
    marks += walls
    for route in routes:
        data = (("run", route.name),)
        marks += [Path((paper.spot(a), paper.spot(b)), "run", data=data) for a, b in ways_inside(block, route)]
    written = [mark for mark in walls if isinstance(mark, Words)]
    titles = [bounds_of(mark) for mark in written if mark.text == view.title]
    marks += _labels(block, paper, painted, [bounds_of(mark) for mark in written], titles)
    return tuple(marks)


def _data(block: Block, view: View, body: Body) -> tuple[tuple[str, str], ...]:
    return (("view", view.name), ("zone", block.zone), ("key", body.key))


def _box(at: Bounds, look: str, data: tuple[tuple[str, str], ...] = ()) -> Rectangle:
    return Rectangle(at[0], at[1], at[2] - at[0], at[3] - at[1], look, data)


def _zone(block: Block, paper: Paper) -> Mark:
    data = (("view", paper.view.name), ("zone", block.zone))
    return Rectangle(0.0, -paper.high, paper.wide, paper.high, "zone", data)


def _walls(block: Block, paper: Paper) -> list[Mark]:
    """Four walls, open ones dashed, each with its word; and the view's title."""
    left, floor, right, top = paper.view.walls
    wide, high = paper.wide, paper.high

    def look(side: str) -> str:
        return "wall open" if side in block.open_sides else "wall"

    return [
        Line(0.0, -high, 0.0, 0.0, look(left)), Line(0.0, 0.0, wide, 0.0, look(floor)),
        Line(wide, -high, wide, 0.0, look(right)), Line(0.0, -high, wide, -high, look(top)),
        Words(-1.2, -high / 2, left, "t soft", "middle", turned=True),
        Words(wide + 3.9, -high / 2, right, "t soft", "middle", turned=True),
        Words(wide / 2, 3.9, floor, "t soft", "middle"),
        *_over(paper, top),
    ]  # fmt: skip


def _over(paper: Paper, wall: str) -> list[Mark]:
    """The view's title and the word of its upper wall: in one row where there is room."""
    title, up = paper.view.title, -paper.high - 1.4
    if paper.wide > 1.1 * width_of(title) + width_of(wall) + 3.0:
        return [Words(0.0, up, title, "t strong"), Words(paper.wide, up, wall, "t soft", "end")]
    middle = paper.wide / 2
    return [
        Words(middle, up, wall, "t soft", "middle"), Words(middle, up - 4.4, title, "t strong", "middle"),
    ]  # fmt: skip


def _kept_off(block: Block, body: Body, paper: Paper) -> list[Mark]:
    """How far others stay off a hot or moving obstacle, inside the zone."""
    if not body.keep_off_mm:
        return []
    low = tuple(max(0.0, a - body.keep_off_mm) for a in body.low)
    high = tuple(min(s, b + body.keep_off_mm) for b, s in zip(body.high, block.size, strict=True))
    return [_box(paper.bounds(low, high), "keep")]  # type: ignore[arg-type]


def _labels(
    block: Block, paper: Paper, painted: Sequence[Body], taken: list[Bounds], titles: Sequence[Bounds]
) -> list[Mark]:
    """Arrows, ends and balloons, none on another; a label apart from its mark has a leader."""
    flats = {body.key: paper.bounds(body.low, body.high) for body in painted}
    edges = [edge for box in (*flats.values(), (0.0, -paper.high, paper.wide, 0.0)) for edge in edges_of(box)]
    taken = [*taken, _chains_side(paper)]
    marks: list[Mark] = []
    shown = [(body, end) for body in block.parts for end in body.ends if end.side != paper.view.hidden]
    for _, end in shown:
        x, y = paper.spot(end.at)
        marks.append(Ring(x, y, END_MM, "end", (("end", end.key), ("view", paper.view.name))))
        taken.append((x - END_MM, y - END_MM, x + END_MM, y + END_MM))
    for index, body in enumerate(painted):
        nearer = [flats[other.key] for other in painted[index + 1 :]]
        for arrow in _arrows(body, paper, flats[body.key], (*nearer, *taken)):
            marks += arrow
            taken += [bounds_of(mark) for mark in arrow]
    for index, body in enumerate(painted):
        others = [flats[other.key] for other in painted[index + 1 :]]
        marks += _named(body, paper, flats[body.key], others, taken, edges, titles)
    for body, end in shown:
        marks += _end_key(end, paper, [box for key, box in flats.items() if key != body.key], taken, edges, titles)
    # Leaders first: they pass beneath tags, balloons and words.
    return sorted(marks, key=lambda mark: mark.look != "leader")


def _chains_side(paper: Paper) -> Bounds:
    """Where the dimension chains of a view stand: no label goes there."""
    if paper.view.name == "front":
        return (-_FAR_MM, 1.2, _FAR_MM, _FAR_MM)
    return (paper.wide + 1.2, -_FAR_MM, _FAR_MM, _FAR_MM)


def _arrows(body: Body, paper: Paper, at: Bounds, taken: Sequence[Bounds]) -> list[list[Mark]]:
    """Which of a part's own faces looks up, and which to the front, at the middle of the edges where they look."""
    if body.kind != "part":
        return []
    left, top, right, bottom = at
    if right - left < _ROOM_MM or bottom - top < _ROOM_MM:
        return []
    found: list[list[Mark]] = []
    for side, face in (("top", body.up), ("front", body.front)):
        if not face or side not in paper.view.walls:
            continue
        for share in _SHARES:
            across, down = left + share * (right - left), top + share * (bottom - top)
            if side == "top":
                arrow = _arrow((across, top), (0.0, 1.0), face)
            elif paper.view.name == "plan":
                arrow = _arrow((across, bottom), (0.0, -1.0), face)
            else:
                arrow = _arrow((left, down), (1.0, 0.0), face)
            boxes = [bounds_of(mark) for mark in arrow]
            inside = all(left < b[0] and b[2] < right and top < b[1] and b[3] < bottom for b in boxes)
            if inside and not any(_near(box, other) for box in boxes for other in taken):
                found.append(arrow)
                taken = (*taken, *boxes)
                break
    return found


def _arrow(edge: Spot, inwards: Spot, face: str) -> list[Mark]:
    """An arrow that ends at an edge, with the face that looks there beside its tail."""
    (x, y), (dx, dy) = edge, inwards
    tip, tail = (x + 0.8 * dx, y + 0.8 * dy), (x + _ARROW_MM * dx, y + _ARROW_MM * dy)
    wings = [(tip[0] + _HEAD_MM * (dx + s * dy), tip[1] + _HEAD_MM * (dy + s * dx)) for s in (0.5, -0.5)]
    beside = (1.0, 0.0 if dy > 0 else 2.4) if dy else (-2.5, -1.0)
    word = Words(tail[0] + beside[0], tail[1] + beside[1], face)
    return [Line(*tail, *tip, "arrow"), Path((tip, *wings), "head", closed=True), word]


def _near(one: Bounds, other: Bounds) -> bool:
    return one[0] < other[2] + 0.3 and other[0] < one[2] + 0.3 and one[1] < other[3] + 0.3 and other[1] < one[3] + 0.3


def _named(
    body: Body,
    paper: Paper,
    at: Bounds,
    nearer: Sequence[Bounds],
    taken: list[Bounds],
    edges: Sequence[Bounds],
    titles: Sequence[Bounds],
) -> list[Mark]:
    """A body's key: a part's number in a ring, an obstacle's letter with the word of its kind in a box."""
    if body.low == body.high:
        return []
    text = body.key if body.kind == "part" else f"{body.key} {body.kind}"
    wide = 2 * RING_MM if body.kind == "part" else width_of(text) + 1.6
    high = 2 * RING_MM
    anchor = _open_spot(at, nearer)
    found = place(wide + 0.6, high + 0.6, anchor, taken, edges, nearer, titles)
    if found is None:
        return []
    x, y = found
    box = (x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)
    taken.append(box)
    marks: list[Mark] = []
    if not (box[0] < anchor[0] < box[2] and box[1] < anchor[1] < box[3]):
        marks += [Line(*anchor, *nearest_on(box, anchor), "leader"), Ring(*anchor, 0.5, "dot")]
    if body.kind == "part":
        return [*marks, *balloon(text, x, y)]
    return [*marks, Rectangle(box[0], box[1], wide, high, "tag"), Words(x, y + 1.25, text, "t", "middle")]


def _open_spot(at: Bounds, nearer: Sequence[Bounds]) -> Spot:
    """The middle of a body, or where it shows beside the nearer ones."""
    left, top, right, bottom = at
    shares = (0.5, 0.25, 0.75, 0.08, 0.92)
    spots = [(left + a * (right - left), top + b * (bottom - top)) for a in shares for b in shares]
    free = [(x, y) for x, y in spots if not any(o[0] <= x <= o[2] and o[1] <= y <= o[3] for o in nearer)]
    return (free or spots)[0]


def _end_key(
    end: EndMark,
    paper: Paper,
    others: Sequence[Bounds],
    taken: list[Bounds],
    edges: Sequence[Bounds],
    titles: Sequence[Bounds],
) -> list[Mark]:
    anchor = paper.spot(end.at)
    wide, high = width_of(end.key) + 0.6, LETTERS_MM
    found = place(wide, high, anchor, taken, edges, others, titles)
    if found is None:
        return []
    x, y = found
    box = (x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)
    taken.append(box)
    near = nearest_on(box, anchor)
    far = abs(near[0] - anchor[0]) + abs(near[1] - anchor[1]) > 2.0
    leader: list[Mark] = [Line(*anchor, *near, "leader")] if far else []
    return [*leader, Words(x, y + 1.25, end.key, "t", "middle")]
