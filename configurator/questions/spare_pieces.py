"""The pieces of a box that no joint of its loop takes, and which of them go into one and do not stand it."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from itertools import product

from configurator.foundations.verdicts import Verdict
from configurator.joining.charge_joint import ChargeConditions, ChargeJoiner
from configurator.joining.charge_side import Place
from configurator.joining.hose_joint import HoseJoiner
from configurator.joining.run_refusal import RunConditions
from configurator.parts.kinds import Adapter, Clamp, Hose, Part, Wye
from configurator.parts.shelf import Catalogue
from configurator.questions.box_loop import BoxLoop, ChargeSide, charge_sides, coolant_sides


def spare_pieces(loop: BoxLoop, used: Collection[str | None], *, charge_judged: bool) -> Iterator[Part]:
    """The pieces for joints that none of them takes; those that charge pipes may take only where these are known."""
    for part in loop.small:
        of_coolant = getattr(part, "medium", "") == "coolant" or isinstance(part, Hose)
        if isinstance(part, Adapter | Clamp | Hose | Wye) and part.id not in used and (of_coolant or charge_judged):
            yield part


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
