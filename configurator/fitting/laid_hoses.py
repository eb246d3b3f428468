"""The hoses of a placed kit, each on its way from end to end.

A hose keeps clear of every body as placed, of obstacles with their clearance, of the walls of zones that are not
open (thin plates), of the ground and of what lies ahead of the bumper face. Nobody has said what else stands outside
the zones: that space is taken as free. Hoses are laid in the frame of the car where both ends' zones have their place
in it, else in the zone of both ends; a run between zones without a place is not laid.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final, Literal

from configurator.brief.bay import Bay
from configurator.fitting.placing import Placement
from configurator.fitting.room import Room, corner_mm, room_of
from configurator.fitting.routes import HoseEnd, HoseShape, KeepOut, NoRoute, Point, Route, shortest_route
from configurator.fitting.turns import turn_with
from configurator.foundations.boxes import Triple, millimetres_up
from configurator.parts.kinds import Hose, RigidPart
from configurator.parts.kit import Ahead, Joint

PLATE_MM: Final = 1.0
"""How thick a closed wall of a zone is taken to be."""

BEYOND_MM: Final = 3000.0
"""How far past everything placed the ground reaches, and the wall ahead of the bumper face."""

NotLaid = Literal["no-place", "apart", "start", "finish", "between"]
"""Why a hose has no route: a part without a place in the bay, zones without a place in the car; no room ahead of an
end, or no way between the two."""


@dataclass(frozen=True)
class LaidHose:
    """One hose of a kit, by the names of its ends. `route` is None where `why_not` says why.

    `frame`: that of the points, the car's or that of `zone`, from its front-left-floor corner.
    """

    start: str
    finish: str
    hose: str
    zone: str
    frame: Literal["car", "zone"]
    route: Route | None
    why_not: NotLaid | None = None

    @property
    def name(self) -> str:
        """Its ends in words."""
        return f"{self.start} to {self.finish}".replace(".", " ")

    @property
    def length_m(self) -> float | None:
        """The length of its way along the middle line [m], to the millimetre: what is bought is counted from it."""
        return None if self.route is None else round(self.route.length_mm / 1000, 3)

    @property
    def stuck(self) -> bool:
        """Whether all is known and it has no way all the same."""
        return self.why_not in ("start", "finish", "between")


def lay_hoses(
    bay: Bay,
    placements: Sequence[Placement],
    parts: Mapping[str, RigidPart],
    joints: Sequence[Joint],
    hose_of: Callable[[str], Hose],
) -> tuple[LaidHose, ...]:
    """Lay each hose of a kit by itself, in the order of its joints. `parts`: by slot; `hose_of`: the hose of an id."""
    places = {place.slot: place for place in placements}
    solids: dict[str, tuple[KeepOut, ...]] = {}
    laid = []
    for joint in joints:
        if joint.hose is None or joint.ahead is None:
            continue
        (start, one), (finish, other) = joint.start.split(".", 1), joint.finish.split(".", 1)
        if start not in places or finish not in places:
            laid.append(_laid(joint, "no-place"))
            continue
        frame = _frame(places[start], places[finish])
        if frame is None:
            laid.append(_laid(joint, "apart"))
            continue
        ends = (
            _end(parts[start], one, places[start], joint.ahead[0]),
            _end(parts[finish], other, places[finish], joint.ahead[1]),
        )
        if frame not in solids:
            solids[frame] = tuple(_solids(bay, placements, frame))
        hose = hose_of(joint.hose)
        shape = HoseShape(float(hose.bore_m + 2 * hose.wall_m) * 1000, float(hose.bend_radius_m) * 1000)
        found = _way(solids[frame], ends[0], ends[1], shape)
        laid.append(_laid(joint, found.why if isinstance(found, NoRoute) else found, frame))
    return tuple(laid)


@lru_cache(maxsize=4096)
def _way(solids: tuple[KeepOut, ...], start: HoseEnd, finish: HoseEnd, shape: HoseShape) -> Route | NoRoute:
    """Kits of the same placement share ways."""
    return shortest_route(solids, start, finish, shape)


def _laid(joint: Joint, found: Route | NotLaid, zone: str = "") -> LaidHose:
    route, why = (found, None) if isinstance(found, Route) else (None, found)
    return LaidHose(joint.start, joint.finish, joint.hose or "", zone, "zone" if zone else "car", route, why)


def _frame(one: Placement, other: Placement) -> str | None:
    """The empty name for the car's frame, else that of the zone of both; None where they have none in common."""
    if one.frame == other.frame == "car":
        return ""
    return one.zone if one.zone == other.zone else None


