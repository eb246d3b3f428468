"""From one step of a loop to the next: one run, or a trunk and two branches with the best wye between them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from configurator.joining.bore_steps import end_bore_m, least_known_m
from configurator.joining.hose_joint import HoseJoiner
from configurator.joining.run_refusal import RunConditions, refusal_of_piece
from configurator.joining.run_ways import REFERENCE_DENSITY, REFERENCE_FLOW_M3_PER_S
from configurator.joining.wyes import with_wye
from configurator.parts.ends import End
from configurator.parts.kinds import Valve, Wye
from configurator.parts.kit import Joint

TRUNK_M = 0.3
"""A wye sits this near to the part whose flow it divides or gathers; common practice, no source."""

Place = tuple[str, End]
Joints = tuple[Joint, ...]


class StepJoiner:
    """Joins steps of a loop off one shelf, in flow order."""

    def __init__(self, joiner: HoseJoiner, wyes: Sequence[Wye]) -> None:
        """`wyes`: those of the shelf that the brief lets in; only those for coolant count."""
        self._joiner = joiner
        self._wyes = tuple(wye for wye in wyes if wye.medium == "coolant")

    def join(
        self,
        start: Sequence[Place],
        finish: Sequence[Place],
        lengths_m: Sequence[float],
        conditions: RunConditions,
        wye_slot: str,
    ) -> Joints | None:
        """The runs from the parts of one step to those of the next; None where they cannot be made.

        `start`, `finish`: slots with their ends; two on one side lie side by side, and `lengths_m` are then those of
        their branches. `wye_slot`: the name that the wye goes by. The best wye: proven, fewest pieces, least loss at
        the reference flow (to 1 Pa), price, id; found by trying all.
        """
        if len(start) == len(finish) == 1:
            run = self._run(start[0], finish[0], lengths_m[0], conditions)
            return None if run is None else (run,)
        found = []
        for wye in self._wyes:
            if stands(wye, conditions):
                runs = self._through(wye, start, finish, lengths_m, conditions, wye_slot)
                if runs is not None:
                    found.append((_order(wye, runs), runs))
        return min(found, key=lambda entry: entry[0])[1] if found else None

    def _through(
        self,
        wye: Wye,
        start: Sequence[Place],
        finish: Sequence[Place],
        lengths_m: Sequence[float],
        conditions: RunConditions,
        wye_slot: str,
    ) -> Joints | None:
        stem = (wye_slot, wye.stem)
        branches = [(wye_slot, end) for end in wye.branches]
        if len(start) == 1:
            trunk = self._run(start[0], stem, TRUNK_M, conditions)
            pairs = zip(branches, finish, strict=True)
        else:
            trunk = self._run(stem, finish[0], TRUNK_M, conditions)
            pairs = zip(start, branches, strict=True)
        runs = [self._run(*pair, length, conditions) for pair, length in zip(pairs, lengths_m, strict=True)]
        made = [run for run in runs if run is not None]
        if trunk is None or len(made) < len(runs):
            return None
        whole = whole_with_wye(trunk, wye, at_end=len(start) == 1)
        return (whole, *made) if len(start) == 1 else (*made, whole)

    def _run(self, start: Place, finish: Place, length_m: float, conditions: RunConditions) -> Joint | None:
        made = self._joiner.join(start, finish, length_m, conditions)
        return made if isinstance(made, Joint) else None


def stands(piece: Wye | Valve, conditions: RunConditions) -> bool:
    """Whether a wye or valve stands what its runs see; where it says nothing it is unproven, not out."""
    return refusal_of_piece(piece, conditions) is None


def whole_with_wye(trunk: Joint, wye: Wye, *, at_end: bool) -> Joint:
    """The trunk with its wye, as narrow as the narrowest of the three ends."""
    whole = with_wye(trunk, wye, stem_bore_m=end_bore_m(wye.stem), at_end=at_end)
    return replace(whole, bore_m=least_known_m(trunk.bore_m, *(end_bore_m(end) for end in wye.through.ends)))


def loss_pa(per_m4: float) -> float:
    """What steps and pieces take at the reference flow, from their sum of K/A² [Pa]."""
    return REFERENCE_DENSITY / 2.0 * REFERENCE_FLOW_M3_PER_S**2 * per_m4


def _order(wye: Wye, runs: Joints) -> tuple[object, ...]:
    unproven = any(member.working_pa_gauge is None for run in runs for member in run.members)
    pieces = sum(len(run.through) for run in runs)
    halves = [run.loss_per_m4 for run in runs if wye.id not in run.through]
    whole = sum(run.loss_per_m4 for run in runs) - sum(halves)
    loss = loss_pa(whole + max(halves) / 4)
    return (unproven, pieces, round(loss), sum(run.price_cents for run in runs), wye.id)
