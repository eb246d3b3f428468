"""Where each part of a sheet's kit stands and how its ends look, in words that need no drawing but the sheet's own."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Final

from configurator.presentation.drawing.block_drawing import LOOKS
from configurator.presentation.drawing.facts import Row, SheetFacts
from configurator.presentation.drawing.lengths import plain
from configurator.presentation.drawing.scene import Body
from configurator.presentation.facts import KitFacts
from configurator.presentation.layout_words import STAYS

_ZONE_LETTERS: Final = 24


def cut(name: str, letters: int) -> str:
    """A name, or its beginning where it is longer than that."""
    return name if len(name) <= letters else f"{name[: letters - 1]}…"


def as_shown(bay: SheetFacts, names: Mapping[str, str]) -> SheetFacts:
    """The bay as a sheet draws it: zones by short names, parts by where their ends look; `names` by slot.

    A long name over a small zone would take the room of its views, and faces by the letters of a part's own drawing
    would tell nothing to who has the part alone.
    """
    zones = {
        block.zone: block.zone if len(block.zone) <= _ZONE_LETTERS else f"{block.zone[:_ZONE_LETTERS]}… ({number})"
        for number, block in enumerate(bay.blocks, start=1)
    }
    blocks = tuple(
        replace(block, zone=zones[block.zone], bodies=tuple(replace(body, up="", front="") for body in block.bodies))
        for block in bay.blocks
    )
    return replace(
        bay,
        blocks=blocks,
        routes=tuple(replace(route, zone=zones.get(route.zone, route.zone)) for route in bay.routes),
        parts=tuple(_row(body, block.zone, names[body.name]) for block in blocks for body in block.parts),
    )


def places(facts: KitFacts, bay: SheetFacts | None) -> tuple[tuple[str, ...], ...]:
    """Each part: slot, number in the drawing, name, zone, how its ends look, size as it stands, where it stands."""
    bodies = {} if bay is None else {body.name: body for block in bay.blocks for body in block.parts}
    rows = []
    for slot, name, zone, _ in facts.parts:
        body = bodies.get(slot)
        told = ("", "", "", "") if body is None else (body.key, ends_words(body), _three(body.size), _three(body.low))
        where = "stays" if zone == STAYS else cut(zone, _ZONE_LETTERS)
        rows.append((slot, told[0], name, where, *told[1:]))
    return tuple(rows)


def ends_words(body: Body) -> str:
    """`to the front: 3a charge in; up: 3c coolant in, 3d coolant out`: the ends by the side that they look to."""
    sides: dict[str, list[str]] = {}
    for end in body.ends:
        sides.setdefault(end.side, []).append(f"{end.key} {end.name}")
    return "; ".join(f"{LOOKS[side]}: {', '.join(ends)}" for side, ends in sides.items())


def _row(body: Body, zone: str, name: str) -> Row:
    deep, wide, high = (plain(one) for one in body.size)
    size = f"in {zone}; as placed {deep} deep, {wide} wide, {high} high"
    return Row(body.key, (f"{body.name}: {name}", "; ".join(words for words in (size, ends_words(body)) if words)))


def _three(lengths: tuple[float, float, float]) -> str:
    return ", ".join(plain(one) for one in lengths)
