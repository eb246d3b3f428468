"""The two kinds of parts that move heat, cores and front exchangers, and what is known of how well they do."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from pydantic import Field

from configurator.foundations.figures import Length, Mass, SpecificHeat
from configurator.foundations.records import Fault, Record
from configurator.parts.part import RigidPart
from configurator.parts.passages import LossPassage
from configurator.parts.performance import Arrangement, CorePerformance, ExchangerPerformance


class Core(RigidPart):
    """A charge-air core: charge on one side, coolant on the other."""

    kind: Literal["core"] = "core"
    mass_kg: Mass = Field(alias="mass")
    charge: LossPassage
    coolant: LossPassage
    arrangement: Arrangement
    performance: CorePerformance = CorePerformance()
    specific_heat_j_per_kg_k: SpecificHeat | None = Field(default=None, alias="specific_heat")

    def faults(self) -> Iterator[Fault]:
        """Besides those of every rigid part: a loss stated beside measured points, which state it too."""
        yield from super().faults()
        yield from _loss_told_twice(self)


def _loss_told_twice(part: Core | Exchanger) -> Iterator[Fault]:
    """Every measured point states the losses of its part, so one of its passages would be read and not used."""
    if not part.performance.measured:
        return
    for name, passage in part.passages().items():
        if isinstance(passage, LossPassage) and passage.stated_loss is not None:
            text = f"the measured points state the {name} loss already: leave out loss and loss_at, or the points"
            yield Fault(text, (name, "loss"))


class FaceSize(Record):
    """The finned face alone: across the car and upwards."""

    wide_m: Length = Field(alias="wide")
    high_m: Length = Field(alias="high")


class Exchanger(RigidPart):
    """A front exchanger: coolant in the tubes, outside air through the fins."""

    kind: Literal["exchanger"] = "exchanger"
    mass_kg: Mass = Field(alias="mass")
    coolant: LossPassage
    face: FaceSize
    fin_depth_m: Length | None = Field(default=None, alias="fin_depth")
    arrangement: Arrangement
    performance: ExchangerPerformance = ExchangerPerformance()
    specific_heat_j_per_kg_k: SpecificHeat | None = Field(default=None, alias="specific_heat")

    def faults(self) -> Iterator[Fault]:
        """Besides those of every rigid part: a loss stated beside measured points, which state it too."""
        yield from super().faults()
        yield from _loss_told_twice(self)
