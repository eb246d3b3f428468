"""The bill as a spreadsheet, read back by openpyxl and held against the same bill as CSV."""

from __future__ import annotations

import csv
import io
import zipfile
from pathlib import Path

import openpyxl
import pytest

from configurator.foundations.verdicts import Caution
from configurator.presentation.bill_csv import bill_csv
from configurator.presentation.bill_xlsx import bill_xlsx
from configurator.search.bill import Line
from tests.journeys.checks import run
from tests.journeys.kitwright import example, written
from tests.presentation.sheets import shelf

pytestmark = pytest.mark.oracle
FORMULAS = ("=1+1", "+1", "-1", "@SUM(A1)", "=cmd|'/c calc'!A1", '=HYPERLINK("http://x")', "12.50", "1e5", "#REF!")
"""Also a text that looks like a price, one like a number, and one like an error."""
LINES = [
    Line("hose", "h", 2.2, "m", 2156, "coolant side", one_cents=980),
    Line("grommets", None, 1, "set", 0, "mounting", True),
    Line("given", "g", 3, "piece", 0, "mounting"),
]


def cells(made: bytes) -> list[tuple[tuple[str, object], ...]]:
    """Type and value of every cell, row by row."""
    sheet = openpyxl.load_workbook(io.BytesIO(made)).active
    return [tuple((cell.data_type, cell.value) for cell in row) for row in sheet.iter_rows()]


@pytest.mark.parametrize("evil", FORMULAS)
def test_no_text_is_computed(evil: str) -> None:
    """Wherever a name of a file may stand: item, unit, name, currency, caution."""
    lines = [Line(evil, "p", 1, evil, 100, "fill"), Line(f"plug {evil}", None, 2, "piece", 0, "fill", True)]
    found = [cell for row in cells(bill_xlsx(lines, [Caution("x", evil)], {"p": evil}, evil)) for cell in row]
    assert [kind for kind, value in found if value == evil] == ["s"] * 7
    assert {kind for kind, _ in found} == {"s", "n"}


def test_prices_and_quantities_are_numbers_and_the_rest_is_the_csv() -> None:
    given = (LINES, [Caution("hot", "Hot, very.")], {"h": 'Hose, 1" bore'}, "EUR")
    head, *rows = cells(bill_xlsx(*given))
    as_csv = list(csv.reader(io.StringIO(bill_csv(*given))))
    assert [value for _, value in head] == as_csv[0] and len(rows) == len(as_csv) - 1
    quantity, one, price = map(as_csv[0].index, ("quantity", "unit_price", "line_price"))
    assert [row[one] for row in rows] == [("n", 9.8), *[("n", None)] * 4]
    assert [row[price] for row in rows] == [("n", 21.56), *[("n", None)] * 3, ("n", 21.56)]
    assert [row[quantity] for row in rows] == [("n", 2.2), ("n", 1), ("n", 3), ("n", None), ("n", None)]
    for row, texts in zip(rows, as_csv[1:], strict=True):
        for place, ((kind, value), text) in enumerate(zip(row, texts, strict=True)):
            if place in (quantity, one, price):
                assert (value is None) == (text == "") and float(text or 0) == (value or 0)
            elif text:
                assert (kind, value) == ("s", text)


def test_what_xml_cannot_hold_does_not_break_it() -> None:
    (_, row) = cells(bill_xlsx([Line("a\x00b\u202ec\td", None, 1, "set", 0, "fill", True)], [], {}, ""))
    assert row[1] == ("s", "a bc d")


def test_the_same_bill_is_the_same_file(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing of it tells when it was written."""
    once = bill_xlsx(LINES, [], {}, "")
    with zipfile.ZipFile(io.BytesIO(once)) as held:
        assert {entry.date_time[0] for entry in held.infolist()} == {1980}
        assert held.read("docProps/core.xml").count(b"1980-01-01T00:00:00Z") == 2
    monkeypatch.setattr("time.time", lambda: 2e9)
    assert bill_xlsx(LINES, [], {}, "") == once


def test_the_command_writes_it_beside_the_csv(tmp_path: Path) -> None:
    (tmp_path / "brief.yaml").write_text(written(example("hatch")), encoding="utf-8")
    (tmp_path / "shelf").mkdir()
    (tmp_path / "shelf" / "parts.yaml").write_text(written(shelf("=1+1")), encoding="utf-8")
    for name in ("bill.csv", "bill.XLSX"):
        words = ("suggest", str(tmp_path / "brief.yaml"), "--catalogue", str(tmp_path / "shelf"), "--bill")
        assert run(*words, str(tmp_path / name)).code == 0
    head, *rows = cells((tmp_path / "bill.XLSX").read_bytes())
    texts = list(csv.DictReader(io.StringIO((tmp_path / "bill.csv").read_text(encoding="utf-8"))))
    assert len(rows) == len(texts) > 20
    prices = [row[[value for _, value in head].index("line_price")][1] for row in rows]
    told = [float(row["line_price"]) for row in texts if row["line_price"]]
    assert [price for price in prices if price is not None] == told
    assert ("s", "=1+1") in rows[0] and texts[0]["name"] == "'=1+1"
