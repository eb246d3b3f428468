"""The kinds of parts: one frozen record each. Rigid parts have a size and turns; the rest serve joints."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from pydantic import Field

from configurator.foundations.figures import (
    Area,
    Current,
    GaugePressure,
    Length,
    Mass,
    PressureLoss,
    Share,
    SpecificHeat,
    Temperature,
    VolumeFlow,
)
from configurator.foundations.records import Count, Fault, Flag, Number, Record
from configurator.parts.ends import End, Face
from configurator.parts.passages import Passage
from configurator.parts.performance import Arrangement, CorePerformance, ExchangerPerformance

ON_FACE_TOLERANCE_M = 1e-6


class Part(Record):
    """What every part has: a spoken name, a price, and how sure we are that it can be had."""

    id: str = Field(pattern=r"^[a-z0-9][a-z0-9.-]*$", max_length=60)
    name: str = Field(min_length=1, max_length=200)
    price: Number = Field(ge=0, le=1e6, allow_inf_nan=False)
    mass_kg: Mass | None = Field(default=None, alias="mass")
    stock: Count | None = Field(default=None, ge=0)
    lead_days: Count | None = Field(default=None, alias="lead", ge=0)
    note: str | None = None
    source: str | None = None

    @property
    def price_cents(self) -> int:
        """Price in hundredths of the currency unit."""
        return round(self.price * 100)


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

    def passages(self) -> dict[str, Passage]:
        """The part's passages by what flows through them."""
        found: dict[str, Passage] = {}
        for name in ("charge", "coolant"):
            passage = getattr(self, name, None)
            if isinstance(passage, Passage):
                found[name] = passage
        return found

    def faults(self) -> Iterator[Fault]:
        """No turn that its words allow; ends without a place on their face, and ends off it."""
        fronts = self.turns.front or self.turns.air
        if fronts is not None and not any(up[1] != front[1] for up in self.turns.up for front in fronts):
            text = "these turns allow no way round: a face cannot point up and to the front at once"
            yield Fault(text, ("turns",))
        extent = {"x": float(self.size.x_m), "y": float(self.size.y_m), "z": float(self.size.z_m)}
        for passage_name, passage in self.passages().items():
            for index, end in enumerate(passage.ends):
                for fault in _place_faults(end, extent, f"{passage_name} end '{end.name}'"):
                    yield Fault(fault.text, (passage_name, "ends", index, *fault.at))


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


class Core(RigidPart):
    """A charge-air core: charge on one side, coolant on the other."""

    kind: Literal["core"] = "core"
    mass_kg: Mass = Field(alias="mass")
    charge: Passage
    coolant: Passage
    arrangement: Arrangement
    performance: CorePerformance = CorePerformance()
    specific_heat_j_per_kg_k: SpecificHeat | None = Field(default=None, alias="specific_heat")


class FaceSize(Record):
    """The finned face alone: across the car and upwards."""

    wide_m: Length = Field(alias="wide")
    high_m: Length = Field(alias="high")


class Exchanger(RigidPart):
    """A front exchanger: coolant in the tubes, outside air through the fins."""

    kind: Literal["exchanger"] = "exchanger"
    mass_kg: Mass = Field(alias="mass")
    coolant: Passage
    face: FaceSize
    fin_depth_m: Length | None = Field(default=None, alias="fin_depth")
    arrangement: Arrangement
    performance: ExchangerPerformance = ExchangerPerformance()
    specific_heat_j_per_kg_k: SpecificHeat | None = Field(default=None, alias="specific_heat")


class CurvePoint(Record):
    """One point of a pump's curve: the head it still makes at this flow."""

    flow_m3_per_s: VolumeFlow = Field(alias="flow")
    head_pa: PressureLoss = Field(alias="head")


class Pump(RigidPart):
    """A circulation pump: its curve as points, at its stated voltage."""

    kind: Literal["pump"] = "pump"
    coolant: Passage
    curve: tuple[CurvePoint, ...] = Field(min_length=2, max_length=40)
    volts: Number = Field(gt=0, le=60)
    current_a: Current = Field(alias="current")
    heat_to_coolant: Share | None = None

    @property
    def dead_head_pa(self) -> float:
        """Head at no flow [Pa]."""
        return float(self.curve[0].head_pa)

    def faults(self) -> Iterator[Fault]:
        """Besides those of every rigid part: a curve that does not start at no flow, or does not fall."""
        yield from super().faults()
        if self.curve[0].flow_m3_per_s > 0:
            text = "the curve starts at no flow: its first point is {flow: 0 L/min, head: ...}"
            yield Fault(text, ("curve", 0, "flow"))
        for index, (before, after) in enumerate(zip(self.curve, self.curve[1:], strict=False), start=1):
            if after.flow_m3_per_s <= before.flow_m3_per_s:
                flows = f"{after.flow_m3_per_s.text} comes after {before.flow_m3_per_s.text}"
                yield Fault(f"the curve's flows must rise: {flows}", ("curve", index, "flow"))
            elif after.head_pa >= before.head_pa:
                text = (
                    f"the curve rises: head {after.head_pa.text} at {after.flow_m3_per_s.text} is not below "
                    f"{before.head_pa.text} at {before.flow_m3_per_s.text}"
                )
                yield Fault(text, ("curve", index, "head"))


