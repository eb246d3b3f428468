"""What a part goes together with, neighbour by neighbour: why one that passes alone may still be in no loop."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from configurator.joining.words import bars_apart
from configurator.parts.layouts import kind_of_slot
from configurator.search.classes import InterfaceClass
from configurator.search.pressures import NO_CAP
from configurator.search.skeleton_solver import Table
from configurator.search.skeletons import SkeletonMaker

_ENDS: Final = 2
"""The first variables of a rule of joints are its two ends, the last the pump and cap that decide its pressure."""


@dataclass(frozen=True)
class Pairing:
    """A part and one kind of neighbour under one rule: the ids that go with it, of so many in question.

    `rule`: `joint` (their ends can be joined), `cap` (cap and neck suit), `rating` (the part holds what the cap and
    some pump make; of a cap, the part that holds what it makes; of pump and part told where not all hold). `refused`:
    where ends join with none, the rule that most of those runs break; where none holds, both pressures.
    """

    rule: str
    kind: str
    goes: tuple[str, ...]
    of: int
    refused: str = ""


def pairings(maker: SkeletonMaker, part_id: str) -> tuple[Pairing, ...]:
    """Each neighbour of a part that passed the sieve, rule by rule; where a loop has none of it, with what it goes."""
    known = {**maker.classes, "cap": maker.caps}
    return tuple(
        found
        for table in maker.tables()
        for slot, other in _asked(table)
        for found in _pairing(maker, table, (slot, other), known, part_id)
    )


def _asked(table: Table) -> Iterator[tuple[str, str]]:
    """Which variables of a rule are looked at from which."""
    if table.rule == "joint":
        start, finish = table.variables[:_ENDS]
        behind = [variable for variable in table.variables[_ENDS:] if variable not in ("pump", "cap")]
        if finish != "pump" or kind_of_slot(start) == "reservoir":  # else twins in turn: both ends are one variable
            yield from ((start, finish), (finish, start))
        for last in behind:  # of a gap with a bypass: the exchanger, and what follows it
            yield from ((finish, last), (last, finish))
    elif table.rule in ("cap", "rating"):
        part, cap = table.variables[0], "cap"
        yield from ((part, cap), (cap, part))
        if table.rule == "rating" and part != "pump":
            yield from ((part, "pump"), ("pump", part))


def _pairing(
    maker: SkeletonMaker,
    table: Table,
    slots: tuple[str, str],
    known: Mapping[str, Mapping[str, InterfaceClass]],
    part_id: str,
) -> Iterator[Pairing]:
    slot, other = slots
    mine = next((name for name, one in known[slot].items() if part_id in (part.id for part in one.members)), None)
    if mine is None:
        return
    at, there = table.variables.index(slot), table.variables.index(other)
    names = {values[there] for values in table.allowed if values[at] == mine}
    goes = sorted(part.id for name, one in known[other].items() if name in names for part in one.members)
    bare = (NO_CAP,) if other == "cap" and NO_CAP in names else ()
    of = sum(len(one.members) for one in known[other].values()) + len(bare)
    if table.rule == "rating" and "cap" not in slots and (len(goes) == of or (not goes and other == "pump")):
        return  # all hold; or with no pump, and then with no cap either
    refused = ""
    if not goes and table.rule == "joint":
        refused = _refused(maker, table, slots, mine, known[other])
    elif not goes and other != "cap" and slot == "pump":
        refused = _too_weak(maker, other, mine, known[other])
    yield Pairing(table.rule, kind_of_slot(other), (*bare, *goes), of, refused)


def _too_weak(maker: SkeletonMaker, slot: str, pump: str, others: Mapping[str, InterfaceClass]) -> str:
    """What a pump makes in the place of a slot under the cap that opens first, against the strongest part there."""
    ratings = [one.coolant.rating.working_pa_gauge for one in others.values()]
    strongest = max((float(rating) for rating in ratings if rating is not None), default=0.0)
    makes, holds = bars_apart(maker.least_design_pa(pump, after_pump=slot != "reservoir"), strongest)
    return f"{makes} is the least that comes to it with this pump, {holds} the most that one of them holds"


def _refused(
    maker: SkeletonMaker, table: Table, slots: tuple[str, str], mine: str, others: Mapping[str, InterfaceClass]
) -> str:
    """The rule that most runs to a neighbour break, in words; the first by the alphabet of as many."""
    start, finish = sorted(slots, key=table.variables.index)
    counted = Counter[str]()
    for name, one in others.items():
        ends = (mine, name) if slots == (start, finish) else (name, mine)
        verdict = maker.refusal(start, finish, *ends)
        if verdict is not None:
            counted[verdict.text] += len(one.members)
    return min(counted, key=lambda text: (-counted[text], text), default="")
