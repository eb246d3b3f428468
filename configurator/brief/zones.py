"""What a bay is made of: zones where parts may sit, obstacles that must stay clear.

Frame of the car: x back from the bumper face, y right from the centre line, z up from the ground.
People measure gaps as wide (y), high (z) and deep (x).
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from pydantic import Field

from configurator.brief.spans import Spans
from configurator.foundations.figures import (
    Across,
    Back,
    Length,
    Position,
    Share,
    Speed,
    TemperatureDifference,
    Up,
    ZoneSize,
)
from configurator.foundations.records import Fault, Flag, Record

Side = Literal["front", "back", "left", "right", "up", "down"]
KEEP_OFF_M = {"hot": 0.05, "moving": 0.025}
"""How far bodies stay off hot and moving things without a stated clearance [m] (common practice, no source)."""

FAR_OFF_M = 1.0
"""An obstacle so far behind an open wall is in nobody's way: farther than any hose needs room before its bend."""

Medium = Literal["charge", "coolant"]
RigidKind = Literal["core", "exchanger", "pump", "reservoir", "fan"]


class Corner(Record):
    """Where a zone's front-left-floor corner lies in the car; any of the three may be unknown."""

    back_m: Back | None = Field(default=None, alias="back")
    right_m: Across | None = Field(default=None, alias="right")
    up_m: Up | None = Field(default=None, alias="up")


class StatedAir(Record):
    """Air that a zone's exchanger gets: a share of road speed (ram), or a stated face speed.

    `behind`: what stands before it, by the name of a zone or a word of its own.
    """

    kind: Literal["ram", "fan", "none"] | None = None
    share: Share | None = None
    face_speed_m_per_s: Speed | None = Field(default=None, alias="face_speed")
    sealed: Flag | None = None
    preheat_k: TemperatureDifference | None = Field(default=None, alias="preheat")
    behind: str | None = None

    def faults(self) -> Iterator[Fault]:
        """Neither or both ways of saying what air there is; ram air without its share."""
        if (self.kind is None) == (self.face_speed_m_per_s is None):
            text = "air is either {kind: ram, share: 25 %} or {face_speed: 5 m/s}"
            yield Fault(text, () if self.kind is None else ("face_speed",))
        if self.kind != "ram" or self.share is not None:
            return
        if self.sealed and self.behind is not None:
            yield Fault("no usual share is known of a zone sealed behind something: give its share", ("sealed",))
        elif self.sealed is None and self.behind is None:
            yield Fault("ram air needs its share of road speed: {kind: ram, share: 25 %}", ("kind",))


class WayIn(Record):
    """The opening that a part must come into a zone by: a hatch, a grille, the gap under a bonnet."""

    wide_m: Length = Field(alias="wide")
    high_m: Length = Field(alias="high")


class Zone(Record):
    """A free box of the bay.

    `ends`: the sides that ends of a medium must face. `way_in`: the opening a part comes in by.
    """

    wide_m: ZoneSize = Field(alias="wide")
    high_m: ZoneSize = Field(alias="high")
    deep_m: ZoneSize = Field(alias="deep")
    at: Corner = Corner()
    open: tuple[Side, ...] = ()
    air: StatedAir | None = None
    ends: dict[Medium, tuple[Side, ...]] = Field(default_factory=dict)
    way_in: WayIn | None = None
    takes: tuple[RigidKind, ...] = Field(min_length=1)


class From(Record):
    """How far an obstacle stands off the walls of its zone: one figure for each direction."""

    left_m: Position | None = Field(default=None, alias="left")
    right_m: Position | None = Field(default=None, alias="right")
    front_m: Position | None = Field(default=None, alias="front")
    back_m: Position | None = Field(default=None, alias="back")
    floor_m: Position | None = Field(default=None, alias="floor")
    top_m: Position | None = Field(default=None, alias="top")

    def faults(self) -> Iterator[Fault]:
        """A direction without its distance, or with two."""
        for low, high in (("left", "right"), ("front", "back"), ("floor", "top")):
            if (getattr(self, f"{low}_m") is None) == (getattr(self, f"{high}_m") is None):
                text = (
                    f"give the obstacle's distance from the {low} or the {high} of its zone, one of the two"
                )
                yield Fault(text, () if getattr(self, f"{low}_m") is None else (high,))


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

    def kept_clear_m(self, zone: Zone) -> Spans:
        """What stays clear for it [m], from the front-left-floor corner of its zone: its box with its clearance."""
        off, clear = self.off, KEEP_OFF_M.get(self.kind, 0.0)
        if self.clearance_m is not None and self.kind in KEEP_OFF_M:
            clear = float(self.clearance_m)
        x, y, z = (
            (low - clear, low + float(extent) + clear)
            for low, extent in (
                (_low_m(off.front_m, off.back_m, self.deep_m, zone.deep_m), self.deep_m),
                (_low_m(off.left_m, off.right_m, self.wide_m, zone.wide_m), self.wide_m),
                (_low_m(off.floor_m, off.top_m, self.high_m, zone.high_m), self.high_m),
            )
        )
        return (x, y, z)


def _low_m(near_m: float | None, far_m: float | None, extent_m: float, zone_m: float) -> float:
    """Where an obstacle begins [m] that is measured off one of the two walls."""
    return float(near_m) if near_m is not None else float(zone_m) - float(far_m or 0.0) - float(extent_m)


def in_reach_m(zone: Zone) -> Spans:
    """A zone from its own corner [m], with what lies near behind its open walls."""
    x, y, z = (
        (-FAR_OFF_M if low in zone.open else 0.0, float(size) + (FAR_OFF_M if high in zone.open else 0.0))
        for low, high, size in (
            ("front", "back", zone.deep_m), ("left", "right", zone.wide_m), ("down", "up", zone.high_m)
        )
    )  # fmt: skip
    return (x, y, z)


def box_in_car_m(zone: Zone) -> Spans | None:
    """Where a zone begins and ends along back, right and up [m]; None where its place is not wholly known."""
    at = zone.at
    if at.back_m is None or at.right_m is None or at.up_m is None:
        return None
    lows, sizes = (at.back_m, at.right_m, at.up_m), (zone.deep_m, zone.wide_m, zone.high_m)
    x, y, z = ((float(low), float(low) + float(size)) for low, size in zip(lows, sizes, strict=True))
    return (x, y, z)
