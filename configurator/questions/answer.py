"""What a question comes back with: frozen records of SI figures, before any wording or rounding for display."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from configurator.fitting.laid_hoses import LaidHose
from configurator.fitting.placing import Placement
from configurator.fitting.routes import Point
from configurator.foundations.coolants import Coolant
from configurator.foundations.verdicts import Caution, Verdict
from configurator.joining.ratings import LowestRated
from configurator.parts.kinds import Part
from configurator.parts.kit import Joint
from configurator.parts.layouts import Twins
from configurator.parts.own import OwnPart
from configurator.prediction.ledger import Ledger
from configurator.prediction.report import Thermal
from configurator.questions.high_points import Span
from configurator.questions.searches import LeftOfKind
from configurator.questions.too_few import TooFew
from configurator.questions.ways_out import WaysOut
from configurator.questions.when_it_fails import Suction, WhenItFails
from configurator.search.bill import Line
from configurator.search.job import Exclusion

Outcome = Literal["kits", "no_kit", "stopped_early", "not_decided"]
ForkCode = Literal["air-to-air", "only-ice", "no-loop"]


@dataclass(frozen=True)
class Pressure:
    """One side of a kit: what it must hold [Pa gauge], and the member with the least to spare."""

    design_pa_gauge: float
    lowest: LowestRated | None

    @property
    def unproven(self) -> tuple[str, ...]:
        """What of it states no rating."""
        return () if self.lowest is None else self.lowest.unproven


@dataclass(frozen=True)
class Fit:
    """Whether the kit was placed, how much room is left all round, what sets it, and where each part sits.

    `spans`: heights above the ground by slot, where the zone's height is known.
    """

    decided: bool
    clearance_mm: float
    set_by: tuple[str, ...]
    placements: tuple[Placement, ...]
    spans: tuple[tuple[str, Span], ...] = ()


@dataclass(frozen=True)
class Bypass:
    """The valve of a kit that can shut its front exchanger out, and whether it does: that is so with ice in the tank.

    `would_add_w`: then, what the exchanger would bring in if it were left in circuit [W].
    """

    valve: str
    shut_out: bool
    would_add_w: float | None


@dataclass(frozen=True)
class OfferedKit:
    """One kit of an answer with everything that is told of it.

    `proven`: it fits, and each of its members states what it holds; of a bay that is not measured none is.
    `wire_drop_v`: what the pump's wire takes of its voltage, at 20 degC and hot, where the shelf has the wire.
    `limiting_air_k`: the outside air at which the aim is just met, for a ceiling.
    `shortfalls`: each demand that it misses, and by how much. `idle_ports`: slot, name and words of each end that no
    joint takes. `hoses`: each hose as laid, in the order of the joints; none where there is no bay. `bypass`: None
    without a bypass valve. `to_order`, `stock_unsaid`: slots whose part is out of stock, and whose stock nobody states.
    `short`: what its bill takes more of than there is. `stays`: slots whose part the car has and keeps; its mass is in
    no figure here.
    """

    rank: int
    layout: str
    layout_name: str
    twins: Twins
    picks: tuple[str, ...]
    proven: bool
    parts: tuple[tuple[str, str], ...]
    zones: tuple[tuple[str, str], ...]
    names: tuple[tuple[str, str], ...]
    shortfalls: tuple[Verdict, ...]
    thermal: Thermal
    pumps: tuple[Suction, ...]
    failures: WhenItFails
    bypass: Bypass | None
    ledger: Ledger
    charge_pressure: Pressure
    coolant_pressure: Pressure
    fit: Fit
    joints: tuple[Joint, ...]
    hoses: tuple[LaidHose, ...]
    lines: tuple[Line, ...]
    idle_ports: tuple[tuple[str, str, str], ...]
    price_cents: int
    mass_dry_g: int
    mass_wet_g: int
    current_a: float
    wire_drop_v: tuple[float, float] | None
    coolant_l: float
    limiting_air_k: float | None
    boil_margin_k: float
    tight_mm: float | None
    to_order: tuple[str, ...]
    stock_unsaid: tuple[str, ...]
    short: tuple[TooFew, ...]
    stays: tuple[str, ...]
    cautions: tuple[Caution, ...]

    @property
    def missed(self) -> tuple[str, ...]:
        """The demands that it misses."""
        return tuple(shortfall.rule for shortfall in self.shortfalls)

    def routes(self, zone: str = "") -> tuple[tuple[str, tuple[Point, ...]], ...]:
        """The name of each hose that has a route and its corner points [mm], ready to draw.

        Those in the car's frame, or with `zone` those in the frame of a zone without a place in the car.
        """
        return tuple(
            (hose.name, hose.route.corners_mm)
            for hose in self.hoses
            if hose.route is not None and hose.zone == zone
        )

    def laid(self, joint: Joint) -> LaidHose | None:
        """The hose of a joint as laid; None for a joint without a hose, or without a bay."""
        ends = (joint.start, joint.finish)
        return next((hose for hose in self.hoses if (hose.start, hose.finish) == ends), None)


@dataclass(frozen=True)
class Assumption:
    """Something the brief did not say, and what was taken instead."""

    about: str
    text: str


@dataclass(frozen=True)
class NotChecked:
    """A rule that could not be judged, and what it needs."""

    rule: str
    needs: str


@dataclass(frozen=True)
class Fork:
    """Another way of cooling the charge than these loops, or none, and the figures that decide it.

    `loop_k`: the coolest charge of a loop here, at the worst moment; `other_k`: that of the other way, cool end and
    warm end of its band. `front` and `zone`: the exchanger whose face the air-to-air cooler would have, and where.
    """

    code: ForkCode
    loop_k: float
    other_k: tuple[float, float]
    front: str = ""
    zone: str = ""


@dataclass(frozen=True)
class Stopped:
    """A search that time ended: its limit [s], and what no kit that was not looked at is better than.

    `coolest_k`: the coolest charge at the worst moment; `least_cents`: the least price.
    """

    seconds: float
    coolest_k: float
    least_cents: int


@dataclass(frozen=True)
class BestAlone:
    """A search for the best alone: choices of parts, those placed and predicted, why groups of others were left out.

    `all_variants`: whether every kit is told, else the first of each core + exchanger. `on_request`: whether it was
    asked for, on a shelf that could be looked at whole. `steps`: of the order, for which
    `enough_k` of margin is enough; `last`: those of the last kit told; `others`: what
    no kit that is not told comes before, None where there is none, or where time ran out first.
    """

    choices: int
    placed: int
    predicted: int
    left_out: tuple[tuple[str, int], ...]
    all_variants: bool
    on_request: bool
    steps: tuple[str, ...]
    enough_k: float
    last: tuple[float, ...] | None
    others: tuple[float, ...] | None


@dataclass(frozen=True)
class Counts:
    """How much was looked at: loops predicted, core + exchanger choices that fit, and those that meet the brief."""

    loops: int
    choices_fitting: int
    choices_kept: int
    kits_kept: int


@dataclass(frozen=True)
class Answer:
    """The answer to "which complete kit?". `blocked` names the one rule that stops every kit, where one does.

    `standstill_s`: how long the car stands before the charge is judged, where the aim says so. `ways_out`: where a
    search found no kit. `fork`: what should be said before any kit. `stopped`: where time ran out first. `best_alone`:
    where only the best kits were looked for. `all_variants`: kits may share core and exchanger. `on_the_front`: how
    many kits no other beats, where those alone are listed. `wanted`: the parts that the brief asks for by name; `own`:
    those that the customer has. `in_stock`: whether only what is on the shelf was asked for.
    `left`: where no kit can be put together, how many parts of each kind pass by themselves.
    """

    outcome: Outcome
    brief_name: str
    brief_fingerprint: str
    catalogue_parts: int
    catalogue_fingerprint: str
    currency: str
    ceiling_k: float
    air_k: float
    power_w: float
    driving_name: str
    coolant: Coolant | None
    kits: tuple[OfferedKit, ...]
    closest: tuple[OfferedKit, ...]
    exclusions: tuple[Exclusion, ...]
    not_checked: tuple[NotChecked, ...]
    assumed: tuple[Assumption, ...]
    cautions: tuple[Caution, ...]
    counts: Counts
    sizes_to_measure: tuple[str, ...] = ()
    blocked: Verdict | None = None
    standstill_s: float | None = None
    ways_out: WaysOut | None = None
    left: tuple[LeftOfKind, ...] = ()
    fork: Fork | None = None
    stopped: Stopped | None = None
    best_alone: BestAlone | None = None
    all_variants: bool = False
    on_the_front: int | None = None
    wanted: tuple[str, ...] = ()
    in_stock: bool = False
    own: tuple[OwnPart, ...] = ()

    @property
    def own_unused(self) -> tuple[Part, ...]:
        """The customer's parts that may go in, are not asked for by name, and that no kit told here holds.

        A hose or another piece of joints and wiring is among them: what a bill has of it is bought.
        """
        used = {part for kit in self.kits for _, part in kit.parts}
        spare = [held.part for held in self.own if held.part.id not in self.wanted]
        return tuple(part for part in spare if self.kits and part.id not in used)
