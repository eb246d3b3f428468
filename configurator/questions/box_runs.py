"""The coolant runs of a box: each joined by what lies in it as far as that goes, then by what the shelf has."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import product

from configurator.foundations.verdicts import Verdict
from configurator.joining.hose_joint import HoseJoiner
from configurator.joining.run_refusal import RunConditions
from configurator.parts.kinds import Adapter, Clamp, Hose, RigidPart, Valve, Wye
from configurator.parts.kit import Joint
from configurator.parts.shelf import Catalogue
from configurator.questions.box_layouts import bypassed, in_series
from configurator.questions.box_loop import FLOW, BoxLoop, Slotted, coolant_end
from configurator.questions.unknown_ends import unknown_ends
from configurator.search.bypass_joints import VALVE, BypassJoiner
from configurator.search.runs import Run, run_between
from configurator.search.skeletons import HOSE_HOTTEST_K
from configurator.search.step_joints import Place, StepJoiner

LengthM = Callable[[str, str], float]
"""How long the run between the parts of two slots is [m]."""

RunOf = Callable[[str, str], Run]
"""The run between the parts of two slots."""

Pieces = tuple[str, ...]
PiecesOf = Callable[[str, str], Pieces | None]
"""The hose and adapters of the run between two slots as the box fits into its car; None where it is in none."""


def unplaced(start: str, finish: str) -> Run:
    """The run between two slots where nobody says in what zones they are."""
    return run_between(None, "", "")


def placed(loop: BoxLoop, run_of: RunOf) -> list[bool]:
    """Of each two parts that follow each other, whether their run is that of a car."""
    steps = (product(starts, finishes) for _, starts, finishes, _ in coolant_sides(loop))
    return [run_of(start[0], finish[0]).placed for step in steps for start, finish in step]


def in_no_car(start: str, finish: str) -> None:
    """Of a box that fits into no car nobody says how it is joined there."""


def coolant_sides(loop: BoxLoop) -> Iterator[tuple[str, Sequence[Place], Sequence[Place], RunConditions]]:
    """What is to be joined along the loop, with what it must stand; first the kind of part that it leaves."""
    for kind, before, after in _steps(loop):
        wanted = RunConditions(HOSE_HOTTEST_K, loop.coldest_k, loop.design_pa(kind), suction=kind == "reservoir")
        starts = [(slot, end) for slot, part in before if (end := coolant_end(part, "out")) is not None]
        finishes = [(slot, end) for slot, part in after if (end := coolant_end(part, "in")) is not None]
        yield kind, starts, finishes, wanted


def coolant_joints(
    loop: BoxLoop, shelf: Catalogue, run_of: RunOf = unplaced, fits_with: PiecesOf = in_no_car
) -> Iterator[tuple[str, Joint | Verdict]]:
    """Each run of the loop with the joint that makes it or the rule that stands in the way, by place; where nobody
    knows what an end is, the question that asks it.

    A bypass valve lies before a single exchanger, and a wye of box or shelf behind it: that of the box, or where the
    brief asks for one a valve of the shelf. A pair lies side by side where a wye of box or shelf joins it; else each of
    the pair has runs of its own. A run that turns tighter is taken where the box fits into its car with that alone
    (`fits_with`).
    """
    pieces = _Pieces(loop, shelf)

    def length_m(start: str, finish: str) -> float:
        return run_of(start, finish).length_m

    wyes = (*(part for part in loop.small if isinstance(part, Wye)), *shelf.of(Wye))
    made_wyes = 0
    passed = _past_exchanger(loop, pieces, (_valves(loop, shelf), wyes), length_m)
    for kind, starts, finishes, wanted in coolant_sides(loop):
        if passed and kind in ("core", "exchanger"):
            yield from passed if kind == "core" else ()
            continue
        if {len(starts), len(finishes)} == {1, 2}:
            made_wyes += 1
            runs = _by_wye(pieces, wyes, (starts, finishes), length_m, wanted, f"wye-{made_wyes}", fits_with)
            if runs is not None:
                yield from ((f"{run.start} to {run.finish}", run) for run in runs)
                continue
        for index in range(max(len(starts), len(finishes))):
            start, finish = starts[index % len(starts)], finishes[index % len(finishes)]
            asked = unknown_ends([start], [finish], "coolant")
            length = length_m(start[0], finish[0])
            made = asked or _run(pieces, (start, finish), length, wanted, fits_with(start[0], finish[0]))
            yield f"{start[0]} to {finish[0]}", made


class _Pieces:
    """Hoses, adapters and clamps of a box and of the shelf; an adapter of the box serves once for each that is there.

    First the box alone, then its adapters with any hose, then the whole shelf. Where that does not do, once more with
    the adapters of the box that are used up, as more of them may be had elsewhere. Hose of the box that says nothing of
    vacuum is told to be unproven before the pump; no shelf sells it for there.
    """

    def __init__(self, loop: BoxLoop, shelf: Catalogue) -> None:
        self._hoses = [part for part in loop.small if isinstance(part, Hose)]
        self._adapters = [part for part in loop.small if isinstance(part, Adapter) and part.medium == "coolant"]
        self._sold = [part for part in shelf.of(Adapter) if part.medium == "coolant"]
        self._any_hose = (*self._hoses, *shelf.of(Hose))
        self._any_clamp = (*loop.clamps, *shelf.of(Clamp))
        self._left = Counter(part.id for part in self._adapters)
        self._made: dict[tuple[str, ...], list[HoseJoiner]] = {}

    def joiners(self, without: Iterable[str] = ()) -> list[HoseJoiner]:
        """In the order in which they are asked; `without`: adapters of the box that are not to be had of it."""
        barred = set(without)
        at_hand = [part for part in self._adapters if self._left[part.id] > 0 and part.id not in barred]
        found = list(self._joiners(at_hand))
        return found if len(at_hand) == len(self._adapters) else [*found, *self._joiners(self._adapters)]

    def too_often(self, run: Joint) -> list[str]:
        """The adapters of the box of which a run takes more than are left."""
        wanted = Counter(run.through)
        return [part for part, count in wanted.items() if 0 < self._left[part] < count]

    def take(self, runs: Iterable[Joint]) -> None:
        """What runs are made of is no longer at hand."""
        for run in runs:
            self._left.subtract(part for part in run.through if part in self._left)

    def _joiners(self, adapters: Sequence[Adapter]) -> list[HoseJoiner]:
        key = tuple(part.id for part in adapters)
        if key not in self._made:
            found = []
            for some in (adapters, (*adapters, *self._sold)):
                if self._hoses:
                    found.append(HoseJoiner(self._hoses, some, self._any_clamp, vacuum_unsaid=True))
                found.append(HoseJoiner(self._any_hose, some, self._any_clamp))
            self._made[key] = found
        return self._made[key]


def _run(
    pieces: _Pieces, ends: tuple[Place, Place], length_m: float, wanted: RunConditions, fits_with: Pieces | None
) -> Joint | Verdict:
    """The run that the first joiner that can makes, else what the last of them says.

    One that turns tighter, where that is of the pieces with which the box fits into its car and the other is not.
    """
    made = _best(pieces, *ends, length_m, wanted)
    if isinstance(made, Joint) and fits_with is not None and made.pieces != fits_with:
        tight = _best(pieces, *ends, length_m, replace(wanted, tight=True))
        if isinstance(tight, Joint) and tight.pieces == fits_with:
            made = tight
    if isinstance(made, Joint):
        pieces.take([made])
    return made


def _best(pieces: _Pieces, start: Place, finish: Place, length_m: float, wanted: RunConditions) -> Joint | Verdict:
    made = _first(pieces.joiners(), start, finish, length_m, wanted)
    if isinstance(made, Joint) and (over := pieces.too_often(made)):
        other = _first(pieces.joiners(without=over), start, finish, length_m, wanted)
        made = other if isinstance(other, Joint) else made
    return made


def _first(
    joiners: Sequence[HoseJoiner], start: Place, finish: Place, length_m: float, wanted: RunConditions
) -> Joint | Verdict:
    made = joiners[0].join(start, finish, length_m, wanted)
    for joiner in joiners[1:]:
        if isinstance(made, Joint):
            break
        made = joiner.join(start, finish, length_m, wanted)
    return made


def _valves(loop: BoxLoop, shelf: Catalogue) -> Sequence[Valve]:
    """The bypass valves of a box, else those of the shelf."""
    return [part for part in loop.small if isinstance(part, Valve)] or shelf.of(Valve)


def _past_exchanger(
    loop: BoxLoop, pieces: _Pieces, branches: tuple[Sequence[Valve], Sequence[Wye]], length_m: LengthM
) -> list[tuple[str, Joint | Verdict]]:
    """The runs round an exchanger with a bypass valve, by place; or what of them cannot be made."""
    behind = loop.of("reservoir") or loop.of("pump")
    if not bypassed(loop) or not behind:
        return []
    (core_slot, core), (slot, exchanger), (last, part) = loop.of("core")[0], loop.of("exchanger")[0], behind[0]
    assert isinstance(core, RigidPart) and isinstance(exchanger, RigidPart) and isinstance(part, RigidPart)
    leaves, enters = coolant_end(core, "out"), coolant_end(exchanger, "in")
    goes_on, ends_at = coolant_end(exchanger, "out"), coolant_end(part, "in")
    if leaves is None or enters is None or goes_on is None or ends_at is None:
        return []  # each run by itself says which end is missing
    asked = unknown_ends([(core_slot, leaves)], [(slot, enters), (slot, goes_on), (last, ends_at)], "coolant")
    if asked is not None:
        return [(VALVE, replace(asked, subjects=(VALVE,)))]
    wanted = next(conditions for kind, _, _, conditions in coolant_sides(loop) if kind == "core")
    lengths_m = (length_m(core_slot, slot), length_m(slot, last), length_m(core_slot, last))
    for joiner in pieces.joiners():
        runs = BypassJoiner(joiner, *branches).join(
            (core_slot, leaves), (slot, enters, goes_on), (last, ends_at), lengths_m, wanted, "wye-1"
        )
        if runs is not None:
            pieces.take(runs)
            return [(f"{run.start} to {run.finish}", run) for run in runs]
    text = "nothing of box or shelf joins the bypass valve to core and exchanger, and both by a wye to what follows"
    return [(VALVE, Verdict("ends-do-not-meet", "broken", (VALVE,), text=text))]


def _by_wye(
    pieces: _Pieces,
    wyes: Sequence[Wye],
    sides: tuple[Sequence[Place], Sequence[Place]],
    length_m: LengthM,
    wanted: RunConditions,
    slot: str,
    fits_with: PiecesOf,
) -> tuple[Joint, ...] | None:
    """Trunk and branches by the first joiner that can make them, as a single run; None where no wye does."""
    lengths_m = [length_m(start[0], finish[0]) for start in sides[0] for finish in sides[1]]
    for joiner in pieces.joiners():
        step = StepJoiner(joiner, wyes)
        runs = step.join(*sides, lengths_m, wanted, slot)
        if runs is not None and any(fits_with(*run.slots) not in (None, run.pieces) for run in runs):
            tight = step.join(*sides, lengths_m, replace(wanted, tight=True), slot)
            if tight is not None and all(fits_with(*run.slots) == run.pieces for run in tight):
                runs = tight
        if runs is not None:
            pieces.take(runs)
            return runs
    return None


def _steps(loop: BoxLoop) -> Iterator[tuple[str, Sequence[Slotted], Sequence[Slotted]]]:
    """Kinds that follow each other, both there, with the parts of each; only the exchanger may be left out. A pair in
    series is two steps."""
    of_kind = [(kind, [one for one in loop.flow if one[1].kind == kind]) for kind in FLOW]
    steps = [
        (kind, step)
        for kind, members in of_kind
        for step in ([[one] for one in members] if in_series(loop, kind) else [members])
        if step or kind != "exchanger"
    ]
    if sum(len(members) for _, members in steps) < 2:
        return
    for (kind, before), (_, after) in zip(steps, [*steps[1:], steps[0]], strict=True):
        if before and after:
            yield kind, before, after
