"""The bay: zones where parts may sit, obstacles that must stay clear, hose runs between zones.

Frame of the car: x back from the bumper face, y right from the centre line, z up from the ground.
People measure gaps as wide (y), high (z) and deep (x).
"""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from configurator.foundations.figures import Length, Position, Share, Speed, TemperatureDifference
from configurator.foundations.records import Record

Side = Literal["front", "back", "left", "right", "up", "down"]
RigidKind = Literal["core", "exchanger", "pump", "reservoir", "fan"]


class Corner(Record):
    """Where a zone's front-left-floor corner lies in the car; any of the three may be unknown."""

    back_m: Position | None = Field(default=None, alias="back")
    right_m: Position | None = Field(default=None, alias="right")
    up_m: Position | None = Field(default=None, alias="up")


class ZoneAir(Record):
    """Air that a zone's exchanger gets: a share of road speed (ram), or a stated face speed."""

    kind: Literal["ram", "fan", "none"] | None = None
    share: Share | None = None
    face_speed_m_per_s: Speed | None = Field(default=None, alias="face_speed")
    sealed: bool | None = None
    preheat_k: TemperatureDifference | None = Field(default=None, alias="preheat")
    behind: str | None = None

    @model_validator(mode="after")
    def _ram_or_speed(self) -> ZoneAir:
        if (self.kind is None) == (self.face_speed_m_per_s is None):
            text = "air is either {kind: ram, share: 25 %} or {face_speed: 5 m/s}"
            raise PydanticCustomError("air", "{text}", {"text": text})
        if self.kind == "ram" and self.share is None:
            text = "ram air needs its share of road speed: {kind: ram, share: 25 %}"
            raise PydanticCustomError("air", "{text}", {"text": text})
        return self


class Zone(Record):
    """A free box of the bay."""

    wide_m: Length = Field(alias="wide")
    high_m: Length = Field(alias="high")
    deep_m: Length = Field(alias="deep")
    at: Corner = Corner()
    open: tuple[Side, ...] = ()
    air: ZoneAir | None = None
    ends: dict[Literal["charge", "coolant"], tuple[Side, ...]] = Field(default_factory=dict)
    takes: tuple[RigidKind, ...] = Field(min_length=1)


class From(Record):
    """How far an obstacle stands off the walls of its zone: one figure for each direction."""

    left_m: Position | None = Field(default=None, alias="left")
    right_m: Position | None = Field(default=None, alias="right")
    front_m: Position | None = Field(default=None, alias="front")
    back_m: Position | None = Field(default=None, alias="back")
    floor_m: Position | None = Field(default=None, alias="floor")
    top_m: Position | None = Field(default=None, alias="top")

    @model_validator(mode="after")
    def _one_each_way(self) -> From:
        for low, high in (("left", "right"), ("front", "back"), ("floor", "top")):
            if (getattr(self, f"{low}_m") is None) == (getattr(self, f"{high}_m") is None):
                text = f"give the obstacle's distance from the {low} or from the {high} of its zone, one of the two"
                raise PydanticCustomError("from", "{text}", {"text": text})
        return self


class Obstacle(Record):
    """Something inside a zone that must stay clear."""

    name: str = Field(min_length=1, max_length=100)
    zone: str = Field(alias="in")
    off: From = Field(alias="from")
    wide_m: Length = Field(alias="wide")
    high_m: Length = Field(alias="high")
    deep_m: Length = Field(alias="deep")
    kind: Literal["plain", "hot", "moving", "crash"]
    clearance_m: Length | None = Field(default=None, alias="clearance")


class Bay(Record):
    """Zones by name, what stands in them, known hose lengths, and how sure the tape measure is."""

    zones: dict[str, Zone] = Field(min_length=1)
    obstacles: tuple[Obstacle, ...] = ()
    runs: dict[str, Length] = Field(default_factory=dict)
    tolerance_m: Length | None = Field(default=None, alias="tolerance")

    @model_validator(mode="after")
    def _names_agree(self) -> Bay:
        for obstacle in self.obstacles:
            if obstacle.zone not in self.zones:
                text = f"obstacle '{obstacle.name}' is in '{obstacle.zone}', but the zones are {', '.join(self.zones)}"
                raise PydanticCustomError("zones", "{text}", {"text": text})
        for pair in self.runs:
            if tuple(sorted(pair.split("-"))) not in self.zone_pairs():
                text = f"run '{pair}' does not name two zones; write it like '{next(iter(self.zones))}-other zone'"
                raise PydanticCustomError("zones", "{text}", {"text": text})
        return self

    def zone_pairs(self) -> set[tuple[str, ...]]:
        """Every pair of zone names, each pair sorted."""
        return {tuple(sorted((a, b))) for a in self.zones for b in self.zones}
