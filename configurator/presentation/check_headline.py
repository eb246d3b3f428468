"""The first lines of a check: yes or no, the tightest member, what to buy and for how much, what nobody here prices."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence

from configurator.joining.words import bar_words, bars_apart
from configurator.presentation.bill_words import COUNTED, money, unpriced_words
from configurator.presentation.lines import WIDTH, wrapped
from configurator.questions.answer import Pressure
from configurator.questions.check_answer import Checked
from configurator.reasons.thresholds import LEAST_MARGIN
from configurator.search.bill import NO_MOTOR, Line

WORDS = {
    "fits_together": "Yes: these parts go together",
    "does_not": "No: these parts do not go together as they are",
    "unproven": "Unproven: nothing found speaks against these parts, but not everything is known",
}
NO_KIT = "make no kit for this car"
NOT_BESIDE = "not beside what stays in this car"
SHORT = ("charge side", "coolant side", "electrical")
"""Groups of the bill whose lines without a price are shown even where the screen is short."""

SMALL = {"clamp": "clamps", "fuse": "fuses", "relay": "relays", "wire": "wire"}
"""Items that every box takes: the headline says how many, the list below which."""

REST = "mounting, wiring, sensors, bleeds and filling"
"""What the other lines without a price are for."""

PIPES = {"charger_outlet": "charger outlet", "throttle": "throttle"}

USUAL = f"{LEAST_MARGIN:g} and more is usual"


def headline(checked: Checked, names: Mapping[str, str], *, wide: bool) -> str:
    """Each sentence on lines of its own, so that none hides in another."""
    return "\n".join(wrapped(sentence, WIDTH) for sentence in _sentences(checked, names, wide))


def in_short(line: Line) -> bool:
    """Whether a line is shown even where the screen is short: what is sold here, and what joints and cap take."""
    return is_priced(line) or (line.group in SHORT and line.place in ("", "cap"))


def is_priced(line: Line) -> bool:
    """Whether the shelf sells it; a line that it does not sell has no price and is in no sum."""
    return line.part is not None or line.price_cents > 0


def total(checked: Checked) -> str:
    """The sum of all lines."""
    return money(sum(line.price_cents for line in checked.to_buy), checked.currency)


def couplers_words(checked: Checked) -> str:
    """The couplers of the charge side that were not looked at; nothing where all were."""
    unknown = checked.pipes_unknown
    if not unknown:
        return ""
    return "couplers" if len(unknown) == len(PIPES) else f"coupler at the {PIPES[unknown[0]]}"


def places_words(places: Iterable[str]) -> str:
    """Places where nothing joins, each once."""
    return " and ".join(dict.fromkeys(places))


def _sentences(checked: Checked, names: Mapping[str, str], wide: bool) -> Iterator[str]:
    if checked.leave_out:
        out = " and ".join(_counted_out(checked, names))
        if checked.not_in_this_car:
            yield f"{checked.name}. No: these parts {NO_KIT}."
            yield f"Leave out {out} whatever the car; {_without(checked)} these parts go together, but not in this car."
        else:
            yield f"{checked.name}. No as they are: leave out {out}; {_without(checked)} these parts go together."
    elif checked.car_alone:
        beside = len(checked.places_taken) == len(checked.broken)
        yield f"{checked.name}. No: these parts go together, but {NOT_BESIDE if beside else NO_KIT}."
    else:
        yield f"{checked.name}. {WORDS[checked.outcome]}."
    yield from _places_taken(checked, names)
    if checked.too_many:
        yield _too_many(checked)
    if checked.cap_to_buy is not None:
        cap = names.get(checked.cap_to_buy, checked.cap_to_buy)
        yield f"The box has no cap for its reservoir: judged with {cap}, which is to be bought."
    if checked.layout is not None:
        yield f"Judged as: {checked.layout}."
    yield from _tightest(checked, names)
    yield from _buying(checked, names)
    yield from _bringing(checked, wide)
    yield from _spare(checked, names)


def _places_taken(checked: Checked, names: Mapping[str, str]) -> Iterator[str]:
    """What stays in the car where a part of the box would go, and what to do."""
    kinds = {part.id: part.kind for part in (*(part for _, part in checked.slots), *checked.pieces)}
    for staying in dict.fromkeys(rule.subjects[1] for rule in checked.places_taken):
        here = [rule.subjects[0] for rule in checked.places_taken if rule.subjects[1] == staying]
        held, kind = " and ".join(names.get(part, part) for part in here), kinds[here[0]]
        yield (
            f"The brief says that {names.get(staying, staying)} stays in the car, and the box holds another {kind}: "
            f"{held} is judged here. Take one of them off."
        )


def _too_many(checked: Checked) -> str:
    """Which parts are not judged, and whether the rest goes together without them."""
    here = {part.id for _, part in checked.slots}
    out = " and ".join(f"one more {part.name}" if part.id in here else part.name for part in checked.too_many)
    rest = "so these parts go together" if checked.without_them == "fits_together" else "what is said is of the rest"
    return f"Judged and priced without {out}, for a loop here has one: {rest}."


def _counted_out(checked: Checked, names: Mapping[str, str]) -> Iterator[str]:
    had = Counter(part.id for part in checked.pieces)
    return (_amount(names.get(part, part), "piece", had[part]) for part in checked.leave_out)


def _without(checked: Checked) -> str:
    pieces = sum(part.id in checked.leave_out for part in checked.pieces)
    return "without it" if pieces == 1 else "without them"


def _tightest(checked: Checked, names: Mapping[str, str]) -> Iterator[str]:
    """The weakest member of both sides. A side where something is not joined is left to "Why not"."""
    apart = {medium for medium, _ in checked.unjoined}
    sides: dict[str, Pressure | None] = {"charge": checked.charge, "coolant": checked.coolant}
    judged = {side: pressure for side, pressure in sides.items() if pressure is not None and side not in apart}
    found = [
        (limit.margin, limit)
        for pressure in judged.values()
        if (limit := pressure.lowest) is not None and limit.margin is not None
    ]
    if not found:
        return
    margin, limit = min(found, key=lambda entry: entry[0])
    of = f" of the {' and '.join(judged)} side" if apart else ""
    text = f"Tightest{of}: {names.get(limit.part or '', limit.part)} ({limit.place}), good for "
    rated, design = limit.rating_pa_gauge or 0.0, limit.design_pa_gauge
    good, has = bars_apart(rated, design) if margin < 1.0 else (bar_words(rated), bar_words(design))
    text += f"{good} where it has to hold {has}, {margin:.2f} times"
    if margin < 1.0:
        text += ": TOO WEAK"
    elif margin < LEAST_MARGIN:
        text += f": little to spare, {USUAL}"
    left = couplers_words(checked)
    yield f"{text}; charge {left} not judged." if left and "charge" in judged else f"{text}."


def _buying(checked: Checked, names: Mapping[str, str]) -> Iterator[str]:
    """All that is to be bought off the shelf, with the sum of its lines; pieces of one kind together."""
    priced = [line for line in checked.to_buy if is_priced(line)]
    if not priced:
        yield "There is nothing to buy off this shelf."
        return
    amounts: dict[tuple[str, str], float] = {}
    for line in priced:
        if line.item not in SMALL:
            key = (names.get(line.part or "", line.item), line.unit)
            amounts[key] = amounts.get(key, 0.0) + line.quantity
    listing = [_amount(name, unit, quantity) for (name, unit), quantity in amounts.items()]
    small = ", ".join(_small(priced))
    condition = ""
    if checked.missing:
        condition = f" without the missing {' and '.join(checked.missing)} and what joins it"
    elif checked.leave_out and not checked.not_in_this_car:
        condition = f" {_without(checked)}"
    elif checked.unjoined:
        condition = f" for what can be joined, so without {places_words(place for _, place in checked.unjoined)}"
    elif checked.outcome == "does_not":
        condition = " once that is mended"
    whole = "; ".join([*listing, small] if small else listing)
    yield f"To buy from this shelf{condition}, {total(checked)}{unpriced_words(checked.cautions)}: {whole}."


def _small(lines: Sequence[Line]) -> Iterator[str]:
    """What every box takes, in a few words: `10 clamps`, `fuse`, `relay`, `6 m of wire`."""
    for item, plural in SMALL.items():
        of_item = [line for line in lines if line.item == item]
        count = sum(line.quantity for line in of_item)
        if of_item and of_item[0].unit == "m":
            yield f"{count:g} m of {plural}"
        elif of_item:
            yield item if count == 1 else f"{count:g} {plural}"


def _bringing(checked: Checked, wide: bool) -> Iterator[str]:
    """What the shelf does not sell: by name where the short screen lists it, else how many lines more."""
    unpriced = [line for line in checked.to_buy if not is_priced(line)]
    told = [_amount(line.item, line.unit, line.quantity) for line in unpriced if in_short(line)]
    more = len(unpriced) - len(told)
    where = "the list below has" if wide else "--wide lists"
    rest = f"{where} {more}{' more' if told else ''}, for {REST}" if more else ""
    things = f"{len(told)} thing{'s' if len(told) != 1 else ''}"
    if told:
        rest = f" ({'; '.join(told)})" + (f"; {rest}" if more else "")
        yield f"And {things} that it does not price{rest}."
    elif more:
        yield f"And things that it does not price: {rest}."


def _spare(checked: Checked, names: Mapping[str, str]) -> Iterator[str]:
    """Pieces of the box that no motor takes, and why; and where every joint can be made, what the joints leave over."""
    refused = {verdict.subjects[0]: verdict.text for verdict in checked.refused if verdict.rule != NO_MOTOR}
    unwanted = (part.id for part in checked.spare if part.id not in checked.leave_out)
    spare = Counter(part for part in unwanted if part not in refused)
    held = Counter(part.id for part in checked.pieces)
    for verdict in checked.refused:
        if verdict.rule == NO_MOTOR:
            yield f"{names.get(verdict.subjects[0], verdict.subjects[0])} serves no motor of the box: {verdict.text}."
    if checked.unjoined or checked.missing:
        return
    for part, text in refused.items():
        yield f"{names.get(part, part)} fits a joint and does not stand it: {text}."
    none = [_amount(names.get(part, part), "piece", count) for part, count in spare.items() if count == held[part]]
    if none:
        yield f"No joint of the loop wants: {'; '.join(none)}."
    some = [f"{count} of {held[part]} x {names.get(part, part)}" for part, count in spare.items() if count < held[part]]
    if some:
        yield f"Left over, for the joints take no more: {'; '.join(some)}."


def _amount(name: str, unit: str, quantity: float) -> str:
    if unit not in COUNTED:
        return f"{quantity:.4g} {unit} of {name}"
    return f"{quantity:g} x {name}" if quantity != 1 else name
