"""The rules of fitting in CP-SAT's words: six ways apart for every pair, one turn of each part, heights as sums.

General-purpose solver: OR-tools' CP-SAT (Google, Apache licence). Lengths are half millimetres.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

from ortools.sat.python import cp_model

from tests.fitting.placement_checker import (
    SIDES,
    allowed,
    faces_well,
    height_to_keep,
    surface_over_floor,
    turned_reach,
    turned_size,
)
from tests.fitting.plain_cases import PlainCase, PlainPart


@dataclass
class _Block:
    """A box of the model: whose it is, its corners, what takes its gap away on each side; for a reach its joint."""

    owner: int
    low: list
    high: list
    exempt: dict
    joint: str | None = None


class _Model:
    """One model for the zones of a kit."""

    def __init__(self, gap: int) -> None:
        self.model = cp_model.CpModel()
        self.gap = gap
        self.surfaces: list = []
        self.below: list = []
        self.owners = 0

    def add_zone(self, case: PlainCase) -> None:
        """A zone with its parts; its heights count where it is known how high it lies, or where it stands alone."""
        up = 0 if case.up is None else round(8 * case.up)
        blocks = [self._fixed(low, far) for low, far in case.obstacles]
        bodies, reaches = [], []
        for part in case.parts:
            body, before = self._part(case, part, up)
            bodies.append(body)
            reaches += before
        for one, other in [*combinations(bodies, 2), *((body, block) for body in bodies for block in blocks)]:
            self._apart(one, other, self.gap)
        for reach in reaches:
            for other in (*blocks, *bodies):
                if other.owner != reach.owner:
                    self._apart(reach, other, 0)
        for one, other in combinations(reaches, 2):
            if one.owner != other.owner and one.joint != other.joint:
                self._apart(one, other, 0)

    def solve(self, workers: int) -> bool:
        """Whether there is a solution."""
        for surface in self.surfaces:
            for height, asked in self.below:
                self.model.add(height <= surface).only_enforce_if(asked)
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = workers
        status = solver.solve(self.model)
        assert status in {cp_model.OPTIMAL, cp_model.FEASIBLE, cp_model.INFEASIBLE}
        return status != cp_model.INFEASIBLE

    def _fixed(self, low, far) -> _Block:
        return _Block(-1, [2 * v for v in low], [2 * v for v in far], dict.fromkeys(SIDES, 0))

    def _part(self, case: PlainCase, part: PlainPart, up: int) -> tuple[_Block, list[_Block]]:
        self.owners += 1
        turns = [looks for looks in allowed(part) if faces_well(case, part, looks)]
        taken = [self.model.new_bool_var("") for _ in turns]
        # With no turn left this is the empty clause: nothing solves it.
        self.model.add_bool_or(taken)
        self.model.add_at_most_one(taken)
        low = [self.model.new_int_var(0, 2 * case.zone[k], "") for k in range(3)]

        def of_turn(figures):
            return sum(round(2 * figure) * is_so for figure, is_so in zip(figures, taken, strict=True))

        sizes = [turned_size(part, looks) for looks in turns]
        high = [low[k] + of_turn([size[k] for size in sizes]) for k in range(3)]
        mounted = {
            side: sum(is_so for is_so, looks in zip(taken, turns, strict=True) if looks[side] in part.mounts)
            for side in SIDES
        }
        for k in range(3):
            self.model.add(low[k] >= self.gap * (1 - mounted[SIDES[2 * k]]))
            self.model.add(high[k] <= 2 * case.zone[k] - self.gap * (1 - mounted[SIDES[2 * k + 1]]))
        reaches = []
        for reach in part.reaches:
            corners = [turned_reach(part, looks, reach) for looks in turns]
            near = [low[k] + of_turn([corner[0][k] for corner in corners]) for k in range(3)]
            far = [low[k] + of_turn([corner[1][k] for corner in corners]) for k in range(3)]
            for k in range(3):
                if SIDES[2 * k] not in case.open:
                    self.model.add(near[k] >= 0)
                if SIDES[2 * k + 1] not in case.open:
                    self.model.add(far[k] <= 2 * case.zone[k])
            reaches.append(_Block(self.owners, near, far, dict.fromkeys(SIDES, 0), reach.joint))
        # Heights above the ground in eighths of a millimetre: floors are given to a quarter.
        if part.filled is not None:
            self.surfaces.append(up + 4 * (low[2] + of_turn([surface_over_floor(part)[t["top"]] for t in turns])))
        for looks, is_so in zip(turns, taken, strict=True):
            height = height_to_keep(part, looks)
            if height is not None:
                self.below.append((up + 4 * low[2] + round(8 * height), is_so))
        return _Block(self.owners, low, high, mounted), reaches

    def _apart(self, one: _Block, other: _Block, gap: int) -> None:
        ways = []
        for k in range(3):
            for near, far in ((one, other), (other, one)):
                way = self.model.new_bool_var("")
                exempt = near.exempt[SIDES[2 * k + 1]] + far.exempt[SIDES[2 * k]]
                room = far.low[k] - near.high[k]
                self.model.add(room >= 0).only_enforce_if(way)
                self.model.add(room >= gap * (1 - exempt)).only_enforce_if(way)
                ways.append(way)
        self.model.add_bool_or(ways)


def model_of(cases: list[PlainCase], gap: int) -> _Model:
    """The model of the zones of a kit with so many half millimetres of gap."""
    model = _Model(gap)
    for case in cases:
        model.add_zone(case)
    return model


def goes_in(*cases: PlainCase, gap: int = 0, workers: int = 1) -> bool:
    """Whether CP-SAT packs these zones of one kit with so many half millimetres of gap."""
    return model_of(list(cases), gap).solve(workers)
