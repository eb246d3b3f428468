"""Rules of the loop that a box makes besides its joints: what it lacks, and how a pair may stand."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from configurator.foundations.verdicts import Verdict
from configurator.joining.mating_verdict import UNWIRED_MOST
from configurator.joining.run_ways import stands_vacuum
from configurator.joining.words import celsius_words
from configurator.parts.kinds import Core, Fan, Hose, Part, Pump, Timer
from configurator.parts.kit import Joint
from configurator.parts.layouts import Layout
from configurator.parts.shelf import Catalogue
from configurator.questions.box_loop import FLOW, BoxLoop, bypassed

LACKING = {
    "reservoir": "there is no reservoir: what the cap opens at, and so the pressure of the loop, is not known",
    "pump": "there is no pump: its dead head, and so the pressure behind it, is not known",
    "core": "there is no core: nothing joins charge and coolant",
}
"""Kinds that a loop must have, and what nobody can say without them."""

PAIRS = {"core": "cores", "exchanger": "front exchangers"}


def loop_rules(loop: BoxLoop, shelf: Catalogue, boost_known: bool) -> Iterator[Verdict]:
    """What is missing, and the place of a pair."""
    for kind in FLOW:
        if kind in LACKING and not loop.of(kind):
            yield Verdict("part-missing", "not checked", (kind,), text=LACKING[kind])
    if loop.of("core") and not boost_known:
        text = "the boost is not stated, so nobody can say whether the core holds it: write boost: in the kit file"
        yield Verdict("rating-below-pressure", "not checked", ("core",), text=text)
    pairs = [(words, members) for kind, words in PAIRS.items() if len(members := loop.of(kind)) > 1]
    if pairs and not layouts_with_room(loop, shelf):
        yield _no_layout(pairs)


def _no_layout(pairs: Sequence[tuple[str, Sequence[tuple[str, Part]]]]) -> Verdict:
    """That no layout has places for these parts, by the words for their kind: one pair, or both together."""
    told = []
    for words, members in pairs:
        differ = len({part.id for _, part in members}) > 1
        which = " that differ" if differ else " at once" if len(pairs) == 1 else ""
        told.append(f"{len(members)} {words}{which}")
    whole = f"a place for {told[0]}" if len(told) == 1 else f"places for {' and '.join(told)} together"
    slots = tuple(slot for _, members in pairs for slot, _ in members)
    text = f"no layout on file has {whole}: how flow and heat divide is not known"
    return Verdict("no-layout", "not checked", slots, text=text)


def suction_rules(loop: BoxLoop, joints: Iterable[Joint]) -> Iterator[Verdict]:
    """Hose of the box that lies before the pump and does not say whether it stands vacuum."""
    hoses = {part.id: part for part in loop.small if isinstance(part, Hose)}
    for joint in joints:
        if not joint.start.startswith("reservoir"):
            continue
        place = f"{joint.start.split('.')[0]} to {joint.finish.split('.')[0]}"
        for part in dict.fromkeys((joint.hose, *(need.part for need in joint.needs))):
            hose = hoses.get(part or "")
            if hose is not None and stands_vacuum(hose) is None:
                unsaid = "does not say whether it stands vacuum: unproven"
                text = f"'{hose.id}' ({place}) is over {UNWIRED_MOST} and {unsaid}"
                yield Verdict("suction-hose", "not checked", (hose.id, place), text=text)


def volt_rules(loop: BoxLoop) -> Iterator[Verdict]:
    """A fan or timer of the box for another voltage than its pump, or where it has none than the first of them."""
    draws = [part for _, part in (*loop.of("pump"), *loop.of("fan"))]
    electric = [part for part in (*draws, *loop.small) if isinstance(part, Pump | Fan | Timer)]
    for part in electric[1:]:
        first = electric[0]
        if part.volts != first.volts:
            text = f"'{part.id}' is for {part.volts:g} V, '{first.id}' for {first.volts:g} V: a kit is of one voltage"
            yield Verdict("voltages-differ", "broken", (part.id, first.id), part.volts, first.volts, "V", text)


def charge_heat_rules(loop: BoxLoop, assumed_k: float) -> Iterator[Verdict]:
    """A core that stands less than the charge that is assumed to reach it [K]: what does reach it, a brief tells."""
    for slot, core in loop.of("core"):
        stands_k = core.charge.hottest_k if isinstance(core, Core) else None
        if stands_k is not None and stands_k < assumed_k:
            text = (
                f"'{core.id}' stands charge of {celsius_words(float(stands_k))}, and {celsius_words(assumed_k)} is "
                "assumed to reach it: how hot it gets in the car, `--brief` tells"
            )
            yield Verdict("too-hot", "not checked", (core.id, slot), assumed_k, float(stands_k), "K", text)


def hoses_off_suction(loop: BoxLoop, joints: Iterable[Joint]) -> list[Hose]:
    """Hoses of the box that must not lie before the pump, where there is a run for which they might be taken."""
    if not any(joint.start.startswith("reservoir") for joint in joints):
        return []
    hoses = {part.id: part for part in loop.small if isinstance(part, Hose)}
    return [hose for hose in hoses.values() if stands_vacuum(hose) is False]


def complete(loop: BoxLoop) -> bool:
    """Whether the box has all that a loop must have."""
    return set(LACKING) <= {part.kind for _, part in loop.slots}


def layouts_for(loop: BoxLoop, shelf: Catalogue) -> tuple[str, ...]:
    """Names of the layouts on file that have a place for every core and exchanger of the box; only told of pairs."""
    if all(len(loop.of(kind)) < 2 for kind in PAIRS):
        return ()
    return tuple(layout.name for layout in layouts_with_room(loop, shelf))


def judged_layout(loop: BoxLoop, shelf: Catalogue) -> Layout | None:
    """The layout that a box is joined, rated and billed for: with a pair the one where it lies side by side."""
    if bypassed(loop):
        return next(iter(layouts_with_room(loop, shelf)), None)
    if all(len(loop.of(kind)) < 2 for kind in PAIRS):
        return None
    side_by_side = (one for one in layouts_with_room(loop, shelf) if any(len(step) > 1 for step in one.steps))
    return next(side_by_side, None)


def layouts_with_room(loop: BoxLoop, shelf: Catalogue) -> tuple[Layout, ...]:
    """The layouts on file that have a place for just the cores and exchangers of the box; their pairs are twins."""
    if any(len({part.id for _, part in loop.of(kind)}) > 1 for kind in PAIRS):
        return ()
    found = []
    for layout in shelf.layouts:
        of_kind = {kind: [slot for slot in layout.slots if slot.kind == kind] for kind in PAIRS}
        if all(
            sum(slot.least for slot in slots) <= len(loop.of(kind)) <= sum(slot.most for slot in slots)
            for kind, slots in of_kind.items()
        ) and (layout.bypass is not None) == bypassed(loop):
            found.append(layout)
    return tuple(found)
