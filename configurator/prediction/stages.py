"""What the coolant passes after the pump: parts one after the other, or two of the same side by side.

Lumps in flow order: reservoir, feed (all hose up to the first stage), then each stage and the hose behind it. Twins
side by side are one lump; each takes half the coolant: that the flow divides evenly is an assumption, and told as one.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

HeatKind = Literal["core", "exchanger"]


@dataclass(frozen=True)
class Stage:
    """One stop of the coolant: one part, or two of the same side by side.

    `valve`: where a three-way valve lies behind it, whether the flow goes through the next stop or past it. A stop that
    is passed is no stage.
    """

    kind: HeatKind
    abreast: int = 1
    valve: Literal["through", "past"] | None = None


Stages = tuple[Stage, ...]

CORE_ALONE: Stages = (Stage("core"),)
CORE_THEN_EXCHANGER: Stages = (Stage("core"), Stage("exchanger"))


@dataclass(frozen=True)
class Piping:
    """The runs of a loop in flow order: the share of the flow in each, the lump that holds it, and who lies abreast.

    Between two stops there is one trunk; a wye before twins adds two branches behind it, a wye after twins two before
    it. A bypass has five runs: to the valve, to the stop it can shut out, from there to the wye, from the valve to the
    wye, from the wye on. Where the valve lets nothing through, a run has no share and is in no lump: what stands in it
    takes no part. `trunk`: the runs of the whole flow. `branches`: for each pair of twins the runs through the one and
    the other.
    """

    shares: tuple[float, ...]
    lumps: tuple[int | None, ...]
    trunk: tuple[int, ...]
    branches: tuple[tuple[tuple[int, ...], tuple[int, ...]], ...]

    @property
    def moving(self) -> tuple[tuple[int, int], ...]:
        """The runs through which coolant flows, each with its lump."""
        return tuple((run, lump) for run, lump in enumerate(self.lumps) if lump is not None)


def feed_lump(stage: int) -> int:
    """The lump whose liquid enters a stage."""
    return 1 + 2 * stage


def stage_lump(stage: int) -> int:
    """The lump of a stage."""
    return 2 + 2 * stage


@lru_cache(maxsize=64)
def piping(stages: Stages) -> Piping:
    """The runs of a loop: reservoir to pump, pump to the first stage, and so on back to the reservoir."""
    shares: list[float] = [1.0]
    lumps: list[int | None] = [1]
    trunk = [0]
    twins: dict[int, tuple[list[int], list[int]]] = {}
    for behind in range(len(stages) + 1):
        lump = feed_lump(behind)
        for stage, branches_first in ((behind - 1, True), (behind, False)):
            twin = 0 <= stage < len(stages) and stages[stage].abreast == 2
            if not branches_first:
                for share in _trunk_shares(stages, behind):
                    if share > 0.0:
                        trunk.append(len(shares))
                    shares.append(share)
                    lumps.append(lump if share > 0.0 else None)
            if twin:
                for side in twins.setdefault(stage, ([], [])):
                    side.append(len(shares))
                    shares.append(0.5)
                    lumps.append(lump)
    branches = tuple((tuple(one), tuple(other)) for one, other in twins.values())
    return Piping(tuple(shares), tuple(lumps), tuple(trunk), branches)


def _trunk_shares(stages: Stages, behind: int) -> tuple[float, ...]:
    """The share of the flow in each run of a trunk: one run, or those of a bypass."""
    valves = [stages[at].valve if at >= 0 else None for at in (behind - 1, behind - 2)]
    if valves[0] is not None:
        return (1.0, 1.0) if valves[0] == "through" else (1.0, 0.0, 0.0, 1.0, 1.0)
    return (1.0, 0.0, 1.0) if valves[1] == "through" else (1.0,)


def slots_of(stages: Stages) -> tuple[tuple[int, str], ...]:
    """Every place for a core or an exchanger in flow order: its stage, and the name of its slot."""
    counts = {kind: sum(stage.abreast for stage in stages if stage.kind == kind) for kind in ("core", "exchanger")}
    given = dict.fromkeys(counts, 0)
    slots = []
    for at, stage in enumerate(stages):
        for _ in range(stage.abreast):
            given[stage.kind] += 1
            slots.append((at, stage.kind if counts[stage.kind] == 1 else f"{stage.kind}-{given[stage.kind]}"))
    return tuple(slots)
