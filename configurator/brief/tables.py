"""Tables that stand beside the parts in a catalogue folder: fuels, chargers, driving patterns, coolants."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from configurator.brief.driving import Driving
from configurator.foundations.figures import Share, SpecificConsumption, Standing
from configurator.foundations.records import Record


class Fuel(Record):
    """A fuel at full load: how much air each kilogram takes (by mass)."""

    id: str
    name: str
    air_fuel_ratio: float = Field(gt=1, lt=60)
    standing: Standing
    source: str


class PartLoad(Record):
    """Boost at part load, as a share of full boost."""

    share: Share
    boost: Share


class Charger(Record):
    """A kind of charger: where it holds its boost, how well it compresses, what it costs in fuel."""

    id: str
    name: str
    holds_boost_at: str = Field(pattern="^(throttle|outlet)$")
    efficiency: Share
    efficiency_band: Share
    consumption: Mapping[str, SpecificConsumption]
    consumption_band: Share
    part_load: tuple[PartLoad, ...] = Field(min_length=2)
    standing: Standing
    source: str

    @model_validator(mode="after")
    def _table_rises(self) -> Charger:
        for before, after in zip(self.part_load, self.part_load[1:], strict=False):
            if after.share <= before.share or after.boost < before.boost:
                text = "the part-load table must rise: shares one after another, boost never falling"
                raise PydanticCustomError("part_load", "{text}", {"text": text})
        if self.part_load[0].share != 0 or self.part_load[-1].share != 1 or self.part_load[-1].boost != 1:
            text = "the part-load table runs from share 0 % to share 100 % with boost 100 %"
            raise PydanticCustomError("part_load", "{text}", {"text": text})
        return self


class CoolantKind(Record):
    """A coolant that may be offered: which liquid, its cautions, and what it costs by the litre."""

    id: str
    name: str
    price_per_litre: float = Field(ge=0)
    note: str | None = None


@dataclass(frozen=True)
class Tables:
    """The tables of one catalogue folder, each by id; and what its source keys stand for."""

    fuels: Mapping[str, Fuel]
    chargers: Mapping[str, Charger]
    driving: Mapping[str, Driving]
    coolants: Mapping[str, CoolantKind]
    sources: Mapping[str, str] = field(default_factory=dict)
