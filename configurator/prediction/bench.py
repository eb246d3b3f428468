"""The bench: parts and loops gathered into columns. This module owns every index and every shape.

A *loop* is one choice of core, exchanger, pump, reservoir and the joints between them: all that heat and flow see
of a kit. Twins are two of the same part. Caps, zones of equal air and prices do not matter here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from configurator.foundations.numbers import Array
from configurator.parts.kinds import Core, Exchanger, Pump, Reservoir
from configurator.parts.kit import Joint, before_core, path_per_m4
from configurator.physics.effectiveness import conductance
from configurator.physics.operating_point import Curves, stack_curves
from configurator.prediction.estimates import ALUMINIUM_J_PER_KG_K, HOSE_J_PER_KG_K, Channels
from configurator.prediction.stages import CORE_ALONE, CORE_THEN_EXCHANGER, Piping, Stages, piping
from configurator.prediction.surface_figures import Surface
from configurator.prediction.surfaces import core_surface, exchanger_surface
from configurator.prediction.zone_air import ZoneAir

Indices = NDArray[np.intp]

HOSE_LEAST_M3 = 0.02e-3
"""The least liquid a run is given, so that its lump has a heat capacity; a run of 10 cm holds about this much."""

PUMP_HEAT_SHARE = 1.0
"""Share of a pump's electrical power that ends in the coolant where the part does not say; the cautious end."""


@dataclass(frozen=True)
class Loop:
    """One loop: places of its parts on the bench, its coolant runs in flow order, charge joints and zone air.

    `stages`: what the coolant passes after the pump, by default core and exchanger; the runs are those of
    `stages.piping`. `airs`: the air of each exchanger in flow order where there are two, else `air` serves.
    `shadows`: of each exchanger the share of its face in the air that the other one has warmed.
    `after_run_s`: how long pump and fan go on after key-off. `standing_m3`: liquid of an exchanger that is shut out of
    the circuit [m3].
    """

    core: int
    exchanger: int | None
    pump: int
    reservoir: int
    runs: tuple[Joint, ...]
    charge: tuple[Joint, ...]
    air: ZoneAir
    stages: Stages | None = None
    airs: tuple[ZoneAir, ...] = ()
    after_run_s: float = 0.0
    shadows: tuple[float, ...] = ()
    standing_m3: float = 0.0

    @property
    def stops(self) -> Stages:
        """Its stages, as they are given or follow from its parts."""
        return self.stages or (CORE_ALONE if self.exchanger is None else CORE_THEN_EXCHANGER)


@dataclass(frozen=True)
class Bench:
    """The parts of a shelf that a search may use, as columns in the order they were given."""

    cores: tuple[Core, ...]
    exchangers: tuple[Exchanger, ...]
    pumps: tuple[Pump, ...]
    reservoirs: tuple[Reservoir, ...]
    core_surfaces: tuple[Surface, ...]
    exchanger_surfaces: tuple[Surface, ...]
    curves: Curves
    pump_heat_w: Array
    pump_free_flow: Array
    pump_m3: Array
    reservoir_m3: Array
    reservoir_metal_j_per_k: Array
    core_outside_m2: Array


@dataclass(frozen=True)
class Columns:
    """Many loops as columns, one row a loop. `exchanger` is None where the layout has none.

    The outside air has a column for each exchanger in flow order; of a loop without one, that of its zone.
    `flow_share`: how much of the flow that the pump would drive goes round; 1 as bought.
    """

    stages: Stages
    core: Surface
    core_index: Indices
    exchanger: Surface | None
    exchanger_index: Indices
    pump: Indices
    pump_m3: Array
    reservoir_m3: Array
    reservoir_metal_j_per_k: Array
    run_length_m: Array
    run_bore_m: Array
    run_roughness_m: Array
    run_loss_per_m4: Array
    run_m3: Array
    run_wall_j_per_k: Array
    charge_before_per_m4: Array
    charge_after_per_m4: Array
    ram_share: Array
    face_speed: Array
    fan_speed: Array
    preheat_k: Array
    shadow: Array
    core_outside_m2: Array
    after_run_s: Array
    standing_m3: Array
    flow_share: Array

    @property
    def count(self) -> int:
        """How many loops."""
        return len(self.pump)

    @property
    def piping(self) -> Piping:
        """How the runs of every row lie in the loop."""
        return piping(self.stages)

    def count_of(self, kind: str) -> int:
        """How many parts of a kind each loop has."""
        return sum(stage.abreast for stage in self.stages if stage.kind == kind)


def make_bench(
    cores: Sequence[Core],
    exchangers: Sequence[Exchanger],
    pumps: Sequence[Pump],
    reservoirs: Sequence[Reservoir],
) -> Bench:
    """Gather parts into columns; each part keeps the place it has in its sequence."""
    curves = [
        ([float(p.flow_m3_per_s) for p in pump.curve], [float(p.head_pa) for p in pump.curve])
        for pump in pumps
    ]
    heat = [
        float(p.current_a)
        * p.volts
        * float(PUMP_HEAT_SHARE if p.heat_to_coolant is None else p.heat_to_coolant)
        for p in pumps
    ]
    return Bench(
        tuple(cores),
        tuple(exchangers),
        tuple(pumps),
        tuple(reservoirs),
        tuple(core_surface(core) for core in cores),
        tuple(exchanger_surface(exchanger) for exchanger in exchangers),
        stack_curves(curves),
        np.array(heat),
        np.array([flows[-1] for flows, _ in curves]),
        np.array([float(part.coolant.volume_m3 or 0.0) for part in pumps]),
        np.array([float(part.coolant.volume_m3 or 0.0) for part in reservoirs]),
        np.array([float(part.mass_kg or 0.0) * ALUMINIUM_J_PER_KG_K for part in reservoirs]),
        np.array([_outside_m2(core) for core in cores]),
    )


