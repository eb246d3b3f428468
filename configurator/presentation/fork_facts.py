"""What stands before any kit, to print and for other programs: that time ran out, and the fork."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from configurator.foundations.units import celsius
from configurator.joining.words import celsius_words
from configurator.presentation.bill_words import money
from configurator.questions.answer import Answer
from configurator.reasons.fork_words import fork_text


def fork_words(answer: Answer, names: Mapping[str, str]) -> str:
    """What is said before any kit; empty where nothing is."""
    fork = answer.fork
    if fork is None:
        return ""
    front = names.get(fork.front, fork.front)
    return fork_text(fork.code, fork.loop_k, fork.other_k, answer.ceiling_k, front, fork.zone)


def fork_json(answer: Answer, names: Mapping[str, str]) -> dict[str, Any] | None:
    """The same for other programs: code, sentence, the coolest charge of a loop and the two ends of the other way."""
    fork = answer.fork
    if fork is None:
        return None
    cool, warm = (round(celsius(kelvin), 2) for kelvin in fork.other_k)
    return {
        "code": fork.code,
        "text": fork_words(answer, names),
        "charge_out_loop_c": round(celsius(fork.loop_k), 2),
        "charge_out_other_low_c": cool,
        "charge_out_other_high_c": warm,
    }


def stopped_words(answer: Answer) -> str:
    """That time ran out, and what bounds the kits that were not looked at; empty where all were."""
    stopped = answer.stopped
    if stopped is None:
        return ""
    best = "the best of these is told" if answer.kits else "no kit among these keeps every demand"
    longer = more_time(answer)
    without = "Leave --time-limit out to be sure, or give it more time"
    more = f"Give it more time to be sure:{longer}" if longer else without
    return (
        f"Stopped early, after {stopped.seconds:g} s and {answer.counts.loops:,} loops: {best}. "
        f"A {'better ' * bool(answer.kits)}kit may well be among the rest, of which two bounds are known and no "
        f"more: none leaves the charge cooler than {celsius_words(stopped.coolest_k)} at the worst moment, and "
        f"none costs less than {money(stopped.least_cents, answer.currency)}. {more}."
    )


def more_time(answer: Answer) -> str:
    """The option that lets a large shelf be searched for longer; nothing where the search ends by itself without it."""
    if answer.stopped is None or answer.best_alone is None or answer.best_alone.on_request:
        return ""
    return f" --time-limit {10 * answer.stopped.seconds:g}"


def stopped_json(answer: Answer) -> dict[str, Any] | None:
    """The same for other programs; the best margin that is still possible, and how far over the best found it is."""
    stopped = answer.stopped
    if stopped is None:
        return None
    possible = round(answer.ceiling_k - stopped.coolest_k, 2)
    best = max((kit.thermal.margin_k for kit in answer.kits), default=None)
    return {
        "after_s": stopped.seconds,
        "text": stopped_words(answer),
        "charge_out_at_least_c": round(celsius(stopped.coolest_k), 2),
        "margin_at_most_k": possible,
        "margin_gap_k": None if best is None else round(possible - best, 2),
        "price_at_least_cents": stopped.least_cents,
    }
