"""A check in the terminal: the plain answer, what limits, what to buy, what would be mistaken for what."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from configurator.joining.words import bar_words, celsius_words
from configurator.presentation.bill_words import bill_notes, line_words
from configurator.presentation.check_headline import (
    REST,
    USUAL,
    couplers_words,
    headline,
    in_short,
    places_words,
    total,
)
from configurator.presentation.commission_text import commission_text
from configurator.presentation.coolant_words import coolant_words
from configurator.presentation.design_words import charge_made_of, coolant_made_of
from configurator.presentation.joint_words import joint_words
from configurator.presentation.layout_words import layout_words
from configurator.presentation.lines import WIDTH, hung, listed, wrapped
from configurator.presentation.no_kit_words import reached_words
from configurator.presentation.side_words import side_words
from configurator.presentation.standstill_words import time_words
from configurator.presentation.terminal import bill_block
from configurator.questions.check_answer import Checked
from configurator.questions.look_alikes import LookAlike
from configurator.reasons.cautions import look_alike
from configurator.reasons.thresholds import LEAST_MARGIN
from configurator.search.bill import NO_MOTOR

ALIKE = "Look-alikes"
UNKNOWN = "What nobody can say yet"


def check_text(
    checked: Checked, names: Mapping[str, str], next_command: str, *, wide: bool, one_change: Sequence[str] = ()
) -> str:
    """The whole screen as text without colour; `wide` adds the lines that no shelf has.

    `one_change`: what one change buys, as blocks; they stand behind what the kit does in the car.
    """
    blocks = [block.rstrip() for block in _blocks(checked, names, wide, one_change) if block.strip()]
    return "\n\n".join([*blocks, f"Next: {next_command}"]) + "\n"


def _blocks(checked: Checked, names: Mapping[str, str], wide: bool, one_change: Sequence[str]) -> Iterator[str]:
    yield headline(checked, names, wide=wide)
    yield listed("Why not", tuple(rule.text for rule in checked.broken), WIDTH)
    yield listed(UNKNOWN, tuple(rule.text for rule in checked.unknown), WIDTH)
    yield _limits(checked, names)
    yield _look_alikes(checked, names)
    yield _parts(checked)
    yield listed("Layouts that have a place for the pair", _layouts(checked), WIDTH)
    yield listed("Joints", tuple(joint_words(joint, names) for joint in checked.joints), WIDTH)
    yield _in_car(checked)
    yield from one_change
    lines = [line for line in checked.to_buy if wide or in_short(line)]
    bill = [line_words(line, checked.currency, names) for line in lines]
    more = "" if wide else f" (--wide: also {REST})"
    kit = None if checked.in_car is None else checked.in_car.kit
    notes = bill_notes(lines, None if kit is None else kit.coolant_l)
    notes += tuple(
        f"{kind}: none in the box; neither it nor what joins it is in this sum (kitwright shelf list {kind})"
        for kind in checked.missing
    )
    if checked.in_car is not None and kit is None:
        notes += ("coolant is not in this sum: how much the loop holds is told once these parts make a kit",)
    yield bill_block(f"What the box lacks{more}", bill, WIDTH, total(checked), notes)
    yield listed("Assumed", tuple(assumed.text for assumed in checked.assumed), WIDTH)
    yield listed("Not checked", tuple(f"{rule.rule}: needs {rule.needs}" for rule in checked.not_checked), WIDTH)
    yield _commissioning(checked, names)
    yield listed("Cautions", tuple(_cautions(checked, names)), WIDTH)


def _commissioning(checked: Checked, names: Mapping[str, str]) -> str:
    """The sheet; where a brief was given and there is none, why."""
    if checked.commissioning is not None:
        return commission_text(checked.commissioning, names)
    if checked.in_car is None:
        return ""
    return "Commissioning sheet: none, these parts are no kit for this car as they are."


def _layouts(checked: Checked) -> list[str]:
    return [f"{name} ({'judged here' if name == checked.layout else 'not judged'})" for name in checked.layouts]


def _limits(checked: Checked, names: Mapping[str, str]) -> str:
    lines = ["What limits the pressure"]
    for side, pressure, made_of in (
        ("charge side", checked.charge, charge_made_of(checked)),
        ("coolant side", checked.coolant, coolant_made_of(checked)),
    ):
        text = "not judged" if pressure is None else side_words(pressure, names, made_of)
        apart = [place for medium, place in checked.unjoined if side.startswith(medium)]
        asked = [place for place in apart if place in checked.unknown_places]
        if asked:
            text = f"what joins {places_words(asked)} is not known, see '{UNKNOWN}'; the rest: {text}"
        if refused := [place for place in apart if place not in asked]:
            text = f"nothing joins {places_words(refused)}, see 'Why not'; {'' if asked else 'the rest: '}{text}"
        if pressure is not None and pressure.lowest is not None and pressure.lowest.margin is not None:
            margin = pressure.lowest.margin
            word = ": TOO WEAK" if margin < 1.0 else ": LITTLE" if margin < LEAST_MARGIN else ""
            text += f", {margin:.2f} times{word}; {USUAL}"
        if pressure is not None and pressure is checked.charge:
            text += _couplers(checked)
        lines += hung(side, text, WIDTH)
    if checked.cap_stated_pa_gauge is not None:
        lines += hung("cap as stated", f"{bar_words(checked.cap_stated_pa_gauge)}; no part of the box", WIDTH)
    return "\n".join(lines)


def _couplers(checked: Checked) -> str:
    """Which couplers of the charge side were not looked at, and what says what they have to join."""
    left = couplers_words(checked)
    if not left:
        return ""
    cores = sum(slot.startswith("core") for slot, _ in checked.slots)
    alone = f"core{'s' if cores > 1 else ''} alone; " if left == "couplers" else ""
    return f"; {alone}{left} not judged (add {' and '.join(checked.pipes_unknown)} to the kit file)"


def _look_alikes(checked: Checked, names: Mapping[str, str]) -> str:
    """Those that are not told under "Why not"."""
    told = [
        f"{names.get(look.part, look.part)} ({look.end}) and {_other(look, names)}: "
        f"{look.why}" + (f"; {look.hazard}" if look.hazard else "")
        for look in checked.look_alikes
        if not look.trap
    ]
    return listed(f"{ALIKE} in the box: these seem to fit each other and must not be joined", told, WIDTH)


def _cautions(checked: Checked, names: Mapping[str, str]) -> Iterator[str]:
    """Every caution; one of a pair of ends whose story is told above says where."""
    told = {
        look_alike(names.get(look.part, look.part), _other(look, names), look.why, look.hazard).text: look
        for look in checked.look_alikes
    }
    for caution in checked.cautions:
        look = told.get(caution.text)
        if look is None:
            yield caution.text
        else:
            part, above = names.get(look.part, look.part), "Why not" if look.trap else ALIKE
            yield f"{part} must not go on {_other(look, names)}: see '{above}'."


def _other(look: LookAlike, names: Mapping[str, str]) -> str:
    return f"{names.get(look.other, look.other)} ({look.other_end})"


def _parts(checked: Checked) -> str:
    lines = ["Parts in the box"]
    held = Counter(part.id for part in checked.pieces)
    left = Counter(part.id for part in checked.spare)
    unwanted = {
        part: "no joint of the loop wants it" if count == held[part] else f"{count} left over"
        for part, count in left.items()
    }
    refused = {True: "it serves no motor of the box", False: "it does not stand the joint that it fits"}
    unwanted |= {verdict.subjects[0]: refused[verdict.rule == NO_MOTOR] for verdict in checked.refused}
    for slot, part in checked.slots:
        lines += hung(slot, f"{part.name} [{part.id}]", WIDTH)
    for part in checked.too_many:
        lines += hung("one too many", f"{part.name} [{part.id}]; not judged", WIDTH)
    for part_id, count in held.items():
        name = next(part.name for part in checked.pieces if part.id == part_id)
        spare = f"; {unwanted[part_id]}" if part_id in unwanted else ""
        lines += hung("piece" if count == 1 else f"{count} pieces", f"{name} [{part_id}]{spare}", WIDTH)
    return "\n".join(lines)


NOT_RECKONED = "charge temperature, flow and fit are not reckoned, for these parts make no kit as they are."
NOT_RECKONED_YET = "charge temperature, flow and fit are not reckoned before it is known what every end is."


def _in_car(checked: Checked) -> str:
    if checked.in_car is None:
        return ""
    if checked.in_car.kit is None:
        asked = any(rule.rule == "unknown-end" for rule in checked.unknown) and not checked.broken
        return wrapped(f"In {checked.in_car.answer.brief_name}: {NOT_RECKONED_YET if asked else NOT_RECKONED}", WIDTH)
    answer, kit = checked.in_car.answer, checked.in_car.kit
    heat = kit.thermal
    pair = f", as {layout_words(kit)}" if checked.layouts else ""
    stood = heat.standstill
    judged_k = heat.charge_out_worst_k if stood is None else stood.restart_k
    judged = reached_words(judged_k, answer.ceiling_k) if "aim" in kit.missed else celsius_words(judged_k)
    if stood is not None:
        judged += f" on a restart after {time_words(stood.seconds)} standstill"
    text = (
        f"In {answer.brief_name}{pair}: the charge reaches {judged}, the aim is "
        f"{celsius_words(answer.ceiling_k)}; coolant {coolant_words(kit)} at "
        f"{heat.coolant_flow_m3_per_s * 60e3:.0f} L/min; {heat.charge_loss_pa / 1e3:.1f} kPa of charge pressure lost."
    )
    if kit.bypass is not None and kit.bypass.would_add_w is not None:
        added = f"{kit.bypass.would_add_w / 1e3:.1f} kW"
        text += f" That is with the valve on bypass: left in circuit the front exchanger would bring in about {added}."
    if kit.missed:
        text += f" It misses what the brief asks: {', '.join(kit.missed)}."
    if checked.layout not in (None, kit.layout_name):
        text += f" Joints, pressures and what to buy are told for: {checked.layout}."
    used = {part for _, part in kit.parts}
    left = [part.id for _, part in checked.slots if part.id not in used]
    if left:
        text += f" These figures are without {', '.join(dict.fromkeys(left))}."
    return wrapped(text, WIDTH)
