"""What limits a kit, in a line or two: where its charge temperature comes from, what moves it, what holds least."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from configurator.foundations.units import celsius
from configurator.presentation.bill_words import money
from configurator.presentation.coolant_words import celsius_kept
from configurator.presentation.no_kit_words import margin_words
from configurator.presentation.side_words import charge_side_words, side_words
from configurator.questions.answer import Answer, OfferedKit

_LEAST_K: Final = 0.05
"""What prints as nothing is no gain."""


def limit_rows(
    answer: Answer, kit: OfferedKit, others: Sequence[OfferedKit], names: Mapping[str, str]
) -> tuple[tuple[str, str], ...]:
    """What limits the heat, and the weakest member of either side."""
    sides = (("charge side", charge_side_words(kit, names)), ("coolant side", side_words(kit.coolant_pressure, names)))
    return (
        ("what limits the heat", "; ".join(_heat(answer, kit, others))),
        ("weakest in pressure", "; ".join(_weakest(side, words) for side, words in sides)),
    )


def _heat(answer: Answer, kit: OfferedKit, others: Sequence[OfferedKit]) -> Iterator[str]:
    t = kit.thermal
    if t.standstill is None:
        yield _made_of(answer.air_k, t.charge_out_worst_k, t.core_gap_k)
    hottest = "" if kit.limiting_air_k is None else f", enough up to a day of {celsius_kept(kit.limiting_air_k)}"
    lost = [("30 % less coolant flow", t.less_flow.margin_k - t.margin_k)]
    if t.half_air is not None:
        lost.append(("half the air speed", t.half_air.margin_k - t.margin_k))
    moved = [f"{what} {by:+.1f} K" for what, by in sorted(lost, key=lambda entry: entry[1])]
    yield f"margin {margin_words(t.margin_k)}{hottest}; it changes by: {', '.join(moved)}"
    yield _others(answer, kit, others)


def _made_of(air_k: float, charge_k: float, gap_k: float) -> str:
    """The worst charge as day, warming of the coolant and gap of the core, in whole kelvin that add up."""
    charge, air, gap = round(celsius(charge_k)), round(celsius(air_k)), round(gap_k)
    warmed = charge - air - gap
    coolant = f"coolant {abs(warmed)} K {'warmer' if warmed >= 0 else 'colder'} than that"
    larger = ""
    if gap != warmed:
        larger = f" ({'the core' if gap > warmed else 'the coolant'} has the larger share)"
    return f"charge at {charge} degC: a day of {air} degC, {coolant}, charge {gap} K above the coolant{larger}"


def _others(answer: Answer, kit: OfferedKit, others: Sequence[OfferedKit]) -> str:
    """How much more margin the kits beside it have, for how much money, most first; and by which parts."""
    more = [(other.thermal.margin_k - kit.thermal.margin_k, other) for other in others]
    gaining = sorted((entry for entry in more if entry[0] >= _LEAST_K), key=lambda entry: (-entry[0], entry[1].rank))
    if not gaining:
        return "no kit beside it has more margin"
    told = []
    for gain, other in gaining:
        cents = other.price_cents - kit.price_cents
        price = f"{'+' if cents >= 0 else '-'}{money(abs(cents), answer.currency)}"
        told.append(f"kit {other.rank} ({_changed(kit, other)}) {gain:+.1f} K for {price}")
    return f"of the kits beside it gain {', '.join(told)}"


def _changed(kit: OfferedKit, other: OfferedKit) -> str:
    """What another kit has else: its slots, or the layout alone."""
    mine, its = dict(kit.parts), dict(other.parts)
    slots = [slot for slot in {**mine, **its} if mine.get(slot) != its.get(slot)]
    return f"other {' and '.join(slots)}" if slots else "other layout"


def _weakest(side: str, words: str) -> str:
    """The end of what is told of a side: its weakest member, or that it is unproven."""
    return f"{side}: {words.partition('least to spare: ')[2] or words}"
