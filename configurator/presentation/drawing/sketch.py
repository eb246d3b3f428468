"""The sketch for the terminal: every zone from above and from the left, in plain letters, at most 80 columns wide."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Iterator, Sequence
from typing import Final

from configurator.presentation.drawing.block_drawing import place_words
from configurator.presentation.drawing.facts import NOT_A_WORKSHOP_DRAWING, SheetFacts
from configurator.presentation.drawing.lengths import plain, typed
from configurator.presentation.drawing.scene import ORIGIN, Block
from configurator.presentation.drawing.views import PLAN, SIDE, View, far_to_near, flat

WIDTH: Final = 80
_ROWS: Final = 20
_BETWEEN: Final = "      "
_LEAST_MM: Final = 5
_KEY: Final = (
    "| -  wall        : .  open wall\n"
    "From above, the car's front is below and its right on the left; from the left,\nits front is on the left."
)


def sketch_lines(facts: SheetFacts) -> str:
    """The sketch of a kit as text."""
    used = [block for block in facts.blocks if block.parts]
    blocks = [textwrap.fill(f"{facts.kit}. {' '.join(facts.room)}", WIDTH)]
    blocks += ["\n".join(_zone(block)) for block in used]
    rows = [f"{row.key}  {line}" if not number else f"   {line}"
            for row in (*facts.parts, *facts.obstacles) for number, line in enumerate(row.lines)]  # fmt: skip
    blocks.append("\n".join(line for row in rows for line in _hung(row)))
    blocks.append(_KEY)
    blocks += [textwrap.fill(text, WIDTH) for text in (*facts.notes, NOT_A_WORKSHOP_DRAWING)]
    text = "\n\n".join(blocks) + "\n"
    return "".join(letter if letter.isprintable() or letter == "\n" else " " for letter in text)


def _hung(text: str) -> list[str]:
    return textwrap.wrap(text, WIDTH, subsequent_indent="   ", drop_whitespace=True) if text.strip() else [text]


def _zone(block: Block) -> Iterator[str]:
    deep, wide, high = block.size
    step = _step(deep, wide, high)
    measured = block.measured
    size = f"{typed(measured.deep_m)} deep, {typed(measured.wide_m)} wide, {typed(measured.high_m)} high"
    yield from textwrap.wrap(f"Zone {block.zone}: {size}. {place_words(block)}.", WIDTH)
    plan, side = _picture(block, PLAN, step), _picture(block, SIDE, step)
    scale = f"One letter is {plain(step)} mm across, {plain(2 * step)} mm down."
    yield from textwrap.wrap(f"{scale}{_unseen(block, PLAN, plan)}{_unseen(block, SIDE, side)}", WIDTH)
    height = max(len(plan), len(side))
    over = [" " * len(plan[0])] * (height - len(plan)), [" " * len(side[0])] * (height - len(side))
    titles = _title(PLAN, len(plan[0])), _title(SIDE, len(side[0]))
    yield f"{titles[0]}{_BETWEEN}{titles[1]}".rstrip()
    for one, other in zip([*over[0], *plan], [*over[1], *side], strict=True):
        yield f"{one}{_BETWEEN}{other}".rstrip()


def _unseen(block: Block, view: View, picture: Sequence[str]) -> str:
    """Which bodies a view does not show, since nearer ones hide them or they are thinner than a letter."""
    shown = set("".join(picture))
    missing = [body.key for body in block.bodies if body.key[-1] not in shown]
    return f" Not to be seen {view.title}: {', '.join(missing)}." if missing else ""


def _title(view: View, wide: int) -> str:
    return f"{view.title:<{wide}}"


def _step(deep: float, wide: float, high: float) -> float:
    """Millimetres across one letter, in whole fives: both views go beside each other and are not too tall."""
    room = WIDTH - len(_BETWEEN) - 4 - 2 * len(PLAN.title)
    least = max((wide + deep) / room, max(deep, high) / (2 * _ROWS), _LEAST_MM)
    return _LEAST_MM * math.ceil(least / _LEAST_MM)


def _picture(block: Block, view: View, step: float) -> list[str]:
    """One view: a frame of walls, inside it the key of what is nearest to the eye at the middle of each letter."""
    left, bottom, right, top = flat(view, ORIGIN, block.size)
    columns, rows = max(1, round((right - left) / step)), max(1, round((top - bottom) / (2 * step)))
    painted = [(body.key, flat(view, body.low, body.high)) for body in reversed(far_to_near(view, block.bodies))]
    lines = []
    for row in range(rows):
        up = top - (row + 0.5) * (top - bottom) / rows
        cells = [
            next((key[-1] for key, (a, b, c, d) in painted if a <= x < c and b <= up < d), " ")
            for x in (left + (column + 0.5) * (right - left) / columns for column in range(columns))
        ]
        lines.append("".join(cells))
    left_wall, floor, right_wall, ceiling = (wall in block.open_sides for wall in view.walls)
    edge = {True: ":", False: "|"}
    framed = [f"{edge[left_wall]}{line}{edge[right_wall]}" for line in lines]
    least = len(view.title)
    picture = [_rule(columns, is_open=ceiling), *framed, _rule(columns, is_open=floor)]
    return [f"{line:<{least}}" for line in picture]


def _rule(columns: int, *, is_open: bool) -> str:
    return f"+{('.' if is_open else '-') * columns}+"

