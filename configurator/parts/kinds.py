"""The kinds of parts: one frozen record each. Rigid parts have a size and turns; the rest serve joints."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Literal

from pydantic import Field

from configurator.foundations.figures import (
    Area,
    Current,
    Duration,
    GaugePressure,
    Length,
    PressureLoss,
    Share,
    Temperature,
    VolumeFlow,
)
from configurator.foundations.records import Fault, Flag, Number, Record
from configurator.parts.ends import End
from configurator.parts.heat_movers import Core as Core
from configurator.parts.heat_movers import Exchanger as Exchanger
from configurator.parts.part import Part as Part
from configurator.parts.part import RigidPart as RigidPart
from configurator.parts.passages import BoredPassage, Passage


class CurvePoint(Record):
    """One point of a pump's curve: the head it still makes at this flow."""

    flow_m3_per_s: VolumeFlow = Field(alias="flow")
    head_pa: PressureLoss = Field(alias="head")


class Pump(RigidPart):
    """A circulation pump: its curve as points, at its stated voltage.

    `npsh_required_pa`: the pressure over the coolant's vapour that it needs at its inlet; None where nobody says.
    """

    kind: Literal["pump"] = "pump"
    coolant: Passage
    curve: tuple[CurvePoint, ...] = Field(min_length=2, max_length=40)
    volts: Number = Field(gt=0, le=60)
    current_a: Current = Field(alias="current")
    heat_to_coolant: Share | None = None
    npsh_required_pa: PressureLoss | None = Field(default=None, alias="npsh_required")

    @property
    def dead_head_pa(self) -> float:
        """Head at no flow [Pa]."""
        return float(self.curve[0].head_pa)

    def faults(self) -> Iterator[Fault]:
        """Besides those of every rigid part: a curve that does not start at no flow, or does not fall."""
        yield from super().faults()
        yield from _curve_faults([(point.flow_m3_per_s, point.head_pa) for point in self.curve], "head", "0 L/min")


def _curve_faults(points: Sequence[tuple[VolumeFlow, PressureLoss]], key: str, no_flow: str) -> Iterator[Fault]:
    """Where a curve of flows and pressures does not start at no flow, or does not fall.

    `key`: of its pressures; `no_flow`: as it is usually written.
    """
    if points[0][0] > 0:
        text = f"the curve starts at no flow: its first point is {{flow: {no_flow}, {key}: ...}}"
        yield Fault(text, ("curve", 0, "flow"))
    for index, ((before, higher), (after, lower)) in enumerate(pairwise(points), start=1):
        if after <= before:
            flows = f"{after.text} comes after {before.text}"
            yield Fault(f"the curve's flows must rise: {flows}", ("curve", index, "flow"))
        elif lower >= higher:
            text = f"the curve rises: {key} {lower.text} at {after.text} is not below {higher.text} at {before.text}"
            yield Fault(text, ("curve", index, key))


class Reservoir(RigidPart):
    """A reservoir: holds coolant and the air space above it. A vented one holds no pressure.

    Its volume is that of the coolant at the fill mark, `air_space` the share of its inside that is air then. `ice`:
    whether ice goes in, by a hatch of its own; `screen`: whether one before its outlet keeps ice from the pump.
    """

    kind: Literal["reservoir"] = "reservoir"
    coolant: Passage
    air_space: Share
    vented: Flag = False
    ice: Flag = False
    screen: Flag = False

    @property
    def air_m3(self) -> float:
        """Air above the fill mark [m3]."""
        return float(self.coolant.volume_m3 or 0.0) * float(self.air_space) / (1.0 - float(self.air_space))

    def faults(self) -> Iterator[Fault]:
        """Besides those of every rigid part: no volume stated, or air alone inside."""
        yield from super().faults()
        if self.air_space >= 1.0:
            yield Fault("the air space is the whole inside: no coolant is left in the reservoir", ("air_space",))
        if self.coolant.volume_m3 is None:
            yield Fault("a reservoir needs its volume: coolant: {volume: 3 L, ...}", ("coolant",))
        if self.ice and not self.vented:
            yield Fault("a tank that takes ice is vented: write vented: true, or leave ice away", ("ice",))


class Cap(Part):
    """A cap: opens at its pressure (gauge), or is vented."""

    kind: Literal["cap"] = "cap"
    opens_pa_gauge: GaugePressure = Field(alias="opens")
    coolant: Passage


