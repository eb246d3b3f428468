"""Price lists as spreadsheets, written by openpyxl, against the same lists as CSV."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import openpyxl
import pytest

from configurator.errors import BadInput
from configurator.files.price_list import load_price_list
from tests.files.test_price_list import price_map

pytestmark = pytest.mark.oracle

HEAD = ["Part", "Net", "Qty", "Days", "End"]


def sheet(tmp_path: Path, *rows: list[Any], more: str = "") -> Path:
    book = openpyxl.Workbook()
    book.active.title = "Prices"
    for row in (HEAD, *rows):
        book.active.append(row)
    if more:
        book.create_sheet(more)
    file = tmp_path / "list.xlsx"
    book.save(file)
    return file


@pytest.mark.parametrize("decimal", ["comma", "point"])
def test_numbers_are_numbers_whatever_the_decimal_sign(tmp_path: Path, decimal: str) -> None:
    quarter = 0.1 + 0.2 - 0.05  # 0.25000000000000006
    file = sheet(tmp_path, ["a", 12.5, 3, 14, None], ["b", 9, None, None, "EOL"], [None] * 5, ["c", quarter, 0])
    text = "Part;Net;Qty;Days;End\na;12,5;3;14;\nb;9;;;EOL\n;;;;\nc;0,25;0;;\n"
    (tmp_path / "list.csv").write_text(text.replace(",", "," if decimal == "comma" else "."), encoding="utf-8")
    as_text = load_price_list(tmp_path / "list.csv", price_map(decimal=decimal, separator=";"))
    assert load_price_list(file, price_map(decimal=decimal)) == as_text


def test_formulas_long_decimals_and_sheets_are_refused_with_their_lines_and_columns(tmp_path: Path) -> None:
    file = sheet(tmp_path, ["a", "=1+1"], ["b", 1.2345], ["c", 2], ["c", 3], ["d", 4, 1.5])
    with pytest.raises(BadInput) as refusal:
        load_price_list(file, price_map())
    places = [(problem.line, problem.column) for problem in refusal.value.problems]
    assert places == [(2, 2), (3, 2), (5, 1), (6, 3)]
    two = sheet(tmp_path, ["a", 5], more="Old")
    with pytest.raises(BadInput) as refusal:
        load_price_list(two, price_map())
    assert "sheet: Prices" in refusal.value.problems[0].text
    assert load_price_list(two, price_map(sheet="Prices"))[0].price == "5"
    with pytest.raises(BadInput, match="1 problem"):
        load_price_list(two, price_map(sheet="None"))


@pytest.mark.parametrize("content", [b"", b"PK\x03\x04", b"not a sheet" * 50])
def test_a_broken_file_is_refused(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "list.xlsx").write_bytes(content)
    with pytest.raises(BadInput) as refusal:
        load_price_list(tmp_path / "list.xlsx", price_map())
    assert "XLSX" in refusal.value.problems[0].text
