"""The brief: what one customer asks for."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field

from configurator.brief.bay import Bay
from configurator.brief.driving import Driving
from configurator.foundations.figures import (
    AirTemperature,
    Altitude,
    Boost,
    Current,
    Duration,
    Mass,
    PipeBore,
    Power,
    PressureLoss,
    RotationalSpeed,
    Share,
    Standstill,
    Temperature,
    TemperatureDifference,
    UnitField,
    Volume,
)
from configurator.foundations.freezing import MOST_GLYCOL, WATER_FREEZES_K
from configurator.foundations.records import Count, Fault, Flag, Number, Record
from configurator.foundations.units import Figure

COLDEST_ICE_K = 233.15
HOTTEST_WATER_K = 373.15
GLYCOL_AND_ICE = "melting ice thins it with every pass, and what is drained between passes is poisonous"

EnoughMargin = Annotated[Figure, UnitField("temperature difference", least=0.0)]


class Engine(Record):
    """The engine and its charger. Boost is gauge pressure at the throttle, after the core.

    `charger_outlets`: how many of that bore; two go into two cores, or through a wye into one.
    `oily`: the charge carries oil mist, as with a breather before the charger.
    """

    power_w: Power = Field(alias="power")
    fuel: str
    charger: str
    boost_pa_gauge: Boost = Field(alias="boost")
    displacement_m3: Volume | None = Field(default=None, alias="displacement")
    rev_limit_per_s: RotationalSpeed | None = Field(default=None, alias="rev_limit")
    charger_outlet_m: PipeBore | None = Field(default=None, alias="charger_outlet")
    charger_outlets: Count = Field(default=1, ge=1, le=2)
    throttle_m: PipeBore | None = Field(default=None, alias="throttle")
    charger_efficiency: Share | None = None
    inlet_rise_k: TemperatureDifference | None = Field(default=None, alias="inlet_rise")
    inlet_loss_pa: PressureLoss | None = Field(default=None, alias="inlet_loss")
    loss_to_throttle_pa: PressureLoss | None = Field(default=None, alias="loss_to_throttle")
    oily: Flag = False

    @property
    def outlets_said(self) -> bool:
        """Whether the brief says how many outlets there are: else one is taken."""
        return "charger_outlets" in self.model_fields_set


class Site(Record):
    """Where and in what weather the car is driven."""

    air_k: AirTemperature = Field(alias="air")
    humidity: Share | None = None
    altitude_m: Altitude | None = Field(default=None, alias="altitude")
    coldest_k: AirTemperature | None = Field(default=None, alias="coldest")


class Aim(Record):
    """A ceiling for the charge at the core's outlet, or a rise above the outside air: exactly one.

    `after`: how long the car stands after the drive before the charge is judged; else its worst moment is.
    """

    charge_air_k: Temperature | None = Field(default=None, alias="charge_air")
    above_air_k: TemperatureDifference | None = Field(default=None, alias="above_air")
    charge_loss_pa: PressureLoss | None = Field(default=None, alias="charge_loss")
    after_s: Standstill | None = Field(default=None, alias="after")

    def faults(self) -> Iterator[Fault]:
        """Two aims, or none."""
        if (self.charge_air_k is None) == (self.above_air_k is None):
            text = "an aim is either charge_air: 80 degC (a ceiling) or above_air: 35 K (a rise), exactly one"
            yield Fault(text, () if self.charge_air_k is None else ("above_air",))

    def loses_too_much(self, charge_loss_pa: float) -> bool:
        """Whether the charge loses more pressure than it may: both in tenths of a pascal, as kits tell it."""
        return self.charge_loss_pa is not None and round(charge_loss_pa, 1) > round(float(self.charge_loss_pa), 1)


class Limits(Record):
    """What a kit may cost, weigh (dry) and draw."""

    price: Number | None = Field(default=None, gt=0, allow_inf_nan=False)
    mass_dry_kg: Mass | None = Field(default=None, alias="mass_dry")
    current_a: Current | None = Field(default=None, alias="current")

    def too_dear(self, cents: float) -> bool:
        """Whether a kit costs more than it may: limit and kit in whole cents."""
        return self.price is not None and cents > round(self.price * 100)

    def too_heavy(self, grams: float) -> bool:
        """Whether a kit weighs more than it may, dry: limit and kit in whole grams."""
        return self.mass_dry_kg is not None and grams > round(float(self.mass_dry_kg) * 1000)

    def too_hungry(self, draws_a: float) -> bool:
        """Whether a kit draws more current than is to spare."""
        return self.current_a is not None and draws_a > self.current_a


class CoolantWish(Record):
    """Which liquids are welcome, how the loop starts, and a share of antifreeze if it is settled already."""

    kinds: tuple[Literal["water", "ethylene glycol", "propylene glycol"], ...] = ("water", "ethylene glycol")
    start_k: Temperature | Literal["soaked"] | None = Field(default=None, alias="start")
    glycol_by_volume: Share | None = Field(default=None, alias="glycol_by_volume")

    def faults(self) -> Iterator[Fault]:
        """A share of glycol beyond what mixtures are known for, without a glycol, or of none without water."""
        settled = self.glycol_by_volume
        if settled is not None and settled > MOST_GLYCOL:
            text = f"{settled.text} of glycol: beyond {MOST_GLYCOL:.0%} it protects no better and carries less heat"
            yield Fault(text, ("glycol_by_volume",))
        elif settled is not None and settled > 0 and set(self.kinds) == {"water"}:
            yield Fault("a share of glycol needs a glycol among the kinds", ("glycol_by_volume",))
        elif settled == 0.0 and "water" not in self.kinds:
            text = f"{settled.text} of glycol is plain water, and the kinds leave water out: let them name it"
            yield Fault(text, ("glycol_by_volume",))


class Ice(Record):
    """Ice in the tank at the start of a pass: which kind (a name of the catalogue), how much, how cold.

    `water`: the temperature of the water before ice pulls it down.
    """

    kind: str
    mass_kg: Mass = Field(alias="mass")
    temperature_k: Temperature | None = Field(default=None, alias="temperature")
    water_k: Temperature | None = Field(default=None, alias="water")

    def faults(self) -> Iterator[Fault]:
        """Ice that is none, or colder than a freezer makes it; water that is ice."""
        if self.temperature_k is not None and not COLDEST_ICE_K <= self.temperature_k <= WATER_FREEZES_K:
            yield Fault(f"ice of {self.temperature_k.text}: a freezer makes it -40 to 0 degC cold", ("temperature",))
        if self.water_k is not None and not WATER_FREEZES_K <= self.water_k <= HOTTEST_WATER_K:
            yield Fault(f"water of {self.water_k.text} to fill with: 0 to 100 degC is water", ("water",))


def _unmeasured(value: Any) -> Any:
    """`bay: unmeasured` is a word; anything else is read as a bay."""
    return None if value == "unmeasured" else value


class Brief(Record):
    """The customer's request. `after_run`: how long the car's pump and fan go on by themselves after key-off."""

    brief: str = Field(min_length=1, max_length=200)
    engine: Engine
    site: Site
    driving: str | Driving
    aim: Aim
    limits: Limits = Limits()
    enough_k: EnoughMargin | None = Field(default=None, alias="enough")
    coolant: CoolantWish = CoolantWish()
    ice: Ice | None = None
    after_run_s: Duration | None = Field(default=None, alias="after_run")
    bay: Annotated[Bay | None, BeforeValidator(_unmeasured)]
    own: tuple[Any, ...] = ()
    wanted: tuple[str, ...] = ()
    without: tuple[str, ...] = ()
    layouts: tuple[str, ...] = ()
    in_stock: Flag = False
    currency: str = Field(default="", max_length=8)

    def faults(self) -> Iterator[Fault]:
        """An after-run that nothing asks for; ice with antifreeze, in a loop that starts frozen, or left standing."""
        if self.after_run_s is not None and self.aim.after_s is None:
            text = "after_run only counts after a standstill: aim: {charge_air: 50 degC, after: 5 min standstill}"
            yield Fault(text, ("after_run",))
        if self.ice is None:
            return
        if self.aim.after_s is not None:
            yield Fault("an aim after a standstill is not reckoned with ice in the tank", ("aim", "after"))
        wish = self.coolant
        if "water" not in wish.kinds or (wish.glycol_by_volume or 0.0) > 0.0:
            at = "kinds" if "water" not in wish.kinds else "glycol_by_volume"
            yield Fault(f"no glycol in an ice tank: {GLYCOL_AND_ICE}; let `coolant: kinds` name water", ("coolant", at))
        if isinstance(wish.start_k, float) and wish.start_k < WATER_FREEZES_K:
            text = f"water with ice in it starts at 0 degC or above, not at {wish.start_k.text}"
            yield Fault(text, ("coolant", "start"))

    def coldest_k(self, assumed_k: float) -> float:
        """The coldest that parts and hoses meet [K]: the night, assumed where none is told, the day, or the coolant as
        it starts.
        """
        night = assumed_k if self.site.coldest_k is None else float(self.site.coldest_k)
        start = self.coolant.start_k
        return min(night, float(self.site.air_k), *([float(start)] if isinstance(start, float) else []))

    @property
    def ceiling_k(self) -> float:
        """The warmest the charge may leave the core [K], whichever way the aim was written."""
        if self.aim.charge_air_k is not None:
            return float(self.aim.charge_air_k)
        assert self.aim.above_air_k is not None
        return float(self.site.air_k) + float(self.aim.above_air_k)
