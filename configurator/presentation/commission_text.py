"""The commissioning sheet in the terminal and on paper: steps, and rows with a place to write in."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping

from configurator.presentation.commission_words import SheetStep, mark_of, number_words, sheet_words
from configurator.presentation.lines import WIDTH
from configurator.questions.commissioning import Commissioning

_HEAD = f"      {'':<29}{'predicted':>12}  {'pass':>14}     read"


def commission_text(sheet: Commissioning, names: Mapping[str, str]) -> str:
    """The sheet as a block of the screen."""
    told = sheet_words(sheet, names)
    lines = ["Commissioning sheet (all cautions below hold for every step)"]
    for text in told.head:
        lines += textwrap.wrap(text, WIDTH, initial_indent="  ", subsequent_indent="  ")
    for number, step in enumerate(told.steps, start=1):
        lines += _step(number, step)
    lines += ["  Missing, and what it needs"] if told.missing else []
    for text in told.missing:
        lines += textwrap.wrap(text, WIDTH, initial_indent="     - ", subsequent_indent="       ")
    return "\n".join(lines)


def _step(number: int, step: SheetStep) -> Iterator[str]:
    yield f"  {number}. {step.title}"
    for text in step.texts:
        yield from textwrap.wrap(text, WIDTH, initial_indent="     - ", subsequent_indent="       ")
    if step.rows:
        yield _HEAD
    for row in step.rows:
        predicted, passes = number_words(row)
        yield f"       {row.name:<28}{predicted:>12}  {passes:>14} {mark_of(row)}   ______"
