"""The pieces of a box that no joint of its loop takes, and which of them go into one and do not stand it."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import product

from configurator.foundations.verdicts import Verdict
from configurator.joining.charge_joint import ChargeConditions, ChargeJoiner
from configurator.joining.charge_side import Place
from configurator.joining.hose_joint import HoseJoiner
from configurator.joining.run_refusal import RunConditions
from configurator.parts.kinds import Adapter, Clamp, Hose, Part, Wye
from configurator.parts.kit import Joint
from configurator.parts.shelf import Catalogue
from configurator.questions.box_loop import BoxLoop, ChargeSide, charge_sides
from configurator.questions.box_runs import coolant_sides


def pieces_used(joints: Iterable[Joint]) -> Counter[str]:
    """How many of each piece the joints take; hose by the metre counts once for each joint that is cut from it."""
    used: Counter[str] = Counter()
    for joint in joints:
        used.update(piece for piece in (*joint.through, joint.hose) if piece is not None)
        for need in joint.needs:
            if need.part is not None:
                used[need.part] += math.ceil(need.quantity)
    return used


def spare_pieces(loop: BoxLoop, used: Mapping[str, int], *, charge_judged: bool, whole: bool) -> Iterator[Part]:
    """The pieces for joints that none of them takes, each as often as it is left over.

    Those that charge pipes may take only where these are known. Of a kind that is in use what the joints leave over
    counts where the loop is `whole`: else a joint that is not made may take it. Hose in use is taken to be cut to fit.
    """
    held = Counter(part.id for part in loop.small)
    for part in {part.id: part for part in loop.small}.values():
        if not isinstance(part, Adapter | Clamp | Hose | Wye) or not (charge_judged or _for_coolant_alone(part)):
            continue
        in_use = used.get(part.id, 0)
        if not in_use:
            yield from [part] * held[part.id]
        elif whole and not isinstance(part, Hose):
            yield from [part] * (held[part.id] - in_use)


def _for_coolant_alone(part: Part) -> bool:
    if isinstance(part, Clamp):
        return "charge" not in part.media
    return isinstance(part, Hose) or getattr(part, "medium", "") == "coolant"


def refused_pieces(
    spare: Sequence[Part], loop: BoxLoop, shelf: Catalogue, side: ChargeSide | None
) -> Iterator[Verdict]:
    """Of the spare pieces those that go into a joint and stand none that they go into, with the demand they break."""
    clamps = (*loop.clamps, *shelf.of(Clamp))
    for part in dict.fromkeys(spare):
        judged: list[Verdict | None] = []
        if isinstance(part, Adapter) and part.medium == "charge":
            coupler = ChargeJoiner([part], clamps)
            judged = [coupler.judged(part, *joint) for joint in _charge_pairs(loop, side)]
        elif isinstance(part, Hose | Adapter):
            hoses = [part] if isinstance(part, Hose) else shelf.of(Hose)
            adapters = [one for one in loop.small if isinstance(one, Adapter)]
            joiner = HoseJoiner(hoses, adapters, clamps, vacuum_unsaid=True)
            judged = [joiner.judged(part, *run) for run in _coolant_pairs(loop)]
        broken = [verdict for verdict in judged if verdict is not None and verdict.state == "broken"]
        if broken and not any(verdict is not None and verdict.state == "kept" for verdict in judged):
            yield broken[0]


def _charge_pairs(loop: BoxLoop, side: ChargeSide | None) -> Iterator[tuple[Place, Place, ChargeConditions]]:
    """Two ends of the charge side that one coupler joins, with what it must stand."""
    for starts, finishes, conditions, _ in [] if side is None else charge_sides(loop, side):
        if len(starts) == len(finishes):
            yield from ((start, finish, conditions) for start, finish in zip(starts, finishes, strict=True))


def _coolant_pairs(loop: BoxLoop) -> Iterator[tuple[Place, Place, RunConditions]]:
    """Every two ends of the loop that follow each other, with what a run between them must stand."""
    for _, starts, finishes, conditions in coolant_sides(loop):
        yield from ((start, finish, conditions) for start, finish in product(starts, finishes))
