"""A supplier's price list, CSV or XLSX, as rows of figures; or every problem of it, each with its line.

Nothing is guessed: the decimal sign and the sign between thousands are those of the map, a formula is refused, and so
is whatever else is not plainly a number. Currencies are not converted.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from decimal import Decimal
from pathlib import Path
from typing import Final

from configurator.errors import BadInput, Problem
from configurator.files.first_bytes import first_bytes
from configurator.files.price_map import PriceMap
from configurator.files.price_sheet import sheet_lines
from configurator.files.problems import nearest
from configurator.questions.shelf_prices import PriceRow

XLSX: Final = (".xlsx", ".xlsm")
TEXT: Final = (".csv", ".txt", ".tsv", "")
MOST_BYTES: Final = 16 * 1024 * 1024
MOST_PROBLEMS: Final = 100
MOST_DIGITS: Final = 9
MOST_PRICE: Final = Decimal(1_000_000)
_SIGNS: Final = {"comma": ",", "point": ".", "space": " ", "none": ""}
_BETWEEN: Final = {"';'": ";", "','": ",", "tab": "\t"}
_SPACES: Final = str.maketrans({"\u00a0": " ", "\u202f": " "})
"""Spaces that no line breaks at stand between thousands in what spreadsheets write; each is the space of the map."""

Line = tuple[int, list[str]]


@dataclass
class _Reading:
    """A list as it is read: its file, its map, what is wrong with it; of a CSV its lines, and where its columns are."""

    file: str
    map: PriceMap
    problems: list[Problem]
    lines: list[str] = field(default_factory=list)
    places: dict[str, int] = field(default_factory=dict)

    def blame(self, line: int, key: str, text: str) -> None:
        """Note a problem of the list at a line and a cell, so that all are told together."""
        self.problems.append(Problem(self.file, line, self._column(line, key), key, text))

    def _column(self, line: int, key: str) -> int:
        """Where a cell of this column begins in a line of a CSV, from 1; in a spreadsheet which column it is."""
        place = self.places.get(key, 0)
        if not self.lines:
            return place + 1
        written = self.lines[line - 1] if line <= len(self.lines) else ""
        quoted = False
        for column, letter in enumerate(written, start=1):
            if place == 0:
                break
            quoted ^= letter == '"'
            if letter == self.map.between and not quoted:
                place -= 1
                if place == 0:
                    return column + 1
        return 1


def load_price_list(path: Path, price_map: PriceMap) -> tuple[PriceRow, ...]:
    """Read a list. Raises BadInput with every problem of it, each with its line."""
    reading = _Reading(str(path), price_map, [])
    rows: list[PriceRow] = []
    lines = [*_lines(path, reading)]
    if not reading.problems:
        rows = [*_rows(lines, reading)]
    if reading.problems:
        told = reading.problems[:MOST_PROBLEMS]
        more = len(reading.problems) - len(told)
        if more:
            told.append(Problem(str(path), told[-1].line, 1, "", f"and {more} more problems in the lines after this"))
        raise BadInput(tuple(told))
    return tuple(rows)


def _lines(path: Path, reading: _Reading) -> Iterator[Line]:
    """The lines of a list from its heading on, cell by cell."""
    if path.suffix.lower() not in (*XLSX, *TEXT):
        reading.blame(1, "", f"a list that ends in {path.suffix} cannot be read: use .csv or .xlsx")
        return
    try:
        raw = first_bytes(path, MOST_BYTES + 1)
    except OSError as error:
        reading.blame(1, "", f"cannot be read: {error.strerror or error}")
        return
    if len(raw) > MOST_BYTES:
        reading.blame(1, "", f"the list is larger than {MOST_BYTES >> 20} MiB; split it into several")
        return
    if path.suffix.lower() in XLSX:
        found = sheet_lines(path, reading.map.sheet, _SIGNS[reading.map.decimal])
    elif raw[:4] == b"PK\x03\x04":
        reading.blame(1, "", "this is a spreadsheet, not CSV: give it the ending .xlsx, or save it as CSV (UTF-8)")
        return
    else:
        found = _csv_lines(raw, reading)
    if isinstance(found, str):
        reading.blame(1, "", found)
        return
    yield from (line for line in found if line[0] >= reading.map.heading)


def _csv_lines(raw: bytes, reading: _Reading) -> list[Line] | str:
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        reading.blame(raw.count(b"\n", 0, error.start) + 1, "", "this is not UTF-8; save the list as CSV (UTF-8)")
        return []
    if "\x00" in text:
        reading.blame(text.count("\n", 0, text.index("\x00")) + 1, "", "a zero byte: this is not a CSV file of text")
        return []
    reading.lines = re.split(r"\r\n|\r|\n", text)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=reading.map.between, strict=True)
    found: list[Line] = []
    line = 1
    try:
        for cells in reader:
            found.append((line, [cell.strip() for cell in cells]))
            line = reader.line_num + 1
    except csv.Error as error:
        reading.blame(line, "", f"cannot be read as CSV: {error}; look for a quote that is not closed")
    return found


def _rows(lines: list[Line], reading: _Reading) -> Iterator[PriceRow]:
    lines = [(line, cells) for line, cells in lines if any(cells)]
    if not lines:
        reading.blame(reading.map.heading, "", "the list is empty: a heading and rows are expected from here on")
        return
    heading_line, heading = lines[0]
    separator = _other_separator(heading, reading)
    if separator is not None:
        reading.blame(heading_line, "", separator)
        return
    places = _places(heading_line, heading, reading)
    if reading.problems:
        return
    reading.places = {reading.map.columns.named[key]: place for key, place in places.items()}
    if len(lines) == 1:
        reading.blame(heading_line, "", "below the heading there are no rows")
    seen: dict[str, tuple[int, PriceRow | None]] = {}
    for line, cells in lines[1:]:
        if len(cells) > len(heading) and any(cells[len(heading) :]):
            words = f"{len(cells)} cells, the heading has {len(heading)}: a sign between cells stands in one of them"
            reading.blame(line, "", f"{words}; put that cell in quotes, or state another separator in the map")
            continue
        told = {key: cells[place] if place < len(cells) else "" for key, place in places.items()}
        row = _row(line, told, reading)
        name = _name(told, reading.map)
        if name in seen:
            first, as_told = seen[name]
            if row is None or as_told is None or replace(row, line=first) != as_told:
                reading.blame(line, "", f"'{name}' stands here twice, first in line {first}; keep one row")
            continue
        if name:
            seen[name] = line, row
        if row is not None:
            yield row


def _name(told: dict[str, str], price_map: PriceMap) -> str:
    """What a row is told apart by, also where something else in it cannot be read; nothing where it names no part."""
    named = told.get("number") or told.get("id") or ""
    if not named or price_map.columns.number is None:
        return named
    return price_map.numbers.get(named) or f"number {named}"


def _other_separator(heading: list[str], reading: _Reading) -> str | None:
    """That a heading is all one cell, where it is for another sign between cells; None where it is not."""
    if len(heading) != 1 or not reading.lines:
        return None
    taken = reading.map.between
    others = [name for name, sign in _BETWEEN.items() if sign != taken and sign in heading[0]]
    if not others:
        return None
    said = "as the map says" if reading.map.separator else f"as the map says decimal: {reading.map.decimal}"
    called = {sign: name for name, sign in _BETWEEN.items()}[taken]
    words = f"the heading is one column: {called} is taken to stand between cells, {said}"
    return f"{words}; write separator: {others[0]} in the map, if that stands there"


def _places(line: int, heading: list[str], reading: _Reading) -> dict[str, int]:
    """Which column holds what."""
    places = {}
    for key, name in reading.map.columns.named.items():
        count = heading.count(name)
        if count == 1:
            places[key] = heading.index(name)
            continue
        there = ", ".join(f"'{cell}'" for cell in heading[:20] if cell)
        # a column that the map has another use for is not meant
        free = [cell for cell in heading if cell and cell not in reading.map.columns.named.values()]
        words = f"the heading has no column '{name}'{nearest(name, free)} (there are: {there})"
        reading.blame(line, key, words if not count else f"the heading has {count} columns named '{name}'")
    return places


def _row(line: int, told: dict[str, str], reading: _Reading) -> PriceRow | None:
    """One row, None where it has a problem or says nothing of any part."""
    if not any(told.values()):
        return None
    before = len(reading.problems)
    columns = reading.map.columns.named
    for key, cell in told.items():
        if cell.startswith("="):
            reading.blame(line, columns[key], f"'{cell}' is a formula: put its value there instead")
    by_number = reading.map.columns.number is not None
    name = told["number" if by_number else "id"]
    if not name:
        words = "no number of the supplier" if by_number else "no id"
        column = columns["number" if by_number else "id"]
        reading.blame(line, column, f"{words} in this row: write it, or take the row out")
    if len(reading.problems) > before:
        return None
    price = _price(line, columns.get("price", ""), told.get("price", ""), reading)
    stock, lead = (_whole(line, columns.get(key, ""), told.get(key, ""), reading) for key in ("stock", "lead"))
    gone = told.get("discontinued", "").casefold() in {word.casefold() for word in reading.map.discontinued}
    if len(reading.problems) > before:
        return None
    return PriceRow(line, name, reading.map.numbers.get(name) if by_number else name, price, stock, lead, gone)


def _price(line: int, column: str, cell: str, reading: _Reading) -> str | None:
    """A price with a point and no thousands, as YAML has it; its decimals are kept as they are."""
    if not cell:
        return None
    cell = cell.translate(_SPACES)
    point = _SIGNS[reading.map.decimal]
    written = re.fullmatch(rf"({_grouped(reading.map)})(?:{re.escape(point)}(\d{{1,2}}))?", cell, re.ASCII)
    if written is None:
        words = f"'{cell}' is not a price: a bare number like 12{point}50 is wanted, no currency, two decimals at most"
        signs = f"the map says decimal: {reading.map.decimal}, thousands: {reading.map.thousands}"
        reading.blame(line, column, f"{words} ({signs})")
        return None
    whole = _ungrouped(written[1], reading.map)
    price = whole if written[2] is None else f"{whole}.{written[2]}"
    if not 0 < Decimal(price) <= MOST_PRICE:
        words = f"a price of {cell} is out of range: more than 0, {MOST_PRICE:,} at most"
        reading.blame(line, column, f"{words}; leave the cell empty where there is none")
        return None
    return price


def _whole(line: int, column: str, cell: str, reading: _Reading) -> str | None:
    if not cell:
        return None
    cell = cell.translate(_SPACES)
    written = re.fullmatch(_grouped(reading.map), cell, re.ASCII)
    if written is None or len(whole := _ungrouped(cell, reading.map)) > MOST_DIGITS:
        words = f"'{cell}' is not a whole number, 0 or more, like 14 (the map says thousands: {reading.map.thousands})"
        reading.blame(line, column, words)
        return None
    return whole


def _grouped(price_map: PriceMap) -> str:
    """What a whole number looks like, with or without the map's sign between thousands."""
    between = re.escape(_SIGNS[price_map.thousands])
    return (rf"\d{{1,3}}(?:{between}\d{{3}})+|" if between else "") + rf"\d{{1,{MOST_DIGITS}}}"


def _ungrouped(digits: str, price_map: PriceMap) -> str:
    """Such a number without those signs, and without zeros before it."""
    return digits.replace(_SIGNS[price_map.thousands], "").lstrip("0") or "0"
