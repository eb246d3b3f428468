"""A kit's layout, and its parts each in its place, in words that are true of what is in it."""

from __future__ import annotations

from collections.abc import Mapping

from configurator.parts.layouts import kind_of_slot
from configurator.questions.answer import OfferedKit

STAYS = "stays in the car"
"""Said of a part where others have their zone."""

_EXCHANGER = "exchanger"


def layout_words(kit: OfferedKit) -> str:
    """The name of its layout; where the kit leaves the front exchanger out, as with ice, the name says so."""
    if any(kind_of_slot(slot) == _EXCHANGER for slot, _ in kit.parts):
        return kit.layout_name
    others = [words for words in kit.layout_name.split(", ") if _EXCHANGER not in words]
    return ", ".join([*others, "no front exchanger"])


def part_rows(kit: OfferedKit, names: Mapping[str, str]) -> tuple[tuple[str, str, str, str], ...]:
    """Slot, name, where it sits and which way round."""
    places = {place.slot: place for place in kit.fit.placements}
    rows = []
    for slot, part in kit.parts:
        place = places.get(slot)
        where = dict(kit.zones).get(slot, STAYS if slot in kit.stays else "")
        turn = "" if place is None else f"face {place.up} up, face {place.front} to the front"
        rows.append((slot, names.get(part, part), where, turn))
    return tuple(rows)
