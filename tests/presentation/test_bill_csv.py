"""A bill as CSV: whole, readable by any spreadsheet, and no cell that a spreadsheet computes."""

from __future__ import annotations

import csv
import io
import sys
from pathlib import Path

import pytest

from configurator.errors import CannotWrite
from configurator.files.write_file import write_whole
from configurator.foundations.verdicts import Caution
from configurator.presentation.bill_csv import bill_csv
from configurator.search.bill import Line
from tests.journeys.checks import run

FORMULAS = ("=1+1", "+1", "-1", "@SUM(A1)", "\tx", "=cmd|'/c calc'!A1")


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


@pytest.mark.parametrize("evil", FORMULAS)
def test_no_cell_begins_like_a_formula(evil: str) -> None:
    """Advice of OWASP on CSV injection (published, from memory): quote what begins with = + - @ or a tab."""
    lines = [Line(evil, "p", 1, evil, 100, "fill"), Line(f"plug {evil}", None, 2, "piece", 0, "fill", True)]
    text = bill_csv(lines, [Caution("x", evil)], {"p": evil}, evil)
    cells = [cell for row in csv.reader(io.StringIO(text)) for cell in row]
    assert sum(evil in cell for cell in cells) == 8
    assert not [cell for cell in cells if cell.startswith(("=", "+", "-", "@", "\t"))]
    assert rows(text)[0]["item"] == "'" + evil


def test_rows_say_group_quantity_price_and_who_brings_it() -> None:
    hose = Line("hose", "h", 2.2, "m", 2156, "coolant side", one_cents=980)
    lines = [hose, Line("grommets", None, 1, "set", 0, "mounting", True)]
    first, second, _ = rows(bill_csv(lines, [], {"h": 'Hose, 1" bore'}, "EUR"))
    assert (first["group"], first["name"], first["quantity"], first["bring_yourself"]) == (
        "coolant side", 'Hose, 1" bore', "2.2", "no",
    )  # fmt: skip
    assert (first["unit_price"], first["line_price"]) == ("9.80", "21.56")
    assert (second["unit_price"], second["line_price"], second["bring_yourself"]) == ("", "", "yes")


def test_the_last_row_is_the_sum_of_the_lines_that_have_a_price() -> None:
    lines = [
        Line("pump", "p", 1, "piece", 9000, "coolant side", one_cents=9000),
        Line("clamp", "c", 8, "piece", 1080, "coolant side", one_cents=135),
        Line("core", "free", 1, "piece", 0, "charge side"),
        Line("grommets", None, 1, "set", 0, "mounting", True),
    ]
    *found, caution, last = rows(bill_csv(lines, [Caution("hot", "Hot.")], {}, "EUR"))
    assert (last["group"], last["line_price"], last["currency"]) == ("total", "100.80", "EUR")
    assert last["part"] == last["unit_price"] == last["quantity"] == caution["line_price"] == ""
    assert sum(float(row["line_price"] or 0) for row in found) == float(last["line_price"])
    assert (found[2]["unit_price"], found[2]["line_price"], found[2]["bring_yourself"]) == ("", "", "no")
    assert "total" not in {row["group"] for row in rows(bill_csv(lines[3:], [], {}, ""))}


@pytest.mark.parametrize("name", ["bill.xls", "bill.ods", "bill.XLSM", "bill.tsv", "bill.html"])
def test_a_bill_of_another_ending_is_refused_at_once(name: str, tmp_path: Path) -> None:
    """CSV under the ending of a spreadsheet was no file that its program would open."""
    told = run("suggest", str(tmp_path / "no.yaml"), "--bill", str(tmp_path / name))
    assert told.code == 2 and "use .csv or .xlsx" in told.err and list(tmp_path.iterdir()) == []


def test_cautions_follow_the_lines() -> None:
    found = rows(bill_csv([], [Caution("hot", "Hot, very."), Caution("cold", "Cold.")], {}, ""))
    assert [(row["group"], row["part"], row["item"]) for row in found] == [
        ("caution", "hot", "Hot, very."),
        ("caution", "cold", "Cold."),
    ]


def test_a_file_that_is_there_stays_unless_forced(tmp_path: Path) -> None:
    path = tmp_path / "bill.csv"
    write_whole(path, "a\n", force=False)
    with pytest.raises(CannotWrite, match="--force"):
        write_whole(path, "b\n", force=False)
    assert path.read_text() == "a\n"
    write_whole(path, "b\n", force=True)
    assert path.read_text() == "b\n"
    assert [entry.name for entry in tmp_path.iterdir()] == ["bill.csv"], "nothing is left lying about"


def test_a_folder_that_is_not_there_is_told_in_words(tmp_path: Path) -> None:
    with pytest.raises(CannotWrite, match="cannot be written"):
        write_whole(tmp_path / "no" / "bill.csv", "a", force=False)


def test_a_spreadsheet_without_its_library_is_refused_before_anything_is_asked(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "openpyxl", None)
    told = run("suggest", str(tmp_path / "no.yaml"), "--bill", str(tmp_path / "bill.xlsx"))
    assert told.code == 3 and "pip install openpyxl" in told.err and "Traceback" not in told.err
    assert list(tmp_path.iterdir()) == []
