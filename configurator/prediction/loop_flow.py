"""The coolant's flow: where the pump's curve meets what parts, hoses and adapters of a loop take."""

from __future__ import annotations

import numpy as np

from configurator.foundations.coolants import Liquid, properties
from configurator.foundations.numbers import Array, Numbers
from configurator.physics.operating_point import FLOW_CEILING, head, operating_flow
from configurator.physics.pipe_flow import pipe_loss
from configurator.prediction.bench import Bench, Columns
from configurator.prediction.conditions import Conditions
from configurator.prediction.exchange import surface_of
from configurator.prediction.stages import Stage
from configurator.prediction.surface_figures import coolant_loss_pa


def running(
    bench: Bench, columns: Columns, conditions: Conditions, at_k: Array, end: Numbers
) -> tuple[Array, Liquid]:
    """Coolant flow of each row with the liquid as it is at a temperature."""
    liquid = properties(conditions.coolant, at_k)
    return columns.flow_share * _operating_flow(bench, columns, liquid, end), liquid


def loop_loss_pa(columns: Columns, liquid: Liquid, flow: Array, end: Numbers) -> Array:
    """Pressure the whole loop takes at a coolant flow, per row [Pa].

    Twins side by side take the pressure once: that of the part, and of the dearer of their two branches.
    """
    runs = run_losses_pa(columns, liquid, flow)
    lie = columns.piping
    total = part_loss_pa(columns, liquid, flow, end)
    if not lie.branches:
        return np.asarray(total + runs.sum(axis=1))
    total = total + runs[:, lie.trunk].sum(axis=1)
    for one, other in lie.branches:
        total = total + np.maximum(runs[:, one].sum(axis=1), runs[:, other].sum(axis=1))
    return np.asarray(total)


def part_loss_pa(columns: Columns, liquid: Liquid, flow: Array, end: Numbers) -> Array:
    """Pressure that cores and exchangers take, per row [Pa]; twins side by side at half the flow, and once."""
    total = np.zeros(columns.count)
    for stage in columns.stages:
        total = total + stage_loss_pa(columns, stage, liquid, flow, end)
    return np.asarray(total)


def stage_loss_pa(columns: Columns, stage: Stage, liquid: Liquid, flow: Array, end: Numbers) -> Array:
    """Pressure that one stage takes of the whole flow of the loop, per row [Pa]; twins side by side at half of it."""
    surface = surface_of(columns, stage.kind)
    through = flow if stage.abreast == 1 else flow / stage.abreast
    return np.asarray(coolant_loss_pa(surface, through, liquid, end))


def run_losses_pa(columns: Columns, liquid: Liquid, flow: Array) -> Array:
    """Pressure that each run takes at its share of the flow: hose wall, adapters, bends; shape (rows, runs) [Pa]."""
    lie = columns.piping
    through = flow[:, None] * np.array(lie.shares) if set(lie.shares) != {1.0} else flow[:, None]
    density, viscosity = np.asarray(liquid.density)[:, None], np.asarray(liquid.viscosity)[:, None]
    wall = pipe_loss(
        through, columns.run_length_m, columns.run_bore_m, columns.run_roughness_m, density, viscosity
    )
    return np.asarray(wall + columns.run_loss_per_m4 * density * through**2 / 2)


def _operating_flow(bench: Bench, columns: Columns, liquid: Liquid, end: Numbers) -> Array:
    return np.asarray(
        operating_flow(
            lambda flow: head(bench.curves, columns.pump, flow),
            lambda flow: loop_loss_pa(columns, liquid, flow, end),
            FLOW_CEILING * bench.pump_free_flow[columns.pump],
        )
    )
