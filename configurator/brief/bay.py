"""The bay: zones where parts may sit, obstacles that must stay clear, hose runs between zones.

Frame of the car: x back from the bumper face, y right from the centre line, z up from the ground.
People measure gaps as wide (y), high (z) and deep (x).
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from pydantic import Field

from configurator.foundations.figures import Length, Position, Share, Speed, TemperatureDifference, ZoneSize
from configurator.foundations.records import Fault, Flag, Record

Side = Literal["front", "back", "left", "right", "up", "down"]
Spans = tuple[tuple[float, float], tuple[float, float], tuple[float, float]]
"""Begin and end along back, right and up [m]."""

LONGEST_NAME = 100
"""Letters of a zone's name."""

NOISE_M = 1e-6
"""Far below a tape measure, far above the error of a float."""

UPSTREAM_PREHEAT_K = {"condenser": 12.0, "radiator": 30.0}
"""How much warmer the air comes from what stands before a zone, where the brief does not say [K]. Common practice, no
source: 8 to 15 K from a condenser at work, 20 to 40 K from an engine's radiator at load."""

IN_LINE_M = 0.5
"""Zones up to so far apart share their air where the brief says nothing. Common practice, no source: the depth of what
stands behind a grille; farther back the air has mixed."""

Medium = Literal["charge", "coolant"]
RigidKind = Literal["core", "exchanger", "pump", "reservoir", "fan"]


class Corner(Record):
    """Where a zone's front-left-floor corner lies in the car; any of the three may be unknown."""

    back_m: Position | None = Field(default=None, alias="back")
    right_m: Position | None = Field(default=None, alias="right")
    up_m: Position | None = Field(default=None, alias="up")


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


def box_in_car_m(zone: Zone) -> Spans | None:
    """Where a zone begins and ends along back, right and up [m]; None where its place is not wholly known."""
    at = zone.at
    if at.back_m is None or at.right_m is None or at.up_m is None:
        return None
    lows, sizes = (at.back_m, at.right_m, at.up_m), (zone.deep_m, zone.wide_m, zone.high_m)
    x, y, z = ((float(low), float(low) + float(size)) for low, size in zip(lows, sizes, strict=True))
    return (x, y, z)


def shadowed_share(bay: Bay, zone: Zone, before: Zone) -> float:
    """Share of a zone's face, as seen from the front, that gets its air from another zone before it; 0 to 1.

    Where both places are known it follows from them, if the zones lie near each other or the brief names the one
    `behind` the other. Where they are not, a zone that is said to be behind another is so with all of its face.
    """
    said = zone.air is not None and zone.air.behind is not None and bay.zones.get(zone.air.behind) is before
    here, there = box_in_car_m(zone), box_in_car_m(before)
    if zone is before:
        return 0.0
    if here is None or there is None:
        return 1.0 if said else 0.0
    gap = here[0][0] - there[0][1]
    if gap < -NOISE_M or (gap > IN_LINE_M and not said):
        return 0.0
    wide, high = (max(min(a[1], b[1]) - max(a[0], b[0]), 0.0) for a, b in zip(here[1:], there[1:], strict=True))
    return wide * high / (float(zone.wide_m) * float(zone.high_m))


def _touch(one: Spans, other: Spans) -> bool:
    """Whether two boxes share part of a face or more: along one axis they may just meet."""
    shared = [min(a[1], b[1]) - max(a[0], b[0]) for a, b in zip(one, other, strict=True)]
    return min(shared) > -NOISE_M and sum(length > NOISE_M for length in shared) >= 2


