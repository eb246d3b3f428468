"""A bill as CSV for a spreadsheet: one row a line, then one row for each caution, none left out."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping

from configurator.foundations.verdicts import Caution
from configurator.search.bill import Line

COLUMNS = ("group", "item", "part", "name", "quantity", "unit", "price", "currency", "bring_yourself")
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n")
"""A spreadsheet takes a cell that begins with one of these for a formula; an apostrophe before it keeps it text."""


def bill_csv(lines: Iterable[Line], cautions: Iterable[Caution], names: Mapping[str, str], currency: str) -> str:
    """CSV text with a header. The price is that of the whole line, empty where nobody here prices it."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(COLUMNS)
    for line in lines:
        name = "" if line.part is None else names.get(line.part, line.part)
        price = "" if line.bring_yourself else f"{line.price_cents / 100:.2f}"
        own = "yes" if line.bring_yourself else "no"
        cells = (line.group, line.item, line.part or "", name, f"{line.quantity:g}", line.unit, price, currency, own)
        writer.writerow([safe_cell(cell) for cell in cells])
    for caution in cautions:
        row = ("caution", caution.text, caution.code, "", "", "", "", "", "")
        writer.writerow([safe_cell(cell) for cell in row])
    return text.getvalue()


def safe_cell(text: str) -> str:
    """A cell that no spreadsheet computes."""
    return f"'{text}" if text.startswith(FORMULA_STARTS) else text
