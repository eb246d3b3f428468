"""The bay: zones where parts may sit, obstacles that must stay clear, hose runs between zones.

Its frame, zones and obstacles stand in `zones.py`.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from pydantic import Field

from configurator.brief.nearest_word import did_you_mean
from configurator.brief.spans import NOISE_M, moved_m, shared_m, touch
from configurator.brief.zones import FAR_OFF_M, in_reach_m
from configurator.brief.zones import From as From
from configurator.brief.zones import Medium as Medium
from configurator.brief.zones import Obstacle as Obstacle
from configurator.brief.zones import RigidKind as RigidKind
from configurator.brief.zones import Side as Side
from configurator.brief.zones import StatedAir as StatedAir
from configurator.brief.zones import WayIn as WayIn
from configurator.brief.zones import Zone as Zone
from configurator.brief.zones import box_in_car_m as box_in_car_m
from configurator.foundations.figures import Length
from configurator.foundations.records import Fault, Record

LONGEST_NAME = 100
"""Letters of a zone's name."""

UPSTREAM_PREHEAT_K = {"condenser": 12.0, "radiator": 30.0}
"""How much warmer the air comes from what stands before a zone, where the brief does not say [K]. Common practice, no
source: 8 to 15 K from a condenser at work, 20 to 40 K from an engine's radiator at load."""

TAPE_M = 0.01
"""How far a measured face may be off where the brief states no tolerance. Common practice, no source."""

NAMES_NOTHING = frozenset({"yes", "no", "true", "false", "on", "off", "y", "n"})
"""Words that answer a question and name no thing."""

IN_LINE_M = 0.5
"""Zones up to so far apart share their air where the brief says nothing. Common practice, no source: the depth of what
stands behind a grille; farther back the air has mixed."""


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
            unknown = [(place, name) for place, name in enumerate(group) if name not in self.zones]
            for place, name in unknown:
                yield Fault(self._no_zone(name), ("as_one", index, place))
            taken = [name for other in self.as_one[:index] for name in other]
            text = None if unknown else self._not_one(group, taken)
            if text is not None:
                yield Fault(text, ("as_one", index))
        for name, other in combinations(self.zones, 2):
            if self._in_one_place(name, other):
                text = (
                    f"'{name}' and '{other}' take the same place in the car: parts in them would stand in one another; "
                    "measure again where each lies, or if they are one room say so: as_one; of two places that one "
                    "part may have, each wants a brief of its own"
                )
                yield Fault(text, ("zones", other, "at"))
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
            elif self._far_off(obstacle):
                text = (
                    f"'{obstacle.name}' stands neither in its zone '{obstacle.zone}' nor within {FAR_OFF_M:g} m behind "
                    "an open wall of it: measure again how far off the walls it is"
                )
                yield Fault(text, ("obstacles", index, "from"))
        pairs = {f"{one}-{other}" for one in self.zones for other in self.zones}
        for pair in self.runs:
            if pair not in pairs:
                text = f"'{pair}' does not name two zones, as in a-b; the zones are {', '.join(self.zones)}"
                yield Fault(text, ("runs", pair))

    def _no_zone(self, name: str) -> str:
        meant, known = did_you_mean(name, self.zones), f"the zones are {', '.join(self.zones)}"
        return f"there is no zone '{name}'" + (f"{meant} ({known})" if meant else f"; {known}")

    def _in_one_place(self, name: str, other: str) -> bool:
        """Whether two zones that are not used as one share more room than the tape measure may be off at both."""
        boxes = [box_in_car_m(self.zones[zone]) for zone in (name, other)]
        if boxes[0] is None or boxes[1] is None or any({name, other} <= {*group} for group in self.as_one):
            return False
        off_m = TAPE_M if self.tolerance_m is None else float(self.tolerance_m)
        return all(length > 2 * off_m + NOISE_M for length in shared_m(boxes[0], boxes[1]))

    def _far_off(self, obstacle: Obstacle) -> bool:
        """Whether an obstacle is in nobody's way in its zone, in what is used as one with it, behind open walls."""
        zone = self.zones[obstacle.zone]
        near, here = [in_reach_m(zone)], box_in_car_m(zone)
        for name in next((group for group in self.as_one if obstacle.zone in group), ()):
            there = box_in_car_m(self.zones[name]) if name in self.zones else None
            if here is not None and there is not None:
                apart = [a[0] - b[0] for a, b in zip(there, here, strict=True)]
                near.append(moved_m(in_reach_m(self.zones[name]), apart))
        kept = obstacle.kept_clear_m(zone)
        return all(any(length <= NOISE_M for length in shared_m(kept, box)) for box in near)

    def _not_behind(self, name: str) -> str | None:
        """Why a zone cannot be behind what its air names: nothing known of that, itself, or not in line with it."""
        air = self.zones[name].air
        if air is None or air.behind is None:
            return None
        before = self.zones.get(air.behind)
        if before is None:
            return self._not_before(air.behind, stated=air.preheat_k is not None, behind=name)
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

    def _not_before(self, word: str, *, stated: bool, behind: str) -> str | None:
        """Why a word that is no zone cannot stand before one; `stated`: whether it is said how warm its air comes.

        Then it may be a word of one's own, but none that is another mistyped, and none that names nothing.
        """
        if word in UPSTREAM_PREHEAT_K:
            return None
        words = (*UPSTREAM_PREHEAT_K, *(zone for zone in self.zones if zone != behind))
        known = ", ".join(words)
        if not stated:
            meant = did_you_mean(word, words)
            asked = f"{meant} Else give its preheat" if meant else ": give its preheat"
            return f"how warm the air comes from '{word}' is not known{asked}, or one of {known}"
        if word.lower() in NAMES_NOTHING:
            return f"'{word}' does not say what stands before it: one of {known}, or a word of your own like oil cooler"
        meant = "" if any(name in word.lower() for name in words) else did_you_mean(word, words, cutoff=0.75)
        own = "what stands before it may have a word of your own, which is not so like one of these"
        return f"'{word}' is none of {known}{meant} ({own})" if meant else None

    def _not_one(self, group: tuple[str, ...], taken: list[str]) -> str | None:
        """Why zones cannot be used as one: alone, twice named, not placed, not touching or not alike."""
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
        while nearby := [box for box in left if any(touch(box, other) for other in reached)]:
            reached += nearby
            left = [box for box in left if box not in nearby]
        return f"these zones do not touch along a face: {', '.join(group)}" if left else None

    def run_m(self, one: str, other: str) -> float | None:
        """The stated hose length between two zones [m], whichever way round it was written."""
        length = self.runs.get(f"{one}-{other}", self.runs.get(f"{other}-{one}"))
        return None if length is None else float(length)
