"""Layouts: the loop as data. Ordered slots in flow order, with parallel groups."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from pydantic import Field

from configurator.foundations.records import Count, Fault, Record
from configurator.foundations.verdicts import Verdict

SlotKind = Literal["core", "exchanger", "pump", "reservoir", "cap", "fan"]

HEAT_KINDS = ("core", "exchanger")
"""Kinds that may lie twice in a loop, in series or side by side."""

Lie = Literal["parallel", "series"]
Twins = tuple[tuple[str, Lie], ...]
"""The kinds that lie twice in a loop, each with how: side by side, or one after the other."""


def kind_of_slot(slot: str) -> str:
    """The kind of a slot by its name: `exchanger` of `exchanger` and of `exchanger-2`."""
    return slot.partition("-")[0]


def the_slot(slot: str) -> str:
    """A slot in a sentence: `the core`, and `core-1`, which is a name as it has a number."""
    return slot if slot != kind_of_slot(slot) else f"the {slot}"


class Slot(Record):
    """A place for parts of one kind: how many at least and at most, and where it lies."""

    slot: str
    kind: SlotKind
    least: Count = Field(ge=0, le=2)
    most: Count = Field(ge=1, le=2)
    path: Literal["coolant", "on reservoir", "beside"] = "coolant"


class Layout(Record):
    """A named layout: slots, and the loop in flow order; a list inside the loop is a parallel group.

    `bypass`: the exchanger that a three-way valve before it can shut out of the circuit, and a wye behind it.
    """

    id: str
    name: str = Field(min_length=1, max_length=200)
    slots: tuple[Slot, ...]
    loop: tuple[str | tuple[str, ...], ...] = Field(min_length=1)
    bypass: str | None = None

    def faults(self) -> Iterator[Fault]:
        """Slots badly named, named twice or turned about; a loop that is not its slots, or in no sound flow order."""
        names = [slot.slot for slot in self.slots]
        for index, slot in enumerate(self.slots):
            if slot.slot in names[:index]:
                yield Fault(f"two slots are named '{slot.slot}'", ("slots", index, "slot"))
            if slot.most < slot.least:
                yield Fault(f"most {slot.most} is below least {slot.least}", ("slots", index, "most"))
            if slot.slot not in _names_of(slot.kind, [s.kind for s in self.slots].count(slot.kind)):
                text = f"a slot is named by its kind: '{slot.kind}', or '{slot.kind}-1' and '{slot.kind}-2' for two"
                yield Fault(text, ("slots", index, "slot"))
        in_path = [slot.slot for slot in self.slots if slot.path == "coolant"]
        in_loop = [name for step in self.steps for name in step]
        if sorted(in_path) != sorted(in_loop):
            text = f"the loop names each slot of the coolant path once: {', '.join(in_path)}"
            yield Fault(f"{text}; it names {', '.join(in_loop)}", ("loop",))
            return
        for verdict in flow_order_rules(self):
            if verdict.state == "broken":
                yield Fault(verdict.text, ("loop",))
        if self.bypass is not None and not self._can_be_passed(self.bypass):
            text = "only a single exchanger that must be there, behind a single core, has a bypass: name its slot"
            yield Fault(text, ("bypass",))

    def _can_be_passed(self, bypassed: str) -> bool:
        """Whether a slot holds an exchanger, and it and its two neighbours in the flow lie in no pair."""
        steps = self.steps
        at = next((index for index, step in enumerate(steps) if step == (bypassed,)), None)
        if at is None or len(steps[at - 1]) > 1 or len(steps[(at + 1) % len(steps)]) > 1:
            return False
        wanted = any(slot.slot == bypassed and slot.kind == "exchanger" and slot.least > 0 for slot in self.slots)
        return wanted and kind_of_slot(steps[at - 1][0]) == "core"

    @property
    def steps(self) -> tuple[tuple[str, ...], ...]:
        """The loop from the reservoir on, in flow order: each step with the slots that lie side by side in it."""
        steps = tuple((step,) if isinstance(step, str) else step for step in self.loop)
        first = next((at for at, step in enumerate(steps) if "reservoir" in step), 0)
        return (*steps[first:], *steps[:first])

    @property
    def twins(self) -> Twins:
        """The kinds that lie twice in the loop, and how they do."""
        side_by_side = {kind_of_slot(step[0]) for step in self.steps if len(step) > 1}
        twice = [kind for kind in HEAT_KINDS if self.count(kind) > 1]
        return tuple((kind, "parallel" if kind in side_by_side else "series") for kind in twice)

    def count(self, kind: str) -> int:
        """How many slots of a kind the loop has."""
        return sum(slot.kind == kind for slot in self.slots)


def flow_order_rules(layout: Layout) -> tuple[Verdict, ...]:
    """Every rule of the order in which coolant passes a layout's slots, kept or broken.

    Core and exchanger may come in either order: in a loop that runs for ever both give the same heat, and the order
    only decides what the reservoir holds. Common practice, no source: the rest of the rules.
    """
    steps = layout.steps
    count = len(steps)
    pump = next((at for at, step in enumerate(steps) if "pump" in step), None)
    if pump is None or "reservoir" not in steps[0]:
        text = "a loop has one reservoir and one pump"
        return (_broken("pump-not-fed-by-reservoir", steps[0], text),)
    before, after = steps[pump - 1], steps[(pump + 1) % count]
    return (
        _judged(
            "pump-not-fed-by-reservoir",
            before == ("reservoir",),
            before,
            f"the pump is fed by {' and '.join(before)}: it has to be fed straight from the reservoir, or its inlet "
            "runs dry and it cavitates",
        ),
        _judged(
            "reservoir-on-pump-outlet",
            count == 2 or after != ("reservoir",),
            after,
            "the reservoir lies on the pump's outlet: it would stand under the pump's head, which it is not made for, "
            "and air in it would never settle",
        ),
        *(_side_by_side(step) for step in steps if len(step) > 1),
        *(
            _judged("pairs-in-a-row", len(here) == 1 or len(there) == 1, (*here, *there), _IN_A_ROW)
            for here, there in zip(steps, (*steps[1:], steps[0]), strict=True)
        ),
        _judged(
            "no-core-in-loop",
            any(kind_of_slot(slot) == "core" for step in steps for slot in step),
            (),
            "there is no core in the loop: nothing cools the charge",
        ),
    )


_IN_A_ROW = "one pair side by side follows the other: the flow has to meet in one part between them"


def _side_by_side(step: Sequence[str]) -> Verdict:
    kinds = [kind_of_slot(slot) for slot in step]
    if set(kinds) == set(HEAT_KINDS):
        text = (
            f"{' and '.join(step)} lie side by side: without a balancing valve nobody knows how the flow divides "
            "between them; put them one after the other"
        )
        return _broken("core-beside-exchanger", step, text)
    text = f"{' and '.join(step)}: only two cores or two exchangers may lie side by side"
    return _judged("not-side-by-side", len(step) == 2 and kinds[0] in HEAT_KINDS and len(set(kinds)) == 1, step, text)


def _judged(rule: str, kept: bool, slots: Sequence[str], text: str) -> Verdict:
    return Verdict(rule, "kept", tuple(slots)) if kept else _broken(rule, slots, text)


def _broken(rule: str, slots: Sequence[str], text: str) -> Verdict:
    return Verdict(rule, "broken", tuple(slots), text=text)


def _names_of(kind: str, count: int) -> tuple[str, ...]:
    return (kind,) if count == 1 else tuple(f"{kind}-{number}" for number in range(1, count + 1))
