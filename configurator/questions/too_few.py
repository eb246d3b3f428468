"""What a bill takes more of than the shelf has: each part is looked for by itself, its sum is known only on a bill."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from configurator.search.bill import Line


@dataclass(frozen=True)
class TooFew:
    """A part of which a bill takes more than there is, both in its unit: pieces, or metres of hose and wire."""

    part: str
    takes: float
    there: int
    unit: str


def too_few(lines: Iterable[Line], stock_of: Callable[[str], int | None]) -> tuple[TooFew, ...]:
    """Each such part once, in the order of the bill; not what the customer has, nor what states no stock."""
    takes: dict[tuple[str, str], float] = {}
    for line in lines:
        if line.part is not None and not line.bring_yourself:
            takes[line.part, line.unit] = takes.get((line.part, line.unit), 0.0) + line.quantity
    held = ((part, unit, much, stock_of(part)) for (part, unit), much in takes.items())
    return tuple(
        TooFew(part, much, there, unit) for part, unit, much, there in held if there is not None and there < much
    )
