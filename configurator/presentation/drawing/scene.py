"""What stands where, as plain geometry: zones with all that is in them, by the placement of one kit.

Lengths are millimetres. Inside a zone they run from its front-left-floor corner: x back, y right, z up. Walls and
obstacles stand as measured, parts by their size as placed (rounded up to whole millimetres).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from configurator.brief.bay import Bay, Obstacle, Zone
from configurator.fitting.placing import Placement
from configurator.fitting.room import KEEP_OFF_MM, corner_mm
from configurator.fitting.turns import ALL_TURNS, SIDES, Turn
from configurator.parts.ends import End
from configurator.parts.kinds import RigidPart

Point = tuple[float, float, float]
ORIGIN: Final[Point] = (0.0, 0.0, 0.0)

PLACES: Final = 3
"""Decimals of a millimetre that are kept: far below any tape, far above the noise of a float."""

_OPEN: Final = {"front": "front", "back": "back", "left": "left", "right": "right", "up": "top", "down": "floor"}
_LETTERS: Final = "ABCDEFGHJKLMNPQRSTUVWXYZ"


@dataclass(frozen=True)
class Route:
    """A hose's name and the points of its axis [mm]: in the frame of the car, or of the zone named."""

    name: str
    points: tuple[Point, ...]
    zone: str = ""


@dataclass(frozen=True)
class EndMark:
    """An end of a placed part: its key on the sheet, its name, what it is, where it lies and the side it looks to."""

    key: str
    name: str
    words: str
    at: Point
    side: str


@dataclass(frozen=True)
class Body:
    """A part or an obstacle: key on the sheet, kind (`part`, or that of the obstacle), lowest and highest corner.

    `up` and `front` are a part's own faces that look up and to the front; `keep_off_mm` is how far others stay off
    an obstacle.
    """

    key: str
    kind: str
    name: str
    low: Point
    high: Point
    ends: tuple[EndMark, ...] = ()
    up: str = ""
    front: str = ""
    keep_off_mm: float = 0.0

    @property
    def size(self) -> Point:
        """Extent along x, y and z."""
        return _rounded(high - low for low, high in zip(self.low, self.high, strict=True))


@dataclass(frozen=True)
class Block:
    """One zone with all that is in it; `corner` is where it lies in the car, None where that is not known."""

    zone: str
    measured: Zone
    size: Point
    corner: Point | None
    open_sides: frozenset[str]
    bodies: tuple[Body, ...]

    @property
    def parts(self) -> tuple[Body, ...]:
        """The bodies that are parts."""
        return tuple(body for body in self.bodies if body.kind == "part")


@dataclass(frozen=True)
class Gap:
    """The free way from one face of a part to what is next on that side: the key of a body, or `wall`."""

    mm: float
    to: str


def blocks_of(bay: Bay, placements: Sequence[Placement], parts: Mapping[str, RigidPart]) -> tuple[Block, ...]:
    """A block for each zone of the bay in its order; parts are numbered as `parts` (by slot) are listed."""
    keys = {slot: str(number) for number, slot in enumerate((s for s in parts if _placed(s, placements)), start=1)}
    letters = iter(_letters())
    found = []
    for name, zone in bay.zones.items():
        size = _rounded(float(side) * 1000 for side in (zone.deep_m, zone.wide_m, zone.high_m))
        corner = corner_mm(zone)
        inside = sorted((place for place in placements if place.zone == name), key=lambda place: int(keys[place.slot]))
        bodies = [_part_body(keys[place.slot], place, parts[place.slot], corner) for place in inside]
        bodies += [
            _obstacle_body(next(letters), obstacle, size) for obstacle in bay.obstacles if obstacle.zone == name
        ]
        found.append(Block(name, zone, size, corner, frozenset(_OPEN[side] for side in zone.open), tuple(bodies)))
    return tuple(found)


def gap(block: Block, body: Body, side: str) -> Gap:
    """The way from a face of a body to the nearest face that lies straight before it; else to the wall."""
    axis, high = divmod(SIDES.index(side), 2)
    own = body.high[axis] if high else body.low[axis]
    nearest = Gap(_round(block.size[axis] - own if high else own), "wall")
    for other in block.bodies:
        if other is body or not _in_line(body, other, axis):
            continue
        way = _round(other.low[axis] - own if high else own - other.high[axis])
        if 0 <= way < nearest.mm:
            nearest = Gap(way, other.key)
    return nearest


