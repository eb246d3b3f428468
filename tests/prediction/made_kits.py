"""Kits for the tests of prediction: shipped parts joined by made runs, and parts whose conductances are as wished."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path
from typing import Any

import numpy as np

from configurator.brief.tables import Tables
from configurator.files.load_catalogue import load_catalogue
from configurator.foundations.coolants import Coolant
from configurator.parts.kinds import Core, Exchanger, Pump, Reservoir
from configurator.parts.kit import Joint
from configurator.parts.shelf import Catalogue
from configurator.prediction.bench import Bench, Columns, Loop, make_bench, make_columns
from configurator.prediction.conditions import Conditions, Moment, Piece
from configurator.prediction.estimates import Channels
from configurator.prediction.predict import Prediction, full_power_steady_k, predict
from configurator.prediction.surface_figures import Surface
from configurator.prediction.zone_air import ZoneAir

ROOT = Path(__file__).parents[2]
WATER = Coolant("water", 0.0)
HALF_GLYCOL = Coolant("ethylene glycol", 0.5)


@lru_cache(maxsize=1)
def shelf() -> tuple[Catalogue, Tables]:
    """The shipped catalogue and its tables."""
    return load_catalogue(ROOT / "catalogue")


def cores() -> tuple[Core, ...]:
    """All shipped cores."""
    return shelf()[0].of(Core)


def exchangers() -> tuple[Exchanger, ...]:
    """All shipped front exchangers."""
    return shelf()[0].of(Exchanger)


@lru_cache(maxsize=1)
def whole_bench() -> Bench:
    """Every shipped part that heat or coolant flow sees."""
    catalogue, _ = shelf()
    return make_bench(cores(), exchangers(), catalogue.of(Pump), catalogue.of(Reservoir))


def place(kind: str, part_id: str) -> int:
    """Place of a shipped part on the whole bench."""
    parts: Sequence[Any] = getattr(whole_bench(), kind)
    return [part.id for part in parts].index(part_id)


def run(length_m: float = 1.2, bore_m: float = 19e-3, loss_per_m4: float = 0.0) -> Joint:
    """A coolant run of one hose."""
    return Joint(
        "coolant", "", "", (), "hose", length_m, bore_m, 1.5e-6, bore_m, loss_per_m4,
        math.pi / 4 * bore_m**2 * length_m, (), (), 0, 0.0,
    )  # fmt: skip


@dataclass(frozen=True, repr=False)
class Made:
    """One loop on a bench, as columns of one row; its repr is short, for a whole bench is long to print."""

    bench: Bench
    columns: Columns

    def __repr__(self) -> str:
        at = [int(index[0]) for index in (self.columns.core_index, self.columns.exchanger_index, self.columns.pump)]
        return f"Made(core, exchanger, pump at {at})"

    def predict(self, conditions: Conditions, end: int = 0) -> Prediction:
        """Predict it."""
        return predict(self.bench, self.columns, conditions, end)


def kit(
    core: str = "core-210-short",
    exchanger: str | None = "exchanger-380-slim",
    pump: str = "pump-46-small",
    reservoir: str = "reservoir-6-vented",
    *,
    runs: Sequence[Joint] | None = None,
    air: ZoneAir | None = None,
    bench: Bench | None = None,
) -> Made:
    """A loop of shipped parts."""
    on = whole_bench() if bench is None else bench
    count = 3 if exchanger is None else 4
    loop = Loop(
        place("cores", core),
        None if exchanger is None else place("exchangers", exchanger),
        place("pumps", pump),
        place("reservoirs", reservoir),
        tuple(run() for _ in range(count)) if runs is None else tuple(runs),
        (),
        ZoneAir(0.25, 0.0, 0.0, 0.0) if air is None else air,
    )
    return Made(on, make_columns(on, [loop]))


WIDE = Channels(1e-2, 5e-3, 0.2, 0.3, 0.3, 1.0)
"""Channels so wide that they lose nothing to speak of."""


def plain_surface(ua: float, *, liquid_m3: float = 0.5e-3, face_area_m2: float = 0.0, **changes: Any) -> Surface:
    """A part of one conductance UA whatever flows through it, with hardly any loss; no band."""
    surface = Surface(
        flow="cross-flow both unmixed", passes=1, pass_order=None, air_resistance=1 / ua, air_exponent=0.0,
        film_scale=1e9, channels=WIDE, friction_scale=1.0, ports_per_m4=0.0, charge_loss_pa=3e3,
        charge_loss_flow=0.2, charge_loss_density=2.0, face_area_m2=face_area_m2, liquid_m3=liquid_m3,
        metal_j_per_k=1000.0, ua_band=0.0, loss_band=0.0, tier="one point", worst_misfit=0.0,
    )  # fmt: skip
    return replace(surface, **changes)


def plain_kit(
    ua_core: float = 600.0,
    ua_exchanger: float | None = 1500.0,
    *,
    core: dict[str, Any] | None = None,
    exchanger: dict[str, Any] | None = None,
    pump_heat_w: float = 0.0,
    pump: str = "pump-46-small",
    runs: Sequence[Joint] | None = None,
    air: ZoneAir | None = None,
    reservoir_m3: float = 4e-3,
) -> Made:
    """A loop whose two conductances stay as given; its exchanger has 0.25 m2 of face."""
    whole = whole_bench()
    bench = replace(
        whole,
        core_surfaces=(plain_surface(ua_core, **(core or {})),),
        exchanger_surfaces=()
        if ua_exchanger is None
        else (plain_surface(ua_exchanger, face_area_m2=0.25, **(exchanger or {})),),
        pump_heat_w=np.full_like(whole.pump_heat_w, pump_heat_w),
        reservoir_m3=np.full_like(whole.reservoir_m3, reservoir_m3),
        reservoir_metal_j_per_k=np.full_like(whole.reservoir_metal_j_per_k, 500.0),
    )
    count = 3 if ua_exchanger is None else 4
    loop = Loop(
        0,
        None if ua_exchanger is None else 0,
        place("pumps", pump),
        0,
        tuple(run() for _ in range(count)) if runs is None else tuple(runs),
        (),
        ZoneAir(0.25, 0.0, 0.0, 0.0) if air is None else air,
    )
    return Made(bench, make_columns(bench, [loop]))


def exchanger_w_per_k(found: Prediction) -> dict[Moment, Any]:
    """Heat per kelvin that all exchangers of a row give off together in each moment, were all coolant equally warm
    [W/K]; 0 without one.
    """
    none = np.zeros_like(found.flow_m3_per_s)
    return {
        moment: np.asarray(sum((one.as_one_vessel[0] for one in now.exchangers), start=none))
        for moment, now in found.exchanges.items()
    }


def moment(share: float = 1.0, speed: float = 20.0, *, pump: bool = True, fan: bool = False) -> Moment:
    """One kind of moment."""
    return Moment(share, speed, pump, fan, None)


def conditions(*pieces: Piece, **changes: Any) -> Conditions:
    """Conditions of a plain drive: by default 60 s at full power and 20 m/s, at sea level, on water."""
    drive = pieces or (Piece(moment(), 60.0),)
    made = Conditions(
        ambient_k=298.15, ambient_pa=101325.0, inlet_k=303.15, inlet_loss_pa=3000.0, pipe_loss_pa=2000.0,
        loss_to_throttle_pa=None, boost_pa=1.2e5, boost_held_at_throttle=True, charger_efficiency=0.72,
        part_load_share=(0.0, 0.2, 0.7, 1.0), part_load_boost=(0.0, 0.0, 1.0, 1.0), air_kg_per_s=0.22,
        coolant=WATER, start_k=298.15, pieces=drive, pattern=drive,
        hardest=max((piece.moment for piece in drive), key=lambda m: (m.share, -m.speed_m_per_s)),
        rest=Moment(0.02, 0.0, True, True, 3.0), ceiling_k=353.15, enough_k=6.0,
    )  # fmt: skip
    return replace(made, **changes)


def steady(made: Made, at: Conditions) -> tuple[Prediction, float, float]:
    """A prediction, the charge out if the hardest moment lasted for ever [K], and the heat it gives then [W]."""
    found = made.predict(at)
    load = found.loads[at.hardest_at_full_power]
    out = float(full_power_steady_k(found, made.columns, at)[0][0])
    rate = float(load.core_w_per_k[0] / load.effectiveness[0]) if load.effectiveness[0] > 0 else math.inf
    return found, out, 0.0 if math.isinf(rate) else rate * (float(load.charge_in_k[0]) - out)
