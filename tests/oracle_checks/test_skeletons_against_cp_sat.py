"""How many ways there are to put a loop together: as many as OR-tools' CP-SAT finds with the same tables.

General-purpose solver: OR-tools' CP-SAT (Google, Apache licence), which lists every solution. The shelf has 30 parts of
each kind, varied from the shipped ones.
"""

from __future__ import annotations

import pytest
from ortools.sat.python import cp_model

from configurator.questions.searches import hose_joiner
from configurator.search.hosts import hosted
from configurator.search.pressures import NO_CAP
from configurator.search.sieve import sieve
from configurator.search.skeletons import SkeletonMaker
from tests.benchmarks.best_first import job_of

pytestmark = pytest.mark.oracle


class _Counted(cp_model.CpSolverSolutionCallback):
    def __init__(self) -> None:
        super().__init__()
        self.count = 0

    def on_solution_callback(self) -> None:
        self.count += 1


@pytest.mark.parametrize("mood", ["typical", "hostile"])
def test_both_find_as_many_ways(mood: str) -> None:
    (job,) = hosted(job_of(30, 0, mood))
    maker = SkeletonMaker(job, sieve(job), hose_joiner(job))
    values = {slot: list(known) for slot, known in maker.classes.items()}
    values["cap"] = [NO_CAP, *maker.caps]
    for slot in maker.slots:
        zones = {zone for known in maker.classes[slot].values() for zone in known.zones}
        values[f"zone of {slot}"] = sorted(zones)
    model = cp_model.CpModel()
    variables = {name: model.new_int_var(0, len(of) - 1, name) for name, of in values.items()}
    for table in maker.tables():
        rows = [
            tuple(values[name].index(value) for name, value in zip(table.variables, row, strict=True))
            for row in table.allowed
            if all(value in values[name] for name, value in zip(table.variables, row, strict=True))
        ]
        model.add_allowed_assignments([variables[name] for name in table.variables], sorted(rows))
    solver, found = cp_model.CpSolver(), _Counted()
    solver.parameters.enumerate_all_solutions = True
    assert solver.solve(model, found) in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    ours = sum(1 for _ in maker.assignments())
    assert ours == found.count > 1000
