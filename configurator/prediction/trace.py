"""The course of one loop through event and standstill: a record every half second, as an energy balance needs it."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from configurator.foundations.numbers import Array
from configurator.foundations.units import celsius
from configurator.physics.lumps import moved, step
from configurator.prediction.bench import Bench, Columns
from configurator.prediction.conditions import Conditions, Piece
from configurator.prediction.exchange import filled_kg_per_m3
from configurator.prediction.ice_tank import ICE_STEP_S, ice_steps
from configurator.prediction.predict import Prediction, predict
from configurator.prediction.stages import slots_of
from configurator.prediction.standstill import phases

TRACE_STEP_S = ICE_STEP_S
"""While there is ice a record stands at the end of each of its steps."""


def trace(bench: Bench, columns: Columns, conditions: Conditions, end: int = 0) -> Iterator[dict[str, float]]:
    """One loop (one row) through the event, a record every half second, with all that an energy balance needs.

    `end`: which end of the bands, as in `predict`.
    """
    prediction = predict(bench, columns, conditions, end)
    names = _lump_names(columns)
    state, now = prediction.start, 0.0
    kg = np.full(1, 0.0 if prediction.tank is None else prediction.tank.start_kg)
    liquid = prediction.liquid
    drive = prediction.drive
    for piece in (*drive.pieces, *_standing(columns, conditions)):
        load, couplings = drive.loads[piece.moment], drive.exchanges[piece.moment].couplings
        share = piece.moment.share if piece.moment.engine else 0.0
        for reached in _reached(prediction, piece, now, state, kg):
            now, state, kg = reached
            yield {
                "time_s": now,
                "share": share,
                "air_kg_per_s": share * conditions.air_kg_per_s,
                "coolant_l_per_min": float(prediction.flow_m3_per_s[0]) * 60e3 * piece.moment.pump,
                "coolant_kg_per_m3": float(np.asarray(liquid.density)[0]),
                "filled_kg_per_m3": filled_kg_per_m3(conditions.coolant),
                "coolant_j_per_kg_k": float(np.asarray(liquid.specific_heat)[0]),
                "charge_in_c": celsius(float(load.charge_in_k[0])),
                "charge_out_c": celsius(float(load.charge_out(load.feed(state))[0])),
                **{f"{name}_c": celsius(float(value)) for name, value in zip(names, state[0], strict=False)},
                **{f"{_key(c.slot)}_w_per_k": float(c.w_per_k[0]) for c in couplings},
                **{f"air_into_{_key(c.slot)}_c": celsius(float(c.met_k(state)[0])) for c in couplings if not c.is_core},
                "pump_heat_w": float(bench.pump_heat_w[columns.pump[0]]) * piece.moment.pump,
                **({} if prediction.tank is None else {"ice_kg": float(kg[0])}),
                **_water(prediction, conditions, piece),
                **_soak(prediction, conditions, piece, state),
            }


def _standing(columns: Columns, conditions: Conditions) -> Iterator[Piece]:
    """The standstill of the one loop as pieces."""
    if conditions.standing is not None:
        for moment, seconds in phases(conditions.standing, columns.after_run_s):
            if seconds[0] > 0.0:
                yield Piece(moment, float(seconds[0]))


def _soak(prediction: Prediction, conditions: Conditions, piece: Piece, state: Array) -> dict[str, float]:
    """What the bay gives to the loop at a moment [W]; nothing where no standstill is asked for."""
    if conditions.standing is None or prediction.soak_w_per_k is None:
        return {}
    gives = float((prediction.soak_w_per_k * (conditions.standing.bay_k - state))[0].sum())
    return {"soak_w": 0.0 if piece.moment.engine else gives}


def _water(prediction: Prediction, conditions: Conditions, piece: Piece) -> dict[str, float]:
    """Latent heat of the water that the charge sheds, and what the charge keeps for it [W]; nothing if not known."""
    if conditions.humidity is None:
        return {}
    shed = prediction.drive.shed.get(piece.moment)
    if shed is None:
        return {"condensate_w": 0.0, "charge_keeps_w": 0.0}
    rate = prediction.drive.exchanges[piece.moment].charge.rate_w_per_k
    return {"condensate_w": float(shed.latent_w[0]), "charge_keeps_w": float((rate * shed.warmer_k)[0])}


def _reached(
    prediction: Prediction, piece: Piece, now: float, state: Array, kg: Array
) -> Iterator[tuple[float, Array, Array]]:
    """Time, state and ice at the start of a piece and after every step of it."""
    yield now, state, kg
    load, tank = prediction.drive.loads[piece.moment], prediction.tank
    if tank is not None and kg.any():
        for after in ice_steps(load, tank, piece.moment.pump, piece.seconds, state, kg, TRACE_STEP_S):
            now += after.seconds
            yield now, after.state, after.kg
        return
    count = max(math.ceil(piece.seconds / TRACE_STEP_S - 1e-9), 1)
    phi, shift = step(load.m, load.b, piece.seconds / count)
    for _ in range(count):
        state = moved(phi, shift, state)
        now += piece.seconds / count
        yield now, state, kg


def _key(slot: str) -> str:
    return slot.replace("-", "_")


def _lump_names(columns: Columns) -> list[str]:
    """Names of the lumps in flow order: a stage's is that of its slot, of twins side by side their common one."""
    names = ["reservoir", "feed"]
    slots = slots_of(columns.stages)
    for at, stage in enumerate(columns.stages):
        first = next(_key(slot) for of, slot in slots if of == at)
        name = first if stage.abreast == 1 else f"{stage.kind}s"
        names += [name, f"hose_after_{name}"]
    return names
