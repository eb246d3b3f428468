"""Layouts: the loop as data. Ordered slots in flow order, with parallel groups."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from configurator.foundations.records import Record

SlotKind = Literal["core", "exchanger", "pump", "reservoir", "cap", "fan"]


class Slot(Record):
    """A place for parts of one kind: how many at least and at most, and whether it lies in the coolant path."""

    slot: str
    kind: SlotKind
    least: int = Field(ge=0, le=2)
    most: int = Field(ge=1, le=2)
    path: Literal["coolant", "on reservoir", "beside"] = "coolant"


class Layout(Record):
    """A named layout: slots, and the loop in flow order; a list inside the loop is a parallel group."""

    id: str
    name: str
    slots: tuple[Slot, ...]
    loop: tuple[str | tuple[str, ...], ...]