class Reservoir(RigidPart):
    """A reservoir: holds coolant and the air space above it. A vented one holds no pressure."""

    kind: Literal["reservoir"] = "reservoir"
    coolant: Passage
    air_space: Share
    vented: Flag = False

    def faults(self) -> Iterator[Fault]:
        """Besides those of every rigid part: no volume stated."""
        yield from super().faults()
        if self.coolant.volume_m3 is None:
            yield Fault("a reservoir needs its volume: coolant: {volume: 3 L, ...}", ("coolant",))


class Cap(Part):
    """A cap: opens at its pressure (gauge), or is vented."""

    kind: Literal["cap"] = "cap"
    opens_pa_gauge: GaugePressure = Field(alias="opens")
    coolant: Passage


class Hose(Part):
    """Coolant hose by the metre: price and mass are per metre."""

    kind: Literal["hose"] = "hose"
    bore_m: Length = Field(alias="bore")
    wall_m: Length = Field(alias="wall")
    hose_class: str = Field(alias="class")
    working_pa_gauge: GaugePressure | None = Field(default=None, alias="working")
    hottest_k: Temperature = Field(alias="hottest")
    coldest_k: Temperature = Field(alias="coldest")
    media: tuple[Literal["coolant", "charge", "fuel"], ...] = Field(min_length=1)
    bend_radius_m: Length = Field(alias="bend_radius")
    roughness_m: Length | None = Field(default=None, alias="roughness")
    vacuum: Flag = False


class Adapter(Part):
    """What joins two ends that do not meet: thread to spigot, reducer, elbow, coupler.

    `lined`: a coupler with a fluoro lining, which oil and heat do not soften.
    """

    kind: Literal["adapter"] = "adapter"
    shape: Literal["adapter", "reducer", "elbow", "coupler"]
    medium: Literal["coolant", "charge"]
    through: Passage
    length_m: Length = Field(alias="length")
    wall_m: Length | None = Field(default=None, alias="wall")
    loss_factor: Number | None = Field(default=None, ge=0, le=20)
    lined: Flag = False

    def faults(self) -> Iterator[Fault]:
        """A number of ends other than two."""
        if len(self.through.ends) != 2:
            text = f"an adapter has exactly two ends, this one has {len(self.through.ends)}"
            yield Fault(text, ("through", "ends"))


class Clamp(Part):
    """A hose clamp and the fitted outside diameters it closes on."""

    kind: Literal["clamp"] = "clamp"
    style: Literal["worm", "constant-torque", "T-bolt", "spring"]
    least_m: Length = Field(alias="least")
    most_m: Length = Field(alias="most")
    media: tuple[Literal["coolant", "charge"], ...] = Field(min_length=1)

    def faults(self) -> Iterator[Fault]:
        """A range that ends before it begins."""
        if self.most_m <= self.least_m:
            yield Fault(f"most {self.most_m.text} is not above least {self.least_m.text}", ("most",))


class FanPoint(Record):
    """One point of a fan's curve: pressure rise at this flow."""

    flow_m3_per_s: VolumeFlow = Field(alias="flow")
    rise_pa: PressureLoss = Field(alias="rise")


class Fan(RigidPart):
    """An electric fan: its curve as points."""

    kind: Literal["fan"] = "fan"
    curve: tuple[FanPoint, ...] = Field(min_length=2)
    volts: Number = Field(gt=0, le=60)
    current_a: Current = Field(alias="current")

    def faults(self) -> Iterator[Fault]:
        """Besides those of every rigid part: a curve that does not fall."""
        yield from super().faults()
        for index, (before, after) in enumerate(zip(self.curve, self.curve[1:], strict=False), start=1):
            if after.flow_m3_per_s <= before.flow_m3_per_s or after.rise_pa >= before.rise_pa:
                yield Fault(
                    "the fan's curve must fall: from point to point more flow and less rise", ("curve", index)
                )


class Fuse(Part):
    """A blade fuse-link."""

    kind: Literal["fuse"] = "fuse"
    rated_a: Current = Field(alias="rated")


class Relay(Part):
    """A relay: what its contact carries without a break."""

    kind: Literal["relay"] = "relay"
    rated_a: Current = Field(alias="rated")
    volts: Number = Field(gt=0, le=60)


class Wire(Part):
    """Copper wire by the metre: price and mass are per metre."""

    kind: Literal["wire"] = "wire"
    area_m2: Area = Field(alias="area")


PART_KINDS: dict[str, type[Part]] = {
    "core": Core,
    "exchanger": Exchanger,
    "pump": Pump,
    "reservoir": Reservoir,
    "cap": Cap,
    "hose": Hose,
    "adapter": Adapter,
    "clamp": Clamp,
    "fan": Fan,
    "fuse": Fuse,
    "relay": Relay,
    "wire": Wire,
}
