"""Fitting cases as plain numbers, and how they are written for the program. Millimetres throughout."""

from __future__ import annotations

import random
from dataclasses import dataclass, replace

from configurator.brief.bay import Bay
from configurator.parts.kinds import RigidPart

Triple = tuple[int, int, int]
FACES = ("+x", "-x", "+y", "-y", "+z", "-z")


@dataclass(frozen=True)
class PlainPart:
    """A part as drawn: id, size, faces that may point up and to the front, mounted faces."""

    id: str
    size: Triple
    ups: tuple[str, ...] = ("+z",)
    fronts: tuple[str, ...] = FACES
    mounts: tuple[str, ...] = ()

    def rigid(self) -> RigidPart:
        """The same part as the program knows it."""
        return RigidPart.model_validate(
            {
                "id": self.id, "name": self.id, "price": 1,
                "size": {axis: f"{side} mm" for axis, side in zip("xyz", self.size, strict=True)},
                "turns": {"up": list(self.ups), "front": list(self.fronts)},
                "mounts": list(self.mounts),
            }
        )


@dataclass(frozen=True)
class PlainCase:
    """One zone: its size, the boxes (low, high) that must stay clear, and parts to put in."""

    zone: Triple
    obstacles: tuple[tuple[Triple, Triple], ...]
    parts: tuple[PlainPart, ...]

    def bay(self) -> Bay:
        """The zone as a bay with one zone, 'hole'; obstacles are named 'block 0' and so on."""
        deep, wide, high = (f"{side} mm" for side in self.zone)
        zone = {"deep": deep, "wide": wide, "high": high, "takes": ["pump"]}
        return Bay.model_validate({
            "zones": {"hole": zone},
            "obstacles": [
                {
                    "name": f"block {k}", "in": "hole", "kind": "plain",
                    "from": {"front": f"{low[0]} mm", "left": f"{low[1]} mm", "floor": f"{low[2]} mm"},
                    "deep": f"{far[0] - low[0]} mm", "wide": f"{far[1] - low[1]} mm", "high": f"{far[2] - low[2]} mm",
                }
                for k, (low, far) in enumerate(self.obstacles)
            ],
        })

    def items(self) -> tuple[tuple[str, RigidPart], ...]:
        """Slots and parts."""
        return tuple((f"slot-{k}", part.rigid()) for k, part in enumerate(self.parts))


def random_case(seed: int, most: int, longest: int, *, cut: bool = False) -> PlainCase:
    """A case drawn from a seed: up to `most` parts, sides up to `longest`.

    With `cut` the parts are pieces of the zone itself, cut across: they go in exactly, and with one of them a
    millimetre longer they do not.
    """
    draw = random.Random(seed)
    zone = tuple(draw.randint(longest // 2, longest) for _ in range(3))
    count = draw.randint(1, most)
    if cut:
        pieces = [zone]
        while len(pieces) < count:
            piece = pieces.pop(0)
            axis = draw.randrange(3)
            at = draw.randint(max(1, piece[axis] // 3), max(1, piece[axis] - 1 - piece[axis] // 3))
            pieces += [
                tuple(at if k == axis else piece[k] for k in range(3)),
                tuple(piece[k] - at if k == axis else piece[k] for k in range(3)),
            ]
        parts = tuple(PlainPart(f"piece-{k}", size, fronts=("-x", "-y")) for k, size in enumerate(pieces))
        return PlainCase(zone, (), parts)
    obstacles = []
    for _ in range(draw.randint(0, 2)):
        low = tuple(draw.randint(0, 2 * side // 3) for side in zone)
        far = tuple(draw.randint(low[k] + 1, zone[k]) for k in range(3))
        obstacles.append((low, tuple(min(far[k], low[k] + zone[k] // 2) for k in range(3))))
    share = draw.uniform(0.5, 1.0) / count ** (1 / 3)
    parts = []
    for k in range(count):
        size = tuple(max(1, round(draw.uniform(0.5, 1.1) * share * side)) for side in zone)
        if k and draw.random() < 0.3:
            size = parts[-1].size
        ups = tuple(draw.sample(FACES, draw.randint(1, 2)))
        mounts = tuple(draw.sample(FACES, 1)) if draw.random() < 0.25 else ()
        parts.append(PlainPart(f"part-{k}", size, ups, mounts=mounts))
    return PlainCase(zone, tuple(obstacles), tuple(parts))


def longer_by_one(case: PlainCase) -> PlainCase:
    """The case with its first part a millimetre longer along x."""
    first = case.parts[0]
    longer = replace(first, size=(first.size[0] + 1, *first.size[1:]))
    return replace(case, parts=(longer, *case.parts[1:]))
