"""What is known of a heat-moving part: measured points, fin and channel geometry, or nothing but its size."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from typing import Literal

from pydantic import Field

from configurator.foundations.figures import (
    GaugePressure,
    Length,
    MassFlow,
    PressureLoss,
    Share,
    Speed,
    Temperature,
    VolumeFlow,
)
from configurator.foundations.freezing import MOST_GLYCOL
from configurator.foundations.records import Count, Fault, Number, Record

Flow = Literal[
    "counter-flow",
    "parallel-flow",
    "cross-flow both unmixed",
    "cross-flow air mixed",
    "cross-flow coolant mixed",
]


class Arrangement(Record):
    """How the streams meet. `in turn`: the air crosses every pass; `side by side`: each has fresh air."""

    flow: Flow
    passes: Count = Field(ge=1, le=8)
    pass_order: Literal["in turn", "side by side"] | None = None

    def faults(self) -> Iterator[Fault]:
        """Several passes without their order."""
        if self.passes > 1 and self.pass_order is None:
            yield Fault("above one pass, pass_order is needed: in turn, or side by side", ("passes",))


FLUID = re.compile(r"water|(?:ethylene|propylene) glycol +(\d+(?:\.\d+)?) *%")
"""How the liquid of a measured point is written; a glycol with its share by volume."""


def _point_faults(point: CorePoint | ExchangerPoint, positive: tuple[str, ...]) -> Iterator[Fault]:
    """A liquid that is not known, and figures of which none can be nothing where anything was measured."""
    written = FLUID.fullmatch(point.fluid)
    if written is None or float(written.group(1) or 0.0) > 100 * MOST_GLYCOL:
        text = (
            f"fluid '{point.fluid}' is not known: water, or a glycol with its share by volume "
            f"(to {MOST_GLYCOL:.0%}), as in ethylene glycol 30 %"
        )
        yield Fault(text, ("fluid",))
    for name in positive:
        if getattr(point, name) <= 0:
            key = type(point).model_fields[name].alias or name
            yield Fault(f"{key.replace('_', ' ')} of a measured point must be more than nothing", (key,))


class CorePoint(Record):
    """One measured point of a core: effectiveness = (charge in - charge out) / (charge in - coolant in)."""

    air_kg_per_s: MassFlow = Field(alias="air")
    charge_in_k: Temperature = Field(alias="charge_in")
    charge_pressure_pa_gauge: GaugePressure = Field(alias="charge_pressure")
    coolant_m3_per_s: VolumeFlow = Field(alias="coolant")
    fluid: str
    coolant_in_k: Temperature = Field(alias="coolant_in")
    effectiveness: Share
    charge_loss_pa: PressureLoss = Field(alias="charge_loss")
    coolant_loss_pa: PressureLoss = Field(alias="coolant_loss")

    def faults(self) -> Iterator[Fault]:
        """A liquid that is not known, or nothing where something must have been measured."""
        yield from _point_faults(self, ("coolant_m3_per_s", "effectiveness", "charge_loss_pa", "coolant_loss_pa"))


class ExchangerPoint(Record):
    """One measured point of an exchanger: effectiveness = (air out - air in) / (coolant in - air in)."""

    face_speed_m_per_s: Speed = Field(alias="face_speed")
    air_in_k: Temperature = Field(alias="air_in")
    coolant_m3_per_s: VolumeFlow = Field(alias="coolant")
    fluid: str
    coolant_in_k: Temperature = Field(alias="coolant_in")
    effectiveness: Share
    coolant_loss_pa: PressureLoss = Field(alias="coolant_loss")

    def faults(self) -> Iterator[Fault]:
        """A liquid that is not known, or nothing where something must have been measured."""
        yield from _point_faults(self, ("face_speed_m_per_s", "coolant_m3_per_s", "effectiveness", "coolant_loss_pa"))


class FinGeometry(Record):
    """Fins of the air side: pitch, height, thickness; offset strip: strip length, louvred: louvres."""

    kind: Literal["offset strip", "louvred"]
    pitch_m: Length = Field(alias="pitch")
    height_m: Length = Field(alias="height")
    thickness_m: Length = Field(alias="thickness")
    strip_length_m: Length | None = Field(default=None, alias="strip_length")
    louvre_pitch_m: Length | None = Field(default=None, alias="louvre_pitch")
    louvre_angle_deg: Number | None = Field(default=None, alias="louvre_angle", gt=0, lt=60)
    louvre_length_m: Length | None = Field(default=None, alias="louvre_length")

    def faults(self) -> Iterator[Fault]:
        """A figure that this kind of fin needs and that is not given; fins that leave no way between them."""
        louvres = {
            "louvre_pitch": self.louvre_pitch_m,
            "louvre_angle": self.louvre_angle_deg,
            "louvre_length": self.louvre_length_m,
        }
        needed = {"strip_length": self.strip_length_m} if self.kind == "offset strip" else louvres
        missing = [key for key, value in needed.items() if value is None]
        if missing:
            yield Fault(f"fins of kind '{self.kind}' also need {', '.join(missing)}", ("kind",))
        for key, wide in (("pitch", self.pitch_m), ("height", self.height_m)):
            if self.thickness_m >= wide:
                words = f"fins {self.thickness_m.text} thick leave no way at a {key} of {wide.text}"
                yield Fault(words, (key,))


class ChannelGeometry(Record):
    """Coolant channels of one pass: how many in parallel, inside width and height (round: one), length."""

    count: Count = Field(ge=1, le=2000)
    wide_m: Length = Field(alias="wide")
    high_m: Length = Field(alias="high")
    length_m: Length = Field(alias="length")

    @property
    def area_m2(self) -> float:
        """Flow area of one pass [m2]; equal sides mean a round tube."""
        round_tube = math.pi / 4 if self.wide_m == self.high_m else 1.0
        return round_tube * self.count * float(self.wide_m) * float(self.high_m)

    @property
    def hydraulic_diameter_m(self) -> float:
        """Four times area over wetted perimeter of one channel [m]."""
        wide, high = float(self.wide_m), float(self.high_m)
        return 2 * wide * high / (wide + high)

    @property
    def wetted_area_m2(self) -> float:
        """Wetted surface of one pass [m2]: four times area over hydraulic diameter, times length."""
        return 4 * self.area_m2 / self.hydraulic_diameter_m * float(self.length_m)


class BlockSize(Record):
    """The finned block alone, without tanks and flanges: x along the charge flow, z across the fin layers."""

    x_m: Length = Field(alias="x")
    y_m: Length = Field(alias="y")
    z_m: Length = Field(alias="z")


class CorePerformance(Record):
    """What is known of a core, best first: measured points, else fin geometry, else its size only."""

    measured: tuple[CorePoint, ...] = ()
    fins: FinGeometry | None = None
    block: BlockSize | None = None
    channels: ChannelGeometry | None = None


class ExchangerPerformance(Record):
    """What is known of an exchanger, best first: measured points, else fin geometry, else its size only."""

    measured: tuple[ExchangerPoint, ...] = ()
    fins: FinGeometry | None = None
    channels: ChannelGeometry | None = None
