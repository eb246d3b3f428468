"""Fitting cases as plain numbers, and how they are written for the program. Millimetres throughout."""

from __future__ import annotations

from dataclasses import dataclass, replace

from configurator.brief.bay import Bay
from configurator.fitting.reaches import Heights, Needs, Reach
from configurator.foundations.boxes import Box
from configurator.parts.kinds import RigidPart

Triple = tuple[int, int, int]
FACES = ("+x", "-x", "+y", "-y", "+z", "-z")
SIDES = ("front", "back", "left", "right", "floor", "top")
_IN_A_BRIEF = {"floor": "down", "top": "up"}


@dataclass(frozen=True)
class PlainReach:
    """Room before an end of a part as drawn: the joint it takes part in, the end, lowest and highest corner."""

    joint: str
    end: str
    low: Triple
    high: Triple


@dataclass(frozen=True)
class PlainPart:
    """A part as drawn: id, size, faces that may point up and to the front, mounted faces.

    `reaches`: room before its ends. `used`: medium and face of the ends in use. `filled`: per cent of its height up to
    which a reservoir is filled. `inlet`: a pump's inlet. `bled_by`: faces which, pointing up, bleed it; None for what
    needs no bleed.
    """

    id: str
    size: Triple
    ups: tuple[str, ...] = ("+z",)
    fronts: tuple[str, ...] = FACES
    mounts: tuple[str, ...] = ()
    reaches: tuple[PlainReach, ...] = ()
    used: tuple[tuple[str, str], ...] = ()
    filled: int | None = None
    inlet: Triple | None = None
    bled_by: tuple[str, ...] | None = None

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

    def needs(self) -> Needs:
        """What it needs besides its box, as the program knows it."""
        reaches = tuple(Reach(r.end, "+x", Box(r.low, r.high), r.joint) for r in self.reaches)
        heights = Heights(
            None if self.filled is None else 1.0 - (100 - self.filled) / 100,
            self.inlet,
            None if self.bled_by is None else frozenset(self.bled_by),
        )
        return Needs(reaches, heights, self.used)


@dataclass(frozen=True)
class PlainCase:
    """One zone: its size, the boxes (low, high) that must stay clear, and parts to put in.

    `open`: walls that reaches may go through. `ends`: by medium, the sides that its used ends must face. `way_in`:
    width and height of the opening. `up`: height of its floor above the ground.
    """

    zone: Triple
    obstacles: tuple[tuple[Triple, Triple], ...]
    parts: tuple[PlainPart, ...]
    open: tuple[str, ...] = ()
    ends: tuple[tuple[str, tuple[str, ...]], ...] = ()
    way_in: tuple[int, int] | None = None
    up: float | None = None

    def bay(self) -> Bay:
        """The zone as a bay with one zone, 'hole'; obstacles are named 'block 0' and so on."""
        return bay_of({"hole": self})

    def items(self) -> tuple[tuple[str, RigidPart], ...]:
        """Slots and parts."""
        return tuple((f"slot-{k}", part.rigid()) for k, part in enumerate(self.parts))

    def needs(self) -> dict[str, Needs]:
        """What each part needs, by slot."""
        return {f"slot-{k}": part.needs() for k, part in enumerate(self.parts)}


def bay_of(cases: dict[str, PlainCase]) -> Bay:
    """A bay of zones by name."""
    return Bay.model_validate({
        "zones": {name: _zone(case) for name, case in cases.items()},
        "obstacles": [
            {
                "name": f"block {k}", "in": name, "kind": "plain",
                "from": {"front": f"{low[0]} mm", "left": f"{low[1]} mm", "floor": f"{low[2]} mm"},
                "deep": f"{far[0] - low[0]} mm", "wide": f"{far[1] - low[1]} mm", "high": f"{far[2] - low[2]} mm",
            }
            for name, case in cases.items()
            for k, (low, far) in enumerate(case.obstacles)
        ],
    })


def kit_of(cases: dict[str, PlainCase]) -> tuple[tuple[tuple[str, RigidPart, str], ...], dict[str, Needs]]:
    """Every (slot, part, zone) of the zones of one kit, and needs by slot; a slot is named as its part."""
    parts = [(part, name) for name, case in cases.items() for part in case.parts]
    return tuple((part.id, part.rigid(), name) for part, name in parts), {part.id: part.needs() for part, _ in parts}


def _zone(case: PlainCase) -> dict[str, object]:
    deep, wide, high = (f"{side} mm" for side in case.zone)
    zone: dict[str, object] = {"deep": deep, "wide": wide, "high": high, "takes": ["pump"]}
    zone["open"] = [_IN_A_BRIEF.get(side, side) for side in case.open]
    zone["ends"] = {medium: [_IN_A_BRIEF.get(side, side) for side in sides] for medium, sides in case.ends}
    if case.way_in is not None:
        zone["way_in"] = {"wide": f"{case.way_in[0]} mm", "high": f"{case.way_in[1]} mm"}
    if case.up is not None:
        zone["at"] = {"up": f"{case.up} mm"}
    return zone


def longer_by_one(case: PlainCase) -> PlainCase:
    """The case with its first part a millimetre longer along x."""
    first = case.parts[0]
    longer = replace(first, size=(first.size[0] + 1, *first.size[1:]))
    return replace(case, parts=(longer, *case.parts[1:]))
