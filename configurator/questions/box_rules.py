"""Rules of the loop that a box makes besides its joints: what it lacks, its cap, and how a pair may stand."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from configurator.foundations.verdicts import Verdict
from configurator.joining.mating_verdict import UNWIRED_MOST
from configurator.joining.ratings import cap_short_of_pa_gauge
from configurator.joining.run_ways import stands_vacuum
from configurator.joining.small_joints import cap_rules, has_air_space, has_neck
from configurator.joining.words import bar_words, bars_apart, celsius_words
from configurator.parts.kinds import Cap, Core, Fan, Hose, Part, Pump, Reservoir, Timer
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
    """What is missing, the cap and its reservoir, and the place of a pair."""
    for kind in FLOW:
        if kind in LACKING and not loop.of(kind):
            yield Verdict("part-missing", "not checked", (kind,), text=LACKING[kind])
    if loop.of("core") and not boost_known:
        text = "the boost is not stated, so nobody can say whether the core holds it: write boost: in the kit file"
        yield Verdict("rating-below-pressure", "not checked", ("core",), text=text)
    for reservoir in _reservoirs(loop):
        yield from (rule for rule in cap_verdicts(loop, reservoir, shelf) if rule.state != "kept")
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


def cap_verdicts(loop: BoxLoop, reservoir: Reservoir, shelf: Catalogue) -> Iterator[Verdict]:
    """The rules between reservoir and cap; a cap that is only stated is judged by its pressure."""
    caps = [part for _, part in loop.of("cap") if isinstance(part, Cap)]
    if caps or not loop.cap_stated:
        for rule in cap_rules(reservoir, caps[0] if caps else None):
            of_cap = rule.state == "broken" and rule.rule != "no-air-space"
            yield replace(rule, text=rule.text + (_such_as(loop, reservoir, shelf) if of_cap else ""))
        return
    if not (reservoir.vented or has_neck(reservoir)):
        text = f"'{reservoir.id}' is sealed and has no neck that a cap goes on: its hot coolant has nowhere to go"
        yield Verdict("sealed-without-cap", "broken", (reservoir.id, "cap"), "no filler neck", "a cap", "", text)
    yield has_air_space(reservoir)
    opens, rated = loop.opens_pa, reservoir.coolant.rating.working_pa_gauge
    subjects = (reservoir.id, "cap")
    if reservoir.vented and opens > 0.0:
        text = f"'{reservoir.id}' is vented: it takes a vented cap, not one of {bar_words(opens)}"
        text += _such_as(loop, reservoir, shelf)
        yield Verdict("vented-under-pressure-cap", "broken", subjects, opens, 0.0, "Pa", text)
    elif rated is not None and opens > rated:
        told, good = bars_apart(opens, rated)
        text = f"the cap opens at {told}, '{reservoir.id}' is good for {good}{_such_as(loop, reservoir, shelf)}"
        yield Verdict("cap-above-rating", "broken", subjects, opens, rated, "Pa", text)


def with_cap_to_fit(loop: BoxLoop, shelf: Catalogue) -> BoxLoop:
    """The loop with the cap off the shelf that an open neck or a sealed reservoir wants: the lowest that suits, if any.

    The pressure of all parts is that under this cap.
    """
    if loop.of("cap") or loop.cap_stated:
        return loop
    for reservoir in _reservoirs(loop):
        if any(rule.state == "broken" for rule in cap_rules(reservoir, None)):
            cap = _lowest_that_suits(reservoir, shelf)
            return loop if cap is None else _under(loop, cap)
    return loop


def cap_to_buy(loop: BoxLoop) -> Cap | None:
    """The cap that the loop is judged with for want of one, where its parts hold it."""
    cap = loop.cap_to_fit
    return cap if cap is not None and _holds(loop, cap) else None


def _under(loop: BoxLoop, cap: Cap) -> BoxLoop:
    return replace(loop, cap_to_fit=cap, opens_pa=float(cap.opens_pa_gauge))


def _holds(loop: BoxLoop, cap: Cap) -> bool:
    """Whether no part of a loop is rated under what it may see with a cap; a vented one adds nothing."""
    under = _under(loop, cap)
    rated = [
        (coolant.rating.working_pa_gauge, under.design_pa(part.kind))
        for _, part in loop.flow
        if (coolant := part.passages().get("coolant")) is not None
    ]
    return under.opens_pa == 0.0 or all(rating is None or rating >= sees for rating, sees in rated)


def _such_as(loop: BoxLoop, reservoir: Reservoir, shelf: Catalogue) -> str:
    cap = _lowest_that_suits(reservoir, shelf)
    if cap is None:
        return ""
    opens = float(cap.opens_pa_gauge)
    named = f"'{cap.id}' ({bar_words(opens) if opens > 0.0 else 'vented'})"
    if not _holds(loop, cap):
        return f"; the lowest on the shelf that goes on it, {named}, is more than these parts hold"
    return f"; fit one such as {named}"


def _lowest_that_suits(reservoir: Reservoir, shelf: Catalogue) -> Cap | None:
    fit = [
        cap
        for cap in shelf.of(Cap)
        if (float(cap.opens_pa_gauge) > 0.0) != reservoir.vented
        and cap_short_of_pa_gauge(cap) is None
        and all(rule.state == "kept" for rule in cap_rules(reservoir, cap))
    ]
    return min(fit, key=lambda cap: (float(cap.opens_pa_gauge), cap.price_cents, cap.id), default=None)


def cap_to_bring(loop: BoxLoop) -> str | None:
    """In words, the cap of which the box says the pressure and that does not lie in it; none where it is refused."""
    tanks = _reservoirs(loop)
    of_no_use = any((tank.vented and loop.opens_pa > 0.0) or not has_neck(tank) for tank in tanks)
    if loop.of("cap") or not loop.cap_stated or of_no_use:
        return None
    return f"cap that opens at {bar_words(loop.opens_pa)}" if loop.opens_pa > 0.0 else "vented cap"


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


def _reservoirs(loop: BoxLoop) -> list[Reservoir]:
    return [part for _, part in loop.of("reservoir") if isinstance(part, Reservoir)]
