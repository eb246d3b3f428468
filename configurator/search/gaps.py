"""Gaps: what of a loop is joined at once. Two steps; or three, where a valve can shut the middle one out."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product

from configurator.joining.hose_joint import HoseJoiner
from configurator.joining.run_refusal import RunConditions
from configurator.parts.ends import End
from configurator.parts.kinds import Valve, Wye
from configurator.search.bypass_joints import BypassJoiner
from configurator.search.job import Job
from configurator.search.step_joints import Joints, StepJoiner

Gap = tuple[tuple[str, ...], ...]


def gaps_of(pairs: Sequence[tuple[tuple[str, ...], tuple[str, ...]]], bypass: str | None) -> tuple[Gap, ...]:
    """The gaps of a loop, from the pairs of steps that follow each other; `bypass` is the slot with a valve before."""
    gaps: list[Gap] = []
    for starts, finishes in pairs:
        if starts == (bypass,):
            gaps[-1] = (*gaps[-1], finishes)
        else:
            gaps.append((starts, finishes))
    return tuple(gaps)


def spans(gap: Gap) -> tuple[tuple[str, str], ...]:
    """The slots between which the runs of a gap lie whose length the zones decide, in the order of its joiner."""
    if len(gap) == 2:
        return tuple(product(*gap))
    (before,), (around,), (behind,) = gap
    return ((before, around), (around, behind), (before, behind))


class GapJoiner:
    """Joins the gaps of a loop off one shelf."""

    def __init__(self, joiner: HoseJoiner, job: Job) -> None:
        """Wyes and valves are those that the job's brief lets in."""
        wyes = job.serving(Wye)
        self._steps = StepJoiner(joiner, wyes)
        self._bypasses = BypassJoiner(joiner, job.serving(Valve), wyes)

    def join(
        self,
        gaps: Sequence[Gap],
        index: int,
        outs: Sequence[End | None],
        ins: Sequence[End | None],
        lengths_m: Sequence[float],
        wanted: RunConditions,
    ) -> Joints | None:
        """The runs of one of the gaps; None where they cannot be made.

        `outs`, `ins`: ways out of its steps but the last, and into its steps but the first; `lengths_m` as of `spans`.
        """
        gap = gaps[index]
        leaves, enters = ([end for end in ends if end is not None] for ends in (outs, ins))
        if len(leaves) < len(outs) or len(enters) < len(ins):
            return None
        wye = f"wye-{1 + sum(len(one) > 2 or len(one[0]) != len(one[1]) for one in gaps[:index])}"
        if len(gap) > 2:
            (before,), (around,), (behind,) = gap
            passed = (around, enters[0], leaves[1])
            return self._bypasses.join((before, leaves[0]), passed, (behind, enters[1]), lengths_m, wanted, wye)
        starts = [(slot, leaves[0]) for slot in gap[0]]
        finishes = [(slot, enters[0]) for slot in gap[1]]
        return self._steps.join(starts, finishes, lengths_m, wanted, wye)
