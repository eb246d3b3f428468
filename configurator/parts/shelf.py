"""The catalogue in memory: an immutable shelf of parts, looked up by id and by kind."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from types import MappingProxyType
from typing import TypeVar

from configurator.parts.kinds import Part
from configurator.parts.layouts import Layout

P = TypeVar("P", bound=Part)


@dataclass(frozen=True)
class Catalogue:
    """All parts by id, and the layouts they can be put together in. Iteration is always in id order."""

    parts: Mapping[str, Part]
    layouts: tuple[Layout, ...]
    fingerprint: str = field(default="")

    def of(self, kind: type[P]) -> tuple[P, ...]:
        """All parts of one kind, by id."""
        return self._by_kind.get(kind, ())  # type: ignore[return-value]

    @cached_property
    def _by_kind(self) -> dict[type[Part], tuple[Part, ...]]:
        kinds = dict.fromkeys(type(part) for part in self.parts.values())
        return {kind: tuple(part for part in self.parts.values() if type(part) is kind) for kind in kinds}

    def __getitem__(self, part_id: str) -> Part:
        return self.parts[part_id]


def make_catalogue(parts: Iterable[Part], layouts: Iterable[Layout]) -> Catalogue:
    """Put parts on a shelf: sorted by id, with a fingerprint of everything that is written about them."""
    ordered = {part.id: part for part in sorted(parts, key=lambda part: part.id)}
    known = tuple(sorted(layouts, key=lambda layout: layout.id))
    written = json.dumps(
        [
            [part.model_dump(mode="json") for part in ordered.values()],
            [lay.model_dump(mode="json") for lay in known],
        ],
        sort_keys=True,
    )
    return Catalogue(MappingProxyType(ordered), known, hashlib.sha256(written.encode()).hexdigest()[:16])
