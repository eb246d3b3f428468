"""What a kit does when something fails: the pump stops, or its core cracks; and how near its pump is to cavitation."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal

from configurator.brief.request import Engine
from configurator.foundations.boiling import boiling_point_k, vapour_pressure_pa
from configurator.foundations.coolants import properties
from configurator.joining.ratings import CAP_TOLERANCE, HEAD_PA_PER_M
from configurator.parts.kinds import Pump
from configurator.physics.suction import suction_margin_pa
from configurator.prediction.conditions import Conditions
from configurator.prediction.pump_stopped import StandingCore
from configurator.questions.high_points import Span

LEAST_SUCTION_PA: Final = 20e3
"""What a pump needs before it where it does not say, about 2 m of water. Common practice, no source."""

IDLE_PA: Final = 30e3
"""Absolute pressure behind a throttle at idle. Common practice, no source."""

Sits = Literal["before the throttle", "before the throttle, assumed", "behind the throttle, assumed"]
Goes = Literal["charge into coolant", "coolant into engine", "either way"]


@dataclass(frozen=True)
class Suction:
    """The suction margin of one pump: how far its inlet stays above the pressure of the coolant's vapour [Pa].

    `margin_pa` counts the air of the site alone, `under_cap_pa` also what the cap holds once the loop is hot and tight.
    `needs_pa`: the NPSH required, as the pump states it or as usual. `above_m`: the reservoir's floor over the pump's
    middle, as when the reservoir is all but empty; None where a height is not known, and then not counted.
    """

    slot: str
    part: str
    margin_pa: float
    under_cap_pa: float
    needs_pa: float
    stated: bool
    coolant_k: float
    vapour_pa: float
    loss_pa: float
    above_m: float | None


@dataclass(frozen=True)
class PumpStopped:
    """The pump stops at full power: the charge goes to `charge_out_k`, the core's coolant boils at `boils_k` after so
    many seconds, or never.
    """

    core: StandingCore
    boils_k: float
    boils_after_s: float | None

    @property
    def charge_out_k(self) -> float:
        """Where the charge goes once the core is as hot as what comes into it: the charger's outlet."""
        return self.core.charge_in_k


@dataclass(frozen=True)
class Crack:
    """Both sides of a cracked core: lowest and highest pressure of each [Pa gauge], and what goes where."""

    charge_pa_gauge: tuple[float, float]
    coolant_pa_gauge: tuple[float, float]

    @property
    def goes(self) -> Goes:
        """The way of the leak; `either way` where the two ranges overlap."""
        (charge_low, charge_high), (coolant_low, coolant_high) = self.charge_pa_gauge, self.coolant_pa_gauge
        if charge_low >= coolant_high and charge_high > coolant_low:
            return "charge into coolant"
        if coolant_low >= charge_high and coolant_high > charge_low:
            return "coolant into engine"
        return "either way"


@dataclass(frozen=True)
class CrackedCore:
    """A cracked core at full boost, at idle and with the engine off; whether the height of its liquid is known.

    `sits`: where the core is taken to be. `most_over_m`: the most liquid that stands over its floor.
    """

    boost: Crack
    idle: Crack
    standstill: Crack
    height_known: bool
    sits: Sits
    most_over_m: float


@dataclass(frozen=True)
class WhenItFails:
    """What is told of failures of one kit."""

    pump_stopped: PumpStopped
    cracked_core: CrackedCore


def suction_of(
    pump: Pump,
    conditions: Conditions,
    coolant_k: float,
    loss_pa: float,
    opens_pa_gauge: float,
    spans: Mapping[str, Span],
) -> Suction:
    """The suction margin of a kit's pump with the coolant at the hottest of its event [K], wherever that is.

    `loss_pa`: of the run from reservoir to pump at the operating point. `opens_pa_gauge`: 0 without a cap. The cap's
    pressure is not counted in `margin_pa`: a loop that was opened, topped up or leaks a little has none.
    """
    above = None
    if "reservoir" in spans and "pump" in spans:
        above = (spans["reservoir"].floor_mm - (spans["pump"].floor_mm + spans["pump"].top_mm) / 2) / 1000
    vapour = vapour_pressure_pa(conditions.coolant, coolant_k)
    density = float(properties(conditions.coolant, coolant_k).density)
    margin = suction_margin_pa(conditions.ambient_pa, above or 0.0, loss_pa, vapour, density)
    required = pump.npsh_required_pa
    return Suction(
        slot="pump",
        part=pump.id,
        margin_pa=margin,
        under_cap_pa=margin + opens_pa_gauge,
        needs_pa=LEAST_SUCTION_PA if required is None else float(required),
        stated=required is not None,
        coolant_k=coolant_k,
        vapour_pa=vapour,
        loss_pa=loss_pa,
        above_m=above,
    )


def pump_stopped(core: StandingCore, conditions: Conditions, opens_pa_gauge: float) -> PumpStopped:
    """What comes of a stopped pump under a cap that opens at so much, above the air of the site; 0 without one."""
    boils_k = boiling_point_k(conditions.coolant, conditions.ambient_pa + opens_pa_gauge)
    return PumpStopped(core, boils_k, core.boils_after_s(boils_k))


def core_sits(engine: Engine, *, blower: bool) -> Sits:
    """Where a core is taken to be: the brief tells a throttle's pipe only of one behind the core.

    Where it does not, a blower may breathe through its throttle and have the core in the manifold.
    """
    if engine.throttle_m is not None:
        return "before the throttle"
    return "behind the throttle, assumed" if blower else "before the throttle, assumed"


def cracked_core(
    boost: tuple[float, float],
    coolant_design_pa: float,
    opens_pa_gauge: float,
    spans: Mapping[str, Span],
    liquid_m: float,
    ambient_pa: float,
    sits: Sits,
) -> CrackedCore:
    """Which way a crack in the core leaks.

    `boost`: steady and with its overshoot [Pa gauge]. `coolant_design_pa`: the most that coolant may see behind the
    pump. At idle and standing the charge is at the pressure of the outside air; behind the throttle it falls at idle to
    what a manifold has. With the pump running the coolant is at no less; standing it has what the cap may hold and the
    height of liquid over the crack, from the reservoir's floor over the core's top to the reservoir's top over the
    core's floor; where a height is not known, up to `liquid_m`, the most that stands over any part of the loop.
    """
    low_m, high_m = 0.0, liquid_m
    cores = [span for slot, span in spans.items() if slot.startswith("core")]
    known = bool(cores) and "reservoir" in spans
    if known:
        low_m = min(spans["reservoir"].floor_mm - core.top_mm for core in cores) / 1000
        high_m = max(spans["reservoir"].top_mm - core.floor_mm for core in cores) / 1000
    running, outside = (0.0, coolant_design_pa), (0.0, 0.0)
    standing = (HEAD_PA_PER_M * low_m, CAP_TOLERANCE * opens_pa_gauge + HEAD_PA_PER_M * high_m)
    idle = outside if sits.startswith("before") else (min(IDLE_PA - ambient_pa, 0.0), 0.0)
    return CrackedCore(Crack(boost, running), Crack(idle, running), Crack(outside, standing), known, sits, high_m)
