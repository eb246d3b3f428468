"""The loop that a box of parts makes: which part stands where, what is to be joined, and the charge joints."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from configurator.foundations.verdicts import Verdict
from configurator.joining.charge_joint import ARRIVES_ASSUMED_K, ChargeConditions, ChargeJoiner
from configurator.joining.charge_side import ChargeSideJoiner
from configurator.joining.ratings import coolant_design_pa_gauge
from configurator.parts.ends import End
from configurator.parts.kinds import Adapter, Cap, Clamp, Core, Part, Pump, RigidPart, Wye
from configurator.parts.kit import WYE_BEFORE, WYE_BEHIND, Joint
from configurator.parts.layouts import Layout
from configurator.parts.shelf import Catalogue
from configurator.questions.check_answer import DesignShares
from configurator.questions.unknown_ends import unknown_ends
from configurator.search.charge_pipes import charger_outlets, throttle
from configurator.search.skeletons import HOSE_COLDEST_K
from configurator.search.step_joints import Place

FLOW = ("reservoir", "pump", "core", "exchanger")
"""Kinds in flow order; the loop closes. Only the exchanger may be missing from a whole loop."""

CHARGE_BEFORE_K, CHARGE_AFTER_K = ARRIVES_ASSUMED_K, 353.15
"""Charge before and after the core where no brief tells it: 150 and 80 degC, common practice."""


Slotted = tuple[str, RigidPart]


@dataclass(frozen=True)
class BoxLoop:
    """The parts of a box by slot in flow order, the cap last; and what its places may see [Pa gauge].

    `cap_stated`: there is a cap of which nothing but its pressure is known. `coldest_k`: what its hoses are to stand.
    `cap_to_fit`: one off the shelf that the loop is judged with, for its reservoir lacks one. `named`: the layouts of
    the brief, where it names those that are in question.
    """

    slots: tuple[tuple[str, Part], ...]
    small: tuple[Part, ...]
    cap_stated: bool
    opens_pa: float
    dead_head_pa: float
    head_m: float
    coldest_k: float = HOSE_COLDEST_K
    cap_to_fit: Cap | None = None
    named: tuple[Layout, ...] = ()

    def of(self, kind: str) -> list[tuple[str, Part]]:
        """Slots and parts of one kind."""
        return [(slot, part) for slot, part in self.slots if part.kind == kind]

    @property
    def flow(self) -> tuple[tuple[str, RigidPart], ...]:
        """The rigid parts in flow order."""
        return tuple((slot, part) for slot, part in self.slots if isinstance(part, RigidPart))

    @property
    def clamps(self) -> tuple[Clamp, ...]:
        """The clamps that lie in the box."""
        return tuple(part for part in self.small if isinstance(part, Clamp))

    def design_pa(self, kind: str) -> float:
        """What a part of this kind may see on its coolant side [Pa gauge]."""
        if kind == "cap":
            return coolant_design_pa_gauge(self.opens_pa, 0.0, 0.0, after_pump=False)
        after = kind != "reservoir"
        return coolant_design_pa_gauge(self.opens_pa, self.dead_head_pa, self.head_m, after_pump=after)

    def shares(self, kind: str) -> DesignShares:
        """Of what `design_pa` is made."""
        cap = coolant_design_pa_gauge(self.opens_pa, 0.0, 0.0, after_pump=False)
        pump = 0.0 if kind in ("cap", "reservoir") else self.dead_head_pa
        return DesignShares(self.opens_pa, cap, pump, self.design_pa(kind) - cap - pump)

    def kind_at(self, place: str) -> str:
        """The kind of part that stands at a place, or that a run starts from; the wyes of a pair are no parts."""
        slot = place.split(" to ")[0]
        fitted = "cap" if slot == "cap" else "wye"
        return next((part.kind for name, part in self.slots if name == slot), fitted)


@dataclass(frozen=True)
class ChargeSide:
    """What the charge pipes of a loop have to join and stand: bores of the engine's ends [m], how many outlets the
    charger has, pressures [Pa gauge], charge before and after the core [K], and whether it carries oil."""

    outlet_m: float | None
    outlets: int
    throttle_m: float | None
    design_pa: float
    boost_pa: float
    before_k: float
    after_k: float
    oily: bool


def make_loop(
    parts: Sequence[Part],
    cap_pa: float | None,
    head_m: float,
    coldest_k: float = HOSE_COLDEST_K,
    named: tuple[Layout, ...] = (),
) -> BoxLoop:
    """Put parts in their slots: `core`, or `core-1` and `core-2` where there are two of a kind."""
    slots: list[tuple[str, Part]] = []
    for kind in (*FLOW, "cap", "fan"):
        alike = [part for part in parts if part.kind == kind]
        names = [kind] if len(alike) == 1 else [f"{kind}-{number}" for number in range(1, len(alike) + 1)]
        slots += zip(names, alike, strict=True)
    small = tuple(part for part in parts if not isinstance(part, RigidPart | Cap))
    opens = [float(part.opens_pa_gauge) for _, part in slots if isinstance(part, Cap)]
    heads = [part.dead_head_pa for _, part in slots if isinstance(part, Pump)]
    return BoxLoop(
        slots=tuple(slots),
        small=small,
        cap_stated=cap_pa is not None,
        opens_pa=max(opens, default=0.0) if cap_pa is None else cap_pa,
        dead_head_pa=max(heads, default=0.0),
        head_m=head_m,
        coldest_k=coldest_k,
        named=named,
    )


def charge_joints(loop: BoxLoop, shelf: Catalogue, side: ChargeSide) -> Iterator[tuple[str, Joint | Verdict]]:
    """The joints of the cores to charger outlets and throttle, where those are known; of more than two cores none.

    What lies in the box is taken before what the shelf has.
    """
    own = [part for part in loop.small if isinstance(part, Adapter) and part.medium == "charge"]
    clamps = (*loop.clamps, *shelf.of(Clamp))
    couplers = [ChargeJoiner(some, clamps) for some in ([own] if own else []) + [[*own, *shelf.of(Adapter)]]]
    wyes = [part for part in loop.small if isinstance(part, Wye)]
    joiners = [ChargeSideJoiner(couplers, some) for some in ([wyes] if wyes else []) + [[*wyes, *shelf.of(Wye)]]]
    for starts, finishes, conditions, wye_slot in charge_sides(loop, side):
        made: tuple[Joint | Verdict, ...] = ()
        for joiner in joiners:
            made = joiner.join(starts, finishes, conditions, wye_slot)
            if all(isinstance(joint, Joint) for joint in made):
                break
        paired = len(starts) == len(finishes)
        for index, joint in enumerate(made):
            at = slice(index, index + 1) if paired else slice(None)
            if isinstance(joint, Verdict):
                joint = unknown_ends(starts[at], finishes[at], "charge") or joint
            names = (joint.start, joint.finish) if isinstance(joint, Joint) else joint.subjects
            yield " to ".join(name.split(".")[0] for name in names), joint


def charge_sides(
    loop: BoxLoop, side: ChargeSide
) -> Iterator[tuple[Sequence[Place], Sequence[Place], ChargeConditions, str]]:
    """What is to be joined before the cores and behind them, with what it must stand, where both ends are known."""
    cores = [(slot, core) for slot, core in loop.of("core") if isinstance(core, Core)]
    inlets = [(slot, end) for slot, core in cores if (end := core.charge.end_for("in")) is not None]
    outlets = [(slot, end) for slot, core in cores if (end := core.charge.end_for("out")) is not None]
    for starts, finishes, hottest_k, wye_slot in (
        (charger_outlets(side.outlet_m, side.outlets), inlets, side.before_k, WYE_BEFORE),
        (outlets, throttle(side.throttle_m), side.after_k, WYE_BEHIND),
    ):
        if not starts or not finishes or max(len(starts), len(finishes)) > 2:
            continue
        yield starts, finishes, ChargeConditions(hottest_k, side.design_pa, side.boost_pa, side.oily), wye_slot


def coolant_end(part: RigidPart, role: str) -> End | None:
    """The way of the coolant into a part or out of it; None where it has not just one."""
    passage = part.passages().get("coolant")
    return None if passage is None else passage.end_for(role)