class Hose(Part):
    """Coolant hose by the metre: price and mass are per metre.

    `bend_radius_m`: the tightest bend it takes without a kink, to the inside of the bend, as hose is measured (common
    practice); about its middle line it is half its outside more. `vacuum`: whether it is wired or made to stand
    vacuum; None where nobody says.
    """

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
    vacuum: Flag | None = None


class Adapter(Part):
    """What joins two ends that do not meet: thread to spigot, reducer, elbow, coupler.

    `lined`: a coupler with a fluoro lining, which oil and heat do not soften.
    """

    kind: Literal["adapter"] = "adapter"
    shape: Literal["adapter", "reducer", "elbow", "coupler"]
    medium: Literal["coolant", "charge"]
    through: BoredPassage
    length_m: Length = Field(alias="length")
    wall_m: Length | None = Field(default=None, alias="wall")
    loss_factor: Number | None = Field(default=None, ge=0, le=20)
    lined: Flag = False

    def faults(self) -> Iterator[Fault]:
        """A number of ends other than two."""
        if len(self.through.ends) != 2:
            text = f"an adapter has exactly two ends, this one has {len(self.through.ends)}"
            yield Fault(text, ("through", "ends"))


class Wye(Part):
    """A wye or tee: one stem that carries the whole flow, two branches alike that carry half of it each."""

    kind: Literal["wye"] = "wye"
    shape: Literal["wye", "tee"]
    medium: Literal["coolant", "charge"]
    through: Passage
    loss_factor: Number = Field(ge=0, le=20)

    @property
    def stem(self) -> End:
        """The end of the whole flow."""
        return next(end for end in self.through.ends if end.name == "stem")

    @property
    def branches(self) -> tuple[End, ...]:
        """The two ends of half the flow."""
        return tuple(end for end in self.through.ends if end.name != "stem")

    def faults(self) -> Iterator[Fault]:
        """Other than one stem and two branches; branches that are not alike, so that the flow divides unevenly."""
        if len(self.through.ends) != 3 or sum(end.name == "stem" for end in self.through.ends) != 1:
            yield Fault("a wye has three ends: one named 'stem' and two branches", ("through", "ends"))
        elif all(end.sound for end in self.branches) and len({(*e.identity, e.bore_m) for e in self.branches}) > 1:
            text = "the branches of a wye are alike: through others the flow would divide unevenly"
            yield Fault(text, ("through", "ends"))


class Valve(Part):
    """A three-way bypass valve in the coolant, turned by hand: all of the flow leaves by `out`, or all by `bypass`."""

    kind: Literal["valve"] = "valve"
    through: Passage
    loss_factor: Number = Field(ge=0, le=20)

    def end(self, name: Literal["in", "out", "bypass"]) -> End:
        """One of its three ends."""
        return next(end for end in self.through.ends if end.name == name)

    def faults(self) -> Iterator[Fault]:
        """Ends other than one way in, one way out and one bypass."""
        if sorted(end.name for end in self.through.ends) != ["bypass", "in", "out"]:
            yield Fault("a bypass valve has three ends, named 'in', 'out' and 'bypass'", ("through", "ends"))


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

    def closes_on(self, od_m: float) -> bool:
        """Whether its range holds an outside diameter as fitted [m], to a micrometre."""
        return self.least_m <= round(od_m, 6) <= self.most_m


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
        """Besides those of every rigid part: a curve that does not start at no flow, or does not fall."""
        yield from super().faults()
        yield from _curve_faults([(point.flow_m3_per_s, point.rise_pa) for point in self.curve], "rise", "0 m3/h")


class Timer(Part):
    """An after-run timer: it keeps the relays of pump and fan drawn for so long after key-off."""

    kind: Literal["timer"] = "timer"
    runs_s: Duration = Field(alias="runs")
    volts: Number = Field(gt=0, le=60)


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
    "wye": Wye,
    "valve": Valve,
    "clamp": Clamp,
    "fan": Fan,
    "timer": Timer,
    "fuse": Fuse,
    "relay": Relay,
    "wire": Wire,
}

NEEDED_TO_JOIN = ("hose", "clamp")
JOINING = (*NEEDED_TO_JOIN, "adapter", "cap")
"""What is joined with: kinds that every kit takes, and those that a kit can do without."""

IN_LOOP = ("core", "exchanger", "pump", "reservoir", "cap", "fan", "timer")
"""Kinds that fill a place of the loop: hoses, adapters and clamps all stay on the shelf."""
