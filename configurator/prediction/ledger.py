"""Where the heat of an event came from and went: every term integrated on its own."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from configurator.foundations.numbers import Array
from configurator.physics.lumps import integrals, moved, step
from configurator.prediction.bench import Bench, Columns
from configurator.prediction.conditions import Conditions, Piece
from configurator.prediction.exchange import metal_of
from configurator.prediction.ice_tank import IceStep, ice_steps
from configurator.prediction.march import RESERVOIR
from configurator.prediction.predict import Prediction
from configurator.prediction.stages import feed_lump
from configurator.prediction.standstill import phases


@dataclass(frozen=True)
class Ledger:
    """Where the event's heat came from and went, every term integrated on its own [J].

    `ice_j`: what the ice took to melt and its water to reach the temperature of the tank that it melted into.
    `soak_j`: what the bay gave to the loop while the car stood; None where no standstill is asked for. The standstill
    counts in all other terms too. `condensate_j`: latent heat of the water that the charge shed; None where its
    humidity is not known. `charge_j` is then what the charge gave by cooling alone.
    """

    charge_j: float
    pump_j: float
    rejected_j: float
    stored_coolant_j: float
    stored_metal_j: float
    ice_j: float = 0.0
    condensate_j: float | None = None
    soak_j: float | None = None

    @property
    def of_charge_j(self) -> float:
        """All that the charge gave [J]: by cooling, and by the water that it shed."""
        return self.charge_j + (self.condensate_j or 0.0)

    @property
    def closure(self) -> float:
        """What does not add up, over half the sum of the absolute terms."""
        came = (self.of_charge_j, self.pump_j, self.soak_j or 0.0)
        went = (self.rejected_j, self.ice_j, self.stored_coolant_j, self.stored_metal_j)
        return abs(sum(came) - sum(went)) / max(sum(abs(term) for term in (*came, *went)) / 2, 1e-9)


def ledgers_of(
    bench: Bench, columns: Columns, prediction: Prediction, conditions: Conditions
) -> tuple[Ledger, ...]:
    """The ledger of every row."""
    state = prediction.start
    rows = state.shape[0]
    kg = np.full(rows, 0.0 if prediction.tank is None else prediction.tank.start_kg)
    charge, condensate, rejected, pump, to_ice, to_tank = (np.zeros(rows) for _ in range(6))
    drive = prediction.drive
    for piece in drive.pieces:
        for done in _steps(prediction, piece, state, kg):
            for coupling in drive.exchanges[piece.moment].couplings:
                entering = done.kelvin_seconds[:, feed_lump(coupling.stage)]
                if coupling.is_core:
                    charge += coupling.w_per_k * (coupling.meets_k * done.seconds - entering)
                else:
                    rejected += coupling.w_per_k * (entering - coupling.met_k(done.kelvin_seconds, done.seconds))
            if (shed := drive.shed.get(piece.moment)) is not None:
                condensate += shed.latent_w * done.seconds
                charge -= drive.exchanges[piece.moment].charge.rate_w_per_k * shed.warmer_k * done.seconds
            if piece.moment.pump:
                pump += bench.pump_heat_w[columns.pump] * done.seconds
            to_ice += done.ice_j
            to_tank += done.tank_j
            state, kg = done.state, done.kg
    soak = np.zeros(rows)
    if conditions.standing is not None and prediction.soak_w_per_k is not None:
        for moment, seconds in phases(conditions.standing, columns.after_run_s):
            load, stood = prediction.loads[moment], seconds[:, None]
            whole = integrals(load.m, load.b, state, seconds)
            for coupling in prediction.exchanges[moment].exchangers:
                met = coupling.met_k(whole, seconds)
                rejected += coupling.w_per_k * (whole[:, feed_lump(coupling.stage)] - met)
            if moment.pump:
                pump += bench.pump_heat_w[columns.pump] * seconds
            soak += (prediction.soak_w_per_k * (conditions.standing.bay_k * stood - whole)).sum(axis=1)
            phi, shift = step(load.m, load.b, seconds)
            state = moved(phi, shift, state)
    metal = metal_of(columns)
    gained = state - prediction.start
    stored = prediction.capacities * gained
    if prediction.tank is not None:
        stored[:, RESERVOIR] = to_tank
    of_metal = metal * gained
    stored_coolant, stored_metal = (stored - of_metal).sum(axis=1), of_metal.sum(axis=1)
    humid, stands = conditions.humidity is not None, conditions.standing is not None
    return tuple(
        Ledger(
            charge_j=float(charge[row]),
            pump_j=float(pump[row]),
            rejected_j=float(rejected[row]),
            stored_coolant_j=float(stored_coolant[row]),
            stored_metal_j=float(stored_metal[row]),
            ice_j=float(to_ice[row]),
            condensate_j=float(condensate[row]) if humid else None,
            soak_j=float(soak[row]) if stands else None,
        )
        for row in range(rows)
    )


def _steps(prediction: Prediction, piece: Piece, state: Array, kg: Array) -> Iterator[IceStep]:
    """The steps through a piece: many while there is ice, else one."""
    load, tank = prediction.drive.loads[piece.moment], prediction.tank
    if tank is not None and kg.any():
        yield from ice_steps(load, tank, piece.moment.pump, piece.seconds, state, kg)
        return
    phi, shift = step(load.m, load.b, piece.seconds)
    whole = integrals(load.m, load.b, state, piece.seconds)
    after = moved(phi, shift, state)
    to_tank = prediction.capacities[:, RESERVOIR] * (after - state)[:, RESERVOIR]
    yield IceStep(piece.seconds, after, kg, whole, np.zeros_like(kg), to_tank)
