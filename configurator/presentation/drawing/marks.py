"""Marks on paper, in millimetres from the top left: lines, boxes, rings, paths and words; and pieces made of them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Final

Spot = tuple[float, float]
Bounds = tuple[float, float, float, float]
"""Left, top, right and bottom on paper [mm]."""

LETTERS_MM: Final = 3.5
"""Size of the type: capitals and figures come out 2.5 mm tall."""
LINE_MM: Final = 4.3
HEADING_MM: Final = 4.5

_WIDTHS: Final = {
    "ijlI' .,:;|!": 0.36, "ftr()[]/-J": 0.42, "s\"?": 0.54, "mMW@%": 0.98, "wGOQDHNUA+=<>±×": 0.84,
}  # fmt: skip
_WIDTH: Final = {letter: width for letters, width in _WIDTHS.items() for letter in letters}
_SMALL_LETTER: Final = 0.64
_CAPITAL: Final = 0.70
_WIDE_LETTER: Final = 1.05
_BOLD: Final = 1.1
BOLD_LOOKS: Final = ("t strong", "t head", "t warn")


@dataclass(frozen=True)
class Line:
    """A straight line; `look` is its class in the style sheet."""

    x1: float
    y1: float
    x2: float
    y2: float
    look: str


@dataclass(frozen=True)
class Rectangle:
    """A rectangle; `data` says what it stands for."""

    x: float
    y: float
    wide: float
    high: float
    look: str
    data: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Ring:
    """A circle."""

    x: float
    y: float
    r: float
    look: str
    data: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Path:
    """Points joined by straight lines, closed where it is an area."""

    points: tuple[Spot, ...]
    look: str
    closed: bool = False
    data: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Words:
    """Text: `x` is its start, middle or end by `anchor`, `y` its base line; `turned` reads upwards."""

    x: float
    y: float
    text: str
    look: str = "t"
    anchor: str = "start"
    turned: bool = False
    size: float = LETTERS_MM


Mark = Line | Rectangle | Ring | Path | Words
Piece = tuple[Mark, ...]


def width_of(text: str, size: float = LETTERS_MM) -> float:
    """How long a text may get in a wide sans-serif type [mm]; narrower ones leave some room."""
    return size * sum(_letter(letter) for letter in text)


def _letter(letter: str) -> float:
    known = _WIDTH.get(letter)
    if known is not None:
        return known
    if ord(letter) > 0x2000:
        return _WIDE_LETTER
    return _CAPITAL if letter.isupper() or letter.isdigit() else _SMALL_LETTER


def wrapped(text: str, wide: float, size: float = LETTERS_MM) -> list[str]:
    """Text in lines that are at most so wide [mm]; a word that is longer is broken."""
    lines: list[str] = []
    for word in text.split():
        while width_of(word, size) > wide:
            fits = max(1, next(n for n in range(len(word), 0, -1) if n == 1 or width_of(word[:n], size) <= wide))
            lines.append(word[:fits])
            word = word[fits:]
        if lines and width_of(f"{lines[-1]} {word}", size) <= wide:
            lines[-1] = f"{lines[-1]} {word}"
        elif word:
            lines.append(word)
    return lines


def moved(marks: Iterable[Mark], dx: float, dy: float) -> Piece:
    """Marks shifted over the paper."""
    return tuple(_moved(mark, dx, dy) for mark in marks)


def _moved(mark: Mark, dx: float, dy: float) -> Mark:
    if isinstance(mark, Line):
        return replace(mark, x1=mark.x1 + dx, y1=mark.y1 + dy, x2=mark.x2 + dx, y2=mark.y2 + dy)
    if isinstance(mark, Path):
        return replace(mark, points=tuple((x + dx, y + dy) for x, y in mark.points))
    return replace(mark, x=mark.x + dx, y=mark.y + dy)


def bounds(marks: Sequence[Mark]) -> Bounds:
    """The paper that marks take up."""
    boxes = [bounds_of(mark) for mark in marks]
    return (
        min(box[0] for box in boxes), min(box[1] for box in boxes),
        max(box[2] for box in boxes), max(box[3] for box in boxes),
    )  # fmt: skip


def bounds_of(mark: Mark) -> Bounds:
    """The paper that one mark takes up."""
    if isinstance(mark, Line):
        return min(mark.x1, mark.x2), min(mark.y1, mark.y2), max(mark.x1, mark.x2), max(mark.y1, mark.y2)
    if isinstance(mark, Rectangle):
        return mark.x, mark.y, mark.x + mark.wide, mark.y + mark.high
    if isinstance(mark, Ring):
        return mark.x - mark.r, mark.y - mark.r, mark.x + mark.r, mark.y + mark.r
    if isinstance(mark, Path):
        xs, ys = [x for x, _ in mark.points], [y for _, y in mark.points]
        return min(xs), min(ys), max(xs), max(ys)
    length = width_of(mark.text, mark.size) * (_BOLD if mark.look in BOLD_LOOKS else 1.0)
    before = {"start": 0.0, "middle": length / 2, "end": length}[mark.anchor]
    rise, fall = 0.78 * mark.size, 0.22 * mark.size
    if mark.turned:
        return mark.x - rise, mark.y + before - length, mark.x + fall, mark.y + before
    return mark.x - before, mark.y - rise, mark.x - before + length, mark.y + fall


def overlap(one: Bounds, other: Bounds) -> bool:
    """Whether two pieces of paper share more than an edge."""
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def arrow(x1: float, y1: float, x2: float, y2: float) -> list[Mark]:
    """A line with its head at the second point."""
    length = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
    dx, dy = (x1 - x2) / length, (y1 - y2) / length
    wings = [(x2 + 1.4 * (dx + s * dy), y2 + 1.4 * (dy - s * dx)) for s in (0.45, -0.45)]
    return [Line(x1, y1, x2, y2, "arrow"), Path(((x2, y2), *wings), "head", closed=True)]
