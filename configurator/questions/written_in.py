"""Where a figure of a part is written, so that one that nobody knows can be asked for by file and key."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from configurator.parts.kinds import Adapter, Hose, Part, Valve, Wye
from configurator.parts.kit import Medium
from configurator.parts.own import OwnPart
from configurator.parts.shelf import Catalogue


@dataclass(frozen=True)
class WrittenIn:
    """The files in which the parts of a box stand: the catalogue, the brief for what the customer has, the kit file."""

    catalogue: Catalogue
    parts: Sequence[Part]
    own: Sequence[OwnPart] = ()

    def entry(self, part_id: str) -> str:
        """In words, the entry of a part in its file."""
        if part_id in self.catalogue.parts:
            return f"the entry of '{part_id}' in the catalogue"
        of_customer = any(held.part.id == part_id for held in self.own)
        return f"the entry of '{part_id}' in the {'brief' if of_customer else 'kit file'}"

    def rating(self, part_id: str, medium: Medium) -> str:
        """In words, where the pressure that one passage of a part may work at is written."""
        part = {**self.catalogue.parts, **{part.id: part for part in self.parts}}[part_id]
        if isinstance(part, Hose):
            return f"`working:` in {self.entry(part_id)}"
        passage = "through" if isinstance(part, Adapter | Wye | Valve) else medium
        return f"`working:` under `{passage}:` in {self.entry(part_id)}"
