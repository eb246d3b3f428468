"""A few parts that stand for the whole shelf while a figure is halved: those of the kits that come nearest."""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterable, Sequence

from configurator.parts.layouts import kind_of_slot
from configurator.parts.shelf import Catalogue, make_catalogue
from configurator.questions.searches import Searched, kept, missing
from configurator.search.fill import Candidate

_FEW = {"core": 3, "exchanger": 4, "pump": 2, "reservoir": 2, "cap": 2, "fan": 1, "timer": 1}
"""How many parts of a kind; all others, as hoses and adapters, stay on the shelf."""

_NEAREST = 500
"""How many kits are looked at for them."""

_UNKNOWN = 6
"""How many where no kit says which are the best; of caps all, for few suit a neck."""

_OF_ZONE = 16
"""How many parts that have no room in a zone, beside them."""

_OF_HEAT = {"aim", "charge loss", "coolant temperature", "coolant boils"}


def few(catalogue: Catalogue, found: Sequence[Searched], zones: Sequence[str] = ()) -> Catalogue:
    """The parts of the kits that come nearest, and with `zones` those that have no room there.

    Where there is no kit at all, the first of each kind, all caps, and what has no room anywhere.
    """
    kits = heapq.nsmallest(_NEAREST, (*kept(found), *missing(found)), key=_nearness)
    chosen: dict[str, list[str]] = {kind: [] for kind in _FEW}
    for kit in kits:
        for slot, part in kit.kit.parts:
            of_kind = chosen[kind_of_slot(slot)]
            if part not in of_kind and len(of_kind) < _FEW[kind_of_slot(slot)]:
                of_kind.append(part)
    for one in found:
        for kind, ids in chosen.items():
            if not ids:
                ids += [part.id for part in one.parts.of(kind)][: _UNKNOWN if kind != "cap" else None]
    out = kept_out(found, zones or (() if kits else None))
    return _shelf(catalogue, {*(part for ids in chosen.values() for part in ids), *out[:_OF_ZONE]})


def best_of(kits: Sequence[Candidate]) -> set[str]:
    """The parts of the coolest and of the cheapest of these kits."""
    coolest = min(kits, key=lambda kit: (-kit.margin_k, kit.ids))
    cheapest = min(kits, key=lambda kit: (kit.price_cents, kit.ids))
    return {part for kit in (coolest, cheapest) for _, part in kit.kit.parts}


def with_parts(catalogue: Catalogue, shelf: Catalogue, ids: Iterable[str]) -> Catalogue:
    """The few parts of `shelf`, and these."""
    return _shelf(catalogue, {*shelf.parts, *ids})


def holds_all(catalogue: Catalogue, shelf: Catalogue) -> bool:
    """Whether the few parts are all that there are: then what they do not make, the whole shelf does not."""
    return len(shelf.parts) == len(catalogue.parts)


def kept_out(found: Iterable[Searched], zones: Sequence[str] | None) -> list[str]:
    """Parts that the room of zones (None: any) keeps out of every kit, the least missed first."""
    out = [
        exclusion
        for one in found
        for exclusion in one.exclusions
        if exclusion.zone and (zones is None or exclusion.zone in zones)
    ]
    out.sort(key=lambda exclusion: (float(exclusion.found or 0), exclusion.part))
    return list(dict.fromkeys(exclusion.part for exclusion in out))


def warm_kits(found: Sequence[Searched]) -> bool:
    """Whether there is a kit that would do if it had less heat to carry away, or no kit at all."""
    of_heat = [set(kit.missed) <= _OF_HEAT for kit in missing(found)]
    return any(of_heat) or not (of_heat or kept(found))


def _shelf(catalogue: Catalogue, ids: set[str]) -> Catalogue:
    parts = [part for part in catalogue.parts.values() if part.id in ids or part.kind not in _FEW]
    return make_catalogue(parts, catalogue.layouts)


def _nearness(kit: Candidate) -> tuple[object, ...]:
    """Fewest misses beside the aim, the coolest, the cheapest."""
    others = sum(code != "aim" for code in kit.missed)
    margin = math.inf if math.isnan(kit.margin_k) else -kit.margin_k
    return (others, margin if "aim" in kit.missed else 0.0, kit.price_cents, kit.ids)
