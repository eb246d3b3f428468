"""The pictures of a sheet: zones of the bay one by one, and the chart; each small enough for a page of A4 or Letter."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Final

from configurator.presentation.chart.chart import WIDE_MM, chart_marks, told
from configurator.presentation.chart.facts import ChartFacts
from configurator.presentation.chart.look import HATCH as CHART_HATCH
from configurator.presentation.chart.look import STYLE as CHART_STYLE
from configurator.presentation.drawing import block_drawing, legend, overview
from configurator.presentation.drawing.facts import SheetFacts
from configurator.presentation.drawing.marks import Piece, bounds, moved
from configurator.presentation.drawing.scene import Block
from configurator.presentation.drawing.sheet import packed
from configurator.presentation.drawing.svg import DRAWING_STYLE, HATCHES, svg_inside
from configurator.presentation.html import Html, joined

PAGE_MM: Final = (178.0, 236.0)
"""What both papers leave inside their margins: the width of A4, the height of Letter less a heading."""
SMALLER: Final = 0.7
"""The share of their size at which pictures of the bay print: a drawing for A3, copied onto A4."""
_SCALES: Final = {10: 7, 20: 14, 50: 35, 100: 70, 200: 140, 500: 350, 1000: 700}
"""Scales as printed, and what each is drawn at."""
_COARSE: Final = 20
"""From here on words and figures take the room, those in inches with millimetres beside them above all, and a smaller
view would save none: each picture need only go across the page."""
_OVERVIEW_MM: Final = (50.0, 60.0)
_EDGE_MM: Final = 1.0


def zone_pictures(facts: SheetFacts) -> tuple[int, tuple[Html, ...], tuple[Html, ...]]:
    """The scale; a picture of each zone that holds a part; one of where the zones lie, and one of what lines mean."""
    scale = next((one for one in _SCALES if _suits(_pieces(facts, one), one)), max(_SCALES))
    pieces = _pieces(facts, scale)
    used = [block for block in facts.blocks if block.parts]
    titles = [f"Zone {block.zone} from above, from the front and from the left, 1:{scale}" for block in used]
    titles += ["Where the zones lie in the car"] * (len(pieces) - len(used) - 1) + ["Scale bar, and what lines mean"]
    sentences = [*(_sentences(facts, block) for block in used), *[()] * (len(pieces) - len(used))]
    pictures = []
    for number, (piece, title, said) in enumerate(zip(pieces, titles, sentences, strict=True), start=1):
        marks, size = _cut_out(piece)
        defs = HATCHES if number == 1 else ""
        pictures.append(Html(svg_inside(f"bay-{number}", size, title, said, marks, defs)))
    return scale, tuple(pictures[: len(used)]), tuple(pictures[len(used) :])


def chart_picture(facts: ChartFacts) -> Html:
    """The temperatures over the drive; its notes are left to the page."""
    marks, (_, high) = _cut_out(chart_marks(facts))
    return Html(svg_inside("course-picture", (WIDE_MM, high), facts.title, told(facts), marks, CHART_HATCH))


def figures(pictures: Sequence[Html], look: str) -> Html:
    """Pictures in the order given, each kept whole; `look` names the style sheet that is theirs."""
    return joined(
        Html(f'<figure class="{look}">\n{one}\n</figure>') for one in pictures
    )


def styles() -> str:
    """The style sheets of drawing and chart, each for its own pictures alone."""
    return scoped(DRAWING_STYLE, "bay") + scoped(CHART_STYLE, "course")


def scoped(style: str, look: str) -> str:
    """A style sheet of a picture for a page: every rule holds inside a figure of that look, `svg` is its picture."""
    lines = []
    for line in style.strip().splitlines():
        if line.startswith(("@", "}")):
            lines.append(line)
            continue
        chosen, _, rest = line.partition("{")
        names = [re.sub(r"^svg\b", "", name.strip()).strip() for name in chosen.split(",")]
        lines.append(",".join(f".{look} svg {name}".strip() for name in names) + "{" + rest)
    return "\n".join(lines) + "\n"


def _pieces(facts: SheetFacts, scale: int) -> list[Piece]:
    used = [block for block in facts.blocks if block.parts]
    drawn = [block_drawing.drawn(block, _SCALES[scale], facts.routes) for block in used]
    outlook = overview.drawn(facts.blocks, [route for route in facts.routes if not route.zone], _OVERVIEW_MM, SMALLER)
    key = legend.key(facts, _SCALES[scale])
    return [*drawn, *([outlook] if outlook else []), key]


def _suits(pieces: Sequence[Piece], scale: int) -> bool:
    """Whether all pieces go on one page, or, at a coarse scale, each by itself across it."""
    wide, high = (side / SMALLER for side in PAGE_MM)
    boxes = [bounds(moved(piece, _EDGE_MM, _EDGE_MM)) for piece in pieces]
    if scale >= _COARSE and all(box[2] <= wide for box in boxes):
        return True
    return packed(boxes, wide, high) is not None


def _cut_out(piece: Piece) -> tuple[Piece, tuple[float, float]]:
    """A piece with its top left corner at the origin, a little white round it, and its size."""
    left, top, right, bottom = bounds(piece)
    size = right - left + 2 * _EDGE_MM, bottom - top + 2 * _EDGE_MM
    return moved(piece, _EDGE_MM - left, _EDGE_MM - top), size


def _sentences(facts: SheetFacts, block: Block) -> tuple[str, ...]:
    """What stands in a zone, for those who hear it read."""
    return tuple(_of_block(facts, block))


def _of_block(facts: SheetFacts, block: Block) -> Iterator[str]:
    keys = {body.key for body in block.bodies}
    for row in (*facts.parts, *facts.obstacles):
        if row.key in keys:
            yield f"{row.key}: {'; '.join(row.lines)}."
