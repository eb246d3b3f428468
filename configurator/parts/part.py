"""What every part has, and what every part that takes room in the bay has besides."""

from __future__ import annotations

from collections.abc import Iterator

from pydantic import Field

from configurator.foundations.figures import Length, Mass
from configurator.foundations.records import Count, Fault, Price, Record
from configurator.parts.ends import End, Face
from configurator.parts.passages import Passage

ON_FACE_TOLERANCE_M = 1e-6


ONE_WAY = {
    "pump": "a pump pushes one way",
    "reservoir": "the pump draws from one end of a reservoir",
}


class Part(Record):
    """What every part has: a spoken name, a price, and how sure we are that it can be had."""

    kind: str = "part"
    id: str = Field(pattern=r"^[a-z0-9][a-z0-9.-]*$", max_length=60)
    name: str = Field(min_length=1, max_length=200)
    price: Price
    mass_kg: Mass | None = Field(default=None, alias="mass")
    stock: Count | None = Field(default=None, ge=0)
    lead_days: Count | None = Field(default=None, alias="lead", ge=0)
    note: str | None = None
    source: str | None = None

    @property
    def price_cents(self) -> int:
        """Price in hundredths of the currency unit."""
        return round(self.price * 100)

    @property
    def mass_g(self) -> int:
        """Dry mass in whole grams, 0 where none is stated."""
        return round(float(self.mass_kg or 0.0) * 1000)


class Size(Record):
    """Outer box as drawn. Cores: x is the charge flow; exchangers: x is through the fins; z is up."""

    x_m: Length = Field(alias="x")
    y_m: Length = Field(alias="y")
    z_m: Length = Field(alias="z")


class Turns(Record):
    """Which way up a part may sit, and which faces may look forward (for exchangers: into the air)."""

    up: tuple[Face, ...] = ("+z",)
    front: tuple[Face, ...] | None = None
    air: tuple[Face, ...] | None = None


class RigidPart(Part):
    """A part that takes room in the bay."""

    size: Size
    turns: Turns = Turns()
    mounts: tuple[Face, ...] = ()

    @property
    def up_unsaid(self) -> bool:
        """Whether nobody says which faces may look up: it is taken to stand on its low face only."""
        return "up" not in self.turns.model_fields_set

    def passages(self) -> dict[str, Passage]:
        """The part's passages by what flows through them."""
        found: dict[str, Passage] = {}
        for name in ("charge", "coolant"):
            passage = getattr(self, name, None)
            if isinstance(passage, Passage):
                found[name] = passage
        return found

    def faults(self) -> Iterator[Fault]:
        """No turn that its words allow; no way in or out; ends without a place on their face, and ends off it."""
        fronts = self.turns.front or self.turns.air
        if fronts is not None and not any(up[1] != front[1] for up in self.turns.up for front in fronts):
            text = "these turns allow no way round: a face cannot point up and to the front at once"
            yield Fault(text, ("turns",))
        extent = {"x": float(self.size.x_m), "y": float(self.size.y_m), "z": float(self.size.z_m)}
        for passage_name, passage in self.passages().items():
            for text in _flow_faults(passage, self.kind):
                yield Fault(text, (passage_name, "ends"))
            for index, end in enumerate(passage.ends):
                for fault in _place_faults(end, extent, f"{passage_name} end '{end.name}'"):
                    yield Fault(fault.text, (passage_name, "ends", index, *fault.at))


def _flow_faults(passage: Passage, kind: str) -> Iterator[str]:
    """No way through, or no telling which way."""
    names = [end.name for end in passage.ends]
    if len(set(names)) < len(names):
        return  # told as such
    if None in (passage.end_for("in"), passage.end_for("out")):
        yield "it flows in at one end and out at another: name one of the ends in and one out"
    elif not passage.one_way and kind in ONE_WAY:
        either = " and ".join(f"'{end.name}'" for end in passage.ends if end.role == "either")
        yield f"{ONE_WAY[kind]}: which of {either} is the way in, which out? Name them in and out, or give their role"


def _place_faults(end: End, extent: dict[str, float], where: str) -> Iterator[Fault]:
    if end.face is None or end.at is None:
        yield Fault(f"{where} needs the face it sits on and where: face: +x, at: {{y: 75 mm, z: 65 mm}}")
        return
    given = {"x": end.at.x_m, "y": end.at.y_m, "z": end.at.z_m}
    in_face = [axis for axis in "xyz" if axis != end.face[1]]
    if {axis for axis in "xyz" if given[axis] is not None} != set(in_face):
        text = f"{where} sits on face {end.face}: give its {in_face[0]} and {in_face[1]}, nothing else"
        yield Fault(text, ("at",))
        return
    for axis in in_face:
        place = given[axis]
        if place is not None and (place < -ON_FACE_TOLERANCE_M or place > extent[axis] + ON_FACE_TOLERANCE_M):
            text = f"{where} is off its face: {axis} {place.text} lies outside"
            yield Fault(f"{text} 0 mm to {extent[axis] * 1000:g} mm", ("at", axis))
