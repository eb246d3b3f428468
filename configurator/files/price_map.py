"""What the columns of a supplier's price list stand for: a YAML file of its own, written once for each supplier."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Literal

from pydantic import Field

from configurator.errors import BadInput
from configurator.files.part_entries import another_part
from configurator.files.problems import not_known
from configurator.files.read_record import empty_values, read_record
from configurator.files.read_yaml import read_yaml
from configurator.foundations.records import Count, Fault, Record
from configurator.parts.shelf import Catalogue


class Columns(Record):
    """Names of columns, as the heading of the list has them."""

    id: str | None = None
    number: str | None = None
    price: str | None = None
    stock: str | None = None
    lead: str | None = None
    discontinued: str | None = None

    def faults(self) -> Iterator[Fault]:
        """Neither or both ways to say which part a row is; nothing to take from it; one column twice."""
        if (self.id is None) == (self.number is None):
            yield Fault("name one of 'id' (our ids) and 'number' (the supplier's own), so that a row names its part")
        if not (self.price or self.stock or self.lead or self.discontinued):
            yield Fault("name at least one column to take: price, stock, lead or discontinued")
        named = list(self.named.values())
        for name in sorted({name for name in named if named.count(name) > 1}):
            yield Fault(f"column '{name}' is named twice")

    @property
    def named(self) -> dict[str, str]:
        """The columns that are named, by what they hold."""
        return {key: name for key, name in self.model_dump().items() if name is not None}


class PriceMap(Record):
    """How a list is read. `discontinued`: the words that say so; `numbers`: the supplier's numbers and our ids."""

    decimal: Literal["comma", "point"]
    thousands: Literal["comma", "point", "space", "none"] = "none"
    separator: Literal[",", ";", "tab"] | None = None
    sheet: str | None = None
    heading: Count = Field(default=1, ge=1, le=1000)
    columns: Columns
    discontinued: tuple[str, ...] = ()
    numbers: dict[str, str] = Field(default_factory=dict)

    def faults(self) -> Iterator[Fault]:
        """Words or numbers that a named column needs and that are not given; a sign that serves two purposes."""
        if self.columns.discontinued is not None and not self.discontinued:
            text = "column 'discontinued' is named: list the words that mean it, like discontinued: ['yes', EOL]"
            yield Fault(text, ("columns",))
        if self.columns.number is not None and not self.numbers:
            text = "column 'number' is named: say which of our ids each is, like numbers: {'4711': pump-50-medium}"
            yield Fault(text, ("columns",))
        if self.thousands == self.decimal:
            yield Fault(f"{self.decimal} cannot be the decimal sign and part thousands as well", ("thousands",))

    @property
    def between(self) -> str:
        """What stands between the cells of a CSV: as stated, else a semicolon where the comma is the decimal sign."""
        stated = self.separator or (";" if self.decimal == "comma" else ",")
        return "\t" if stated == "tab" else stated


def load_price_map(path: Path, catalogue: Catalogue) -> PriceMap:
    """Read a map. Raises BadInput with every problem of it, ids that the shelf does not know among them."""
    document = read_yaml(path)
    problems = list(document.problems)
    if document.root is None:
        raise BadInput(tuple(problems))
    if not isinstance(document.data, dict):
        words = "a map is keys and values: decimal: comma, columns: {id: Part no, price: Net}"
        raise BadInput((*problems, document.problem((), words)))
    problems += empty_values(document)
    made, found = read_record(PriceMap, document.data, document, ())
    problems += found
    numbers = document.data.get("numbers")
    for number, part_id in numbers.items() if isinstance(numbers, dict) else ():
        if isinstance(part_id, str) and part_id not in catalogue.parts:
            words = another_part(part_id, catalogue.parts) or not_known("part", part_id, catalogue.parts, most=5)
            problems.append(document.problem(("numbers", number), words))
    if problems or made is None:
        raise BadInput(tuple(sorted(set(problems))))
    return made
