"""A supplier's price list held against the shelf: what it would change, what each does not know of the other."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Final, Literal

from configurator.parts.kinds import Part
from configurator.parts.shelf import Catalogue

Key = Literal["price", "stock", "lead"]
KEYS: Final[tuple[Key, ...]] = ("price", "stock", "lead")

JUMP: Final = 2.0
"""A price that more than doubles or halves is marked: a decimal sign misread shows as one."""


@dataclass(frozen=True)
class PriceRow:
    """One row of a list: its line, what names its part, the id that is, figures as they are to be written.

    None: not said; of `part`: a supplier's number that the map has no id for.
    """

    line: int
    named: str
    part: str | None
    price: str | None = None
    stock: str | None = None
    lead: str | None = None
    discontinued: bool = False


@dataclass(frozen=True)
class PriceChange:
    """One value of a part that the list has otherwise: as the shelf has it (None: not stated), and as it would be."""

    part: str
    key: Key
    old: float | None
    new: str
    line: int

    @property
    def jumps(self) -> bool:
        """Whether a price more than doubles or halves."""
        if self.key != "price" or not self.old:
            return False
        times = float(self.new) / self.old
        return times > JUMP or times < 1 / JUMP


@dataclass(frozen=True)
class PriceChanges:
    """What a list does to a shelf: changes by id, rows of ids that the shelf lacks, parts that the list lacks."""

    rows: int
    changes: tuple[PriceChange, ...]
    unknown: tuple[PriceRow, ...]
    lacking: tuple[str, ...]
    discontinued: tuple[str, ...]
    like_ids: tuple[str, ...] = ()
    """Of the rows whose number the map has no id for: numbers that are the id of a part of the shelf."""


def price_changes(rows: Iterable[PriceRow], catalogue: Catalogue) -> PriceChanges:
    """Compare a list with a shelf; of each id the list has one row."""
    rows = tuple(rows)
    known = {row.part: row for row in rows if row.part is not None and row.part in catalogue.parts}
    return PriceChanges(
        rows=len(rows),
        changes=tuple(change for part_id in sorted(known) for change in _changes(known[part_id], catalogue[part_id])),
        unknown=tuple(row for row in rows if row.part not in known),
        lacking=tuple(part_id for part_id in catalogue.parts if part_id not in known),
        discontinued=tuple(sorted(part_id for part_id, row in known.items() if row.discontinued)),
        like_ids=tuple(row.named for row in rows if row.part is None and row.named in catalogue.parts),
    )


def _changes(row: PriceRow, part: Part) -> Iterable[PriceChange]:
    old: dict[Key, float | None] = {"price": part.price, "stock": part.stock, "lead": part.lead_days}
    new: dict[Key, str | None] = {"price": row.price, "stock": row.stock, "lead": row.lead}
    for key in KEYS:
        told, stands = new[key], old[key]
        if told is not None and (stands is None or Decimal(told) != Decimal(repr(stands))):
            yield PriceChange(part.id, key, stands, told, row.line)
