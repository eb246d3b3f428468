"""Passages: what flows through a part (charge, coolant), with the ratings of that side and its ends."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from configurator.foundations.figures import GaugePressure, Length, PressureLoss, Temperature, Volume, VolumeFlow
from configurator.foundations.records import Record
from configurator.parts.ends import End

PROOF_OVER_WORKING = 1.5
BURST_OVER_WORKING = 4.0
"""Common practice, no source: a proof pressure is 1.5 times, a burst pressure 4 times what a part may work at."""


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
    bore_m: Length | None = Field(default=None, alias="bore")
    loss_pa: PressureLoss | None = Field(default=None, alias="loss")
    loss_at_m3_per_s: VolumeFlow | None = Field(default=None, alias="loss_at")
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

    @model_validator(mode="after")
    def _one_pressure_and_distinct_ends(self) -> Passage:
        stated = [p for p in (self.working_pa, self.proof_pa, self.burst_pa) if p is not None]
        if len(stated) > 1:
            text = "state exactly one of working, proof or burst (or none, if unknown: then it counts as unproven)"
            raise PydanticCustomError("pressure", "{text}", {"text": text})
        names = [end.name for end in self.ends]
        twice = sorted({name for name in names if names.count(name) > 1})
        if twice:
            text = f"two ends are named '{twice[0]}': each end of a passage needs a name of its own"
            raise PydanticCustomError("ends", "{text}", {"text": text})
        return self
