"""Lines of a bill as strings ready to print."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from configurator.foundations.verdicts import Caution
from configurator.questions.as_routed import MORE
from configurator.search.bill import COOLANT_SPARE, HOSE_WASTE, WIRE_RUN_M, Line, coolant_to_buy_l

COUNTED = ("piece", "set", "joint")
_SURE_L = 0.01
CUTTING = f"{100 * (HOSE_WASTE - 1):.0f} % for cutting"


def money(cents: int, currency: str) -> str:
    """A price: `1,284.50`, with the currency of the brief where it names one; two decimals, as a column has them."""
    return f"{cents / 100:,.2f} {currency}".strip()


def unpriced_words(cautions: Iterable[Caution]) -> str:
    """What stands behind a sum that lacks a price; which it lacks, the caution says."""
    return " (not all priced)" if any(caution.code == "no-price" for caution in cautions) else ""


def line_words(line: Line, currency: str, names: Mapping[str, str]) -> tuple[str, str, str, str, str]:
    """A line of a bill: group, item, quantity, part, price; what nobody here prices says so instead."""
    price = money(line.price_cents, currency) if line.price_cents else "-"
    if line.bring_yourself:
        price = "bring" if line.part is None else "yours"
    item = line.item if line.part is None else f"{line.item}: {names.get(line.part, line.part)}"
    return line.group, item, _quantity(line.quantity, line.unit), line.part or "", price


def is_hose(line: Line) -> bool:
    """Whether a line is hose by the metre."""
    return line.item.startswith("hose") and line.unit == "m"


def bill_notes(lines: Sequence[Line], coolant_l: float | None, longer_m: float = 0.0) -> tuple[str, ...]:
    """What the metres and litres of a bill stand for; `coolant_l`: what the loop holds, where that is known.

    `longer_m`: how much more hose its ways take than its runs.
    """
    notes = []
    if any(is_hose(line) for line in lines):
        notes.append(f"m of hose: all its runs and {CUTTING}, rounded up{_longer_words(lines, longer_m)}")
    if any(line.item == "wire" and line.unit == "m" for line in lines):
        notes.append(f"m of wire: {WIRE_RUN_M:g} m there and as much back, assumed")
    litres = [line for line in lines if line.unit == "L" and line.group == "fill"]
    if coolant_l is not None and litres:
        notes.append(_litres_words(litres, coolant_l))
    return tuple(notes)


def _longer_words(lines: Sequence[Line], longer_m: float) -> str:
    """How much more hose the ways take: out of what is for cutting, or on a line of its own as well."""
    if round(longer_m, 1) <= 0:
        return ""
    apart = any(line.unit == "m" and line.part is None and line.item.startswith(MORE) for line in lines)
    where = "told on a line of its own" if apart else "out of what is for cutting"
    return f"; as routed {longer_m:.1f} m more, {where}"


def _litres_words(litres: Sequence[Line], coolant_l: float) -> str:
    """How the litres of a bill come about; a bill in short may lack some of them."""
    whole = coolant_to_buy_l(coolant_l)
    each = " + ".join(f"{line.quantity:g} L {line.item}" for line in litres)
    mixed = any(line.quantity < whole - _SURE_L for line in litres)
    listed = sum(line.quantity for line in litres) >= whole - _SURE_L
    made = f" = {whole:g} L{': ' if listed else ', of it '}{each} (antifreeze undiluted)" if mixed else f": {each}"
    spare = f"{100 * (COOLANT_SPARE - 1):.0f} % to spare"
    return f"L of coolant: the {coolant_l:.1f} L that the loop holds + {spare}, rounded up{made}"


def _quantity(quantity: float, unit: str) -> str:
    return f"{quantity:g} {unit}{'s' if unit in COUNTED and quantity != 1 else ''}"
