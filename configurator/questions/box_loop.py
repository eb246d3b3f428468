"""The loop that a box of parts makes: which part stands where, and the joints between them off box and shelf."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from configurator.foundations.verdicts import Verdict
from configurator.joining.charge_joint import ChargeConditions, ChargeJoiner
from configurator.joining.hose_joint import HoseJoiner, RunConditions
from configurator.joining.ratings import ASSUMED_HEIGHT_M, coolant_design_pa_gauge
from configurator.parts.ends import End
from configurator.parts.kinds import Adapter, Cap, Clamp, Core, Hose, Part, Pump, RigidPart
from configurator.parts.kit import Joint
from configurator.parts.shelf import Catalogue
from configurator.search.charge_pipes import pipe_end
from configurator.search.runs import UNPLACED_M
from configurator.search.skeletons import COLDEST_ASSUMED_K, HOSE_HOTTEST_K

FLOW = ("reservoir", "pump", "core", "exchanger")
"""Kinds in flow order; the loop closes. Only the exchanger may be missing from a whole loop."""

ALONE = ("reservoir", "pump", "cap")
"""Kinds of which a loop has one."""

CHARGE_ASSUMED_K = 423.15
"""Charge before the core where no brief tells it: 150 degC, common practice."""


@dataclass(frozen=True)
class Loop:
    """The parts of a box by slot in flow order, the cap last; and what its places may see [Pa gauge]."""

    slots: tuple[tuple[str, Part], ...]
    small: tuple[Part, ...]
    opens_pa: float
    dead_head_pa: float
    head_m: float

    def of(self, kind: str) -> list[tuple[str, Part]]:
        """Slots and parts of one kind."""
        return [(slot, part) for slot, part in self.slots if getattr(part, "kind", "") == kind]

    @property
    def flow(self) -> tuple[tuple[str, RigidPart], ...]:
        """The rigid parts in flow order."""
        return tuple((slot, part) for slot, part in self.slots if isinstance(part, RigidPart))

    def design_pa(self, kind: str) -> float:
        """What a part of this kind may see on its coolant side [Pa gauge]."""
        if kind == "cap":
            return coolant_design_pa_gauge(self.opens_pa, 0.0, 0.0, after_pump=False)
        after = kind != "reservoir"
        return coolant_design_pa_gauge(self.opens_pa, self.dead_head_pa, self.head_m, after_pump=after)


def make_loop(parts: Sequence[Part], cap_pa: float | None, head_m: float | None) -> Loop:
    """Put parts in their slots: `core`, or `core 1` and `core 2` where there are two of a kind."""
    slots: list[tuple[str, Part]] = []
    for kind in (*FLOW, "cap", "fan"):
        alike = [part for part in parts if getattr(part, "kind", "") == kind]
        names = [kind] if len(alike) == 1 else [f"{kind} {number}" for number in range(1, len(alike) + 1)]
        slots += zip(names, alike, strict=True)
    small = tuple(part for part in parts if not isinstance(part, RigidPart | Cap))
    opens = [float(part.opens_pa_gauge) for _, part in slots if isinstance(part, Cap)]
    heads = [part.dead_head_pa for _, part in slots if isinstance(part, Pump)]
    return Loop(
        slots=tuple(slots),
        small=small,
        opens_pa=max(opens, default=0.0) if cap_pa is None else cap_pa,
        dead_head_pa=max(heads, default=0.0),
        head_m=ASSUMED_HEIGHT_M if head_m is None else head_m,
    )


def coolant_joints(loop: Loop, shelf: Catalogue) -> Iterator[tuple[str, Joint | Verdict]]:
    """Each run of the loop with the joint that makes it or the rule that stands in the way, by place."""
    joiners = list(_joiners(loop, shelf))
    for (from_slot, start), (to_slot, finish), kind in _edges(loop):
        place = f"{from_slot} to {to_slot}"
        ends = _end(start, "out"), _end(finish, "in")
        if ends[0] is None or ends[1] is None:
            lacking = from_slot if ends[0] is None else to_slot
            role = "out" if ends[0] is None else "in"
            text = f"the {lacking} has no coolant end of role '{role}'"
            yield place, Verdict("ends-do-not-meet", "broken", (place,), text=text)
            continue
        design = loop.design_pa(kind)
        wanted = RunConditions(HOSE_HOTTEST_K, COLDEST_ASSUMED_K, design, suction=kind == "reservoir")
        made: Joint | Verdict | None = None
        for joiner in joiners:
            made = joiner.join((from_slot, ends[0]), (to_slot, ends[1]), UNPLACED_M, wanted)
            if isinstance(made, Joint):
                break
        assert made is not None
        yield place, made


def charge_joints(
    loop: Loop, shelf: Catalogue, pipes_m: tuple[float | None, float | None], design_pa: float, boost_pa: float
) -> Iterator[tuple[str, Joint | Verdict]]:
    """The joints of each core to charger outlet and throttle [m], where those are known."""
    own = [part for part in loop.small if isinstance(part, Adapter) and part.medium == "charge"]
    known = [part for part in shelf.of(Adapter) if part.medium == "charge"]
    clamps = (*(part for part in loop.small if isinstance(part, Clamp)), *shelf.of(Clamp))
    joiners = [ChargeJoiner(some, clamps) for some in ([own] if own else []) + [[*own, *known]]]
    for slot, core in loop.of("core"):
        assert isinstance(core, Core)
        inlet, outlet = core.charge.ends_for("in"), core.charge.ends_for("out")
        pairs = [
            (pipe_end("charger outlet", pipes_m[0]), (slot, inlet[0]) if inlet else None),
            ((slot, outlet[-1]) if outlet else None, pipe_end("throttle", pipes_m[1])),
        ]
        for start, finish in pairs:
            if start is None or finish is None:
                continue
            made: Joint | Verdict | None = None
            for joiner in joiners:
                made = joiner.join(start, finish, ChargeConditions(CHARGE_ASSUMED_K, design_pa, boost_pa))
                if isinstance(made, Joint):
                    break
            assert made is not None
            yield f"{start[0]} to {finish[0]}", made


def _joiners(loop: Loop, shelf: Catalogue) -> Iterator[HoseJoiner]:
    """First the box alone, then its adapters with any hose, then the whole shelf."""
    hoses = [part for part in loop.small if isinstance(part, Hose)]
    adapters = [part for part in loop.small if isinstance(part, Adapter) and part.medium == "coolant"]
    clamps = [part for part in loop.small if isinstance(part, Clamp)]
    any_hose, any_clamp = (*hoses, *shelf.of(Hose)), (*clamps, *shelf.of(Clamp))
    sold = [part for part in shelf.of(Adapter) if part.medium == "coolant"]
    if hoses:
        yield HoseJoiner(hoses, adapters, any_clamp)
    yield HoseJoiner(any_hose, adapters, any_clamp)
    if hoses:
        yield HoseJoiner(hoses, (*adapters, *sold), any_clamp)
    yield HoseJoiner(any_hose, (*adapters, *sold), any_clamp)


def _edges(loop: Loop) -> Iterator[tuple[tuple[str, RigidPart], tuple[str, RigidPart], str]]:
    """Parts that follow each other, with the kind before; a pair stands in parallel, each part with its like."""
    steps = [
        (kind, [(slot, part) for slot, part in loop.flow if getattr(part, "kind", "") == kind])
        for kind in FLOW
    ]
    steps = [step for step in steps if step[1] or step[0] != "exchanger"]
    if sum(len(members) for _, members in steps) < 2:
        return
    for (kind, before), (_, after) in zip(steps, [*steps[1:], steps[0]], strict=True):
        if before and after:
            for index in range(max(len(before), len(after))):
                yield before[index % len(before)], after[index % len(after)], kind


def _end(part: RigidPart, role: str) -> End | None:
    passage = part.passages().get("coolant")
    ends = () if passage is None else passage.ends_for(role)
    if role == "out" and len(ends) > 1 and ends[0].role == "either":
        return ends[1]
    return ends[0] if ends else None
