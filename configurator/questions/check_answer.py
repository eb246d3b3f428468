"""What a check comes back with: frozen records, before any wording for display."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from configurator.brief.request import Brief
from configurator.foundations.verdicts import Caution, Verdict
from configurator.parts.kinds import Part
from configurator.parts.kit import Joint, Medium
from configurator.parts.own import OwnPart
from configurator.questions.answer import Answer, Assumption, NotChecked, OfferedKit, Pressure
from configurator.questions.commissioning import Commissioning
from configurator.questions.look_alikes import LookAlike
from configurator.search.bill import Line
from configurator.search.job import Exclusion
from configurator.search.runs import Run, run_between

CheckOutcome = Literal["fits_together", "does_not", "unproven"]

NOT_IN_THIS_CAR: Final = "not-in-this-car"
"""The rule that is broken where a box makes no kit for the car of a brief."""
PLACE_TAKEN: Final = "place-taken"
"""The rule that is broken where a part of the box stands in the place of one that stays in the car."""
OF_THE_CAR: Final = (NOT_IN_THIS_CAR, PLACE_TAKEN, "freeze", "layout")
"""Both, and those of a brief that no parts can serve."""


@dataclass(frozen=True)
class DesignShares:
    """Of what a design pressure of the coolant side is made: the cap with its tolerance, the pump at no flow and the
    liquid above the place [Pa]; and what the cap opens at [Pa gauge]."""

    opens_pa_gauge: float
    cap_pa: float
    pump_pa: float
    liquid_pa: float


@dataclass(frozen=True)
class InCar:
    """The box in the car of a brief, as it was asked: the answer for a shelf of nothing else, and the kit that uses
    most of it. `own`: what of it the customer has. `alone`: what heat, coolant, ice and room have against single parts.
    `zones`: where parts of the box can only be, by slot, whether they make a kit or not. `head_m`: the liquid above the
    lowest part, where the kit file states it [m]."""

    asked: Brief
    answer: Answer
    kit: OfferedKit | None
    own: tuple[OwnPart, ...]
    alone: tuple[Exclusion, ...]
    zones: tuple[tuple[str, str], ...]
    head_m: float | None

    def run(self, start: str, finish: str) -> Run:
        """The run between the parts of two slots where the kit has them, or else where alone they can be."""
        zones = {**dict(self.zones), **({} if self.kit is None else dict(self.kit.zones))}
        return run_between(self.asked.bay, zones.get(start, ""), zones.get(finish, ""))

    def pieces(self, start: str, finish: str) -> tuple[str, ...] | None:
        """The hose and adapters between the parts of two slots with which the kit fits; None where there is no run."""
        joints = () if self.kit is None else self.kit.joints
        ends = (start, finish)
        runs = (one for one in joints if one.medium == "coolant" and one.slots == ends)
        return next((one.pieces for one in runs), None)


@dataclass(frozen=True)
class Checked:
    """The answer to "do these parts go together?".

    `unjoined`: places where no joint is made; nothing there is rated or billed.
    `boost_pa_gauge`, `coolant_from`: what the two sides' design pressures follow from. `pipes_unknown`: keys of the kit
    file without which the charge couplers are not judged. `leave_out`: pieces without which the box goes together.
    `broken`: rules against it; `unknown`: what nobody can say, so that the answer is not proven. `to_buy`: what the
    box lacks of its bill. `spare`: pieces that no joint wants, of sides that were looked at, each as often as it is
    left over; `refused`: what those couplers break in a joint that they go into, and fuses, relays and wires for every
    motor, their id first among the subjects. `layout`: the one that a pair is judged for; `layouts`: all that have a
    place for it. `commissioning`: what the first runs should show, where the box goes into the car of a brief and
    nothing speaks against it. `cap_stated_pa_gauge`: what the kit file says that the cap opens at. `too_many`: parts of
    kinds of which a loop has one, beside the first of each, which alone is judged and billed; `without_them`: the
    outcome without those.
    """

    outcome: CheckOutcome
    name: str
    fingerprint: str
    catalogue_parts: int
    catalogue_fingerprint: str
    currency: str
    cap_stated_pa_gauge: float | None
    slots: tuple[tuple[str, Part], ...]
    pieces: tuple[Part, ...]
    joints: tuple[Joint, ...]
    unjoined: tuple[tuple[Medium, str], ...]
    charge: Pressure | None
    coolant: Pressure | None
    boost_pa_gauge: float | None
    coolant_from: DesignShares | None
    pipes_unknown: tuple[str, ...]
    leave_out: tuple[str, ...]
    broken: tuple[Verdict, ...]
    unknown: tuple[Verdict, ...]
    look_alikes: tuple[LookAlike, ...]
    layout: str | None
    layouts: tuple[str, ...]
    spare: tuple[Part, ...]
    refused: tuple[Verdict, ...]
    to_buy: tuple[Line, ...]
    assumed: tuple[Assumption, ...]
    not_checked: tuple[NotChecked, ...]
    cautions: tuple[Caution, ...]
    in_car: InCar | None
    commissioning: Commissioning | None
    too_many: tuple[Part, ...] = ()
    without_them: CheckOutcome | None = None

    @property
    def not_in_this_car(self) -> bool:
        """Whether the car of the brief stands against the parts."""
        return any(rule.rule in OF_THE_CAR for rule in self.broken)

    @property
    def car_alone(self) -> bool:
        """Whether the parts go together, and only the car of the brief stands against them."""
        return bool(self.broken) and all(rule.rule in OF_THE_CAR for rule in self.broken)

    @property
    def places_taken(self) -> tuple[Verdict, ...]:
        """Parts of the box that stand where a part of the car stays."""
        return tuple(rule for rule in self.broken if rule.rule == PLACE_TAKEN)

    @property
    def cap_to_buy(self) -> str | None:
        """The id of the cap of the shelf that a box without one is judged with and that is to be bought."""
        return next((line.part for line in self.to_buy if line.place == "cap"), None)

    @property
    def unknown_places(self) -> tuple[str, ...]:
        """Places where no joint is made because nobody knows what an end is."""
        asked = (rule.subjects for rule in self.unknown if rule.rule == "unknown-end")
        return tuple(" to ".join(name.split(".")[0] for name in subjects) for subjects in asked)

    @property
    def missing(self) -> tuple[str, ...]:
        """Kinds of parts that a loop must have, of which the box holds none."""
        return tuple(kind for rule in self.unknown if rule.rule == "part-missing" for kind in rule.subjects)
