"""One zone on paper: heading, plan above front view, side view beside it, dimension chains, list of ends."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from configurator.presentation.drawing import dimensions, view_drawing
from configurator.presentation.drawing.lengths import typed
from configurator.presentation.drawing.marks import (
    HEADING_MM,
    LINE_MM,
    Line,
    Mark,
    Piece,
    Words,
    bounds,
    bounds_of,
    moved,
    overlap,
    width_of,
    wrapped,
)
from configurator.presentation.drawing.scene import ORIGIN, Block, Route
from configurator.presentation.drawing.views import FRONT, PLAN, SIDE

_BETWEEN_MM: Final = 2.5
_LEAST_WIDE_MM: Final = 75.0
LOOKS: Final = {
    "front": "to the front", "back": "to the back", "left": "to the left", "right": "to the right",
    "floor": "down", "top": "up",
}  # fmt: skip
"""Where an end of a placed part looks, by its side."""
NOT_GIVEN: Final = "place in the car not given"


def drawn(block: Block, scale: int, routes: Sequence[Route]) -> Piece:
    """A zone with all that belongs to it, its top left corner at the origin."""
    plan = _with_chains(block, view_drawing.drawn(block, PLAN, scale, routes), scale, axis=0)
    front = _with_chains(block, view_drawing.drawn(block, FRONT, scale, routes), scale, axis=1)
    side = _with_chains(block, view_drawing.drawn(block, SIDE, scale, routes), scale, axis=2)
    down = bounds(plan)[3] + _BETWEEN_MM - bounds(front)[1]
    right = bounds(front)[2] + _BETWEEN_MM - bounds(side)[0]
    # The side view's figures may reach higher than the front view's title.
    down = max(down, bounds(plan)[3] + _BETWEEN_MM - bounds(side)[1] if _under(plan, side, right) else down)
    views = (*plan, *moved(front, 0.0, down), *moved(side, right, down))
    left, top, far, _ = bounds(views)
    wide = max(far - left, _LEAST_WIDE_MM)
    heading = _heading(block, wide)
    views = moved(views, -left, bounds(heading)[3] + 2.0 - top)
    return (*heading, *views, *_ends(block, wide, bounds(views)[3] + 3.0))


def place_words(block: Block) -> str:
    """Where a zone lies in the car, as far as the brief gives it."""
    at = block.measured.at
    given = (
        (at.back_m, "behind the bumper", "before the bumper"),
        (at.right_m, "right of centre", "left of centre"),
        (at.up_m, "above the ground", "below the ground"),
    )
    told = [f"{typed(length).replace('-', '')} {words[length < 0]}" for length, *words in given if length is not None]
    if block.corner is not None:
        return f"Front left floor corner: {', '.join(told)}"
    return f"{NOT_GIVEN}: only {', '.join(told)}" if told else NOT_GIVEN


def _under(plan: Piece, side: Piece, right: float) -> bool:
    return bounds(side)[0] + right < bounds(plan)[2]


def _with_chains(block: Block, view: Piece, scale: int, axis: int) -> Piece:
    """A view with the chains of one axis: deep beside the plan, wide below the front, high beside the side view."""
    paper = view_drawing.Paper((PLAN, FRONT, SIDE)[axis], ORIGIN, block.size, scale)
    upright = axis != 1
    edge = paper.wide if upright else 0.0
    off = edge + dimensions.FIRST_MM
    title = next(bounds_of(mark) for mark in view if isinstance(mark, Words) and mark.text == paper.view.title)
    beside: list[Mark] = []
    for chain in dimensions.chains(block, axis):

        def along(station: float) -> float:
            point = (station if axis == 0 else 0.0, station if axis == 1 else 0.0, station if axis == 2 else 0.0)
            return paper.spot(point)[1 if upright else 0]

        made = dimensions.drawn(chain, along, edge, off, upright=upright)
        if upright and any(overlap(title, bounds_of(mark)) for mark in made if isinstance(mark, Words)):
            off = max(off, title[2] + _BETWEEN_MM)
            made = dimensions.drawn(chain, along, edge, off, upright=upright)
        beside += made
        off = bounds(made)[2 if upright else 3] + _BETWEEN_MM
    # Figures last: they stand on the extension lines of the chains further out.
    return (*view, *sorted(beside, key=lambda mark: not isinstance(mark, Line)))


def _heading(block: Block, wide: float) -> Piece:
    lines = wrapped(place_words(block), wide)
    marks: list[Mark] = [Words(0.0, HEADING_MM, f"Zone {block.zone}", "t head", size=HEADING_MM)]
    return (*marks, *(Words(0.0, 5.0 + LINE_MM * n, text) for n, text in enumerate(lines, start=1)))


def _ends(block: Block, wide: float, top: float) -> Piece:
    """What each end is and where it looks, in as many columns as the zone's drawing is wide."""
    told = [f"{end.key} {end.words}, {LOOKS[end.side]}" for body in block.parts for end in body.ends]
    if not told:
        return ()
    longest = max(width_of(line) for line in told) + 4.0
    columns = max(1, int((wide + 4.0) / longest))
    rows = -(-len(told) // columns)
    return tuple(
        Words((number // rows) * longest, top + 3.0 + LINE_MM * (number % rows), text)
        for number, text in enumerate(told)
    )