class Bay(Record):
    """Zones by name, what stands in them, known hose lengths, and how sure the tape measure is.

    `front_in`: the zone whose air a front exchanger gets that stays in the car.
    """

    zones: dict[str, Zone] = Field(min_length=1)
    obstacles: tuple[Obstacle, ...] = ()
    runs: dict[str, Length] = Field(default_factory=dict)
    tolerance_m: Length | None = Field(default=None, alias="tolerance")
    as_one: tuple[tuple[str, ...], ...] = ()
    front_in: str | None = None

    def faults(self) -> Iterator[Fault]:
        """Names of zones that there are not; zones used as one that cannot be."""
        for index, group in enumerate(self.as_one):
            text = self._not_one(group, [name for other in self.as_one[:index] for name in other])
            if text is not None:
                yield Fault(text, ("as_one", index))
        for name in self.zones:
            if len(name) > LONGEST_NAME:
                text = f"a zone's name has at most {LONGEST_NAME} letters; '{name[:20]}...' has {len(name)}"
                yield Fault(text, ("zones",))
            text = self._not_behind(name)
            if text is not None:
                yield Fault(text, ("zones", name, "air", "behind"))
        if self.front_in is not None and self.front_in not in self.zones:
            yield Fault(self._no_zone(self.front_in), ("front_in",))
        for index, obstacle in enumerate(self.obstacles):
            if obstacle.zone not in self.zones:
                yield Fault(self._no_zone(obstacle.zone), ("obstacles", index, "in"))
        pairs = {f"{one}-{other}" for one in self.zones for other in self.zones}
        for pair in self.runs:
            if pair not in pairs:
                text = f"'{pair}' does not name two zones, as in a-b; the zones are {', '.join(self.zones)}"
                yield Fault(text, ("runs", pair))

    def _no_zone(self, name: str) -> str:
        return f"there is no zone '{name}'; the zones are {', '.join(self.zones)}"

    def _not_behind(self, name: str) -> str | None:
        """Why a zone cannot be behind what its air names: nothing known of that, itself, or not in line with it."""
        air = self.zones[name].air
        if air is None or air.behind is None:
            return None
        before = self.zones.get(air.behind)
        if before is None:
            if air.preheat_k is not None or air.behind in UPSTREAM_PREHEAT_K:
                return None
            known = ", ".join((*UPSTREAM_PREHEAT_K, *(zone for zone in self.zones if zone != name)))
            return f"how warm the air comes from '{air.behind}' is not known: give its preheat, or one of {known}"
        passed, ahead = [name], air.behind
        while ahead in self.zones:
            if ahead in passed:
                return f"zones cannot stand behind each other in a ring: {', '.join(passed)}"
            passed.append(ahead)
            further = self.zones[ahead].air
            ahead = "" if further is None else further.behind or ""
        if shadowed_share(self, self.zones[name], before) == 0.0:
            return f"'{name}' does not lie behind '{air.behind}': by their places none of its face stands behind it"
        return None

    def _not_one(self, group: tuple[str, ...], taken: list[str]) -> str | None:
        """Why zones cannot be used as one: unknown, alone, twice named, not placed, not touching or not alike."""
        unknown = [name for name in group if name not in self.zones]
        if unknown:
            return self._no_zone(unknown[0])
        if len(group) < 2 or len({*group}) < len(group) or {*group} & {*taken}:
            return "zones used as one are two or more, each named once: as_one: [[scuttle, shelf]]"
        zones = [self.zones[name] for name in group]
        boxes = [box_in_car_m(zone) for zone in zones]
        placed = [box for box in boxes if box is not None]
        if len(placed) < len(boxes):
            missing = group[boxes.index(None)]
            return f"zones used as one need their place in the car: give at: {{back, right, up}} of '{missing}'"
        alike = {
            (tuple(sorted(zone.takes)), zone.air, str(zone.ends), zone.way_in) for zone in zones
        }
        if len(alike) > 1:
            return f"zones used as one take the same kinds, with the same air, ends and way_in: {', '.join(group)}"
        reached, left = [placed[0]], placed[1:]
        while nearby := [box for box in left if any(_touch(box, other) for other in reached)]:
            reached += nearby
            left = [box for box in left if box not in nearby]
        return f"these zones do not touch along a face: {', '.join(group)}" if left else None

    def run_m(self, one: str, other: str) -> float | None:
        """The stated hose length between two zones [m], whichever way round it was written."""
        length = self.runs.get(f"{one}-{other}", self.runs.get(f"{other}-{one}"))
        return None if length is None else float(length)
