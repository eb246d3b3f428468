"""Fitting held against OR-tools' CP-SAT, given the same rules in its own words: six ways apart for every pair.

At the clearance that the program gives, CP-SAT finds a packing; half a millimetre above it, it proves that there
is none; and where the program says "does not fit", CP-SAT proves the same at no clearance at all.
"""

from __future__ import annotations

from itertools import combinations

import pytest
from ortools.sat.python import cp_model

from configurator.fitting.placing import fit_zone
from tests.fitting.placement_checker import SIDES, allowed, turned_size
from tests.fitting.plain_cases import PlainCase, longer_by_one, random_case

pytestmark = pytest.mark.oracle


def goes_in(case: PlainCase, gap: int) -> bool:
    """Whether CP-SAT packs the case with so many half millimetres of gap."""
    model = cp_model.CpModel()
    zone = [2 * side for side in case.zone]
    bodies = []
    for part in case.parts:
        turns = allowed(part)
        choice = [model.new_bool_var("") for _ in turns]
        model.add_exactly_one(choice)
        low = [model.new_int_var(0, zone[k], "") for k in range(3)]
        size = [
            sum(2 * turned_size(part, looks)[k] * taken for taken, looks in zip(choice, turns, strict=True))
            for k in range(3)
        ]
        mounted = {
            side: sum(taken for taken, looks in zip(choice, turns, strict=True) if looks[side] in part.mounts)
            for side in SIDES
        }
        for k in range(3):
            model.add(low[k] >= gap * (1 - mounted[SIDES[2 * k]]))
            model.add(low[k] + size[k] <= zone[k] - gap * (1 - mounted[SIDES[2 * k + 1]]))
        bodies.append((low, [low[k] + size[k] for k in range(3)], mounted))
    blocks = [([2 * v for v in low], [2 * v for v in far], dict.fromkeys(SIDES, 0)) for low, far in case.obstacles]
    pairs = [*combinations(bodies, 2), *((body, block) for body in bodies for block in blocks)]
    for one, other in pairs:
        ways = []
        for k in range(3):
            for near, far in ((one, other), (other, one)):
                way = model.new_bool_var("")
                exempt = near[2][SIDES[2 * k + 1]] + far[2][SIDES[2 * k]]
                room = far[0][k] - near[1][k]
                model.add(room >= 0).only_enforce_if(way)
                model.add(room >= gap * (1 - exempt)).only_enforce_if(way)
                ways.append(way)
        model.add_bool_or(ways)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    status = solver.solve(model)
    assert status in {cp_model.OPTIMAL, cp_model.FEASIBLE, cp_model.INFEASIBLE}
    return status != cp_model.INFEASIBLE


def cases() -> list[tuple[str, PlainCase]]:
    """Loose and tight draws, pieces that fill their zone exactly, and the same with one a millimetre too long."""
    drawn = [(f"draw-{seed}", random_case(seed, 4, 300)) for seed in range(110)]
    cut = [(f"exact-{seed}", random_case(seed, 4, 300, cut=True)) for seed in range(30)]
    over = [(f"over-{name}", longer_by_one(case)) for name, case in cut]
    return [*drawn, *cut, *over]


@pytest.mark.parametrize("case", [case for _, case in cases()], ids=[name for name, _ in cases()])
def test_state_and_clearance_agree_with_cp_sat(case):
    fit = fit_zone(case.bay(), "hole", case.items())
    if fit.state == "does not fit":
        assert not goes_in(case, 0)
        return
    assert fit.state == "fits"
    gap = round(2 * fit.clearance_mm)
    assert goes_in(case, gap)
    assert not goes_in(case, gap + 1)


def test_the_draws_hold_enough_of_each_answer():
    states = [fit_zone(case.bay(), "hole", case.items()).state for _, case in cases()]
    assert len(states) >= 150
    assert min(states.count("fits"), states.count("does not fit")) >= 40


@pytest.mark.parametrize("shift", [-1, 1])
def test_cp_sat_would_catch_a_clearance_half_a_millimetre_off(shift):
    case = random_case(9, 4, 300)
    fit = fit_zone(case.bay(), "hole", case.items())
    assert fit.clearance_mm is not None and len(fit.placements) == 2
    gap = round(2 * fit.clearance_mm) + shift
    assert not goes_in(case, gap) or goes_in(case, gap + 1)
