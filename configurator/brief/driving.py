"""How the car is driven: a named pattern of stretches, repeated for a total time."""

from __future__ import annotations

from collections.abc import Iterator

from pydantic import Field

from configurator.foundations.figures import Duration, Share, Speed
from configurator.foundations.records import Count, Fault, Flag, Record


class Stretch(Record):
    """One piece of a pattern: seconds, share of full power, road speed, pump and fan on or off."""

    lasts_s: Duration = Field(alias="lasts")
    share: Share
    speed_m_per_s: Speed = Field(alias="speed")
    pump: Flag = True
    fan: Flag = True


class Rest(Record):
    """Between events, idling: road speed, and the face speed that a fan (the car's or another) gives."""

    speed_m_per_s: Speed = Field(alias="speed")
    face_speed_m_per_s: Speed | None = Field(default=None, alias="face_speed")


class Driving(Record):
    """A pattern: its stretches in order, repeated until `total` is over; then the rest.

    `passes`: how often a day it is driven, `between` apart. Each is predicted from the same start; they count the ice.
    """

    id: str | None = None
    name: str | None = Field(default=None, min_length=1, max_length=200)
    stretches: tuple[Stretch, ...] = Field(min_length=1, max_length=200)
    total_s: Duration = Field(alias="total")
    rest: Rest | None = None
    passes: Count = Field(default=1, ge=1, le=100)
    between_s: Duration | None = Field(default=None, alias="between")
    source: str | None = None

    def faults(self) -> Iterator[Fault]:
        """A total too short for one round."""
        once = sum(float(stretch.lasts_s) for stretch in self.stretches)
        if self.total_s < once - 1e-9:
            text = f"total {self.total_s.text} is shorter than one round of the stretches ({once:g} s)"
            yield Fault(text, ("total",))
