"""A skeleton whose runs are made, with every pump that they suit, and the room that its parts have at most."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cached_property
from itertools import product

import numpy as np
from numpy.typing import NDArray

from configurator.fitting.room import CLEARANCE_COUNTED_MM
from configurator.parts.kinds import Part
from configurator.parts.kit import Joint
from configurator.parts.layouts import kind_of_slot
from configurator.search.rows import Row, RowMaker
from configurator.search.sieve import FITTED, UNMEASURED
from configurator.search.skeleton import Caps, Skeleton

_EAGER = 512


class Made:
    """One skeleton with all pumps and caps that its runs serve."""

    def __init__(self, rows: RowMaker, skeleton: Skeleton, pumps: Sequence[tuple[Part, Caps]]) -> None:
        """`rows` places the parts; `pumps`: each with its caps."""
        self._rows = rows
        self.skeleton = skeleton
        self.caps: Mapping[str, Caps] = {pump.id: caps for pump, caps in pumps}
        self.zones = dict(skeleton.zones)
        self.members: Mapping[str, tuple[Part, ...]] = {
            **{kind_of_slot(slot): known.members for slot, known in skeleton.classes},
            "pump": tuple(pump for pump, _ in pumps),
        }
        self.kinds = tuple(dict.fromkeys(kind_of_slot(slot) for slot, _ in skeleton.classes))
        self._scopes: dict[tuple[str, ...], tuple[tuple[str, ...], tuple[tuple[Joint, ...], ...]]] = {}
        alone = np.minimum.outer(self.rooms_mm("pump"), self.rooms_mm("reservoir"))
        self.rest_room_mm: NDArray[np.float64] = np.minimum(alone, self.rooms_of_two_mm("pump", "reservoir"))
        """Of each pump with each reservoir; less than none where they do not go in."""
        self._look_for_the_most()

    @cached_property
    def cap_ids(self) -> Mapping[str, tuple[str | None, ...]]:
        """The ids of its caps, by pump."""
        return {pump: tuple(None if cap is None else cap.id for cap in caps) for pump, caps in self.caps.items()}

    def ways(self, around: tuple[Joint, ...] = ()) -> tuple[tuple[Joint, ...], tuple[Joint, ...]]:
        """All joints as they are best, and with runs that turn tighter; `around`: those of the charge."""
        return (*self.skeleton.runs, *around), (*self.skeleton.tight, *around)

    def rooms_mm(self, kind: str) -> NDArray[np.float64]:
        """The room that each of its parts of a kind has at most, charge joints apart [mm]."""
        return np.array([self.room_mm({kind: part}) for part in self.members[kind]])

    def rooms_of_two_mm(self, one: str, other: str) -> NDArray[np.float64]:
        """The room that each part of a kind has at most beside each of another, where the two share a zone [mm]."""
        found = np.full((len(self.members[one]), len(self.members[other])), CLEARANCE_COUNTED_MM)
        for slot, beside in product(self._slots(one), self._slots(other)):
            zone = self.zones[slot]
            if zone == self.zones[beside] and zone not in {FITTED, UNMEASURED}:
                ways = self._ways_at({slot, beside})
                pairs = ((slot, self.members[one]), (beside, self.members[other]))
                found = np.minimum(found, self._rows.rooms_of_two(zone, *pairs, ways))
        return found

    def rooms_beside_mm(self, heat: Mapping[str, Part]) -> NDArray[np.float64]:
        """The room that each pump and reservoir have at most together, beside a core and an exchanger [mm]."""
        found = self.rest_room_mm
        for kind, part in heat.items():
            at = self.members[kind].index(part)
            pumps, reservoirs = (self.rooms_of_two_mm(kind, rest)[at] for rest in ("pump", "reservoir"))
            found = np.minimum(found, np.minimum.outer(pumps, reservoirs))
        return found

    def look_at(self, pump: int, reservoir: int) -> float:
        """The room that a pump and a reservoir have at most together, by place; kept [mm]."""
        both = {"pump": self.members["pump"][pump], "reservoir": self.members["reservoir"][reservoir]}
        room = min(float(self.rest_room_mm[pump, reservoir]), self.room_mm(both))
        self.rest_room_mm[pump, reservoir] = room
        return room

    def _look_for_the_most(self) -> None:
        """Look at pumps with reservoirs, the roomiest alone first, until none that is left could have more together.

        Or until enough have been looked at: the others are when their turn comes.
        """
        alone, most = self.rest_room_mm.ravel(), -np.inf
        for at in np.argsort(-alone, kind="stable")[:_EAGER]:
            if alone[at] < 0 or alone[at] <= most:
                break
            most = max(most, self.look_at(*divmod(int(at), self.rest_room_mm.shape[1])))

    def room_mm(self, of_kind: Mapping[str, Part], around: tuple[Joint, ...] = ()) -> float:
        """The room that kits with these parts have at most, in zones that hold nothing else [mm]."""
        kinds = tuple(of_kind)
        if kinds not in self._scopes:
            self._scopes[kinds] = self._scope(kinds)
        slots, ways = self._scopes[kinds]
        if not slots:
            return CLEARANCE_COUNTED_MM
        parts = {slot: of_kind[kind_of_slot(slot)] for slot in slots}
        return self._rows.room_mm(parts, self.zones, [*ways, *((joint,) for joint in around)])

    def rows(self, chosen: Mapping[str, Part]) -> list[Row]:
        """One choice of parts, joined and placed: a row for each fan and timer; none where it does not go in."""
        caps = self.caps[chosen["pump"].id]
        return list(self._rows.rows_with(self.skeleton, {kind: chosen[kind] for kind in self.kinds}, caps))

    def _scope(self, kinds: tuple[str, ...]) -> tuple[tuple[str, ...], tuple[tuple[Joint, ...], ...]]:
        """The slots of some kinds in zones that hold nothing else, and how the runs at them may be made."""
        others = {zone for slot, zone in self.zones.items() if kind_of_slot(slot) not in kinds}
        slots = tuple(slot for slot, zone in self.zones.items() if kind_of_slot(slot) in kinds and zone not in others)
        return slots, self._ways_at(set(slots))

    def _ways_at(self, slots: set[str]) -> tuple[tuple[Joint, ...], ...]:
        """How the runs at some slots may be made."""
        return tuple(
            (run,) if run == tight else (run, tight)
            for run, tight in zip(self.skeleton.runs, self.skeleton.tight, strict=True)
            if set(run.slots) & slots
        )

    def _slots(self, kind: str) -> tuple[str, ...]:
        return tuple(slot for slot in self.zones if kind_of_slot(slot) == kind)
