"""What a check of a box took for granted, and what it could not judge."""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence

from configurator.brief.request import Engine
from configurator.joining.mating_verdict import LIMITS, UNWIRED_MOST
from configurator.joining.words import bar_words, celsius_words, mm_words
from configurator.parts.box import Box
from configurator.parts.kinds import Hose, Part
from configurator.parts.kit import Joint
from configurator.questions.answer import Assumption, NotChecked
from configurator.questions.assumptions import head_assumed
from configurator.questions.box_car import Car
from configurator.questions.box_layouts import PAIRS
from configurator.questions.box_loop import CHARGE_AFTER_K, CHARGE_BEFORE_K, BoxLoop
from configurator.search.bill import hose_to_buy_m
from configurator.search.liquid_height import LiquidHeight
from configurator.search.runs import UNPLACED_M
from configurator.search.skeletons import HOSE_HOTTEST_K
from configurator.search.step_joints import TRUNK_M


def assumed(
    box: Box,
    loop: BoxLoop,
    joints: Sequence[Joint],
    known: Mapping[str, Part],
    liquid: LiquidHeight,
    *,
    with_car: bool,
    placed: Sequence[bool],
    currency: str,
) -> tuple[Assumption, ...]:
    """What nobody said and was taken instead; `currency` as printed, `with_car` where a brief tells of the charge.

    `placed`: of each run whether it goes from zone to zone of that car.
    """
    lengths = f"every hose run {UNPLACED_M:g} m long"
    if any(placed):
        lengths = "hoses as long as from zone to zone of the car, by its stated runs or by estimate"
        lengths += "" if all(placed) else f"; {UNPLACED_M:g} m where a zone or its place is not known"
    if any(joint.hose and joint.hose_length_m == TRUNK_M for joint in joints):
        lengths += f", {TRUNK_M:g} m between the stem of a wye and the part next to it"
    found = [Assumption("hoses", lengths)]
    for part in {part.id: part for part in loop.small if isinstance(part, Hose)}.values():
        if metres := hose_to_buy_m(sum(m for joint in joints for hose, m in joint.hoses_m if hose == part.id)):
            held = f"the box holds {metres:.1f} m of {part.name}, as much as this loop takes of it"
            found.append(Assumption("hose", held))
    if not with_car:
        low, high = celsius_words(loop.coldest_k), celsius_words(HOSE_HOTTEST_K)
        found.append(Assumption("coolant", f"hoses are to stand coolant of {low} to {high}"))
    found += _before_the_pump(joints, known)
    found += head_assumed(liquid)
    if loop.cap_to_fit is not None:
        text = f"pressures are those under {loop.cap_to_fit.name}, the lowest on the shelf that suits the reservoir"
        found.append(Assumption("cap", f"{text}: the box has no cap"))
    if not loop.named and any(len(loop.of(kind)) > 1 for kind in PAIRS):
        found.append(Assumption("pair", "a pair lies side by side"))
    if len(loop.of("core")) > 1:
        text = "half of the charge goes through each core"
        if not any(joint.medium == "charge" for joint in joints):
            text += "; the pipes that part it and join it again are yours"
        found.append(Assumption("charge", text))
    if not currency:
        text = "sums are in the shelf's own currency, which nobody named: write currency: in the kit file or the brief"
        found.append(Assumption("currency", text))
    if not with_car and (box.charger_outlet_m or box.throttle_m):
        before, after = celsius_words(CHARGE_BEFORE_K), celsius_words(CHARGE_AFTER_K)
        text = f"the charge reaches couplers at {before} before the core, {after} after it"
        found.append(Assumption("charge", text))
    return tuple(found)


def judged_all_the_same(parts: Sequence[Part], car: Car, stays: Collection[str]) -> Iterator[Assumption]:
    """What of the car counts as the box's, and what the brief does not want. `stays`: ids of parts that are in the car
    and stay there."""
    in_car = ", ".join(f"{one.part.name} [{one.part.id}]" for one in car.own if one.part.id in stays)
    if in_car:
        yield Assumption("stays", f"in the car already, as the brief says, and part of this box: {in_car}")
    unwanted = [part.name for part in parts if {part.id, part.kind} & set(car.brief.without)]
    if unwanted:
        named = ", ".join(dict.fromkeys(unwanted))
        yield Assumption("without", f"the brief does not want {named}: what lies in the box is judged all the same")


def said_twice(box: Box, engine: Engine) -> Iterator[Assumption]:
    """Figures of the engine that kit file and brief state differently: that of the brief counts."""
    outlets = engine.charger_outlets if engine.outlets_said else None
    entries: tuple[tuple[str, float | None, float | None, Callable[[float], str]], ...] = (
        ("boost", box.boost_pa_gauge, engine.boost_pa_gauge, bar_words),
        ("charger outlet", box.charger_outlet_m, engine.charger_outlet_m, mm_words),
        ("charger outlets", box.charger_outlets, outlets, str),
        ("throttle", box.throttle_m, engine.throttle_m, mm_words),
    )
    for name, of_box, of_brief, words in entries:
        if of_box is not None and of_brief is not None and not math.isclose(of_box, of_brief):
            text = f"{name} {words(of_brief)}, as the brief says, not {words(of_box)}, as the kit file does"
            yield Assumption(name, text)


def _before_the_pump(joints: Sequence[Joint], known: Mapping[str, Part]) -> list[Assumption]:
    """Why the hose before the pump is another than elsewhere, where it is one that stands vacuum."""
    hoses = [known[joint.hose] for joint in joints if joint.hose and joint.start.startswith("reservoir")]
    return [
        Assumption("suction", f"{hose.name} before the pump: there a plain hose over {UNWIRED_MOST} is sucked flat")
        for hose in hoses
        if isinstance(hose, Hose) and hose.bore_m > LIMITS.unwired_suction_m and hose.vacuum
    ]


def pipes_unknown(outlet_m: float | None, throttle_m: float | None) -> tuple[str, ...]:
    """Keys of the kit file that say to what the charge couplers go, where they are not known."""
    pipes = {"charger_outlet": outlet_m, "throttle": throttle_m}
    return tuple(key for key, bore in pipes.items() if bore is None)


def not_checked(unknown: Sequence[str], *, with_car: bool, reckoned: bool) -> tuple[NotChecked, ...]:
    """Rules that could not be judged; `unknown`: pipes of the charge side; `reckoned`: whether a loop is there."""
    found = []
    if not with_car:
        found.append(NotChecked("heat, fit in the bay, coolant", "the car: --brief BRIEF"))
    elif not reckoned:
        found.append(NotChecked("heat, fit in the bay, coolant", "a whole loop: reservoir, pump and core, one of each"))
    if unknown:
        bores = "the bores of the engine's ends" if len(unknown) > 1 else "the bore of that end of the engine"
        found.append(NotChecked("charge pipe joints", f"{' and '.join(unknown)}, {bores}"))
    return tuple(found)
