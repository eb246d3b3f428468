"""A wye or a bypass valve held against the places of kits where the flow of the coolant divides or meets."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from configurator.foundations.verdicts import Verdict
from configurator.joining.hose_joint import HoseJoiner
from configurator.joining.run_refusal import RunConditions, refusal_of_piece
from configurator.parts.ends import End
from configurator.parts.kinds import Part, RigidPart, Valve, Wye
from configurator.parts.kit import Joint
from configurator.search.bypass_joints import VALVE
from configurator.search.step_joints import Place

_WYE = "wye-"
_RUN_M = 1.0
"""How long a run is decides which is the best, not whether there is one."""


@dataclass(frozen=True)
class Branching:
    """One place of kits where a wye or the valve hangs: what meets each of its ends by name, and what it must stand.

    `runs`: name of its end, the end of the neighbour, and whether the flow leaves by it.
    """

    slot: str
    runs: tuple[tuple[str, Place, bool], ...]
    conditions: RunConditions

    @property
    def words(self) -> str:
        """The place by its neighbours in flow order: `core to exchanger-1 and exchanger-2`."""
        ins, outs = (
            " and ".join(_plain(place[0]) for _, place, leaves in self.runs if leaves is out) for out in (False, True)
        )
        return f"{ins} to {outs}"


def branchings(
    parts: Mapping[str, Part], joints: Sequence[Joint], known: Mapping[str, Part], conditions: RunConditions
) -> Iterator[Branching]:
    """The places of one kit where its coolant divides or meets; `parts`: by slot, `known`: all parts by id."""
    pieces = _pieces(joints, known)
    ends = {slot: _ends(part) for slot, part in {**parts, **pieces}.items()}
    for slot in pieces:
        runs = []
        for joint in (joint for joint in joints if joint.medium == "coolant"):
            for own, other, leaves in ((joint.start, joint.finish, True), (joint.finish, joint.start, False)):
                if own.startswith(f"{slot}."):
                    there, _, name = other.partition(".")
                    runs.append((own.removeprefix(f"{slot}."), (there, ends[there][name]), leaves))
        yield Branching(slot, tuple(runs), conditions)


def judged(piece: Wye | Valve, at: Branching, joiner: HoseJoiner) -> Verdict | None:
    """A wye or valve at one place: kept, what it does not stand, or the end of it that nothing joins.

    None where a place takes the other of the two.
    """
    if isinstance(piece, Valve) is not (at.slot == VALVE):
        return None
    ends = _ends(piece)
    if isinstance(piece, Wye):  # its branches are alike, whatever they are called
        branches = dict.fromkeys(name for name, *_ in at.runs if name != "stem")
        ends = {"stem": piece.stem, **dict(zip(branches, piece.branches, strict=True))}
    for name, place, leaves in at.runs:
        own = (piece.kind, ends[name])
        start, finish = (own, place) if leaves else (place, own)
        made = joiner.join(start, finish, _RUN_M, at.conditions)
        if isinstance(made, Verdict):
            return Verdict("ends-do-not-meet", "broken", (piece.id, at.words), text=f"{at.words}: {made.text}")
    refused = refusal_of_piece(piece, at.conditions)
    if refused is None:
        return Verdict("run", "kept", (piece.id, at.words))
    return replace(refused, subjects=(piece.id, at.words), text=f"{at.words}: {refused.text}")


def _pieces(joints: Sequence[Joint], known: Mapping[str, Part]) -> dict[str, Part]:
    """The wyes and the valve of a kit by the slots that they go by: each stands in the joint that meets its stem, the
    valve in the one that it ends."""
    found: dict[str, Part] = {}
    for joint in joints:
        for name, at in ((joint.start, 0), (joint.finish, -1)):
            slot, _, end_name = name.partition(".")
            if (slot.startswith(_WYE) and end_name == "stem") or name == f"{VALVE}.in":
                found[slot] = known[joint.through[at]]
    return found


def _ends(part: Part) -> dict[str, End]:
    """The coolant ends of a part by name."""
    passage = part.through if isinstance(part, Wye | Valve) else None
    if isinstance(part, RigidPart):
        passage = part.passages().get("coolant")
    return {} if passage is None else {end.name: end for end in passage.ends}


def _plain(slot: str) -> str:
    """A slot as a neighbour is told: the wyes of a kit have no number there."""
    return "wye" if slot.startswith(_WYE) else slot
