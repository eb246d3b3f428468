"""Interface classes: parts alike in everything that decides whether they can go together, before heat is asked."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from configurator.parts.ends import End
from configurator.parts.kinds import Cap, Part, Pump, Reservoir, RigidPart
from configurator.parts.passages import Passage

Key = tuple[Any, ...]


@dataclass(frozen=True)
class InterfaceClass:
    """One class: its name, one part that stands for all of them, and every member by id."""

    name: str
    standing_in: Part
    members: tuple[Part, ...]
    zones: tuple[str, ...]

    @property
    def coolant(self) -> Passage:
        """The coolant passage that all members share in ends and rating."""
        passage = getattr(self.standing_in, "coolant")  # noqa: B009 -- every kind that fills a slot has one
        assert isinstance(passage, Passage)
        return passage

    def end(self, role: str) -> End | None:
        """The class's first end of a role; where the ends serve either way, the second is the way out."""
        return self.coolant.end_for(role)


def interface_classes(
    kind: str, parts: Sequence[Part], zones: Mapping[str, tuple[str, ...]]
) -> dict[str, InterfaceClass]:
    """Group parts of one kind by interface. Names follow the order of the first member, so they are stable."""
    groups: dict[Key, list[Part]] = {}
    for part in parts:
        groups.setdefault((*_key(part), zones.get(part.id, ())), []).append(part)
    found: dict[str, InterfaceClass] = {}
    for number, members in enumerate(groups.values(), start=1):
        name = f"{kind} {number}"
        found[name] = InterfaceClass(name, members[0], tuple(members), zones.get(members[0].id, ()))
    return found


def _key(part: Part) -> Key:
    """What decides joining, holding and turning: ends, ratings, and the pump's dead-head or the cap's pressure."""
    passages: list[Key] = []
    for name in ("charge", "coolant"):
        passage = getattr(part, name, None)
        if isinstance(passage, Passage):
            ends = tuple((end.identity, end.role, end.bore_m) for end in passage.ends)
            passages.append((name, ends, passage.rating.working_pa_gauge, passage.rating.stated_as))
    own: Key = ()
    if isinstance(part, Pump):
        own = (part.dead_head_pa, part.volts)
    elif isinstance(part, Cap):
        own = (float(part.opens_pa_gauge),)
    elif isinstance(part, Reservoir):
        own = (part.vented, float(part.air_space) > 0.0)
    turns = part.turns if isinstance(part, RigidPart) else None
    return (tuple(passages), own, turns)
