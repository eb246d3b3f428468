"""What each part of one kit needs in its zone, from the joints that its ends take part in.

Common practice, no source: the piece on a charge end and one bore of straight pipe behind it; a hand over a filler
cap.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Final, Literal, NamedTuple

from configurator.brief.bay import Medium
from configurator.fitting.reaches import Heights, Needs, Reach, reach_before
from configurator.foundations.boxes import Triple, millimetres_up
from configurator.joining.charge_joint import COUPLER_WALL_M
from configurator.parts.ends import OPPOSITE, End, Face
from configurator.parts.kinds import Adapter, Core, Exchanger, Part, Pump, Reservoir, RigidPart
from configurator.parts.kit import Joint
from configurator.parts.vents import vents

CAP_ROOM_M: Final = 0.1
"""Room over a filler cap for the hand that opens it."""

CHARGE_GRIP_M: Final = 0.04
"""Length of a pipe or coupler that sits straight on a charge end of which the brief does not name the far end."""


class _Before(NamedTuple):
    """The room before one end that a joint takes part in: depth and width [m], and the joint's name."""

    medium: Medium
    role: Literal["in", "out"]
    depth_m: float
    across_m: float
    joint: str

    def or_less(self, other: _Before) -> _Before:
        """The lesser depth and width of two."""
        return self._replace(
            depth_m=min(self.depth_m, other.depth_m), across_m=min(self.across_m, other.across_m)
        )


class KitNeeds:
    """Works out what parts need. Parts and joints come up again and again, so answers are kept."""

    def __init__(self, adapter_of: Callable[[str], Adapter]) -> None:
        """`adapter_of`: the adapter of an id."""
        self._adapter_of = adapter_of
        self._known: dict[tuple[object, ...], Needs] = {}
        # The joints are kept beside what is known of them, so that their identities stay theirs.
        self._at: dict[tuple[object, ...], tuple[Sequence[Joint], dict[str, tuple[_Before, ...]]]] = {}
        self._slots_of: dict[int, tuple[Joint, tuple[str, str]]] = {}
        self._asked: dict[tuple[int, bool], _Before] = {}

    def of(self, parts: Mapping[str, Part], joints: Sequence[Joint]) -> dict[str, Needs]:
        """What every rigid part needs, by slot. `joints`: every joint of the kit, charge and coolant."""
        rigid = _rigid(parts)
        key = (*rigid, *map(id, joints))
        if key not in self._at:
            self._at[key] = (joints, self._before_slots(rigid, [(joint,) for joint in joints]))
        before = self._at[key][1]
        return {slot: self._needs(slot, part, before[slot]) for slot, part in rigid.items()}

    def at_least(self, parts: Mapping[str, Part], ways: Sequence[tuple[Joint, ...]]) -> dict[str, Needs]:
        """The same where a joint may be made in one of several ways: at each end the least that any of them needs."""
        rigid = _rigid(parts)
        before = self._before_slots(rigid, ways)
        return {slot: self._needs(slot, part, before[slot]) for slot, part in rigid.items()}

    def _before_slots(
        self, slots: Iterable[str], ways: Sequence[tuple[Joint, ...]]
    ) -> dict[str, tuple[_Before, ...]]:
        """The room before the ends of each slot's part, whatever part that is."""
        asked: dict[str, list[_Before]] = {slot: [] for slot in slots}
        for made in ways:
            for at_finish, slot in enumerate(self._slots(made[0])):
                if slot in asked:
                    before = self._before(made[0], bool(at_finish))
                    for other in made[1:]:
                        before = before.or_less(self._before(other, bool(at_finish)))
                    asked[slot].append(before)
        return {slot: tuple(before) for slot, before in asked.items()}

    def _slots(self, joint: Joint) -> tuple[str, str]:
        if id(joint) not in self._slots_of:
            self._slots_of[id(joint)] = (joint, joint.slots)
        return self._slots_of[id(joint)][1]

    def _before(self, joint: Joint, at_finish: bool) -> _Before:
        key = (id(joint), at_finish)
        if key not in self._asked:
            self._asked[key] = _before(joint, at_finish, self._adapter_of)
        return self._asked[key]

    def _needs(self, slot: str, part: RigidPart, asked: tuple[_Before, ...]) -> Needs:
        key = (slot, part.id, asked)
        if key not in self._known:
            self._known[key] = _needs_of(slot, part, asked)
        return self._known[key]


