"""A kit: which part fills each slot and where it sits; and the joints that make it one loop."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from configurator.foundations.verdicts import Caution

Medium = Literal["charge", "coolant"]

WYE_BEFORE, WYE_BEHIND = "charge-wye-in", "charge-wye-out"
"""The names that a wye of the charge goes by: before the cores, and behind them."""


@dataclass(frozen=True, order=True)
class Kit:
    """Slots filled, a zone chosen for each rigid part that is to be placed. Two zone choices are two kits."""

    layout: str
    parts: tuple[tuple[str, str], ...]
    zones: tuple[tuple[str, str], ...]

    def part(self, slot: str) -> str | None:
        """The id in a slot, None where the slot is empty."""
        return dict(self.parts).get(slot)

    def zone(self, slot: str) -> str | None:
        """The zone of a slot's part, None where it needs none (already fitted, or no zone measured)."""
        return dict(self.zones).get(slot)


@dataclass(frozen=True)
class Need:
    """Something a joint needs besides its pieces: an O-ring, sealant, or a clamp off the shelf."""

    item: str
    part: str | None
    quantity: float
    unit: str


@dataclass(frozen=True)
class Member:
    """One piece of a pressure boundary: what it is, where it is, what it may work at (None: unproven).

    `stated_as`: what that follows from. Where heat takes some of it, `cold_pa_gauge` is all of it, and `derated_at_k`
    the heat.
    """

    part: str
    place: str
    working_pa_gauge: float | None
    stated_as: str
    hottest_k: float | None
    cold_pa_gauge: float | None = None
    derated_at_k: float | None = None


@dataclass(frozen=True)
class Ahead:
    """Room that a joint takes straight ahead of an end before it can turn away [m]: how far, and how wide it is.

    `turn_m`: how far ahead the middle line has the corner of its first turn, at the least; an `elbow` has it there.
    """

    depth_m: float
    across_m: float
    turn_m: float
    elbow: bool = False


@dataclass(frozen=True)
class Joint:
    """Two ends joined, directly or through pieces off the shelf, with all that the joint needs.

    `loss_per_m4` is the sum of K/A² of steps, bends and adapters [1/m4]: loss = density * flow² / 2 * that.
    `steps_per_m4` is what changes of bore take of it, the ways in and out of a tank left out.
    The hose's own wall friction comes from its length, bore and roughness and is not in it. `thrust_n`: what the
    boost pushes a charge joint apart with, if nothing else holds it [N]. `share`: how much of the charge flows through
    a charge joint; beside one of half the charge lies another. `cautions`: those of its pairs of ends. `ahead`: the
    room a coolant run takes before the end it starts from and before the end it goes to. `through` is in flow order,
    the first `before_hose` pieces before the hose. `hose_kg`: of the hose and its stubs alone. `clamped`: each of its
    clamps by id, with the outside diameter that it closes on [m].
    """

    medium: Medium
    start: str
    finish: str
    through: tuple[str, ...]
    hose: str | None
    hose_length_m: float
    hose_bore_m: float
    roughness_m: float
    bore_m: float
    loss_per_m4: float
    volume_m3: float
    needs: tuple[Need, ...]
    members: tuple[Member, ...]
    price_cents: int
    mass_kg: float
    thrust_n: float = 0.0
    ahead: tuple[Ahead, Ahead] | None = None
    share: float = 1.0
    cautions: tuple[Caution, ...] = ()
    before_hose: int = 0
    hose_kg: float = 0.0
    clamped: tuple[tuple[str, float], ...] = ()
    steps_per_m4: float = 0.0

    @property
    def slots(self) -> tuple[str, str]:
        """The slots that it leads from and to."""
        return self.start.split(".")[0], self.finish.split(".")[0]

    @property
    def pieces(self) -> tuple[str, ...]:
        """The hose, empty where there is none, and the adapters that it is made of."""
        return self.hose or "", *self.through

    @property
    def hoses_m(self) -> tuple[tuple[str, float], ...]:
        """The hose of the run, then that of its stubs: id and length [m]."""
        run = () if self.hose is None else ((self.hose, self.hose_length_m),)
        stubs = ((need.part, need.quantity) for need in self.needs if need.unit == "m" and need.part is not None)
        return (*run, *stubs)


def before_core(joint: Joint) -> bool:
    """Whether a charge joint lies between charger and core."""
    return joint.slots[0] in ("engine", WYE_BEFORE)


def open_charge_sides(joints: Iterable[Joint]) -> tuple[str, ...]:
    """On which sides of the cores no joint of the charge is made: `before`, `behind`."""
    made = {before_core(joint) for joint in joints if joint.medium == "charge"}
    return tuple(side for side, before in (("before", True), ("behind", False)) if before not in made)


def path_per_m4(joints: Iterable[Joint]) -> float:
    """Sum of K / A² [1/m4] along one side of the charge, on the whole charge; of branches the dearer counts."""
    whole, branches = 0.0, [0.0]
    for joint in joints:
        if joint.share == 1.0:
            whole += joint.loss_per_m4
        else:
            branches.append(joint.loss_per_m4 * joint.share**2)
    return whole + max(branches)
