"""Rules of the loop that a box makes besides its joints: what it lacks, and how a pair may stand."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from configurator.foundations.verdicts import Verdict
from configurator.joining.mating_verdict import UNWIRED_MOST
from configurator.joining.run_ways import stands_vacuum
from configurator.joining.words import celsius_words
from configurator.parts.kinds import Core, Fan, Hose, Pump, Timer
from configurator.parts.kit import Joint
from configurator.parts.shelf import Catalogue
from configurator.questions.box_layouts import no_layout
from configurator.questions.box_loop import FLOW, BoxLoop

LACKING = {
    "reservoir": "there is no reservoir: what the cap opens at, and so the pressure of the loop, is not known",
    "pump": "there is no pump: its dead head, and so the pressure behind it, is not known",
    "core": "there is no core: nothing joins charge and coolant",
}
"""Kinds that a loop must have, and what nobody can say without them."""


def loop_rules(loop: BoxLoop, shelf: Catalogue, boost_known: bool) -> Iterator[Verdict]:
    """What is missing, and that no layout has a place for what is there."""
    for kind in FLOW:
        if kind in LACKING and not loop.of(kind):
            yield Verdict("part-missing", "not checked", (kind,), text=LACKING[kind])
    if loop.of("core") and not boost_known:
        text = "the boost is not stated, so nobody can say whether the core holds it: write boost: in the kit file"
        yield Verdict("rating-below-pressure", "not checked", ("core",), text=text)
    yield from no_layout(loop, shelf)


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