def make_columns(bench: Bench, loops: Sequence[Loop]) -> Columns:
    """Lay loops out as columns. All loops of one call have the same stages."""
    core = np.array([loop.core for loop in loops], dtype=np.intp)
    pump = np.array([loop.pump for loop in loops], dtype=np.intp)
    reservoir = np.array([loop.reservoir for loop in loops], dtype=np.intp)
    stages = loops[0].stops
    with_exchanger = loops[0].exchanger is not None
    exchanger = np.array([-1 if loop.exchanger is None else loop.exchanger for loop in loops], dtype=np.intp)
    return Columns(
        stages=stages,
        core=_gather(bench.core_surfaces, core),
        core_index=core,
        exchanger=_gather(bench.exchanger_surfaces, exchanger) if with_exchanger else None,
        exchanger_index=exchanger,
        pump=pump,
        pump_m3=bench.pump_m3[pump],
        reservoir_m3=bench.reservoir_m3[reservoir],
        reservoir_metal_j_per_k=bench.reservoir_metal_j_per_k[reservoir],
        run_length_m=_runs(loops, "hose_length_m"),
        run_bore_m=_runs(loops, "hose_bore_m"),
        run_roughness_m=_runs(loops, "roughness_m"),
        run_loss_per_m4=_runs(loops, "loss_per_m4"),
        run_m3=np.maximum(_runs(loops, "volume_m3"), HOSE_LEAST_M3),
        run_wall_j_per_k=_runs(loops, "hose_kg") * HOSE_J_PER_KG_K,
        charge_before_per_m4=np.array([_charge_loss(loop, before=True) for loop in loops]),
        charge_after_per_m4=np.array([_charge_loss(loop, before=False) for loop in loops]),
        ram_share=_airs(loops, "ram_share"),
        face_speed=_airs(loops, "face_speed_m_per_s"),
        fan_speed=_airs(loops, "fan_speed_m_per_s"),
        preheat_k=_airs(loops, "preheat_k"),
        shadow=np.array([loop.shadows or (0.0,) * max(len(loop.airs), 1) for loop in loops]),
        core_outside_m2=bench.core_outside_m2[core],
        after_run_s=np.array([loop.after_run_s for loop in loops]),
        standing_m3=np.array([loop.standing_m3 for loop in loops]),
        flow_share=np.ones(len(loops)),
    )


def one_below_another(each: Sequence[Columns]) -> Columns:
    """The rows of all columns, which have the same stages, in one."""
    columns: Columns = _one_below_another(each)
    return columns


def conductances(
    surfaces: Sequence[Surface], index: Indices, ua: Array, air_rate: Array, coolant_rate: Array
) -> Array:
    """Heat per kelvin of inlet difference [W/K], each row by its part's own arrangement of flows.

    `ua` and the rates of shape (..., rows) broadcast together.
    """
    ua, air_rate, coolant_rate = np.broadcast_arrays(ua, air_rate, coolant_rate)
    result = np.zeros(ua.shape)
    arrangement = [(s.flow, s.passes, s.pass_order) for s in surfaces]
    for flow, passes, pass_order in sorted(set(arrangement), key=str):
        of_this = np.array([known == (flow, passes, pass_order) for known in arrangement])
        rows = np.flatnonzero(of_this[index])
        if len(rows):
            of_rows = (figure[..., rows] for figure in (ua, air_rate, coolant_rate))
            result[..., rows] = conductance(flow, passes, pass_order, *of_rows)
    return result


def _one_below_another(each: Sequence[Any]) -> Any:
    """Records of the same fields as one: arrays end to end, records in them alike; all else is that of the first."""
    joined: dict[str, Any] = {}
    for field in fields(each[0]):
        values = [getattr(one, field.name) for one in each]
        if is_dataclass(values[0]):
            joined[field.name] = _one_below_another(values)
        elif isinstance(values[0], np.ndarray):
            joined[field.name] = np.concatenate(values)
    return replace(each[0], **joined)


def _outside_m2(core: Core) -> float:
    """The outside of a core's box [m2]."""
    x, y, z = (float(side) for side in (core.size.x_m, core.size.y_m, core.size.z_m))
    return 2 * (x * y + y * z + z * x)


def _charge_loss(loop: Loop, *, before: bool) -> float:
    """K / A² of the joints before the cores or behind them, on the whole charge [1/m4]; 0 where there are none."""
    return path_per_m4(joint for joint in loop.charge if before_core(joint) == before)


def _airs(loops: Sequence[Loop], name: str) -> Array:
    """One figure of the air of every exchanger of every loop, shape (loops, exchangers)."""
    return np.array([[getattr(air, name) for air in loop.airs or (loop.air,)] for loop in loops])


def _runs(loops: Sequence[Loop], name: str) -> Array:
    """One figure of every run of every loop, shape (loops, runs)."""
    return np.array([[getattr(joint, name) for joint in loop.runs] for loop in loops])


def _gather(surfaces: Sequence[Surface], index: Indices) -> Surface:
    """The surfaces of many rows as one surface of columns."""
    channels = Channels(
        **{f.name: np.array([getattr(s.channels, f.name) for s in surfaces])[index] for f in fields(Channels)}
    )
    columns: dict[str, Any] = {
        f.name: np.array([getattr(s, f.name) for s in surfaces])[index]
        for f in fields(Surface)
        if f.name not in {"channels", "flow", "passes", "pass_order", "tier"}
    }
    return replace(surfaces[0], channels=channels, **columns)
