"""How much was looked at, and what bounds the kits that were not: in words and for programs."""

from __future__ import annotations

from typing import Any

from configurator.presentation.bill_words import money
from configurator.questions.answer import Answer, BestAlone
from configurator.ranking.order import CLEARANCE_STEP_MM, MARGIN_STEP_K

_REASONS = {
    "aim": "cannot keep the aim, with the coldest coolant and the most flow",
    "price": "cost more than the kit may",
    "mass": "weigh more than the kit may",
    "behind the last": "come after the last kit told, at best",
    "behind its own choice": "come after the kit told of the same core + exchanger, at best",
}


def counted_words(answer: Answer) -> str:
    """How much was looked at, and what came of it."""
    told = answer.best_alone
    if told is None:
        return _all_counted(answer)
    kits = len(answer.kits)
    none = "so there is no kit" if answer.stopped is None else "and time ended first"
    proved = "no other comes before these" if answer.stopped is None else "time ended before the others were ruled out"
    return (
        f"Looked at {told.predicted:,} loops of {told.choices:,} choices of parts: {proved if kits else none}. "
        "Of parts that are out, such a search tells only those that are out by themselves"
    )


def _all_counted(answer: Answer) -> str:
    counts = answer.counts
    met = f"{counts.choices_kept:,} of them meet the brief, in {counts.kits_kept:,} kits"
    return (
        f"Looked at {counts.loops:,} loops: {counts.choices_fitting:,} choices of core + exchanger join and fit, "
        f"{met if counts.kits_kept else 'none of them meets the brief'}"
    )


def proof_lines(answer: Answer) -> tuple[str, ...]:
    """Why nothing better was missed: one line a reason, and the best that any other kit could be."""
    told = answer.best_alone
    if told is None:
        return ()
    lines = [
        f"{told.choices:,} choices of core, exchanger, pump and reservoir; {told.placed:,} were placed, "
        f"{told.predicted:,} loops predicted.",
        *(f"{count:,} group{'s' if count != 1 else ''} of kits {_REASONS[why]}." for why, count in told.left_out),
    ]
    if told.last is not None and told.others is not None and answer.stopped is None:
        lines.append(f"The last kit told: {_steps(told, told.last, answer.currency)}.")
        lines.append(f"The first of all others, at its very best: {_steps(told, told.others, answer.currency)}.")
    return tuple(lines)


def proof_json(answer: Answer) -> dict[str, Any] | None:
    """The same for other programs; the figures of a key stand in the order of `steps`, the less the sooner."""
    told = answer.best_alone
    if told is None:
        return None
    return {
        "choices_of_parts": told.choices,
        "placed": told.placed,
        "loops_predicted": told.predicted,
        "groups_left_out": dict(told.left_out),
        "steps": list(told.steps),
        "last_told": None if told.last is None else list(told.last),
        "others_at_best": None if told.others is None else list(told.others),
    }


def _steps(told: BestAlone, key: tuple[float, ...], currency: str) -> str:
    by_default = told.steps[:3] == ("proven", "margin", "room")
    words = []
    for step, figure in zip(told.steps, key, strict=True):
        if step == "proven" and figure:
            words.append("not proven")
        elif step == "margin":
            words.append(f"margin {-figure * (MARGIN_STEP_K if by_default else 1):.4g} K{' or more' * by_default}")
        elif step == "room":
            words.append(f"room {-figure * (CLEARANCE_STEP_MM if by_default else 1):.4g} mm{' or more' * by_default}")
        elif step == "price":
            words.append(f"price {money(int(figure), currency)}")
        elif step == "mass":
            words.append(f"dry mass {figure / 1000:.4g} kg")
    return ", ".join(words)
