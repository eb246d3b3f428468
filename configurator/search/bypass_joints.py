"""The runs round an exchanger that a bypass valve can shut out: valve before it, wye behind it, both off the shelf."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import product

from configurator.joining.bore_steps import end_bore_m, least_known_m
from configurator.joining.hose_joint import HoseJoiner
from configurator.joining.run_refusal import RunConditions
from configurator.joining.wyes import with_wye
from configurator.parts.ends import End
from configurator.parts.kinds import Valve, Wye
from configurator.parts.kit import Joint
from configurator.search.step_joints import TRUNK_M, Joints, Place, loss_pa, stands, whole_with_wye

VALVE = "valve"
"""The name that the bypass valve goes by in its joints."""


class BypassJoiner:
    """Joins a core, an exchanger and what follows it through a valve and a wye."""

    def __init__(self, joiner: HoseJoiner, valves: Sequence[Valve], wyes: Sequence[Wye]) -> None:
        """`valves`, `wyes`: those of the shelf that the brief lets in; of the wyes only those for coolant count."""
        self._joiner = joiner
        self._valves = tuple(valves)
        self._wyes = tuple(wye for wye in wyes if wye.medium == "coolant")

    def join(
        self,
        before: Place,
        around: tuple[str, End, End],
        behind: Place,
        lengths_m: Sequence[float],
        conditions: RunConditions,
        wye_slot: str,
    ) -> Joints | None:
        """Five runs: to the valve, to the exchanger, from it to the wye, from valve to wye, from the wye on.

        `around`: the exchanger's slot with its way in and its way out; `lengths_m`: to the exchanger, from it, and past
        it. None where they cannot be made. The best valve with the best wye: proven, fewest pieces, least loss of the
        dearer way at the reference flow (to 1 Pa), price, ids; found by trying all.
        """
        found = []
        for valve, wye in product(self._valves, self._wyes):
            if stands(valve, conditions) and stands(wye, conditions):
                runs = self._through(valve, wye, before, around, behind, lengths_m, conditions, wye_slot)
                if runs is not None:
                    found.append((_order(valve, wye, runs), runs))
        return min(found, key=lambda entry: entry[0])[1] if found else None

    def _through(
        self,
        valve: Valve,
        wye: Wye,
        before: Place,
        around: tuple[str, End, End],
        behind: Place,
        lengths_m: Sequence[float],
        conditions: RunConditions,
        wye_slot: str,
    ) -> Joints | None:
        slot, way_in, way_out = around
        wanted = (
            (before, (VALVE, valve.end("in")), TRUNK_M),
            ((VALVE, valve.end("out")), (slot, way_in), lengths_m[0]),
            ((slot, way_out), (wye_slot, wye.branches[0]), lengths_m[1]),
            ((VALVE, valve.end("bypass")), (wye_slot, wye.branches[1]), lengths_m[2]),
            ((wye_slot, wye.stem), behind, TRUNK_M),
        )
        runs = []
        for start, finish, length_m in wanted:
            made = self._joiner.join(start, finish, length_m, conditions)
            if not isinstance(made, Joint):
                return None
            runs.append(made)
        to_valve, *ways, from_wye = runs
        return (_with_valve(to_valve, valve), *ways, whole_with_wye(from_wye, wye, at_end=False))


def _with_valve(run: Joint, valve: Valve) -> Joint:
    """The run to the valve with the valve at its end, as narrow as its narrowest end."""
    whole = with_wye(run, valve, stem_bore_m=end_bore_m(valve.end("in")), at_end=True)
    return replace(whole, bore_m=least_known_m(run.bore_m, *(end_bore_m(end) for end in valve.through.ends)))


def _order(valve: Valve, wye: Wye, runs: Joints) -> tuple[object, ...]:
    to_valve, to_part, from_part, past, from_wye = runs
    unproven = any(member.working_pa_gauge is None for run in runs for member in run.members)
    pieces = sum(len(run.through) for run in runs)
    ways = max(to_part.loss_per_m4 + from_part.loss_per_m4, past.loss_per_m4)
    loss = loss_pa(to_valve.loss_per_m4 + ways + from_wye.loss_per_m4)
    return (unproven, pieces, round(loss), sum(run.price_cents for run in runs), valve.id, wye.id)
