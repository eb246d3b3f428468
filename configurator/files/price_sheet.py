"""The sheet of an XLSX file as lines of cells. Behind an optional library: see `MISSING`."""

from __future__ import annotations

import zipfile
from decimal import Decimal
from pathlib import Path
from typing import Any, Final

MOST_UNPACKED: Final = 256 * 1024 * 1024
MOST_CELLS: Final = 2_000_000
MISSING: Final = "an .xlsx list needs openpyxl: pip install openpyxl; or save the list as CSV (UTF-8)"


def sheet_lines(path: Path, sheet: str | None, point: str) -> list[tuple[int, list[str]]] | str:
    """Every line with its number and its cells as text, numbers with this decimal sign; or why there are none."""
    try:
        import openpyxl
    except ImportError:
        return MISSING
    try:
        with zipfile.ZipFile(path) as archive:
            if sum(member.file_size for member in archive.infolist()) > MOST_UNPACKED:
                return f"unpacked it is larger than {MOST_UNPACKED >> 20} MiB; split it, or save the list as CSV"
        book = openpyxl.load_workbook(path, read_only=True, data_only=False)
        try:
            return _lines(book, sheet, point)
        finally:
            book.close()
    except Exception as error:  # a broken file breaks the library in as many ways as it has parts
        return f"cannot be read as XLSX ({type(error).__name__}); open and save it again, or save the list as CSV"


def _lines(book: Any, sheet: str | None, point: str) -> list[tuple[int, list[str]]] | str:
    if sheet is None and len(book.sheetnames) > 1:
        return f"the file has several sheets: name one in the map, like sheet: {book.sheetnames[0]}"
    if sheet is not None and sheet not in book.sheetnames:
        return f"there is no sheet '{sheet}' (there are: {', '.join(book.sheetnames)})"
    found = []
    cells = 0
    for number, row in enumerate(book[sheet or book.sheetnames[0]].iter_rows(values_only=True), start=1):
        cells += len(row)
        if cells > MOST_CELLS:
            return f"the sheet has more than {MOST_CELLS:,} cells; take out what is not of the list"
        found.append((number, [_text(value, point) for value in row]))
    return found


def _text(value: Any, point: str) -> str:
    """A cell as text; a number as it is plainly written, to the 15 digits that a spreadsheet shows."""
    if value is None:
        return ""
    if isinstance(value, float):
        return f"{Decimal(format(value, '.15g')).normalize():f}".replace(".", point)
    return str(value).strip()
