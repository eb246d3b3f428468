"""Sheets as SVG text: paper size in millimetres, so that it prints true to scale; nothing is fetched from elsewhere."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final
from xml.sax.saxutils import escape, quoteattr

from configurator.presentation.drawing.facts import SheetFacts
from configurator.presentation.drawing.legend import sentences
from configurator.presentation.drawing.marks import LETTERS_MM, Line, Mark, Path, Rectangle, Ring
from configurator.presentation.drawing.sheet import laid_out
from configurator.presentation.plain_text import plain

DRAWING_STYLE: Final = """
svg{color:#111;background:#fff}
text{font-family:sans-serif;font-size:3.5px;fill:currentColor}
.paper,.part,.balloon,.tag,.end,.bar{fill:#fff}
.t{stroke:#fff;stroke-width:.9;stroke-linejoin:round;paint-order:stroke}
.strong,.head,.warn{font-weight:bold}
.soft{fill:#444}
rect,line,circle,path{stroke:currentColor;fill:none;stroke-width:.18}
.paper{stroke:none}
.frame{stroke-width:.35}
.wall{stroke-width:.5}
.open{stroke-dasharray:2.4 1.4}
.zone{stroke:none}
.part{stroke-width:.35}
.obstacle{stroke-width:.25}
.hidden{stroke-dasharray:1.2 .8}
.keep{stroke-dasharray:.2 1;stroke-width:.4;stroke-linecap:round}
.dim,.room{stroke-width:.22}
.room{stroke-width:.35}
.tick,.arrow{stroke-width:.35}
.balloon,.tag,.end,.run{stroke-width:.35}
.run{stroke-width:.6;stroke-linejoin:round}
.axis{stroke-dasharray:4 1 .6 1}
.head,.dot,.full{fill:currentColor}
text.head{fill:currentColor}
.plain{fill:url(#plain)}
.hot{fill:url(#hot)}
.moving{fill:url(#moving)}
.crash{fill:url(#crash)}
pattern *{stroke:currentColor;stroke-width:.2;fill:none}
@media (prefers-color-scheme:dark){
svg{color:#eee;background:#16191c}
.paper,.part,.balloon,.tag,.end,.bar{fill:#16191c}
.full{fill:currentColor}
.t{stroke:#16191c}
.soft{fill:#ccc}
}
@media print{
svg{color:#000;background:#fff}
.paper,.part,.balloon,.tag,.end,.bar{fill:#fff}
.full{fill:#000}
.t{stroke:#fff}
.soft{fill:#000}
}
"""
HATCHES: Final = "".join(
    f'<pattern id="{name}" width="{step}" height="{step}" patternUnits="userSpaceOnUse"{turned}>'
    f'<rect class="paper" width="{step}" height="{step}"/>{lines}</pattern>'
    for name, step, turned, lines in (
        ("plain", 2.4, ' patternTransform="rotate(45)"', '<path d="M0 0V2.4"/>'),
        ("hot", 2, ' patternTransform="rotate(45)"', '<path d="M0 0V2M0 0H2"/>'),
        ("moving", 2.4, "", '<circle cx="1.2" cy="1.2" r=".5"/>'),
        ("crash", 1.2, "", '<path d="M0 .6H1.2"/>'),
    )
)
"""On ground of their own, so that what lies behind shows by its dashes alone."""


def drawing_svg(facts: SheetFacts) -> str:
    """The sheets of one kit as an SVG document."""
    sheets = laid_out(facts)
    title = f"{facts.brief}, {facts.kit}, scale 1:{sheets.scale}"
    paper = (sheets.wide, sheets.high * sheets.count, sheets.high)
    return svg_document(paper, title, sentences(facts), DRAWING_STYLE, sheets.marks, HATCHES)


def svg_document(
    paper: tuple[float, float, float], title: str, told: Sequence[str], style: str, marks: Sequence[Mark], defs: str
) -> str:
    """Marks on paper as an SVG document; `paper` is its width, its height and the height of a printed page [mm]."""
    wide, high, page = (_n(side) for side in paper)
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="{high}mm" viewBox="0 0 {wide} {high}" '
        'role="img" aria-labelledby="title desc">',
        f'<title id="title">{_text(title)}</title>',
        f'<desc id="desc">{_text(" ".join(told))}</desc>',
        f"<style>{style}@page{{size:{wide}mm {page}mm;margin:0}}\n</style>",
        f"<defs>{defs}</defs>",
        f'<rect class="paper" width="{wide}" height="{high}"/>',
        *(_written(mark) for mark in marks),
        "</svg>",
    ]
    return "\n".join(lines) + "\n"


def svg_inside(
    ident: str, size: tuple[float, float], title: str, told: Sequence[str], marks: Sequence[Mark], defs: str = ""
) -> str:
    """Marks as an SVG element for a page that has the style sheet; `ident` begins its ids, `size` is in millimetres.

    Its width is the style sheet's, which finds that in `--wide`.
    """
    wide, high = (_n(side) for side in size)
    lines = [
        f'<svg style="--wide:{wide}mm" viewBox="0 0 {wide} {high}" role="img" '
        f'aria-labelledby="{ident}-title {ident}-desc">',
        f'<title id="{ident}-title">{_text(title)}</title>',
        f'<desc id="{ident}-desc">{_text(" ".join(told))}</desc>',
        *([f"<defs>{defs}</defs>"] if defs else []),
        *(_written(mark) for mark in marks),
        "</svg>",
    ]
    return "\n".join(lines)


def _written(mark: Mark) -> str:
    look = f'class="{mark.look}"'
    if isinstance(mark, Line):
        return f'<line {look} x1="{_n(mark.x1)}" y1="{_n(mark.y1)}" x2="{_n(mark.x2)}" y2="{_n(mark.y2)}"/>'
    if isinstance(mark, Rectangle):
        size = f'x="{_n(mark.x)}" y="{_n(mark.y)}" width="{_n(mark.wide)}" height="{_n(mark.high)}"'
        return f"<rect {look} {size}{_data(mark.data)}/>"
    if isinstance(mark, Ring):
        return f'<circle {look} cx="{_n(mark.x)}" cy="{_n(mark.y)}" r="{_n(mark.r)}"{_data(mark.data)}/>'
    if isinstance(mark, Path):
        way = "L".join(f"{_n(x)} {_n(y)}" for x, y in mark.points)
        return f'<path {look} d="M{way}{"Z" if mark.closed else ""}"{_data(mark.data)}/>'
    at = f'x="{_n(mark.x)}" y="{_n(mark.y)}"'
    if mark.turned:
        at += f' transform="rotate(-90 {_n(mark.x)} {_n(mark.y)})"'
    if mark.anchor != "start":
        at += f' text-anchor="{mark.anchor}"'
    if mark.size != LETTERS_MM:
        at += f' style="font-size:{_n(mark.size)}px"'
    return f"<text {look} {at}>{_text(mark.text)}</text>"


def _data(pairs: tuple[tuple[str, str], ...]) -> str:
    return "".join(f" data-{key}={quoteattr(plain(value))}" for key, value in pairs)


def _n(value: float) -> str:
    """A length on paper to a thousandth of a millimetre."""
    return f"{round(value, 3) + 0.0:.3f}".rstrip("0").rstrip(".")


def _text(text: str) -> str:
    return escape(plain(text))
