"""A bill as a spreadsheet: the rows of the CSV, text as text and figures as figures. Behind an optional library."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Iterable, Mapping, Sequence
from importlib import import_module
from pathlib import Path
from typing import Final

from configurator.errors import CannotWrite
from configurator.foundations.verdicts import Caution
from configurator.presentation.bill_csv import COLUMNS, bill_rows
from configurator.presentation.plain_text import plain
from configurator.questions.too_few import TooFew
from configurator.search.bill import Line

MISSING: Final = "an .xlsx bill needs openpyxl: pip install openpyxl; or name a .csv file"
_FORMATS: Final = {"quantity": "General", "unit_price": "0.00", "line_price": "0.00"}
_TEXT: Final = "@"
_WIDE: Final = {"item": 60, "part": 24, "name": 48}
_CHANGED: Final = re.compile(rb"(<dcterms:(created|modified)[^>]*>)[^<]*")
_THEN: Final = (1980, 1, 1, 0, 0, 0)


def is_bill(file: Path) -> bool:
    """Whether a bill of that name can be written: a spreadsheet, CSV, or CSV without an ending."""
    return is_xlsx(file) or file.suffix.lower() in (".csv", "")


def is_xlsx(file: Path) -> bool:
    """Whether a bill of that name is a spreadsheet."""
    return file.suffix.lower() == ".xlsx"


def refuse_without_library() -> None:
    """Raises CannotWrite where the library that writes spreadsheets is not installed."""
    try:
        import_module("openpyxl")
    except ImportError:
        raise CannotWrite(MISSING) from None


def bill_xlsx(
    lines: Iterable[Line],
    cautions: Iterable[Caution],
    names: Mapping[str, str],
    currency: str,
    short: Sequence[TooFew] = (),
) -> bytes:
    """The file, the same for the same bill. No text is a formula, however it begins: its cell is typed as text."""
    openpyxl = import_module("openpyxl")
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Bill"
    sheet.freeze_panes = "A2"
    bold = import_module("openpyxl.styles").Font(bold=True)
    for number, row in enumerate([COLUMNS, *bill_rows(lines, cautions, names, currency, short)], start=1):
        for place, (column, value) in enumerate(zip(COLUMNS, row, strict=True), start=1):
            if value == "":
                continue
            cell = sheet.cell(number, place)
            if isinstance(value, str):
                cell.value = plain(value)
                cell.data_type, cell.number_format = "s", _TEXT
            else:
                cell.value, cell.number_format = value, _FORMATS[column]
            if number == 1:
                cell.font = bold
    for place, column in enumerate(COLUMNS, start=1):
        sheet.column_dimensions[sheet.cell(1, place).column_letter].width = _WIDE.get(column, 14)
    made = io.BytesIO()
    book.save(made)
    return _steady(made.getvalue())


def _steady(made: bytes) -> bytes:
    """The same file without the time at which it was written."""
    steady = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(made)) as held, zipfile.ZipFile(steady, "w", zipfile.ZIP_DEFLATED) as out:
        for name in held.namelist():
            content = held.read(name)
            if name == "docProps/core.xml":
                content = _CHANGED.sub(rb"\g<1>1980-01-01T00:00:00Z", content)
            out.writestr(zipfile.ZipInfo(name, _THEN), content, zipfile.ZIP_DEFLATED)
    return steady.getvalue()
