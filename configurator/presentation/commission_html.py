"""The commissioning sheet as a page to print and to write on: one HTML file, whole in itself."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from configurator.presentation.commission_words import SheetFacts, SheetStep, mark_of, number_words, sheet_words
from configurator.presentation.html import Html, document, joined, listing, paragraph, text
from configurator.questions.commissioning import Commissioning

_STYLE: Final = """
:root{color-scheme:light dark}
body{font:15px/1.4 sans-serif;max-width:46em;margin:2em auto;padding:0 1em;color:#16191c;background:#fff}
h1{font-size:1.4em}h2{font-size:1.1em;margin:1.4em 0 .3em;break-after:avoid}
ul{margin:.3em 0;padding-left:1.3em}
table{border-collapse:collapse;margin:.5em 0;width:100%;break-inside:avoid}
th,td{text-align:left;padding:.25em .6em;border-bottom:1px solid currentColor}
th[scope=row]{font-weight:normal}
th.n,td.n{text-align:right;white-space:nowrap;width:8.5em}
td.mark{width:1em}td.read{width:8em}
@media (prefers-color-scheme:dark){body{color:#e8eaec;background:#16191c}}
@media print{body{color:#000;background:#fff;font-size:9.5pt;line-height:1.3;margin:0}}
@page{margin:15mm}
"""
SIGNED: Final = "Done by ________________ on ____________, outside air ______ degC"


def commission_html(
    kit: str, brief: str, sheet: Commissioning, names: Mapping[str, str], cautions: Sequence[str]
) -> str:
    """The page of a sheet; `cautions` are all that the check gives, for they hold for every step."""
    title = f"Commissioning sheet: {kit}, in {brief}"
    told = sheet_words(sheet, names)
    body = [
        Html(f"<h1>{text(title)}</h1>"),
        *(paragraph(words) for words in told.head),
        Html("<h2>Cautions, for every step</h2>"),
        listing(cautions),
        steps(told, "h2"),
    ]
    return document(title, _STYLE, joined(body))


def steps(told: SheetFacts, heading: str) -> Html:
    """The steps in order, what is missing, and a place to sign; `heading`: the element of a step's title."""
    return joined(_steps(told, heading))


def _steps(told: SheetFacts, heading: str) -> Iterator[Html]:
    for number, step in enumerate(told.steps, start=1):
        yield Html(f"<{heading}>{number}. {text(step.title)}</{heading}>")
        yield listing(step.texts)
        yield _figures(step)
    if told.missing:
        yield Html(f"<{heading}>Missing, and what it needs</{heading}>")
        yield listing(told.missing)
    yield paragraph(SIGNED)


def _figures(step: SheetStep) -> Html:
    if not step.rows:
        return Html("")
    heads = (("figure", ""), ("predicted", ' class="n"'), ("pass", ' class="n"'), ("by", ""), ("read", ""))
    names = "".join(f'<th scope="col"{look}>{head}</th>' for head, look in heads)
    lines = [f"<table>\n<tr>{names}</tr>"]
    for row in step.rows:
        predicted, passes = (text(words) for words in number_words(row))
        lines.append(
            f'<tr><th scope="row">{text(row.name)}</th><td class="n">{predicted}</td><td class="n">{passes}</td>'
            f'<td class="mark">{mark_of(row)}</td><td class="read"></td></tr>'
        )
    return Html("\n".join([*lines, "</table>"]))
