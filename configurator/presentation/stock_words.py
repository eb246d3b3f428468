"""Whether the parts of a kit can be had today."""

from __future__ import annotations

from configurator.parts.layouts import the_slot
from configurator.questions.answer import OfferedKit

MOST_NAMED = 2
"""Of so many parts whose stock nobody states each is named; of more only how many they are."""


def stock_words(kit: OfferedKit) -> str:
    """`all in stock but the pump`, and of which parts the shelf does not state it."""
    unsaid = [f"{the_slot(slot)} (stock not stated)" for slot in kit.stock_unsaid]
    if len(unsaid) > MOST_NAMED:
        unsaid = [f"{len(unsaid)} parts whose stock is not stated"]
    but = [*(the_slot(slot) for slot in kit.to_order), *unsaid]
    return f"all in stock but {' and '.join(but)}" if but else "all in stock"
