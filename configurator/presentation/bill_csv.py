"""A bill as CSV for a spreadsheet: one row a line, then one row for each caution, none left out."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Mapping

from configurator.foundations.verdicts import Caution
from configurator.search.bill import Line

COLUMNS = ("group", "item", "part", "name", "quantity", "unit", "price", "currency", "bring_yourself")
FIGURES = {"quantity": "{:g}", "price": "{:.2f}"}
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n")
"""A spreadsheet takes a cell that begins with one of these for a formula; an apostrophe before it keeps it text."""


def bill_csv(lines: Iterable[Line], cautions: Iterable[Caution], names: Mapping[str, str], currency: str) -> str:
    """CSV text with a header. The price is that of the whole line, empty where nobody here prices it."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(COLUMNS)
    for row in bill_rows(lines, cautions, names, currency):
        writer.writerow([safe_cell(cell if isinstance(cell, str) else FIGURES[column].format(cell))
                         for column, cell in zip(COLUMNS, row, strict=True)])  # fmt: skip
    return text.getvalue()


def bill_rows(
    lines: Iterable[Line], cautions: Iterable[Caution], names: Mapping[str, str], currency: str
) -> Iterator[tuple[str | float, ...]]:
    """The rows under the header, in the order of `COLUMNS`: texts, and as numbers quantity and price, where told."""
    for line in lines:
        name = "" if line.part is None else names.get(line.part, line.part)
        price = "" if line.bring_yourself else line.price_cents / 100
        own = "yes" if line.bring_yourself else "no"
        yield line.group, line.item, line.part or "", name, line.quantity, line.unit, price, currency, own
    for caution in cautions:
        yield "caution", caution.text, caution.code, "", "", "", "", "", ""


def safe_cell(text: str) -> str:
    """A cell that no spreadsheet computes."""
    return f"'{text}" if text.startswith(FORMULA_STARTS) else text
