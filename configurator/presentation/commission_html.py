"""The commissioning sheet as a page to print and to write on: one HTML file, whole in itself."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from html import escape
from typing import Final

from configurator.presentation.commission_words import SheetStep, mark_of, number_words, sheet_words
from configurator.questions.commissioning import Commissioning

_STYLE: Final = """
:root{color-scheme:light dark}
body{font:15px/1.4 sans-serif;max-width:46em;margin:2em auto;padding:0 1em;color:#16191c;background:#fff}
h1{font-size:1.4em}h2{font-size:1.1em;margin:1.4em 0 .3em;break-after:avoid}
ul{margin:.3em 0;padding-left:1.3em}
table{border-collapse:collapse;margin:.5em 0;width:100%;break-inside:avoid}
th,td{text-align:left;padding:.25em .6em;border-bottom:1px solid currentColor}
th.n,td.n{text-align:right;white-space:nowrap;width:8.5em}
td.mark{width:1em}td.read{width:8em}
@media (prefers-color-scheme:dark){body{color:#e8eaec;background:#16191c}}
@media print{body{color:#000;background:#fff;font-size:9.5pt;line-height:1.3;margin:0}}
@page{margin:15mm}
"""


def commission_html(
    kit: str, brief: str, sheet: Commissioning, names: Mapping[str, str], cautions: Sequence[str]
) -> str:
    """The page of a sheet; `cautions` are all that the check gives, for they hold for every step."""
    return "\n".join(_lines(kit, brief, sheet, names, cautions)) + "\n"


def _lines(
    kit: str, brief: str, sheet: Commissioning, names: Mapping[str, str], cautions: Sequence[str]
) -> Iterator[str]:
    told = sheet_words(sheet, names)
    title = escape(f"Commissioning sheet: {kit}, in {brief}")
    yield '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">'
    yield f"<title>{title}</title>\n<style>{_STYLE}</style>\n</head>\n<body>\n<h1>{title}</h1>"
    yield from (f"<p>{escape(text)}</p>" for text in told.head)
    yield "<h2>Cautions, for every step</h2>"
    yield from _list(cautions)
    for number, step in enumerate(told.steps, start=1):
        yield from _step(number, step)
    if told.missing:
        yield "<h2>Missing, and what it needs</h2>"
        yield from _list(told.missing)
    yield "<p>Done by ________________ on ____________, outside air ______ degC</p>\n</body>\n</html>"


def _step(number: int, step: SheetStep) -> Iterator[str]:
    yield f"<h2>{number}. {escape(step.title)}</h2>"
    yield from _list(step.texts)
    if step.rows:
        yield '<table>\n<tr><th></th><th class="n">predicted</th><th class="n">pass</th><th></th><th>read</th></tr>'
        for row in step.rows:
            predicted, passes = (escape(words) for words in number_words(row))
            yield (
                f'<tr><td>{escape(row.name)}</td><td class="n">{predicted}</td><td class="n">{passes}</td>'
                f'<td class="mark">{mark_of(row)}</td><td class="read"></td></tr>'
            )
        yield "</table>"


def _list(texts: Sequence[str]) -> Iterator[str]:
    yield "<ul>"
    yield from (f"<li>{escape(text)}</li>" for text in texts)
    yield "</ul>"
