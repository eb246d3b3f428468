"""Interface classes: parts alike in all that decides whether a loop can be made, before heat and room are asked."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from configurator.parts.ends import End
from configurator.parts.kinds import Cap, Part, Pump, Reservoir
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

    @property
    def meets(self) -> Key:
        """All of its coolant ends that joining looks at: classes that are alike in it are joined alike."""
        return _meets(self.coolant)

    def end(self, role: str) -> End | None:
        """The class's first end of a role; where the ends serve either way, the second is the way out."""
        return self.coolant.end_for(role)


def interface_classes(
    kind: str,
    parts: Sequence[Part],
    zones: Mapping[str, tuple[str, ...]],
    makes: Callable[[Pump], Hashable] = lambda pump: pump.dead_head_pa,
) -> dict[str, InterfaceClass]:
    """Group parts of one kind by interface. Names follow the order of the first member, so they are stable.

    `makes`: what a pump's dead head comes to for all that it is joined with.
    """
    groups: dict[Key, list[Part]] = {}
    for part in parts:
        own = makes(part) if isinstance(part, Pump) else _own(part)
        groups.setdefault((_coolant(part), own, zones.get(part.id, ())), []).append(part)
    found: dict[str, InterfaceClass] = {}
    for number, members in enumerate(groups.values(), start=1):
        name = f"{kind} {number}"
        found[name] = InterfaceClass(name, members[0], tuple(members), zones.get(members[0].id, ()))
    return found


def numbered_by_ends(classes: Mapping[str, InterfaceClass]) -> dict[str, int]:
    """A number for each class by name, the same for those that are joined alike."""
    numbers: dict[Key, int] = {}
    return {name: numbers.setdefault(known.meets, len(numbers)) for name, known in classes.items()}


def _coolant(part: Part) -> Key:
    """What decides whether a part can be joined into a loop and hold it: its coolant ends and rating."""
    passage = getattr(part, "coolant", None)
    if not isinstance(passage, Passage):
        return ()
    return (_meets(passage), passage.rating.working_pa_gauge, passage.rating.stated_as)


def _meets(passage: Passage) -> Key:
    return tuple((end.identity, end.role, end.bore_m) for end in passage.ends)


def _own(part: Part) -> Hashable:
    """A cap's pressure; whether a reservoir is vented and has air in it."""
    if isinstance(part, Cap):
        return float(part.opens_pa_gauge)
    return (part.vented, float(part.air_space) > 0.0) if isinstance(part, Reservoir) else None
