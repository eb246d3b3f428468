"""A kit beside others of its answer: what each has more or less."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Final

from configurator.presentation.bill_words import money
from configurator.presentation.facts import KitFacts
from configurator.questions.answer import OfferedKit

MOST: Final = 3
SAME: Final = "the same"


def alternatives(kit: OfferedKit, offered: Sequence[OfferedKit]) -> tuple[OfferedKit, ...]:
    """The best others of an answer, as many as stand beside a kit."""
    return tuple(other for other in offered if other.rank != kit.rank)[:MOST]


def rows_beside(
    kits: Sequence[OfferedKit], told: Mapping[int, KitFacts], names: Mapping[str, str], currency: str
) -> tuple[tuple[str, ...], ...]:
    """Rows of a table with a column for each kit, the first the one that others are held against."""
    return tuple(_rows(kits, told, names, currency))


def _rows(
    kits: Sequence[OfferedKit], told: Mapping[int, KitFacts], names: Mapping[str, str], currency: str
) -> Iterator[tuple[str, ...]]:
    slots = dict.fromkeys(slot for kit in kits for slot, _ in kit.parts)
    for slot in slots:
        held = [dict(kit.parts).get(slot, "") for kit in kits]
        if len(set(held)) > 1:
            yield slot, *(names.get(part, part) or "none" for part in held)
    facts = [told[kit.rank] for kit in kits]
    if any(one.restart for one in facts):
        yield "charge on restart", *(f"{one.restart} degC" for one in facts)
    yield "charge at worst", *(f"{one.worst} ({one.band})" for one in facts)
    yield _compared("margin", kits, [one.margin for one in facts], lambda kit: kit.thermal.margin_k, "{:+.1f} K")
    yield _compared("room all round", kits, [one.room for one in facts], _room_mm, "{:+g} mm")
    yield _compared("price", kits, [one.price for one in facts], lambda kit: kit.price_cents / 100,
                    lambda more: f"{'+' if more > 0 else '-'}{money(round(100 * abs(more)), currency)}")  # fmt: skip
    yield _compared("mass, dry", kits, [f"{kit.mass_dry_g / 1e3:.1f} kg" for kit in kits],
                    lambda kit: kit.mass_dry_g / 1e3, "{:+.1f} kg")  # fmt: skip
    yield _compared("current", kits, [f"{kit.current_a:.1f} A" for kit in kits], lambda kit: kit.current_a, "{:+.1f} A")
    if any(one.marks for one in facts):
        yield "of those listed", *(one.marks or "-" for one in facts)


def _compared(
    name: str,
    kits: Sequence[OfferedKit],
    shown: Sequence[str],
    value: Callable[[OfferedKit], float],
    more: str | Callable[[float], str],
) -> tuple[str, ...]:
    """A figure of every kit, behind it in brackets what it has more or less than the first."""
    base = value(kits[0])
    cells = [shown[0]]
    for kit, words in zip(kits[1:], shown[1:], strict=True):
        by = value(kit) - base
        apart = more.format(by) if isinstance(more, str) else more(by)
        cells.append(f"{words} ({apart if words != shown[0] else SAME})")
    return name, *cells


def _room_mm(kit: OfferedKit) -> float:
    return kit.fit.clearance_mm if kit.fit.decided else 0.0
