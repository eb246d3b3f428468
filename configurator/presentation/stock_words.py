"""Whether what a kit takes can be had today."""

from __future__ import annotations

from collections.abc import Iterable

from configurator.parts.layouts import the_slot
from configurator.questions.answer import Answer, OfferedKit
from configurator.questions.too_few import TooFew

MOST_NAMED = 2
"""Of so many parts whose stock nobody states, or that run short, each is named; of more only how many they are."""


def stock_words(kit: OfferedKit) -> str:
    """`all in stock but the pump`, what runs short, and of which parts the shelf does not state it."""
    unsaid = [f"{the_slot(slot)} (stock not stated)" for slot in kit.stock_unsaid]
    if len(unsaid) > MOST_NAMED:
        unsaid = [f"{len(unsaid)} parts whose stock is not stated"]
    ordered = {part for slot, part in kit.parts if slot in kit.to_order}
    short = [too_few_words(one) for one in kit.short if one.part not in ordered]
    if len(short) > MOST_NAMED:
        short = [f"{len(short)} lines of the bill that take more than there is"]
    but = [*(the_slot(slot) for slot in kit.to_order), *short, *unsaid]
    return f"all in stock but {' and '.join(but)}" if but else "all in stock"


def too_few_words(one: TooFew) -> str:
    """`elbow-orb-12-19 (2 of 4 there)`, `hose-19 (4 of 5.5 m there)`."""
    return f"{one.part} ({one.there} of {one.takes:g}{' m' if one.unit == 'm' else ''} there)"


def too_few_note(short: Iterable[TooFew]) -> tuple[str, ...]:
    """A note of a bill that takes more than the shelf has; none where it does not."""
    told = ", ".join(too_few_words(one) for one in short)
    return (f"to be ordered, for the shelf has too few: {told}",) if told else ()


def in_stock_words(answer: Answer) -> str:
    """That a brief which takes only what is on the shelf is offered kits of which it has too few; else empty."""
    kits: dict[str, list[str]] = {}
    for kit in answer.kits if answer.in_stock else ():
        if kit.short:
            kits.setdefault(", ".join(too_few_words(one) for one in kit.short), []).append(str(kit.rank))
    if not kits:
        return ""
    told = "; ".join(f"kit {' and '.join(', '.join(ranks).rsplit(', ', 1))}: {short}" for short, ranks in kits.items())
    return (
        "Only what is on the shelf was asked for. That was looked for part by part, not for how many of it a kit "
        f"takes, and of these there are too few: {told}. The rest has to be ordered."
    )
