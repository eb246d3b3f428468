"""The pieces of a box that no joint of its loop takes, and which of them go into one and do not stand it."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from configurator.foundations.verdicts import Verdict
from configurator.joining.charge_joint import ChargeJoiner
from configurator.parts.kinds import Adapter, Clamp, Hose, Part, Wye
from configurator.parts.shelf import Catalogue
from configurator.questions.box_loop import ChargeSide, Loop, charge_sides


def spare_pieces(loop: Loop, used: Collection[str | None], *, charge_judged: bool) -> Iterator[Part]:
    """The pieces for joints that none of them takes; those that charge pipes may take only where these are known."""
    for part in loop.small:
        of_coolant = getattr(part, "medium", "") == "coolant" or isinstance(part, Hose)
        if isinstance(part, Adapter | Clamp | Hose | Wye) and part.id not in used and (of_coolant or charge_judged):
            yield part


def refused_couplers(
    spare: Sequence[Part], loop: Loop, shelf: Catalogue, side: ChargeSide | None
) -> Iterator[Verdict]:
    """Of the spare couplers those that go into a joint of the charge side, with the demand that they break there."""
    clamps = (*(part for part in loop.small if isinstance(part, Clamp)), *shelf.of(Clamp))
    joints = [
        (start, finish, conditions)
        for starts, finishes, conditions, _ in ([] if side is None else charge_sides(loop, side))
        if len(starts) == len(finishes)
        for start, finish in zip(starts, finishes, strict=True)
    ]
    for part in dict.fromkeys(part for part in spare if isinstance(part, Adapter) and part.medium == "charge"):
        joiner = ChargeJoiner([part], clamps)
        judged = [joiner.judged(part, *joint) for joint in joints]
        broken = [verdict for verdict in judged if verdict is not None and verdict.state == "broken"]
        if broken and not any(verdict is not None and verdict.state == "kept" for verdict in judged):
            yield broken[0]