def _end(part: RigidPart, name: str, place: Placement, ahead: Ahead) -> HoseEnd:
    """An end as placed."""
    end = next(end for end in part.passages()["coolant"].ends if end.name == name)
    assert end.face is not None and end.at is not None, "a rigid part is read with the places of its ends"
    size: Triple = (millimetres_up(part.size.x_m), millimetres_up(part.size.y_m), millimetres_up(part.size.z_m))
    own = [float(given or 0.0) * 1000 for given in (end.at.x_m, end.at.y_m, end.at.z_m)]
    axis = "xyz".index(end.face[1])
    own[axis] = float(size[axis]) if end.face[0] == "+" else 0.0
    turn = turn_with(place.up, place.front)
    x, y, z = (low + at for low, at in zip(place.at_mm, turn.point(own, size), strict=True))
    return HoseEnd((x, y, z), turn.looks(end.face), ahead.turn_m * 1000, ahead.elbow)


def _solids(bay: Bay, placements: Sequence[Placement], frame: str) -> Iterator[KeepOut]:
    """What a hose keeps clear of in the car's frame, or in that of one zone."""
    corners: dict[str, Point] = {frame: (0.0, 0.0, 0.0)} if frame else {}
    if not frame:
        known = ((name, corner_mm(zone)) for name, zone in bay.zones.items())
        corners = {name: corner for name, corner in known if corner is not None}
    for place in placements:
        if place.zone in corners:
            yield _moved((0.0, 0.0, 0.0), place.size_mm, place.at_mm)
    for name, corner in corners.items():
        room = room_of(bay, name).room
        yield from (_moved(box.low, box.high, corner) for box in room.obstacles)
        yield from _closed_walls(room, corner)
    if not frame:
        yield from _outside(bay, list(corners.items()))


def _moved(low: Sequence[float], high: Sequence[float], by: Point) -> KeepOut:
    return KeepOut(
        (low[0] + by[0], low[1] + by[1], low[2] + by[2]), (high[0] + by[0], high[1] + by[1], high[2] + by[2])
    )


def _closed_walls(room: Room, corner: Point) -> Iterator[KeepOut]:
    """The walls that are not open, each a thin plate outside of the zone."""
    for side, is_open in enumerate(room.open):
        if not is_open:
            axis, far = divmod(side, 2)
            low, high = [0.0, 0.0, 0.0], [float(size) for size in room.size]
            low[axis], high[axis] = (high[axis], high[axis] + PLATE_MM) if far else (-PLATE_MM, 0.0)
            yield _moved(low, high, corner)


def _outside(bay: Bay, corners: Sequence[tuple[str, Point]]) -> Iterator[KeepOut]:
    """The ground, and what lies ahead of the bumper face; neither reaches into a zone."""
    tops = [
        tuple(at + size for at, size in zip(corner, room_of(bay, name).room.size, strict=True))
        for name, corner in corners
    ]
    low = [min(corner[k] for _, corner in corners) - BEYOND_MM for k in range(3)]
    high = [max(top[k] for top in tops) + BEYOND_MM for k in range(3)]
    for axis in (0, 2):
        face = min(0.0, min(corner[axis] for _, corner in corners))
        far = [face if k == axis else at for k, at in enumerate(high)]
        near = [min(at, face - PLATE_MM) for at in low]
        yield KeepOut((near[0], near[1], near[2]), (far[0], far[1], far[2]))
