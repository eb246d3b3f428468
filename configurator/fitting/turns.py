"""How a part may be turned: the axis-aligned rotations that its `turns` allow, and the room it takes in each.

A turn is named by two faces of the part as drawn: the one that points up (+z of the car) and the one that
points to the front (-x of the car); the rest follows, since a part is turned and never mirrored. The order
of turns is fixed: by the face that points up in the order +z, -z, +x, -x, +y, -y, then by the face that
points to the front in the order -x, +x, -y, +y, -z, +z. The part as drawn is first. Ties between placements
end in this order.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Final

from configurator.fitting.reaches import Facing, Heights, Reach
from configurator.foundations.boxes import Box, Triple, millimetres_up
from configurator.parts.ends import OPPOSITE, Face
from configurator.parts.kinds import Exchanger, RigidPart

SIDES: Final = ("front", "back", "left", "right", "floor", "top")
"""The six sides of a zone, and the directions a turned face may look: axis by axis, the low side first."""

_LOOKS: Final[tuple[Face, ...]] = ("-x", "+x", "-y", "+y", "-z", "+z")

_UP_ORDER: Final[tuple[Face, ...]] = ("+z", "-z", "+x", "-x", "+y", "-y")
_FRONT_ORDER: Final[tuple[Face, ...]] = ("-x", "+x", "-y", "+y", "-z", "+z")
_NOWHERE: Final = (False,) * 6
_THROUGH_THE_FINS: Final[tuple[Face, ...]] = ("-x", "+x")


@dataclass(frozen=True)
class Turn:
    """One of the 24 rotations: the faces that point up and to the front, and its place in the order."""

    up: Face
    front: Face
    order: int

    @cached_property
    def faces(self) -> tuple[Face, ...]:
        """The part's face that looks to each side of the car, in the order of SIDES."""
        right = _cross(self.up, OPPOSITE[self.front])
        return (self.front, OPPOSITE[self.front], OPPOSITE[right], right, OPPOSITE[self.up], self.up)

    @cached_property
    def axes(self) -> tuple[tuple[int, bool], ...]:
        """Along each axis of the car: the part's own axis that lies there, and whether it runs the same way."""
        return tuple((_axis(face), face[0] == "+") for face in (self.faces[1], self.faces[3], self.faces[5]))

    def looks(self, face: Face) -> Face:
        """The way of the car that a face of the part looks."""
        return _LOOKS[self.faces.index(face)]

    def point(self, point: Sequence[float], size: Triple) -> tuple[float, float, float]:
        """Where a point of a part of this size comes to lie, from the lowest corner of the part as turned [mm]."""
        x, y, z = (point[k] if same else size[k] - point[k] for k, same in self.axes)
        return (x, y, z)


@dataclass(frozen=True)
class Solid:
    """One box of a turned part: its body, or a reach in front of one of its ends.

    `needs_gap`: which of SIDES need a gap there; a mounted face needs none, a reach none anywhere. `joint`: None for
    a body; for a reach the joint that its end takes part in: reaches of one joint may lie in each other.
    """

    box: Box
    needs_gap: tuple[bool, ...]
    joint: str | None = None


@dataclass(frozen=True)
class Posture:
    """A part in one turn: a rigid group of solids, placed by the lowest corner of the part's own box.

    The first solid is the body. `level`: height of the liquid's surface in a reservoir above its floor; `below`:
    height above the part's floor that must not stand above that surface [mm]; None where there is no such.
    """

    turn: Turn
    size: Triple
    solids: tuple[Solid, ...]
    level: int | None = None
    below: int | None = None

    def __hash__(self) -> int:
        """Kept: every packing is looked up by its postures, and there is much in them."""
        return self._kept_hash

    @cached_property
    def _kept_hash(self) -> int:
        return hash((self.turn, self.size, self.solids, self.level, self.below))


def postures(
    part: RigidPart,
    reaches: tuple[Reach, ...] = (),
    facing: tuple[Facing, ...] = (),
    heights: Heights | None = None,
) -> tuple[Posture, ...]:
    """The postures of a part that differ in the room they take, each in the first turn that gives it.

    The body is the part's box with each side rounded up to whole millimetres. `turns.up` names the faces
    that may point up; `turns.front` and `turns.air` those that may point to the front. An exchanger's air
    comes from the front: without `turns.air` it may face it either way through its fins. `reaches`: room that
    must stay free before its ends. `facing`: faces that must look to one of some sides of the car. `heights`: what
    its height over the liquid's surface is held by.
    """
    size = (millimetres_up(part.size.x_m), millimetres_up(part.size.y_m), millimetres_up(part.size.z_m))
    air = part.turns.air
    if air is None and isinstance(part, Exchanger):
        air = _THROUGH_THE_FINS
    fronts = tuple(
        face
        for face in _FRONT_ORDER
        if (part.turns.front is None or face in part.turns.front) and (air is None or face in air)
    )
    ups = frozenset(part.turns.up)
    return _postures(size, ups, fronts, frozenset(part.mounts), reaches, facing, heights)


@lru_cache(maxsize=4096)
def _postures(
    size: Triple,
    ups: frozenset[Face],
    fronts: tuple[Face, ...],
    mounts: frozenset[Face],
    reaches: tuple[Reach, ...],
    facing: tuple[Facing, ...],
    heights: Heights | None,
) -> tuple[Posture, ...]:
    found: dict[tuple[object, ...], Posture] = {}
    for turn in ALL_TURNS:
        if turn.up not in ups or turn.front not in fronts:
            continue
        if any(SIDES[turn.faces.index(face)] not in sides for face, sides in facing):
            continue
        body = _turned(Box((0, 0, 0), size), size, turn)
        solids = (
            Solid(body, tuple(face not in mounts for face in turn.faces)),
            *(Solid(_turned(reach.box, size, turn), _NOWHERE, reach.joint) for reach in reaches),
        )
        level, below = (None, None) if heights is None else heights.in_turn(size, turn.up)
        found.setdefault((solids, level, below), Posture(turn, body.size, solids, level, below))
    return tuple(found.values())


def _turned(box: Box, size: Triple, turn: Turn) -> Box:
    """A box in the frame of a part of this size, as it lies when the part is turned."""
    low_x, low_y, low_z = (box.low[k] if same else size[k] - box.high[k] for k, same in turn.axes)
    high_x, high_y, high_z = (box.high[k] if same else size[k] - box.low[k] for k, same in turn.axes)
    return Box((low_x, low_y, low_z), (high_x, high_y, high_z))


def _axis(face: Face) -> int:
    return "xyz".index(face[1])


def _cross(first: Face, second: Face) -> Face:
    """The direction of the vector product of two faces' normals."""
    a, b = _axis(first), _axis(second)
    positive = ((b - a) % 3 == 1) == (first[0] == second[0])
    return f"{'+' if positive else '-'}{'xyz'[3 - a - b]}"  # type: ignore[return-value]


ALL_TURNS: Final = tuple(
    Turn(up, front, order)
    for order, (up, front) in enumerate((u, f) for u in _UP_ORDER for f in _FRONT_ORDER if u[1] != f[1])
)
"""All 24 turns, in their order."""


def turn_with(up: Face, front: Face) -> Turn:
    """The turn that puts one face of a part up and another to the front."""
    return next(turn for turn in ALL_TURNS if (turn.up, turn.front) == (up, front))
