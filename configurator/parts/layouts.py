"""Layouts: the loop as data. Ordered slots in flow order, with parallel groups."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from pydantic import Field

from configurator.foundations.records import Count, Fault, Record

SlotKind = Literal["core", "exchanger", "pump", "reservoir", "cap", "fan"]


class Slot(Record):
    """A place for parts of one kind: how many at least and at most, and where it lies."""

    slot: str
    kind: SlotKind
    least: Count = Field(ge=0, le=2)
    most: Count = Field(ge=1, le=2)
    path: Literal["coolant", "on reservoir", "beside"] = "coolant"


class Layout(Record):
    """A named layout: slots, and the loop in flow order; a list inside the loop is a parallel group."""

    id: str
    name: str
    slots: tuple[Slot, ...]
    loop: tuple[str | tuple[str, ...], ...] = Field(min_length=1)

    def faults(self) -> Iterator[Fault]:
        """Slots named twice or turned about, and a loop that is not exactly the slots of the coolant path."""
        names = [slot.slot for slot in self.slots]
        for index, slot in enumerate(self.slots):
            if slot.slot in names[:index]:
                yield Fault(f"two slots are named '{slot.slot}'", ("slots", index, "slot"))
            if slot.most < slot.least:
                yield Fault(f"most {slot.most} is below least {slot.least}", ("slots", index, "most"))
        in_path = [slot.slot for slot in self.slots if slot.path == "coolant"]
        in_loop = [name for step in self.loop for name in ((step,) if isinstance(step, str) else step)]
        if sorted(in_path) != sorted(in_loop):
            text = f"the loop names each slot of the coolant path once: {', '.join(in_path)}"
            yield Fault(f"{text}; it names {', '.join(in_loop)}", ("loop",))
