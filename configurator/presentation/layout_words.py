"""A kit's layout in words that are true of what is in it."""

from __future__ import annotations

from configurator.parts.layouts import kind_of_slot
from configurator.questions.answer import OfferedKit

_EXCHANGER = "exchanger"


def layout_words(kit: OfferedKit) -> str:
    """The name of its layout; where the kit leaves the front exchanger out, as with ice, the name says so."""
    if any(kind_of_slot(slot) == _EXCHANGER for slot, _ in kit.parts):
        return kit.layout_name
    others = [words for words in kit.layout_name.split(", ") if _EXCHANGER not in words]
    return ", ".join([*others, "no front exchanger"])
