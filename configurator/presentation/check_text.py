"""A check in the terminal: the plain answer, what limits, what to buy, what would be mistaken for what."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping

from configurator.presentation.facts import celsius, end_name, line_words, money, side_words
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
BETWEEN = ("adapter", "hose", "hose stub", "clamp", "cap")


def check_text(checked: Checked, names: Mapping[str, str], next_command: str, *, wide: bool) -> str:
    """The whole screen as text without colour; `wide` adds the lines that no shelf has."""
    blocks = [block.rstrip() for block in _blocks(checked, names, wide) if block.strip()]
    return "\n\n".join([*blocks, f"Next: {next_command}"]) + "\n"


def _blocks(checked: Checked, names: Mapping[str, str], wide: bool) -> Iterator[str]:
    yield wrapped(f"{checked.name}. {WORDS[checked.outcome]}{_buying(checked, names)}.", WIDTH)
    yield listed("Why not", tuple(rule.text for rule in checked.broken), WIDTH)
    yield listed("What nobody can say yet", tuple(rule.text for rule in checked.unknown), WIDTH)
    yield _limits(checked, names)
    yield _look_alikes(checked, names)
    yield _parts(checked)
    yield listed("Layouts that have a place for the pair", checked.layouts, WIDTH)
    yield listed("Joints", tuple(_joints(checked, names)), WIDTH)
    yield _in_car(checked)
    lines = [line for line in checked.to_buy if wide or line.part is not None or not line.place]
    bill = [line_words(line, checked.currency, names) for line in lines if wide or line.group in SHORT]
    more = "" if wide else " (--wide: also mounting, sensors, bleeds and filling)"
    yield bill_block(f"What the box lacks{more}", bill, WIDTH)
    yield listed("Assumed", tuple(assumed.text for assumed in checked.assumed), WIDTH)
    yield listed("Not checked", tuple(f"{rule.rule}: needs {rule.needs}" for rule in checked.not_checked), WIDTH)
    yield listed("Cautions", tuple(caution.text for caution in checked.cautions), WIDTH)


def _buying(checked: Checked, names: Mapping[str, str]) -> str:
    """What is to be bought between the parts, in the sentence."""
    lines = [line for line in checked.to_buy if line.part is not None and line.item in BETWEEN]
    if not lines:
        return ""
    total = money(sum(line.price_cents for line in lines), checked.currency)
    return f". To buy between them, {total}: {'; '.join(_amount(line, names) for line in lines)}"


def _amount(line: Line, names: Mapping[str, str]) -> str:
    name = names.get(line.part or "", line.item)
    if line.unit == "m":
        return f"{line.quantity:g} m of {name}"
    return f"{line.quantity:g} x {name}" if line.quantity != 1 else name


def _limits(checked: Checked, names: Mapping[str, str]) -> str:
    lines = ["What limits the pressure"]
    for side, pressure in (("charge side", checked.charge), ("coolant side", checked.coolant)):
        text = "not judged" if pressure is None else side_words(pressure, names)
        if pressure is not None and pressure.lowest is not None and pressure.lowest.margin is not None:
            text += f", {pressure.lowest.margin:.2f} times what it may see"
            if pressure.lowest.margin < 1.0:
                text += ": TOO WEAK"
            elif pressure.lowest.margin < LEAST_MARGIN:
                text += f": LITTLE, {LEAST_MARGIN:g} times is usual"
        lines += hung(side, text, WIDTH)
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
    text = (
        f"In {answer.brief_name}: the charge reaches {celsius(heat.charge_out_worst_k)}, the aim is "
        f"{celsius(answer.ceiling_k)}; coolant {celsius(heat.coolant_worst_k)} at "
        f"{heat.coolant_flow_m3_per_s * 60e3:.0f} L/min; {heat.charge_loss_pa / 1e3:.1f} kPa of charge pressure lost."
    )
    if kit.missed:
        text += f" It misses what the brief asks: {', '.join(kit.missed)}."
    used = {part for _, part in kit.parts}
    left = [part.id for _, part in checked.slots if part.id not in used]
    if left:
        text += f" These figures are without {', '.join(dict.fromkeys(left))}."
    return wrapped(text, WIDTH)
