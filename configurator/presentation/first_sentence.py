"""The first sentence of an answer, to be read to the customer: what one kit does, or that there is none."""

from __future__ import annotations

from configurator.foundations.units import celsius
from configurator.joining.words import celsius_words
from configurator.presentation.bill_words import money, unpriced_words
from configurator.presentation.no_kit_words import cause, misses, nothing_words, reached_words
from configurator.presentation.side_words import unproven_words
from configurator.presentation.standstill_words import restart_sentence, time_words
from configurator.presentation.stock_words import stock_words
from configurator.questions.answer import Answer, OfferedKit
from configurator.questions.assumptions import CHARGE_PIPES
from configurator.standards.articles import with_article


def first_sentence(answer: Answer, rank: int = 1) -> str:
    """The sentence of the kit of this rank, or of the first where the answer has none such; or why there is no kit."""
    if answer.blocked is not None:
        return f"No kit. {answer.blocked.text}"
    if answer.kits:
        return _of_a_kit(answer, next((kit for kit in answer.kits if kit.rank == rank), answer.kits[0]))
    if answer.stopped is not None and not answer.closest:
        return "No kit was found before time ended, and none that comes near: whether there is one is not known."
    day, drive = with_article(f"{celsius_words(answer.air_k)} day"), drive_words(answer.driving_name)
    when = "through" if answer.standstill_s is None else f"on a restart {time_words(answer.standstill_s)} after"
    aim = f"the charge at or under {celsius_words(answer.ceiling_k)} {when} {drive} on {day}"
    none = "No kit on this shelf" if answer.stopped is None else "No kit that was looked at"
    text = f"{none} keeps {aim}"
    found = "" if answer.best_alone is None and answer.stopped is None else " found"
    if answer.closest and answer.closest[0].missed == ("aim",):
        best = answer.closest[0]
        stood = best.thermal.standstill
        reached = reached_words(best.thermal.charge_out_worst_k if stood is None else stood.restart_k, answer.ceiling_k)
        price = money(best.price_cents, answer.currency)
        nearest = f"the nearest kit{found}, at {price}, reaches {reached}"
        return f"{text}; {nearest}. {cause(best, answer.ceiling_k)}".rstrip()
    if answer.closest:
        return f"{none} meets the brief; the nearest kit{found} misses {misses(answer.closest[0])}."
    return f"No kit on this shelf can be put together for this brief: {nothing_words(answer)}."


def _of_a_kit(answer: Answer, kit: OfferedKit) -> str:
    """Price, heat, room, joints and stock of one kit."""
    day, drive = with_article(f"{celsius_words(answer.air_k)} day"), drive_words(answer.driving_name)
    t = kit.thermal
    coolest, hottest = celsius(t.charge_out_good_end_k), celsius(t.charge_out_bad_end_k)
    does = (
        f"keeps the charge to about {celsius_words(t.charge_out_worst_k)} at worst ({coolest:.0f} to "
        f"{hottest:.0f}; the aim is {celsius_words(answer.ceiling_k)}) through {drive} on {day}"
    )
    if t.standstill is not None:
        does = restart_sentence(t, day, drive)
    text = f"Kit {kit.rank}, {money(kit.price_cents, answer.currency)}{unpriced_words(kit.cautions)}: {does}"
    told = (text, _room_sentence(kit), _joints_sentence(answer, kit), *unproven_words(kit), stock_words(kit))
    return f"{', '.join(told)}."


def drive_words(name: str) -> str:
    """`hill climb, 90 s run` as `hill climb (90 s run)`: its commas would run into those of the sentence."""
    label, _, detail = name.partition(", ")
    return f"{label} ({detail})" if detail else label


def _room_sentence(kit: OfferedKit) -> str:
    if not kit.fit.decided:
        return "fit not decided"
    if kit.tight_mm is not None:
        return f"TIGHT with {kit.fit.clearance_mm:g} mm to spare (the tape measure is sure to {kit.tight_mm:g} mm)"
    return f"{kit.fit.clearance_mm:g} mm to spare all round"


def _joints_sentence(answer: Answer, kit: OfferedKit) -> str:
    but = " but those to the charge pipes" if any(rule.rule == CHARGE_PIPES for rule in answer.not_checked) else ""
    untried = any(one.code == "no-route" for one in kit.cautions)
    bends = ", a hose's bends to be tried first (see the cautions)" if untried else ""
    return f"every joint can be made{but}{bends}"
