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


class HeatMover(RigidPart):
    """What cores and exchangers have alike."""

    mass_kg: Mass = Field(alias="mass")
    coolant: LossPassage
    arrangement: Arrangement
    performance: CorePerformance | ExchangerPerformance
    specific_heat_j_per_kg_k: SpecificHeat | None = Field(default=None, alias="specific_heat")

    def faults(self) -> Iterator[Fault]:
        """Besides those of every rigid part: a loss stated beside measured points, of which each states it too."""
        yield from super().faults()
        for name, passage in self.passages().items() if self.performance.measured else ():
            if isinstance(passage, LossPassage) and passage.stated_loss is not None:
                text = f"the measured points state the {name} loss already: leave out loss and loss_at, or the points"
                yield Fault(text, (name, "loss"))


class Core(HeatMover):
    """A charge-air core: charge on one side, coolant on the other."""

    kind: Literal["core"] = "core"
    charge: LossPassage
    performance: CorePerformance = CorePerformance()


class FaceSize(Record):
    """The finned face alone: across the car and upwards."""

    wide_m: Length = Field(alias="wide")
    high_m: Length = Field(alias="high")


class Exchanger(HeatMover):
    """A front exchanger: coolant in the tubes, outside air through the fins."""

    kind: Literal["exchanger"] = "exchanger"
    face: FaceSize
    fin_depth_m: Length | None = Field(default=None, alias="fin_depth")
    performance: ExchangerPerformance = ExchangerPerformance()