def _rigid(parts: Mapping[str, Part]) -> dict[str, RigidPart]:
    return {slot: part for slot, part in parts.items() if isinstance(part, RigidPart)}


def _before(joint: Joint, at_finish: bool, adapter_of: Callable[[str], Adapter]) -> _Before:
    role: Literal["in", "out"] = "in" if at_finish else "out"
    name = f"{joint.start} to {joint.finish}"
    if joint.ahead is not None:
        ahead = joint.ahead[at_finish]
        return _Before("coolant", role, ahead.depth_m, ahead.across_m, name)
    piece = adapter_of(joint.through[-1 if at_finish else 0])
    wall_m = COUPLER_WALL_M if piece.wall_m is None else float(piece.wall_m)
    across_m = max(end.size_m or 0.0 for end in piece.through.ends) + 2.0 * wall_m
    depth_m = float(piece.length_m)
    depth_m = depth_m / 2 + across_m / 2 if piece.shape == "elbow" else depth_m + across_m
    return _Before("charge", role, depth_m, across_m, name)


def faces_used(part: RigidPart) -> tuple[tuple[Medium, Face], ...]:
    """The medium and face of the ends that a loop takes: way in and way out of each passage."""
    found: list[tuple[Medium, Face]] = []
    media: tuple[Medium, ...] = ("charge", "coolant")
    for medium in (medium for medium in media if medium in part.passages()):
        passage = part.passages()[medium]
        for role in ("in", "out"):
            end = passage.end_for(role)
            if end is not None and end.face is not None:
                found.append((medium, end.face))
    return tuple(found)


def _needs_of(slot: str, part: RigidPart, asked: tuple[_Before, ...]) -> Needs:
    size = size_mm(part)
    reaches: list[Reach | None] = []
    joined = set()
    for medium, role, depth_m, across_m, joint in asked:
        end = part.passages()[medium].end_for(role)
        joined.add((medium, role))
        if end is not None:
            reaches.append(reach_before(end, size, depth_m, across_m, joint))
    if isinstance(part, Core):
        for role in ("in", "out"):
            end = part.charge.end_for(role)
            if ("charge", role) not in joined and end is not None:
                across_m = end.size_m or 0.0
                reaches.append(reach_before(end, size, CHARGE_GRIP_M + across_m, across_m, f"{slot}.charge {role}"))
    if isinstance(part, Reservoir):
        for end in part.coolant.ends:
            if end.form == "neck":
                reaches.append(reach_before(end, size, CAP_ROOM_M, end.size_m or 0.0, f"hand over {slot}.{end.name}"))
    known = tuple(reach for reach in reaches if reach is not None)
    return Needs(known, heights_of(part), faces_used(part))


def size_mm(part: RigidPart) -> Triple:
    """A part's box as drawn, in whole millimetres."""
    return (millimetres_up(part.size.x_m), millimetres_up(part.size.y_m), millimetres_up(part.size.z_m))


def heights_of(part: RigidPart) -> Heights | None:
    """How a part's height hangs together with the liquid's surface: by its kind."""
    if isinstance(part, Reservoir):
        return Heights(filled=1.0 - float(part.air_space))
    if isinstance(part, Pump):
        inlet = part.coolant.end_for("in")
        at = None if inlet is None else _point_mm(inlet, size_mm(part))
        return None if at is None else Heights(inlet_mm=at)
    if isinstance(part, Core | Exchanger):
        size, ends = size_mm(part), part.coolant.ends
        return Heights(bled_by=frozenset(up for up in OPPOSITE if any(vents(end, up, size) for end in ends)))
    return None


def _point_mm(end: End, size: Triple) -> Triple | None:
    """Where an end's axis meets its face, in whole millimetres; None where that is not known."""
    if end.face is None or end.at is None:
        return None
    found = []
    for k, (axis, place) in enumerate(zip("xyz", (end.at.x_m, end.at.y_m, end.at.z_m), strict=True)):
        if axis == end.face[1]:
            found.append(size[k] if end.face[0] == "+" else 0)
        elif place is None:
            return None
        else:
            found.append(round(float(place) * 1000))
    return (found[0], found[1], found[2])