def ways_inside(block: Block, route: Route) -> Iterator[tuple[Point, Point]]:
    """The stretches of a route that lie inside a zone, in the zone's own frame."""
    corner = ORIGIN if route.zone == block.zone else None if route.zone else block.corner
    if corner is None:
        return
    own = [_rounded(p - c for p, c in zip(point, corner, strict=True)) for point in route.points]
    for start, finish in pairwise(own):
        first, last = 0.0, 1.0
        for k in range(3):
            step = finish[k] - start[k]
            if step == 0.0:
                if not 0.0 <= start[k] <= block.size[k]:
                    last = -1.0
                continue
            ways = sorted(((0.0 - start[k]) / step, (block.size[k] - start[k]) / step))
            first, last = max(first, ways[0]), min(last, ways[1])
        if first < last:
            yield _between(start, finish, first), _between(start, finish, last)


def _between(start: Point, finish: Point, share: float) -> Point:
    return _rounded(a + share * (b - a) for a, b in zip(start, finish, strict=True))


def _in_line(body: Body, other: Body, axis: int) -> bool:
    return all(body.low[k] < other.high[k] and other.low[k] < body.high[k] for k in range(3) if k != axis)


def _placed(slot: str, placements: Sequence[Placement]) -> bool:
    return any(place.slot == slot for place in placements)


def _letters() -> Iterator[str]:
    for first in ("", *_LETTERS):
        for second in _LETTERS:
            yield first + second


def _part_body(key: str, place: Placement, part: RigidPart, corner: Point | None) -> Body:
    lowest = place.at_mm if place.frame == "zone" or corner is None else _less(place.at_mm, corner)
    low = _rounded(lowest)
    high = _rounded(a + b for a, b in zip(low, place.size_mm, strict=True))
    turn = next(turn for turn in ALL_TURNS if (turn.up, turn.front) == (place.up, place.front))
    passages = part.passages()
    ends = [(medium, end) for medium, passage in passages.items() for end in passage.ends if end.face is not None]
    marks = tuple(
        _end_mark(f"{key}{_small(number)}", medium if len(passages) > 1 else "", end, turn, low, high)
        for number, (medium, end) in enumerate(ends)
    )
    return Body(key, "part", place.slot, low, high, marks, place.up, place.front)


def _small(number: int) -> str:
    return next(letter for index, letter in enumerate(_letters()) if index == number).lower()


def _end_mark(key: str, medium: str, end: End, turn: Turn, low: Point, high: Point) -> EndMark:
    assert end.face is not None and end.at is not None
    given = {"x": end.at.x_m, "y": end.at.y_m, "z": end.at.z_m}
    at = []
    for k in range(3):
        to_low, to_high = turn.faces[2 * k], turn.faces[2 * k + 1]
        place = given[to_high[1]]
        if place is None:
            at.append(low[k] if end.face == to_low else high[k])
        else:
            off = float(place) * 1000
            at.append(low[k] + off if to_high[0] == "+" else high[k] - off)
    x, y, z = _rounded(at)
    name = f"{medium} {end.name}".strip()
    return EndMark(key, name, f"{name} {end.form}:{end.size}", (x, y, z), SIDES[turn.faces.index(end.face)])


def _obstacle_body(key: str, obstacle: Obstacle, zone: Point) -> Body:
    """An obstacle as measured; what of it lies outside the zone is left out."""
    off = obstacle.off
    low = []
    for near, far, extent, length in (
        (off.front_m, off.back_m, obstacle.deep_m, zone[0]),
        (off.left_m, off.right_m, obstacle.wide_m, zone[1]),
        (off.floor_m, off.top_m, obstacle.high_m, zone[2]),
    ):
        low.append(float(near) * 1000 if near is not None else length - 1000 * (float(far or 0.0) + float(extent)))
    size = (obstacle.deep_m, obstacle.wide_m, obstacle.high_m)
    high = [a + float(b) * 1000 for a, b in zip(low, size, strict=True)]
    stated = obstacle.clearance_m
    keep = 0.0
    if obstacle.kind in KEEP_OFF_MM:
        keep = KEEP_OFF_MM[obstacle.kind] if stated is None else float(stated) * 1000
    inside_low = _rounded(min(max(a, 0.0), z) for a, z in zip(low, zone, strict=True))
    inside_high = _rounded(min(max(b, 0.0), z) for b, z in zip(high, zone, strict=True))
    return Body(key, obstacle.kind, obstacle.name, inside_low, inside_high, keep_off_mm=_round(keep))


def _less(point: Point, corner: Point) -> Point:
    return _rounded(a - b for a, b in zip(point, corner, strict=True))


def _round(value: float) -> float:
    return round(value, PLACES) + 0.0


def _rounded(values: Sequence[float] | Iterator[float]) -> Point:
    x, y, z = (_round(value) for value in values)
    return (x, y, z)
