"""Flow, pressure and temperature at every point of one loop, at the moment when the charge is hottest."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np

from configurator.prediction.bench import Columns
from configurator.prediction.conditions import Conditions, Moment
from configurator.prediction.loop_flow import run_losses_pa, stage_loss_pa
from configurator.prediction.march import RESERVOIR
from configurator.prediction.predict import Prediction
from configurator.prediction.stages import feed_lump, slots_of, stage_lump

Side = Literal["in", "out"]


@dataclass(frozen=True)
class Point:
    """The coolant into or out of a part, or of each of two twins side by side.

    `over_reservoir_pa`: its pressure over that of the reservoir's air space, all taken at one height [Pa].
    """

    slots: tuple[str, ...]
    side: Side
    flow_m3_per_s: float
    over_reservoir_pa: float
    kelvin: float


@dataclass(frozen=True)
class ThroughCore:
    """The charge before and behind the cores: temperatures [K], pressures [Pa gauge], and its whole flow [kg/s]."""

    in_k: float
    out_k: float
    in_pa_gauge: float
    out_pa_gauge: float
    kg_per_s: float


@dataclass(frozen=True)
class ThroughFront:
    """The outside air into and out of one exchanger [K]; it leaves as it came where none flows."""

    slot: str
    in_k: float
    out_k: float


@dataclass(frozen=True)
class LoopPoints:
    """One loop at the hottest moment of the charge: after how long, at which share of power and speed; then its points.

    `points` in flow order, from the reservoir's outlet to its inlet.
    """

    at_s: float
    share: float
    speed_m_per_s: float
    points: tuple[Point, ...]
    charge: ThroughCore
    fronts: tuple[ThroughFront, ...]


def points_at_worst(prediction: Prediction, columns: Columns, conditions: Conditions) -> LoopPoints:
    """The points of one loop (one row) of a prediction as stated, not of an end of its bands."""
    moment = prediction.drive.pieces[int(prediction.course.worst_piece[0])].moment
    now = prediction.drive.exchanges[moment]
    state = prediction.course.state_at_worst
    fronts = []
    for front in now.exchangers:
        air, met = np.asarray(front.air_w_per_k), front.met_k(state)
        gives = front.w_per_k * (state[:, feed_lump(front.stage)] - met)
        rise = gives / np.where(air > 0.0, air, np.inf)
        fronts.append(ThroughFront(front.slot, float(met[0]), float((met + rise)[0])))
    charge = now.charge
    behind = float(charge.core_outlet_pa[0]) - conditions.ambient_pa
    return LoopPoints(
        at_s=float(prediction.course.worst_at_s[0]),
        share=moment.share,
        speed_m_per_s=moment.speed_m_per_s,
        points=tuple(_points(prediction, columns, moment)),
        charge=ThroughCore(
            in_k=float(charge.in_k[0]),
            out_k=float(prediction.course.charge_out_worst_k[0]),
            in_pa_gauge=behind + float(charge.core_loss_pa[0]),
            out_pa_gauge=behind,
            kg_per_s=charge.air_kg_per_s,
        ),
        fronts=tuple(fronts),
    )


def _points(prediction: Prediction, columns: Columns, moment: Moment) -> Iterator[Point]:
    """Every point in flow order: pressure falls from the pump's outlet by every run and stage down to the reservoir."""
    flow = prediction.flow_m3_per_s if moment.pump else np.zeros_like(prediction.flow_m3_per_s)
    kelvin = prediction.course.state_at_worst[0]
    runs = run_losses_pa(columns, prediction.liquid, flow)[0]
    lie = columns.piping
    dearer = iter([max(pair, key=lambda one: sum(runs[run] for run in one)) for pair in lie.branches])
    slots = slots_of(columns.stages)
    falls: list[tuple[tuple[str, ...], float, float, float]] = []
    """Of each stage: its slots, what it takes, what the run takes before it and behind it, up to the trunks."""
    for at, stage in enumerate(columns.stages):
        before, behind = (0.0, 0.0) if stage.abreast == 1 else (float(runs[run]) for run in next(dearer))
        taken = float(stage_loss_pa(columns, stage, prediction.liquid, flow, 0)[0])
        falls.append((tuple(slot for of, slot in slots if of == at), taken, before, behind))
    trunks = [float(runs[run]) for run in lie.trunk]
    whole = float(flow[0])
    pressure = -trunks[0]
    yield Point(("reservoir",), "out", whole, 0.0, float(kelvin[RESERVOIR]))
    yield Point(("pump",), "in", whole, pressure, float(kelvin[RESERVOIR]))
    pressure = sum(trunks[1:]) + sum(taken + before + behind for _, taken, before, behind in falls)
    yield Point(("pump",), "out", whole, pressure, float(kelvin[feed_lump(0)]))
    for at, (names, taken, before, behind) in enumerate(falls):
        pressure -= trunks[at + 1] + before
        yield Point(names, "in", whole / len(names), pressure, float(kelvin[feed_lump(at)]))
        pressure -= taken
        yield Point(names, "out", whole / len(names), pressure, float(kelvin[stage_lump(at)]))
        pressure -= behind
    last = feed_lump(len(falls))
    yield Point(("reservoir",), "in", whole, pressure - trunks[-1], float(kelvin[last]))
