"""Tables that stand beside the parts in a catalogue folder: fuels, chargers, driving patterns, coolants, ice, soak."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Literal

from pydantic import Field

from configurator.brief.driving import Driving
from configurator.foundations.figures import (
    ConductancePerArea,
    ConductancePerMass,
    Share,
    SpecificConsumption,
    Standing,
    TemperatureDifference,
)
from configurator.foundations.records import Fault, Number, Price, Record


class Fuel(Record):
    """A fuel at full load: how much air each kilogram takes (by mass)."""

    id: str
    name: str
    air_fuel_ratio: Number = Field(gt=1, lt=60)
    standing: Standing
    source: str


class PartLoad(Record):
    """Boost at part load, as a share of full boost."""

    share: Share
    boost: Share


class Charger(Record):
    """A kind of charger: where it holds its boost, how well it compresses, what it costs in fuel.

    `turbine`: whether exhaust drives it, or one of two in series, so that hot iron stands beside hose and pipe.
    """

    id: str
    name: str
    holds_boost_at: Literal["throttle", "outlet"]
    turbine: bool
    efficiency: Share
    efficiency_band: Share
    consumption: Mapping[str, SpecificConsumption]
    consumption_band: Share
    part_load: tuple[PartLoad, ...] = Field(min_length=2)
    standing: Standing
    source: str

    def faults(self) -> Iterator[Fault]:
        """A part-load table that does not rise from nothing to full load and full boost."""
        for index, (before, after) in enumerate(
            zip(self.part_load, self.part_load[1:], strict=False), start=1
        ):
            if after.share <= before.share or after.boost < before.boost:
                text = "the part-load table must rise: shares one after another, boost never falling"
                yield Fault(text, ("part_load", index))
        first, last = self.part_load[0], self.part_load[-1]
        if float(first.share) > 0.0 or float(last.share) < 1.0 or float(last.boost) < 1.0:
            text = "the part-load table runs from share 0 % to share 100 % with boost 100 %"
            yield Fault(text, ("part_load",))


class CoolantKind(Record):
    """A coolant that may be offered: which liquid, its cautions, and what it costs by the litre."""

    id: str
    name: str
    price_per_litre: Price
    note: str | None = None


class IceKind(Record):
    """A kind of ice: conductance from the water for each kilogram of whole pieces, stirred and in still water.

    `band`: how far both may be off.
    """

    id: str
    name: str
    stirred: ConductancePerMass
    still: ConductancePerMass
    band: Share
    standing: Standing
    source: str


class Soak(Record):
    """What a bay does to a loop that stands in it after key-off.

    `above_air`: how much hotter than the outside air the bay is. `surface`: conductance from it to each square metre
    of core and hose. `band`: how far that may be off.
    """

    id: str
    name: str
    above_air_k: TemperatureDifference = Field(alias="above_air")
    surface: ConductancePerArea
    band: Share
    standing: Standing
    source: str


@dataclass(frozen=True)
class Tables:
    """The tables of one catalogue folder, each by id; and what its source keys stand for."""

    fuels: Mapping[str, Fuel]
    chargers: Mapping[str, Charger]
    driving: Mapping[str, Driving]
    coolants: Mapping[str, CoolantKind]
    sources: Mapping[str, str] = field(default_factory=dict)
    ice: Mapping[str, IceKind] = field(default_factory=dict)
    soak: Mapping[str, Soak] = field(default_factory=dict)

    @property
    def hot_bay(self) -> Soak:
        """The bay of a car that was driven, as the catalogue names it first."""
        return next(iter(self.soak.values()))
