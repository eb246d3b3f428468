"""Cautions of what fails on the road: a pump that cavitates, a pump that stops."""

from __future__ import annotations

from configurator.foundations.verdicts import Caution

_ALARM = (
    "Fit a flow or pressure switch that warns the driver or takes the boost away: a blown fuse stops a pump."
)
PUMP_STOPS = Caution(
    "pump-stops", f"If the pump stops, the charge soon enters the engine as hot as it leaves the charger. {_ALARM}"
)
PUMP_STOPS_AND_BOILS = Caution(
    "pump-stops",
    "If the pump stops, the charge soon enters the engine as hot as it leaves the charger, and full power boils the "
    f"coolant in the core: steam and hot coolant leave by the cap. {_ALARM} Keep the cap's way out free, and lead it "
    "to a catch bottle away from exhaust and people.",
)

def suction_margin(part: str, margin_pa: float, needs_pa: float, *, stated: bool) -> Caution:
    """The pump has too little pressure before it, over that of the coolant's vapour [Pa]."""
    side = "above" if margin_pa >= 0 else "below"
    needs = f"it needs {needs_pa / 1e3:.0f} kPa" if stated else f"{needs_pa / 1e3:.0f} kPa is usual"
    return Caution(
        "suction-margin",
        f"{part} may cavitate: with the coolant at its hottest and no pressure from the cap its inlet is "
        f"{abs(margin_pa) / 1e3:.0f} kPa {side} boiling, {needs}. Then it rattles and the flow breaks down. A higher "
        "reservoir, a shorter and wider hose before the pump, a cooler loop or more glycol helps.",
    )
