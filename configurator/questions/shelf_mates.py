"""What each end of a part can be joined to on this shelf: pieces that go straight on, and parts of the loop by hose."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from configurator.joining.hose_joint import HoseJoiner
from configurator.joining.links import Links
from configurator.joining.mating import SLEEVES, mate
from configurator.parts.ends import End
from configurator.parts.kinds import Adapter, Cap, Clamp, Hose, Part, RigidPart, Valve, Wye
from configurator.parts.kit import Medium
from configurator.parts.shelf import Catalogue

LOOP: Final = ("core", "exchanger", "pump", "reservoir")
FLOWS: Final = frozenset({"in", "out", "either"})
"""Roles of ends that the stream goes through."""


@dataclass(frozen=True)
class EndMates:
    """One end of a part, and what of this shelf goes on it.

    `pieces`: ids of what goes straight on, by kind. `by_hose`, `with_adapter`: ids of parts of the loop, of other
    kinds, that a hose alone joins to it, or a hose with adapters. `pipes_m`: charge pipes that its couplers lead to.
    """

    medium: Medium
    end: End
    pieces: tuple[tuple[str, tuple[str, ...]], ...]
    by_hose: tuple[str, ...] = ()
    with_adapter: tuple[str, ...] = ()
    pipes_m: tuple[float, ...] = ()
    missing: str = ""

    @property
    def joins_nothing(self) -> bool:
        """Whether nothing goes on an end, or what goes on it leads to no other part of a loop."""
        return not self.pieces or bool(self.missing)


def ends_of(part: Part) -> Iterator[tuple[Medium, End]]:
    """Every end of a part with what flows in it."""
    if isinstance(part, RigidPart):
        for name, passage in part.passages().items():
            medium: Medium = "charge" if name == "charge" else "coolant"
            yield from ((medium, end) for end in passage.ends)
    elif isinstance(part, Adapter | Wye):
        yield from ((part.medium, end) for end in part.through.ends)
    elif isinstance(part, Valve):
        yield from (("coolant", end) for end in part.through.ends)
    elif isinstance(part, Cap):
        yield from (("coolant", end) for end in part.coolant.ends)


class Mates:
    """What goes with what on one shelf; pairs of ends are judged once."""

    def __init__(self, catalogue: Catalogue) -> None:
        self._catalogue = catalogue
        coolant = [part for part in catalogue.of(Adapter) if part.medium == "coolant"]
        self._links = Links(catalogue.of(Hose), coolant, catalogue.of(Clamp))
        self._joiner = HoseJoiner(catalogue.of(Hose), coolant, catalogue.of(Clamp))
        self._ends = [
            (part, medium, end, end.identity) for part in catalogue.parts.values() for medium, end in ends_of(part)
        ]
        self._direct: dict[object, dict[object, bool]] = {}

    def of(self, part: Part) -> tuple[EndMates, ...]:
        """The ends of a part in the order in which they are written."""
        return tuple(self._end(part, medium, end) for medium, end in ends_of(part))

    def _end(self, part: Part, medium: Medium, end: End) -> EndMates:
        kind = part.kind
        pieces: dict[str, list[str]] = {}
        if medium == "coolant":
            for hose in self._links.hoses_on(end):
                pieces.setdefault("hose", []).append(hose.id)
        pipes = set()
        direct = self._direct.setdefault((medium, end.identity), {})
        for other, flows, far, identity in self._ends:
            if other.id == part.id or flows != medium:
                continue
            if identity not in direct:
                direct[identity] = _goes_on(medium, end, far)
            if not direct[identity]:
                continue
            ids = pieces.setdefault(other.kind, [])
            if other.id not in ids:
                ids.append(other.id)
            if medium == "charge" and isinstance(other, Adapter):
                pipes |= {size for e in other.through.ends if e is not far and (size := e.size_m) is not None}
        hosed, adapted, missing = self._parts(part, end) if self._in_the_loop(kind, medium, end) else ((), (), "")
        told = tuple((name, tuple(ids)) for name, ids in pieces.items())
        return EndMates(medium, end, told, hosed, adapted, tuple(sorted(pipes)), missing)

    @staticmethod
    def _in_the_loop(kind: str, medium: Medium, end: End) -> bool:
        return kind in LOOP and medium == "coolant" and end.role in FLOWS

    def _parts(self, part: Part, end: End) -> tuple[tuple[str, ...], tuple[str, ...], str]:
        """Parts of the loop that a hose joins to an end, those that take adapters as well, and what is missing."""
        hoses = set(self._links.hoses_on(end))
        hosed: dict[str, None] = {}
        adapted: dict[str, None] = {}
        missing: dict[str, None] = {}
        known: dict[object, tuple[dict[str, None], str | None]] = {}
        for other, medium, far, identity in self._ends:
            kind = other.kind
            if kind == part.kind or not self._in_the_loop(kind, medium, far):
                continue
            alike = (identity, far.bore_m)
            if alike not in known:
                by_hose = not hoses.isdisjoint(self._links.hoses_on(far))
                apart = None if by_hose else self._joiner.apart(end, far)
                known[alike] = (missing, apart.text) if apart is not None else (hosed if by_hose else adapted, None)
            among, text = known[alike]
            among[text or other.id] = None
        alone = tuple(name for name in adapted if name not in hosed)
        return tuple(hosed), alone, next(iter(missing), "") if not hosed and not alone else ""


def _goes_on(medium: Medium, end: End, other: End) -> bool:
    """Whether two ends go together as they are; spigots only through a sleeve."""
    spigot = "spigot" in (end.form, other.form) and SLEEVES.isdisjoint((end.form, other.form))
    return not spigot and mate(end, other, medium=medium).verdict == "direct"
