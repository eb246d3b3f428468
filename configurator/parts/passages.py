"""Passages: what flows through a part (charge, coolant), with the ratings of that side and its ends."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from pydantic import Field

from configurator.foundations.figures import (
    GaugePressure,
    Length,
    PressureLoss,
    Temperature,
    Volume,
    VolumeFlow,
)
from configurator.foundations.records import Fault, Record
from configurator.parts.ends import End

PROOF_OVER_WORKING = 1.5
BURST_OVER_WORKING = 4.0
"""Common practice, no source: proof pressure is 1.5 times, burst pressure 4 times what a part may work at."""


@dataclass(frozen=True)
class Rating:
    """What a passage may work at [Pa gauge], and from which statement that follows; None means unproven."""

    working_pa_gauge: float | None
    stated_as: Literal["working", "proof", "burst", "unknown"]


class Passage(Record):
    """One passage of a part. Exactly one pressure may be stated; without one the passage is unproven."""

    working_pa: GaugePressure | Literal["unknown"] | None = Field(default=None, alias="working")
    proof_pa: GaugePressure | None = Field(default=None, alias="proof")
    burst_pa: GaugePressure | None = Field(default=None, alias="burst")
    hottest_k: Temperature | None = Field(default=None, alias="hottest")
    coldest_k: Temperature | None = Field(default=None, alias="coldest")
    volume_m3: Volume | None = Field(default=None, alias="volume")
    bans: tuple[Literal["ethylene glycol", "propylene glycol", "water"], ...] = ()
    ends: tuple[End, ...] = Field(min_length=1)

    @property
    def rating(self) -> Rating:
        """The working pressure that follows from what is stated."""
        if self.working_pa is not None and self.working_pa != "unknown":
            return Rating(float(self.working_pa), "working")
        if self.proof_pa is not None:
            return Rating(float(self.proof_pa) / PROOF_OVER_WORKING, "proof")
        if self.burst_pa is not None:
            return Rating(float(self.burst_pa) / BURST_OVER_WORKING, "burst")
        return Rating(None, "unknown")

    def ends_for(self, role: str) -> tuple[End, ...]:
        """The ends of one role, in the order they were written; `either` serves as in and as out."""
        exact = tuple(end for end in self.ends if end.role == role)
        if exact or role not in {"in", "out"}:
            return exact
        return tuple(end for end in self.ends if end.role == "either")

    def end_for(self, role: str) -> End | None:
        """The first end of a role; where both ends serve either way, the second is the way out."""
        ends = self.ends_for(role)
        if role == "out" and not self.one_way and ends:
            ends = ends[1:]
        return ends[0] if ends else None

    @property
    def one_way(self) -> bool:
        """Whether an end is said to be the way in, or the way out."""
        return any(end.role in ("in", "out") for end in self.ends)

    def faults(self) -> Iterator[Fault]:
        """Two pressures for one passage, two ends of one name."""
        pressures = {"working": self.working_pa, "proof": self.proof_pa, "burst": self.burst_pa}
        stated = [key for key, pressure in pressures.items() if pressure is not None]
        if len(stated) > 1:
            text = f"{' and '.join(stated)} are both stated: state exactly one of working, proof or burst"
            yield Fault(text, (stated[1],))
        names = [end.name for end in self.ends]
        for index, name in enumerate(names):
            if name in names[:index]:
                text = f"two ends are named '{name}': each end of a passage needs a name of its own"
                yield Fault(text, ("ends", index, "name"))


class BoredPassage(Passage):
    """The passage of an adapter, with the narrowest bore in it; None: that of its narrower end."""

    bore_m: Length | None = Field(default=None, alias="bore")


@dataclass(frozen=True)
class StatedLoss:
    """Pressure [Pa] that a passage takes at one flow [m3/s], both more than nothing."""

    pa: float
    at_m3_per_s: float


class LossPassage(Passage):
    """A passage of a core or an exchanger, which may state its loss at one flow instead of leaving it to be estimated.

    `prediction/surfaces.py` says which liquid or air a stated loss is taken as found with, and how it follows the flow.
    """

    loss_pa: PressureLoss | None = Field(default=None, alias="loss")
    loss_at_m3_per_s: VolumeFlow | None = Field(default=None, alias="loss_at")

    @property
    def stated_loss(self) -> StatedLoss | None:
        """The loss and its flow as stated; None without them."""
        if self.loss_pa is None or self.loss_at_m3_per_s is None:
            return None
        return StatedLoss(float(self.loss_pa), float(self.loss_at_m3_per_s))

    def faults(self) -> Iterator[Fault]:
        """Besides those of every passage: a loss without its flow, a flow without its loss, or either of nothing."""
        yield from super().faults()
        stated = {"loss": self.loss_pa, "loss_at": self.loss_at_m3_per_s}
        given = {key: value for key, value in stated.items() if value is not None}
        if len(given) == 1:
            text = "a loss is stated with the flow that it was found at: loss: 3 kPa, loss_at: 20 L/min"
            yield Fault(text, (next(iter(given)),))
        for key, value in given.items():
            if value <= 0:
                yield Fault(f"{key} must be more than nothing: left out, the loss is estimated", (key,))
