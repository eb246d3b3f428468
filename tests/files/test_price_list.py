"""Supplier's lists as they come: read as the map says, or refused with their lines, all problems at once."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import pytest

from configurator.errors import BadInput, Problem
from configurator.files import price_list
from configurator.files.price_list import load_price_list
from configurator.files.price_map import PriceMap, load_price_map
from configurator.parts.shelf import make_catalogue
from configurator.questions.shelf_prices import PriceRow

COLUMNS = {"id": "Part", "price": "Net", "stock": "Qty", "lead": "Days", "discontinued": "End"}
HEAD = "Part;Net;Qty;Days;End"


def price_map(**changes: Any) -> PriceMap:
    return PriceMap.model_validate({"decimal": "comma", "columns": COLUMNS, "discontinued": ["yes", "EOL"], **changes})


def rows(tmp_path: Path, content: str | bytes, name: str = "list.csv", **changes: Any) -> tuple[PriceRow, ...]:
    file = tmp_path / name
    file.write_bytes(content if isinstance(content, bytes) else content.encode())
    return load_price_list(file, price_map(**changes))


def problems(tmp_path: Path, content: str | bytes, name: str = "list.csv", **changes: Any) -> tuple[Problem, ...]:
    with pytest.raises(BadInput) as refusal:
        rows(tmp_path, content, name, **changes)
    return refusal.value.problems


def test_a_plain_list_with_a_byte_order_mark_and_decimal_commas(tmp_path: Path) -> None:
    text = f"\ufeff{HEAD}\na;12,50;3;14;\n\nb ; 9 ;;;eol\n\"c\";;0;;\n"
    assert rows(tmp_path, text) == (
        PriceRow(2, "a", "a", "12.50", "3", "14"),
        PriceRow(4, "b", "b", "9", discontinued=True),
        PriceRow(5, "c", "c", stock="0"),
    )
    assert rows(tmp_path, text.replace("\n", "\r\n"))[1].line == 4


@pytest.mark.parametrize(
    ("cell", "signs", "price"),
    [
        ("12.50", {"decimal": "point"}, "12.50"),
        ("1.234,5", {"thousands": "point"}, "1234.5"),
        ("1,234.50", {"decimal": "point", "thousands": "comma"}, "1234.50"),
        ("12 345", {"thousands": "space"}, "12345"),
        ("12\u00a0345,60", {"thousands": "space"}, "12345.60"),
        ("1\u202f234", {"thousands": "space"}, "1234"),
        ("007", {}, "7"),
    ],
)
def test_signs_are_those_of_the_map(tmp_path: Path, cell: str, signs: dict[str, str], price: str) -> None:
    text = f"{HEAD}\na;{cell};;;\n"
    assert rows(tmp_path, text, **{"decimal": "comma", "separator": ";", **signs})[0].price == price


@pytest.mark.parametrize(
    "cell",
    ["12.50", "1.234", "1 234", "€ 5", "5 EUR", "-5", "0", "0,00", "1e3", "5,123", "nan", "inf", "2000000", "٣", "5,"],
)
def test_what_is_not_plainly_a_price_is_refused(tmp_path: Path, cell: str) -> None:
    """A point where the map says comma is never taken for thousands unasked."""
    (problem,) = problems(tmp_path, f"{HEAD}\na;{cell};;;\n")
    assert problem.line == 2 and problem.key == "Net" and cell in problem.text


def test_a_space_that_no_line_breaks_at_is_told_as_a_space(tmp_path: Path) -> None:
    """The screen has a question mark for it, which stands in no list."""
    (problem,) = problems(tmp_path, f"{HEAD}\na;1\u00a0234;;;\n")
    assert problem.text.startswith("'1 234' is not a price") and "thousands: none" in problem.text


@pytest.mark.parametrize(
    ("cell", "thousands", "stock"),
    [("1 200", "space", "1200"), ("1\u00a0200", "space", "1200"), ("1\u202f200", "space", "1200"),
     ("1.200", "point", "1200"), ("0", "point", "0"), ("007", "none", "7"), ("12 345 678", "space", "12345678")],
)  # fmt: skip
def test_the_sign_between_thousands_holds_for_stock_and_lead_too(
    tmp_path: Path, cell: str, thousands: str, stock: str
) -> None:
    (row,) = rows(tmp_path, f"{HEAD}\na;;{cell};{cell};\n", thousands=thousands)
    assert (row.stock, row.lead) == (stock, stock)


@pytest.mark.parametrize(("cell", "thousands"), [("1 200", "none"), ("12 00", "space"), ("1.200", "space"),
                                                 ("1 234 567 890", "space"), ("1  200", "space")])  # fmt: skip
def test_a_whole_number_with_other_signs_is_refused(tmp_path: Path, cell: str, thousands: str) -> None:
    (problem,) = problems(tmp_path, f"{HEAD}\na;;{cell};;\n", thousands=thousands)
    assert problem.key == "Qty" and f"the map says thousands: {thousands}" in problem.text


@pytest.mark.parametrize("name", ["list.xls", "list.ods", "list.XLSB", "list.html"])
def test_a_list_of_another_ending_is_not_read_as_csv(tmp_path: Path, name: str) -> None:
    (problem,) = problems(tmp_path, f"{HEAD}\na;5;;;\n", name)
    assert "use .csv or .xlsx" in problem.text


@pytest.mark.parametrize("name", ["list.txt", "list.tsv", "list", "LIST.CSV"])
def test_text_by_another_ending_is_read(tmp_path: Path, name: str) -> None:
    assert rows(tmp_path, f"{HEAD}\na;5;;;\n", name)[0].price == "5"


def test_a_row_that_says_nothing_and_one_that_says_the_same_again_are_passed_over(tmp_path: Path) -> None:
    text = f"{HEAD};Note\na;5;3;;;\n;;;;;a remark\na;5;3;;;again\n"
    assert rows(tmp_path, text) == (PriceRow(2, "a", "a", "5", "3"),)
    (problem,) = problems(tmp_path, text + "a;5;4;;;\n")
    assert problem.line == 5 and "first in line 2" in problem.text


@pytest.mark.parametrize("cell", ["-1", "1,5", "many", ">10", "²"])
def test_what_is_not_a_whole_number_is_refused(tmp_path: Path, cell: str) -> None:
    (problem,) = problems(tmp_path, f"{HEAD}\na;;{cell};;\n")
    assert problem.line == 2 and problem.key == "Qty"


def test_all_problems_at_once_each_with_its_line(tmp_path: Path) -> None:
    text = f"{HEAD}\na;=1+1;;;\n;5;;;\nb;5;;;\nb;6;;;\nc;x;y;;\nd;1;2;3;;7\n=cmd;1;;;\n"
    found = problems(tmp_path, text)
    assert [(p.line, p.key) for p in found] == [
        (2, "Net"), (3, "Part"), (5, ""), (6, "Net"), (6, "Qty"), (7, ""), (8, "Part"),
    ]  # fmt: skip
    assert "formula" in found[0].text and "first in line 4" in found[2].text


def test_a_row_that_stands_twice_is_told_beside_what_else_is_wrong_with_it(tmp_path: Path) -> None:
    found = problems(tmp_path, f"{HEAD}\na;x;;;\na;5;y;;\n")
    assert [(p.line, p.key) for p in found] == [(2, "Net"), (3, "Qty"), (3, "")]
    assert "first in line 2" in found[2].text


def test_a_mistake_in_a_row_is_placed_at_its_cell(tmp_path: Path) -> None:
    text = f'{HEAD}\na;x;;;\n"b;b";5;y;;\n=a;5;;;\nd;5;;"z";\n'
    assert [(p.line, p.column) for p in problems(tmp_path, text)] == [(2, 3), (3, 9), (4, 1), (5, 6)]


@pytest.mark.parametrize(
    ("heading", "signs", "said"),
    [
        ("Part,Net,Qty,Days,End", {}, "';' is taken to stand between cells, as the map says decimal: comma"),
        ("Part,Net,Qty,Days,End", {"separator": "tab"}, "tab is taken to stand between cells, as the map says; write"),
        (HEAD, {"decimal": "point"}, "',' is taken to stand between cells, as the map says decimal: point"),
    ],
)
def test_a_list_with_another_separator_is_one_problem(
    tmp_path: Path, heading: str, signs: dict[str, str], said: str
) -> None:
    (problem,) = problems(tmp_path, f"{heading}\na\n", **signs)
    assert problem.line == 1 and said in problem.text
    assert f"write separator: '{heading[4]}' in the map" in problem.text


def test_a_column_that_the_map_has_another_use_for_is_not_offered(tmp_path: Path) -> None:
    columns = {"number": "Article", "price": "Price", "stock": "Qty"}
    changes = {"columns": columns, "numbers": {"1": "a"}, "discontinued": []}
    (problem,) = problems(tmp_path, "Article;Net;Qty\n1;5;5\n", **changes)
    assert problem.text == "the heading has no column 'Price' (there are: 'Article', 'Net', 'Qty')"


def test_very_many_problems_are_counted(tmp_path: Path) -> None:
    found = problems(tmp_path, HEAD + "\n" + "".join(f"a{number};x;;;\n" for number in range(500)))
    assert len(found) == price_list.MOST_PROBLEMS + 1 and "400 more" in found[-1].text


@pytest.mark.parametrize(
    ("content", "line", "said"),
    [
        ("", 1, "empty"),
        ("\n;;\n", 1, "empty"),
        (f"{HEAD}\n", 1, "no rows"),
        (b"Part;Net\na;5\nb\xe4;6\n", 3, "UTF-8"),
        (f"{HEAD}\na;5\x00;;;\n", 2, "zero byte"),
        (f"{HEAD}\na;5;;;\n\"b;6;;;\n", 3, "CSV"),
        ("Part;Nett;Qty;Days;End\na;5;;;\n", 1, "did you mean 'Nett'"),
        ("Part;Net;Net;Qty;Days;End\na;5;;;;\n", 1, "2 columns"),
        (b"PK\x03\x04rest", 1, ".xlsx"),
        (f"{HEAD}\n{'x' * 200_000};5;;;\n", 2, "CSV"),
    ],
)
def test_lists_that_cannot_be_used(tmp_path: Path, content: str | bytes, line: int, said: str) -> None:
    found = problems(tmp_path, content)
    assert found[0].line == line and said in found[0].text


def test_a_list_of_50_megabytes_is_refused_unread(tmp_path: Path) -> None:
    file = tmp_path / "list.csv"
    with file.open("wb") as stream:
        stream.truncate(50 * 1024 * 1024)
    with pytest.raises(BadInput) as refusal:
        load_price_list(file, price_map())
    assert "16 MiB" in refusal.value.problems[0].text
    with pytest.raises(BadInput):
        load_price_list(tmp_path / "none.csv", price_map())


def test_numbers_of_the_supplier_stand_for_ids(tmp_path: Path) -> None:
    """A number that the map does not have is no id, even where one of our parts is called so."""
    changes = {"columns": {"number": "No", "price": "Net"}, "numbers": {"4711": "pump-a"}, "discontinued": []}
    found = rows(tmp_path, "No;Net\n4711;5\npump-b;6\n", **changes)
    assert [(row.named, row.part) for row in found] == [("4711", "pump-a"), ("pump-b", None)]
    twice = {**changes, "numbers": {"4711": "pump-a", "4712": "pump-a"}}
    assert "twice" in problems(tmp_path, "No;Net\n4711;5\n4712;6\n", **twice)[0].text


def test_without_the_optional_library_an_xlsx_list_says_what_to_install(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "openpyxl", None)
    (problem,) = problems(tmp_path, b"PK\x03\x04", "list.xlsx")
    assert "pip install openpyxl" in problem.text and "CSV" in problem.text


@pytest.mark.parametrize(
    ("text", "line", "said"),
    [
        ("columns: {id: A, price: B}\n", 1, "decimal"),
        ("decimal: comma\ncolumns: {price: B}\n", 2, "'id' (our ids)"),
        ("decimal: comma\ncolumns: {id: A, number: C, price: B}\nnumbers: {x: pump-x}\n", 2, "one of"),
        ("decimal: comma\ncolumns: {id: A}\n", 2, "at least one column"),
        ("decimal: comma\ncolumns: {id: A, price: A}\n", 2, "twice"),
        ("decimal: comma\nthousands: comma\ncolumns: {id: A, price: B}\n", 2, "thousands"),
        ("decimal: comma\ncolumns: {number: A, price: B}\n", 2, "numbers"),
        ("decimal: comma\ncolumns: {id: A, discontinued: B}\n", 2, "list the words"),
        ("decimal: comma\ncolumns: {number: A, price: B}\nnumbers: {'1': pump-y}\n", 3, "not known"),
        ("decimal: comma\ncolums: {id: A, price: B}\n", 2, "columns"),
        ("- 1\n", 1, "keys and values"),
        ("", 1, "empty"),
    ],
)
def test_a_map_that_cannot_be_used(tmp_path: Path, text: str, line: int, said: str) -> None:
    file = tmp_path / "map.yaml"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(BadInput) as refusal:
        load_price_map(file, make_catalogue([], []))
    found = refusal.value.problems
    assert any(problem.line == line and said in problem.text for problem in found), found
