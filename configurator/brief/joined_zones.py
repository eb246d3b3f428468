"""Zones that touch and are used as one: they become one zone, with what lies outside them as obstacles.

The one zone is the box round all of them. What of that box belongs to none of them is filled with plain obstacles,
so nothing else needs to know. Hoses do not go through those: a wall there counts as closed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise, product

from configurator.brief.bay import Bay, From, Obstacle, Side, Zone, box_in_car_m
from configurator.brief.spans import NOISE_M, Spans
from configurator.foundations.figures import Length

OUTSIDE = "outside"
_SIDES: tuple[tuple[Side, Side], ...] = (("front", "back"), ("left", "right"), ("down", "up"))


def with_joined_zones(bay: Bay) -> Bay:
    """The bay with each group of `as_one` made one zone; its name is theirs with ` + ` between."""
    for group in bay.as_one:
        bay = _joined(bay, group)
    return bay


def _joined(bay: Bay, group: Sequence[str]) -> Bay:
    boxes = {name: box_in_car_m(bay.zones[name]) for name in group}
    known = {name: box for name, box in boxes.items() if box is not None}
    around = _around(list(known.values()))
    name = " + ".join(group)
    first = bay.zones[group[0]]
    measured = Zone.model_validate({**_sizes(around), "at": _corner(around), "takes": list(first.takes)})
    shape = {key: getattr(measured, key) for key in ("wide_m", "high_m", "deep_m", "at")}
    merged = first.model_copy(update={**shape, "open": _open(bay, known, around)})
    moved = (_moved(bay, obstacle, name, known, around) for obstacle in bay.obstacles)
    fill = (_outside(name, box, around) for box in _complement(list(known.values())))
    runs: dict[str, Length] = {}
    for pair, length in bay.runs.items():
        one, other = (name if end in group else end for end in _ends(bay, pair))
        runs.setdefault(f"{one}-{other}", length)
    return bay.model_copy(
        update={
            "zones": {
                **{zone: _behind(known, group, name) for zone, known in bay.zones.items() if zone not in group},
                name: merged,
            },
            "obstacles": (*moved, *fill),
            "runs": runs,
            "front_in": name if bay.front_in in group else bay.front_in,
            "as_one": tuple(other for other in bay.as_one if other != group),
        }
    )


def _behind(zone: Zone, group: Sequence[str], name: str) -> Zone:
    """A zone whose air comes from one of the zones that became one: it now names that one."""
    if zone.air is None or zone.air.behind not in group:
        return zone
    return zone.model_copy(update={"air": zone.air.model_copy(update={"behind": name})})


def _around(boxes: Sequence[Spans]) -> Spans:
    """The box round all of them."""
    x, y, z = ((min(box[k][0] for box in boxes), max(box[k][1] for box in boxes)) for k in range(3))
    return (x, y, z)


def _mm(length_m: float) -> str:
    return f"{round(length_m * 1000, 6):.10g} mm"


def _sizes(box: Spans) -> dict[str, str]:
    deep, wide, high = (_mm(far - low) for low, far in box)
    return {"deep": deep, "wide": wide, "high": high}


def _corner(box: Spans) -> dict[str, str]:
    return {"back": _mm(box[0][0]), "right": _mm(box[1][0]), "up": _mm(box[2][0])}


def _ends(bay: Bay, pair: str) -> tuple[str, str]:
    """The two zones that a run's key names."""
    return next((a, b) for a, b in product(bay.zones, repeat=2) if f"{a}-{b}" == pair)


def _open(bay: Bay, boxes: dict[str, Spans], around: Spans) -> tuple[Side, ...]:
    """A side is open where every zone that reaches it says so."""
    found = []
    for k, sides in enumerate(_SIDES):
        for end, side in enumerate(sides):
            there = [name for name, box in boxes.items() if abs(box[k][end] - around[k][end]) < NOISE_M]
            if all(side in bay.zones[name].open for name in there):
                found.append(side)
    return tuple(found)


def _moved(bay: Bay, obstacle: Obstacle, name: str, boxes: dict[str, Spans], around: Spans) -> Obstacle:
    """An obstacle of one of the zones, measured in the one that they became."""
    box = boxes.get(obstacle.zone)
    if box is None:
        return obstacle
    zone, off = bay.zones[obstacle.zone], obstacle.off
    lows = []
    for near, far, extent, of_zone in (
        (off.front_m, off.back_m, obstacle.deep_m, zone.deep_m),
        (off.left_m, off.right_m, obstacle.wide_m, zone.wide_m),
        (off.floor_m, off.top_m, obstacle.high_m, zone.high_m),
    ):
        lows.append(float(near) if near is not None else float(of_zone) - float(far or 0.0) - float(extent))
    offsets = [box[k][0] - around[k][0] + lows[k] for k in range(3)]
    return obstacle.model_copy(update={"zone": name, "off": _off(offsets)})


def _off(offsets: Iterable[float]) -> From:
    front, left, floor = (_mm(offset) for offset in offsets)
    return From.model_validate({"front": front, "left": left, "floor": floor})


def _outside(name: str, box: Spans, around: Spans) -> Obstacle:
    front, left, floor = (_mm(box[k][0] - around[k][0]) for k in range(3))
    return Obstacle.model_validate(
        {
            "name": f"{OUTSIDE} {name}",
            "in": name,
            "from": {"front": front, "left": left, "floor": floor},
            **_sizes(box),
            "kind": "plain",
        }
    )


def _complement(boxes: Sequence[Spans]) -> Iterator[Spans]:
    """What of the box round all of them belongs to none, cut along their faces; cells in a row are one box."""
    cuts = [_distinct([face for box in boxes for face in box[k]]) for k in range(3)]
    for deep, wide in product(pairwise(cuts[0]), pairwise(cuts[1])):
        row: tuple[float, float] | None = None
        for high in pairwise(cuts[2]):
            cell: Spans = (deep, wide, high)
            if any(_holds(box, cell) for box in boxes):
                if row is not None:
                    yield (deep, wide, row)
                row = None
            else:
                row = high if row is None else (row[0], high[1])
        if row is not None:
            yield (deep, wide, row)


def _distinct(faces: list[float]) -> list[float]:
    found: list[float] = []
    for face in sorted(faces):
        if not found or face - found[-1] > NOISE_M:
            found.append(face)
    return found


def _holds(box: Spans, cell: Spans) -> bool:
    return all(box[k][0] < sum(cell[k]) / 2 < box[k][1] for k in range(3))
