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
    assert sum(evil in cell for cell in cells) == 7
    assert not [cell for cell in cells if cell.startswith(("=", "+", "-", "@", "\t"))]
    assert rows(text)[0]["item"] == "'" + evil


def test_rows_say_group_quantity_price_and_who_brings_it() -> None:
    lines = [Line("hose", "h", 2.2, "m", 2156, "coolant side"), Line("grommets", None, 1, "set", 0, "mounting", True)]
    first, second = rows(bill_csv(lines, [], {"h": 'Hose, 1" bore'}, "EUR"))
    assert (first["group"], first["name"], first["quantity"], first["price"], first["bring_yourself"]) == (
        "coolant side", 'Hose, 1" bore', "2.2", "21.56", "no",
    )  # fmt: skip
    assert (second["price"], second["bring_yourself"]) == ("", "yes")


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
