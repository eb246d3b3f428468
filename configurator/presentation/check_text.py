"""A check in the terminal: the plain answer, what limits, what to buy, what would be mistaken for what."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping

from configurator.joining.words import bar_words
from configurator.presentation.facts import (
    CUTTING,
    bill_notes,
    celsius,
    coolant_words,
    end_name,
    is_hose,
    line_words,
    money,
    side_words,
)
from configurator.presentation.terminal import WIDTH, bill_block, hung, listed, wrapped
from configurator.questions.check_answer import Checked
from configurator.questions.kit_cautions import LEAST_MARGIN
from configurator.search.bill import Line

WORDS = {
    "fits_together": "Yes: these parts go together",
    "does_not": "No: these parts do not go together as they are",
    "unproven": "Unproven: nothing found speaks against these parts, but not everything is known",
}
SHORT = ("charge side", "coolant side", "electrical")
"""Groups of the bill whose lines without a price are shown even where the screen is short."""


def check_text(checked: Checked, names: Mapping[str, str], next_command: str, *, wide: bool) -> str:
    """The whole screen as text without colour; `wide` adds the lines that no shelf has."""
    blocks = [block.rstrip() for block in _blocks(checked, names, wide) if block.strip()]
    return "\n\n".join([*blocks, f"Next: {next_command}"]) + "\n"


def _blocks(checked: Checked, names: Mapping[str, str], wide: bool) -> Iterator[str]:
    yield wrapped(" ".join(_headline(checked, names)), WIDTH)
    yield listed("Why not", tuple(rule.text for rule in checked.broken), WIDTH)
    yield listed("What nobody can say yet", tuple(rule.text for rule in checked.unknown), WIDTH)
    yield _limits(checked, names)
    yield _look_alikes(checked, names)
    yield _parts(checked)
    yield listed("Layouts that have a place for the pair", _layouts(checked), WIDTH)
    yield listed("Joints", tuple(_joints(checked, names)), WIDTH)
    yield _in_car(checked)
    lines = [line for line in checked.to_buy if wide or _priced(line) or (line.group in SHORT and not line.place)]
    bill = [line_words(line, checked.currency, names) for line in lines]
    more = "" if wide else " (--wide: also mounting, sensors, bleeds and filling)"
    yield bill_block(f"What the box lacks{more}", bill, WIDTH, _sum(checked), bill_notes(lines))
    yield listed("Assumed", tuple(assumed.text for assumed in checked.assumed), WIDTH)
    yield listed("Not checked", tuple(f"{rule.rule}: needs {rule.needs}" for rule in checked.not_checked), WIDTH)
    yield listed("Cautions", tuple(caution.text for caution in checked.cautions), WIDTH)


def _headline(checked: Checked, names: Mapping[str, str]) -> Iterator[str]:
    """Yes or no, what it is a yes or no to, what is short of margin, what to buy: a sentence each."""
    yield f"{checked.name}. {WORDS[checked.outcome]}."
    if checked.layout is not None:
        yield f"Judged as: {checked.layout}."
    yield from _little_to_spare(checked, names)
    yield from _buying(checked, names)


def _little_to_spare(checked: Checked, names: Mapping[str, str]) -> Iterator[str]:
    """The weakest member of each side that holds, but not by the usual margin."""
    for side, pressure in (("charge", checked.charge), ("coolant", checked.coolant)):
        lowest = None if pressure is None else pressure.lowest
        if side in dict(checked.unjoined):
            continue
        if lowest is None or lowest.margin is None or lowest.rating_pa_gauge is None:
            continue
        if 1.0 <= lowest.margin < LEAST_MARGIN:
            yield (
                f"The {side} side holds, with little to spare: {names.get(lowest.part or '', lowest.part)} "
                f"({lowest.place}), {bar_words(lowest.rating_pa_gauge)} against {bar_words(lowest.design_pa_gauge)}, "
                f"{lowest.margin:.2f} times what it may see."
            )


def _buying(checked: Checked, names: Mapping[str, str]) -> Iterator[str]:
    """All that is to be bought off the shelf, with the sum of its lines; pieces of one kind together."""
    priced = [line for line in checked.to_buy if _priced(line)]
    amounts: dict[tuple[str, str, str], float] = {}
    for line in priced:
        key = (names.get(line.part or "", line.item), line.unit, f" (with {CUTTING})" if is_hose(line) else "")
        amounts[key] = amounts.get(key, 0.0) + line.quantity
    if amounts:
        mended = " once that is mended" if checked.outcome == "does_not" else ""
        if checked.unjoined:
            mended = f" for what can be joined, so without {_places(place for _, place in checked.unjoined)}"
        listing = "; ".join(_amount(name, unit, qty) + note for (name, unit, note), qty in amounts.items())
        yield f"To buy{mended}, {_sum(checked)} in all: {listing}."
    else:
        yield "There is nothing to buy off this shelf."
    if len(priced) < len(checked.to_buy):
        yield "Not in the sum: what is marked 'bring', which has no price here."


def _places(places: Iterable[str]) -> str:
    return " and ".join(dict.fromkeys(places))


def _priced(line: Line) -> bool:
    """Whether the shelf sells it; a line that it does not sell has no price and is in no sum."""
    return line.part is not None or line.price_cents > 0


def _sum(checked: Checked) -> str:
    return money(sum(line.price_cents for line in checked.to_buy), checked.currency)


def _amount(name: str, unit: str, quantity: float) -> str:
    if unit != "piece":
        return f"{quantity:.4g} {unit} of {name}"
    return f"{quantity:g} x {name}" if quantity != 1 else name


def _layouts(checked: Checked) -> list[str]:
    return [f"{name} ({'judged here' if name == checked.layout else 'not judged'})" for name in checked.layouts]


def _limits(checked: Checked, names: Mapping[str, str]) -> str:
    lines = ["What limits the pressure"]
    for side, pressure in (("charge side", checked.charge), ("coolant side", checked.coolant)):
        text = "not judged" if pressure is None else side_words(pressure, names)
        if apart := [place for medium, place in checked.unjoined if side.startswith(medium)]:
            text = f"nothing joins {_places(apart)}, see 'Why not'; the rest: {text}"
        if pressure is not None and pressure.lowest is not None and pressure.lowest.margin is not None:
            text += f", {pressure.lowest.margin:.2f} times what it may see"
            if pressure.lowest.margin < 1.0:
                text += ": TOO WEAK"
            elif pressure.lowest.margin < LEAST_MARGIN:
                text += f": LITTLE, {LEAST_MARGIN:g} times is usual"
        lines += hung(side, text, WIDTH)
    if checked.cap_stated_pa_gauge is not None:
        lines += hung("cap as stated", f"{bar_words(checked.cap_stated_pa_gauge)}; no part of the box", WIDTH)
    return "\n".join(lines)


def _look_alikes(checked: Checked, names: Mapping[str, str]) -> str:
    told = [
        f"{names.get(look.part, look.part)} ({look.end}) and {names.get(look.other, look.other)} ({look.other_end}): "
        f"{look.why}" + (f"; {look.hazard}" if look.hazard else "")
        for look in checked.look_alikes
    ]
    return listed("Look-alikes in the box: these seem to fit each other and must not be joined", told, WIDTH)


def _parts(checked: Checked) -> str:
    lines = ["Parts in the box"]
    for slot, part in checked.slots:
        lines += hung(slot, f"{part.name} [{part.id}]", WIDTH)
    for part_id, count in Counter(part.id for part in checked.pieces).items():
        name = next(part.name for part in checked.pieces if part.id == part_id)
        spare = "; no joint of the loop wants it" if part_id in checked.spare else ""
        lines += hung("piece" if count == 1 else f"{count} pieces", f"{name} [{part_id}]{spare}", WIDTH)
    return "\n".join(lines)


def _joints(checked: Checked, names: Mapping[str, str]) -> Iterator[str]:
    for joint in checked.joints:
        pieces = [names.get(piece, piece) for piece in joint.through]
        if joint.hose is not None:
            pieces.append(f"{joint.hose_length_m:.1f} m of {names.get(joint.hose, joint.hose)}")
        yield f"{end_name(joint.start)} to {end_name(joint.finish)}: {' + '.join(pieces) or 'direct'}"


def _in_car(checked: Checked) -> str:
    if checked.in_car is None or checked.in_car.kit is None:
        return ""
    answer, kit = checked.in_car.answer, checked.in_car.kit
    heat = kit.thermal
    pair = f", as {kit.layout_name}" if checked.layouts else ""
    text = (
        f"In {answer.brief_name}{pair}: the charge reaches {celsius(heat.charge_out_worst_k)}, the aim is "
        f"{celsius(answer.ceiling_k)}; coolant {coolant_words(kit)} at "
        f"{heat.coolant_flow_m3_per_s * 60e3:.0f} L/min; {heat.charge_loss_pa / 1e3:.1f} kPa of charge pressure lost."
    )
    if kit.missed:
        text += f" It misses what the brief asks: {', '.join(kit.missed)}."
    if checked.layout not in (None, kit.layout_name):
        text += f" Joints, pressures and what to buy are told for: {checked.layout}."
    used = {part for _, part in kit.parts}
    left = [part.id for _, part in checked.slots if part.id not in used]
    if left:
        text += f" These figures are without {', '.join(dict.fromkeys(left))}."
    return wrapped(text, WIDTH)
