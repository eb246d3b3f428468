"""The same ways to put a loop together, counted by a general-purpose solver from the same tables.

OR-tools' CP-SAT (Google, Apache licence) with one worker: it lists every solution with no more than one.
"""

from __future__ import annotations

import time
from typing import NamedTuple

from ortools.sat.python import cp_model

from configurator.search.pressures import NO_CAP
from configurator.search.skeletons import SkeletonMaker


class Count(NamedTuple):
    """How many ways there are; seconds to build the model, and to solve it."""

    ways: int
    build_s: float
    solve_s: float


class _Counted(cp_model.CpSolverSolutionCallback):
    def __init__(self) -> None:
        super().__init__()
        self.count = 0

    def on_solution_callback(self) -> None:
        self.count += 1


def count_ways(maker: SkeletonMaker) -> Count:
    """Count with CP-SAT what `maker.assignments()` lists; the tables are made beforehand."""
    tables, started = maker.tables(), time.perf_counter()
    values = {slot: list(known) for slot, known in maker.classes.items()}
    values["cap"] = [NO_CAP, *maker.caps]
    for slot in maker.slots:
        zones = {zone for known in maker.classes[slot].values() for zone in known.zones}
        values[f"zone of {slot}"] = sorted(zones)
    model = cp_model.CpModel()
    variables = {name: model.new_int_var(0, len(of) - 1, name) for name, of in values.items()}
    for table in tables:
        rows = [
            tuple(values[name].index(value) for name, value in zip(table.variables, row, strict=True))
            for row in table.allowed
            if all(value in values[name] for name, value in zip(table.variables, row, strict=True))
        ]
        model.add_allowed_assignments([variables[name] for name in table.variables], sorted(rows))
    solver, found = cp_model.CpSolver(), _Counted()
    solver.parameters.enumerate_all_solutions = True
    built = time.perf_counter()
    assert solver.solve(model, found) in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    return Count(found.count, built - started, time.perf_counter() - built)
