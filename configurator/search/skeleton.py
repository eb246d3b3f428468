"""One way to put a loop together, before particular parts are chosen, and the steps of its layout."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from configurator.parts.kinds import Part
from configurator.parts.kit import Joint
from configurator.parts.layouts import Layout, kind_of_slot
from configurator.search.classes import InterfaceClass

HEAT = ("core", "exchanger")

Caps = tuple[Part | None, ...]
"""Caps that suit; None: no cap."""

Found = Mapping[str, str]
"""One of the solver's answers: a class for each slot and the cap, a zone for each slot."""

Runs = tuple[tuple[Joint, ...], tuple[Joint, ...], tuple[frozenset[str], ...]]
"""Coolant runs as in `Skeleton`: as they are best, the same made tight, and the zones of each."""


@dataclass(frozen=True)
class Skeleton:
    """One way to put the loop together: a class for each slot, a zone for each rigid slot, the coolant runs.

    `tight`: the same runs, made so that they need the least room before their ends; `of_zones`: by run, the zones it
    starts and ends in.
    """

    classes: tuple[tuple[str, InterfaceClass], ...]
    zones: tuple[tuple[str, str], ...]
    cap: InterfaceClass | None
    runs: tuple[Joint, ...]
    tight: tuple[Joint, ...]
    of_zones: tuple[frozenset[str], ...]

    @property
    def loop_key(self) -> tuple[object, ...]:
        """What tells one skeleton's loops from another's: all but the cap."""
        return (*(known.name for _, known in self.classes), self.zones, *self.runs_key)

    @property
    def runs_key(self) -> tuple[int, ...]:
        """What tells its runs from others. Equal runs are one and the same joint."""
        return tuple(id(run) for run in (*self.runs, *self.tight))


def by_loop(skeletons: Iterable[Skeleton]) -> list[tuple[Skeleton, Caps]]:
    """One skeleton for all that make the same loops, with the caps of all of them."""
    alike: dict[tuple[object, ...], tuple[Skeleton, list[Part | None]]] = {}
    for skeleton in skeletons:
        _, caps = alike.setdefault(skeleton.loop_key, (skeleton, []))
        caps.extend([None] if skeleton.cap is None else skeleton.cap.members)
    return [(skeleton, tuple(caps)) for skeleton, caps in alike.values()]


def but_for_cap(answers: Iterable[Found]) -> list[list[Found]]:
    """The solver's answers, those together that differ by the cap alone."""
    alike: dict[tuple[str, ...], list[Found]] = {}
    for found in answers:
        alike.setdefault(tuple({**found, "cap": ""}.values()), []).append(found)
    return list(alike.values())


def by_runs(skeletons: Iterable[Skeleton]) -> list[tuple[Skeleton, tuple[tuple[Part, Caps], ...]]]:
    """Of skeletons that differ by pump and cap alone: one for each way to make the runs, with pumps and their caps."""
    alike: dict[tuple[int, ...], tuple[Skeleton, dict[str, tuple[Part, list[Part | None]]]]] = {}
    for skeleton in skeletons:
        _, pumps = alike.setdefault(skeleton.runs_key, (skeleton, {}))
        caps = [None] if skeleton.cap is None else skeleton.cap.members
        for pump in dict(skeleton.classes)["pump"].members:
            pumps.setdefault(pump.id, (pump, []))[1].extend(caps)
    return [
        (skeleton, tuple((pump, tuple(caps)) for pump, caps in pumps.values())) for skeleton, pumps in alike.values()
    ]


def loop_steps(layout: Layout, unwanted: Sequence[str]) -> tuple[tuple[str, ...], ...]:
    """The steps of the loop in flow order, each with its slots: without those that are unwanted and may be empty."""
    least = {slot.slot: slot.least for slot in layout.slots}
    filled = (
        tuple(slot for slot in step if least[slot] > 0 or kind_of_slot(slot) not in unwanted) for step in layout.steps
    )
    return tuple(step for step in filled if step)


def leaders(slots: Sequence[str]) -> dict[str, str]:
    """The slot whose part a slot takes too: twins are two of the same part, and the first is chosen for both."""
    first: dict[str, str] = {}
    return {slot: first.setdefault(kind_of_slot(slot), slot) for slot in slots}
