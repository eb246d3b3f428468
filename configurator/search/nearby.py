"""From one kit to better ones: all that differ from it in one part are looked at, the best of them is the next.

A shelf of thousands has kits that keep every demand where the most hopeful groups have none: what a group may be at
best says little of what it is. From kit to kit one comes there soon. Nothing is left out by it, and nothing proved.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from itertools import product
from random import Random

from configurator.parts.kinds import Part, RigidPart
from configurator.parts.layouts import kind_of_slot
from configurator.search.classes import InterfaceClass
from configurator.search.fill import Candidate
from configurator.search.needs import size_mm
from configurator.search.patience import Patience, spread
from configurator.search.rows import Row, RowMaker
from configurator.search.skeleton import Skeleton, by_loop
from configurator.search.skeletons import SkeletonMaker

MOST_OF_A_KIND = 96
"""So many parts of a kind are tried in the place of a kit's own, from all over the shelf."""

_ANSWERS, _TRIES = 8, 8
"""To begin with so many of the solver's answers are tried, from all over, and so many choices of parts for each."""


class Nearby:
    """Loops from all over the shelf, and those that differ from a kit in one part."""

    def __init__(self, maker: SkeletonMaker, rows: RowMaker) -> None:
        """`maker` knows what joins what, `rows` places it."""
        self._maker = maker
        self._rows = rows
        self._class_of = {
            (slot, part.id): name
            for slot, classes in maker.classes.items()
            for name, known in classes.items()
            for part in known.members
        }
        self._by_size: dict[str, list[Part]] = {}

    def anywhere(self, patience: Patience) -> Iterator[Row]:
        """A loop for each class of cores with each of exchangers, placed, where one is found soon; in mixed order."""
        slots = self._maker.heat_slots
        pairs = list(product(*(self._maker.classes[slot] for slot in slots)))
        Random(0).shuffle(pairs)
        for names in pairs:
            found = self._maker.assignments_with(dict(zip(slots, names, strict=True)))
            for one in spread(found, _ANSWERS):
                if patience.over():
                    return
                row = next(self._some(self._maker.skeleton(one)), None)
                if row is not None:
                    yield row
                    break

    def _some(self, skeleton: Skeleton) -> Iterator[Row]:
        """Some of a skeleton's loops: that of the smallest parts, and others of ever larger ones, from a fixed seed.

        On a shelf of thousands the parts that share a zone hardly ever go in together as they are drawn from all.
        """
        ((_, caps),) = by_loop([skeleton])
        draw = Random(0)
        for most in (2**at for at in range(_TRIES)):
            small = {kind_of_slot(slot): self._smallest(known)[:most] for slot, known in skeleton.classes}
            of_kind = {kind: draw.choice(parts) for kind, parts in small.items()}
            yield from self._rows.rows_with(skeleton, of_kind, caps)

    def _smallest(self, known: InterfaceClass) -> list[Part]:
        """The members of a class, the smallest box first."""
        if known.name not in self._by_size:
            self._by_size[known.name] = sorted(known.members, key=_volume)
        return self._by_size[known.name]

    def of(self, kit: Candidate, patience: Patience) -> Iterator[Row]:
        """The loops, placed, kind by kind; those of other zones too."""
        own = {slot: part for slot, part in kit.kit.parts if (slot, part) in self._class_of}
        classes = {slot: self._class_of[slot, part] for slot, part in own.items()}
        for slot, known in self._maker.classes.items():
            every = [(name, part) for name, members in known.items() for part in members.members]
            chosen: dict[str, list[Part]] = {}
            for name, part in spread(every, MOST_OF_A_KIND):
                chosen.setdefault(name, []).append(part)
            for name, parts in chosen.items():
                if patience.over():
                    return
                yield from self._with({**classes, slot: name}, own, slot, parts)

    def _with(
        self, classes: Mapping[str, str], own: Mapping[str, str], slot: str, parts: list[Part]
    ) -> Iterator[Row]:
        """The loops of some classes with each of some parts in a slot, else with a kit's own."""
        found = (self._maker.skeleton(one) for one in self._maker.assignments_with(classes))
        for skeleton, caps in by_loop(found):
            members = {of: {part.id: part for part in known.members} for of, known in skeleton.classes}
            kept = {kind_of_slot(of): members[of][own[of]] for of in own if of != slot}
            for part in parts:
                yield from self._rows.rows_with(skeleton, {**kept, kind_of_slot(slot): part}, caps)


def _volume(part: Part) -> int:
    """A part's box [mm3]."""
    return math.prod(size_mm(part)) if isinstance(part, RigidPart) else 0
