"""Why a hose, a clamp or another piece that serves joints and wiring is on the bill of no kit."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cached_property
from typing import Final

from configurator.foundations.verdicts import Verdict
from configurator.joining.charge_joint import T_BOLT_FROM_PA_GAUGE, holds_coupler
from configurator.joining.charge_side import Place
from configurator.joining.hose_joint import HoseJoiner, run_place
from configurator.joining.mating import MEDIUM_WORDS
from configurator.joining.ratings import coolant_design_pa_gauge
from configurator.joining.run_refusal import RunConditions
from configurator.joining.words import bars_apart, mm_words
from configurator.parts.kinds import (
    Adapter,
    Cap,
    Clamp,
    Core,
    Fan,
    Fuse,
    Hose,
    Part,
    Pump,
    Relay,
    RigidPart,
    Valve,
    Wire,
    Wye,
)
from configurator.parts.kit import Medium
from configurator.questions.branches_in_kits import Branching, branchings, judged
from configurator.questions.searches import Searched, coolant_adapters, hose_joiner, piece_around
from configurator.questions.shortfalls import part_of
from configurator.questions.unknown_ends import unknown_ends
from configurator.search.bill import NO_MOTOR, wired_fuse_a, wiring_refusal
from configurator.search.fill import Candidate
from configurator.search.job import Exclusion, Job
from configurator.search.skeletons import HOSE_COLDEST_K, HOSE_HOTTEST_K

_BETTER: Final = "another of the shelf serves better (fewer pieces, then less loss, then a lower price)"
_LEAST: Final = "of those that do for a motor of these kits the least is taken, and that is another of the shelf"
_SERVED_BETTER: Final[dict[type[Part], str]] = {
    Clamp: "another of the shelf closes there and costs no more",
    **dict.fromkeys((Fuse, Relay, Wire), _LEAST),
}
"""Why a piece that would serve is not taken, by its kind."""


class PiecesInKits:
    """Holds pieces against the joints of the kits of one search."""

    def __init__(self, job: Job, found: Sequence[Searched], kits: Sequence[Candidate]) -> None:
        """`kits`: those of the search that keep every demand, the best first; where none does, the nearest first."""
        self._job = job
        self._found = found
        self._kits = kits
        self._shelf = hose_joiner(job)

    def reason(self, piece: Part) -> Exclusion:
        """Why a piece that the brief lets in is on no kit's bill.

        Off the shelf alone are kits made: one of the customer's that would do is told as such.
        """
        if isinstance(piece, Hose) and "coolant" not in piece.media:
            return Exclusion(piece.id, "other-medium", " or ".join(piece.media), "coolant", "")
        asked = _unknown_end(piece)
        if asked is not None:
            return Exclusion(piece.id, "unknown-end", None, None, "", asked.text)
        found = tuple(self._judged(piece))
        stands = tuple(dict.fromkeys(verdict.subjects[1] for verdict in found if verdict.state == "kept"))
        apart = [verdict for verdict in found if verdict.rule in ("ends-do-not-meet", NO_MOTOR)]
        refused = next((verdict for verdict in found if verdict not in apart), None)
        if refused is not None and not stands:
            return Exclusion(piece.id, "refused-there", refused.found, refused.limit, refused.unit, refused.text)
        if not stands:
            about = apart[0].text if apart else self._goes_nowhere(piece)
            return Exclusion(piece.id, "serves-nothing", None, None, "", about)
        if piece in self._job.serving(type(piece)):
            return Exclusion(piece.id, "serves-nothing", None, None, "", _SERVED_BETTER.get(type(piece), _BETTER))
        joints = () if isinstance(piece, Fuse | Relay | Wire) else stands
        return Exclusion(piece.id, "shelf-serves", None, None, "", ", ".join(joints))

    def _judged(self, piece: Part) -> Iterator[Verdict]:
        """A piece in each joint of the kits that it goes into, or at each motor: kept, or the demand that it breaks."""
        if isinstance(piece, Fuse | Relay | Wire):
            for motor in self._motors:
                refused = wiring_refusal(motor, piece, wired_fuse_a(motor, self._job.serving))
                yield refused or Verdict(NO_MOTOR, "kept", (piece.id, motor.id))
        elif isinstance(piece, Clamp):
            yield from self._clamps(piece)
        elif isinstance(piece, Adapter | Wye) and piece.medium == "charge":
            for layout, core in self._cores:
                yield from self._around[layout](piece, core)
        elif isinstance(piece, Wye | Valve):
            verdicts = (judged(piece, at, self._shelf) for at in self._branchings)
            yield from (verdict for verdict in verdicts if verdict is not None)
        elif isinstance(piece, Adapter | Hose):
            yield from self._runs_with(piece)

    def _clamps(self, clamp: Clamp) -> Iterator[Verdict]:
        """A clamp wherever it closes on a hose or coupler of the kits: kept, or too weak for the boost there."""
        boost_pa = float(self._job.conditions.boost_pa)
        for medium, od_m, place in self._clamped:
            if medium not in clamp.media or not clamp.closes_on(od_m):
                continue
            if medium == "coolant" or holds_coupler(clamp, od_m, boost_pa):
                yield Verdict("clamp", "kept", (clamp.id, place))
                continue
            sees, most = bars_apart(boost_pa, T_BOLT_FROM_PA_GAUGE)
            text = (
                f"{place}: '{clamp.id}' is a {clamp.style} clamp, and from {most} of boost couplers are held by T-bolt "
                f"clamps alone; here it is {sees}"
            )
            yield Verdict("no-clamp", "broken", (clamp.id, place), boost_pa, T_BOLT_FROM_PA_GAUGE, "Pa", text)

    def _goes_nowhere(self, piece: Part) -> str:
        """Why a piece goes into no joint of the kits, in words that follow a colon."""
        media = piece.media if isinstance(piece, Clamp) else (getattr(piece, "medium", "coolant"),)
        if media == ("charge",) and not any(medium == "charge" for medium, *_ in self._clamped):
            stays = self._job.fitted("core") is not None
            why = "the core stays as it is joined" if stays else "the brief names neither charger_outlet nor throttle"
            return f"it is for charge air, and these kits make no joint there: {why}"
        if isinstance(piece, Clamp):
            sizes = {od_m: medium for medium, od_m, _ in self._clamped if medium in media}
            nearest = min(sizes, key=lambda od_m: (max(piece.least_m - od_m, od_m - piece.most_m), od_m))
            what = {"coolant": "hose", "charge": "coupler"}[sizes[nearest]]
            made_for = " and ".join(MEDIUM_WORDS[medium] for medium in media)
            return (
                f"it is for {made_for} and closes on {mm_words(piece.least_m)} to {mm_words(piece.most_m)}, and the "
                f"nearest {what} of these kits is {mm_words(nearest)} outside as fitted"
            )
        if isinstance(piece, Valve):
            return "no loop of these kits has a bypass (`layouts: [bypass]` in the brief asks for one)"
        if isinstance(piece, Wye):
            return f"nowhere in these kits does the {media[0]} divide or meet"
        if media == ("charge",):
            return "it joins no two pipes of core and engine that these kits have"
        return "no coolant end of a part of these kits takes it"

    def _runs_with(self, piece: Adapter | Hose) -> Iterator[Verdict]:
        joiner = self._joiner(piece)
        for start, finish, conditions in self._runs:
            verdict = joiner.judged(piece, start, finish, conditions)
            if verdict is not None:
                yield verdict

    def _joiner(self, piece: Adapter | Hose) -> HoseJoiner:
        """Joins with the shelf, and with a piece that is not on it."""
        job = self._job
        if piece in job.serving(type(piece)):
            return self._shelf
        hoses = (*job.serving(Hose), *([piece] if isinstance(piece, Hose) else []))
        adapters = (*coolant_adapters(job), *([piece] if isinstance(piece, Adapter) else []))
        return HoseJoiner(hoses, adapters, job.serving(Clamp))

    @cached_property
    def _runs(self) -> tuple[tuple[Place, Place, RunConditions], ...]:
        """The coolant runs of the kits from part to part, the best kit's first, with what each must stand."""
        found: dict[tuple[Place, Place, RunConditions], None] = {}
        for kit in self._kits:
            parts = self._parts(kit)
            for joint in kit.joints:
                places = [_place(parts, name) for name in (joint.start, joint.finish)]
                if joint.medium == "coolant" and places[0] is not None and places[1] is not None:
                    conditions = self._conditions(parts, suction=places[0][0] == "reservoir")
                    found[places[0], places[1], conditions] = None
        return tuple(found)

    @cached_property
    def _branchings(self) -> tuple[Branching, ...]:
        """Where the coolant of the kits divides or meets, the best kit's first."""
        found: dict[Branching, None] = {}
        for kit in self._kits:
            parts = self._parts(kit)
            conditions = self._conditions(parts, suction=False)
            found |= dict.fromkeys(branchings(parts, kit.joints, self._job.catalogue.parts, conditions))
        return tuple(found)

    @cached_property
    def _clamped(self) -> tuple[tuple[Medium, float, str], ...]:
        """Where hoses and couplers of the kits are clamped, the best kit's first: what flows there, the outside as
        fitted [m] and the place."""
        found = {
            (joint.medium, od_m, run_place(*joint.slots)): None
            for kit in self._kits
            for joint in kit.joints
            for _, od_m in joint.clamped
        }
        return tuple(found)

    def _parts(self, kit: Candidate) -> dict[str, Part]:
        return {slot: part_of(self._job, part) for slot, part in kit.kit.parts}

    def _conditions(self, parts: Mapping[str, Part], *, suction: bool) -> RunConditions:
        """What the runs of a kit must stand, before its pump or behind it."""
        pump, cap = parts["pump"], parts.get("cap")
        assert isinstance(pump, Pump)
        opens_pa = float(cap.opens_pa_gauge) if isinstance(cap, Cap) else 0.0
        height_m = self._job.liquid.most_m
        design_pa = coolant_design_pa_gauge(opens_pa, pump.dead_head_pa, height_m, after_pump=not suction)
        coldest_k = self._job.brief.coldest_k(HOSE_COLDEST_K)
        return RunConditions(HOSE_HOTTEST_K, coldest_k, design_pa, suction)

    @cached_property
    def _around(self) -> Mapping[str, Callable[[Adapter | Wye, Core], tuple[Verdict, ...]]]:
        return {one.job.layout.id: piece_around(one) for one in self._found}

    @cached_property
    def _motors(self) -> tuple[Pump | Fan, ...]:
        """The pumps and fans of the kits, the best kit's first."""
        held = {part: part_of(self._job, part) for kit in self._kits for _, part in kit.kit.parts}
        return tuple(part for part in held.values() if isinstance(part, Pump | Fan))

    @cached_property
    def _cores(self) -> tuple[tuple[str, Core], ...]:
        """The cores of the kits with their layouts, the best kit's first."""
        held = ((kit.kit.layout, part_of(self._job, part)) for kit in self._kits for _, part in kit.kit.parts)
        cores = {(layout, part.id): (layout, part) for layout, part in held if isinstance(part, Core)}
        return tuple(cores.values())


def _unknown_end(piece: Part) -> Verdict | None:
    """The question for an end of a piece of which nobody knows what it is."""
    if not isinstance(piece, Adapter | Wye | Valve):
        return None
    ends = [(piece.id, end) for end in piece.through.ends]
    return unknown_ends(ends, ends, "coolant" if isinstance(piece, Valve) else piece.medium)


def _place(parts: Mapping[str, Part], name: str) -> Place | None:
    """A slot and its coolant end by the name that joints carry, as in `pump.outlet`; None at a wye or a valve."""
    slot, _, end_name = name.partition(".")
    part = parts.get(slot)
    passage = part.passages().get("coolant") if isinstance(part, RigidPart) else None
    return next(((slot, end) for end in passage.ends if end.name == end_name), None) if passage is not None else None
