"""A bill as CSV for a spreadsheet: a row for each line, for what runs short, for each caution; and the sum last."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Mapping, Sequence

from configurator.foundations.verdicts import Caution
from configurator.presentation.stock_words import too_few_note
from configurator.questions.too_few import TooFew
from configurator.search.bill import Line

COLUMNS = (
    "group", "item", "part", "name", "quantity", "unit", "unit_price", "line_price", "currency", "bring_yourself",
)  # fmt: skip
FIGURES = {"quantity": "{:g}", "unit_price": "{:.2f}", "line_price": "{:.2f}"}
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n")
"""A spreadsheet takes a cell that begins with one of these for a formula; an apostrophe before it keeps it text."""


def bill_csv(
    lines: Iterable[Line],
    cautions: Iterable[Caution],
    names: Mapping[str, str],
    currency: str,
    short: Sequence[TooFew] = (),
) -> str:
    """CSV text with a header. `unit_price` is of one piece, metre or litre; both are empty where nobody prices it.

    `short`: what the lines take more of than the shelf has.
    """
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(COLUMNS)
    for row in bill_rows(lines, cautions, names, currency, short):
        writer.writerow([safe_cell(cell if isinstance(cell, str) else FIGURES[column].format(cell))
                         for column, cell in zip(COLUMNS, row, strict=True)])  # fmt: skip
    return text.getvalue()


def bill_rows(
    lines: Iterable[Line],
    cautions: Iterable[Caution],
    names: Mapping[str, str],
    currency: str,
    short: Sequence[TooFew] = (),
) -> Iterator[tuple[str | float, ...]]:
    """The rows under the header, in the order of `COLUMNS`: texts, and as numbers quantity and prices, where told.

    In the column of the part stands the code of a caution, and the name of a coolant, which is no part.
    """
    total = 0
    for line in lines:
        name = "" if line.part is None else names.get(line.part, line.part)
        sold = not line.bring_yourself and line.price_cents > 0
        prices = (line.one_cents / 100, line.price_cents / 100) if sold else ("", "")
        total += line.price_cents if sold else 0
        part = line.part or (line.item if sold else "")
        own = "yes" if line.bring_yourself else "no"
        yield line.group, line.item, part, name, line.quantity, line.unit, *prices, currency, own
    for note in too_few_note(short):
        yield "stock", note, "too-few", *[""] * 7
    for caution in cautions:
        yield "caution", caution.text, caution.code, *[""] * 7
    if total:
        yield "total", "all that has a price", "", "", "", "", "", total / 100, currency, ""


def safe_cell(text: str) -> str:
    """A cell that no spreadsheet computes."""
    return f"'{text}" if text.startswith(FORMULA_STARTS) else text
