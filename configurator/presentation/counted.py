"""How much was looked at, and what bounds the kits that were not: in words and for programs."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from configurator.fitting.room import CLEARANCE_COUNTED_MM
from configurator.presentation.bill_words import money
from configurator.questions.answer import Answer, BestAlone
from configurator.questions.best_alone import NEAR_S
from configurator.ranking.order import CLEARANCE_STEP_MM, MARGIN_STEP_K, STEPS_OF

MOST_LISTED = 1000
"""So many kits may be asked for, as `--top` takes them."""

NOT_LOOKED_FOR = "what rules out what, and which adapters would help, was not looked for"
"""What of an answer without a kit needs every kit of the shelf."""

_REASONS = {
    "aim": "cannot keep the aim, with the coldest coolant and the most flow",
    "price": "cost more than the kit may",
    "mass": "weigh more than the kit may",
    "behind the last": "come after the last kit listed, even at their best",
    "behind its own choice": "come after the one listed of the same core + exchanger, even at their best",
}
_STEP_WORDS = {
    "margin": "margin at the low end of its band",
    "room": "room",
    "price": "price",
    "mass": "dry mass",
}


def counted_words(answer: Answer) -> str:
    """How much was looked at, and what came of it."""
    told = answer.best_alone
    if told is None:
        ways = answer.ways_out
        part = ways is not None and ways.conflict is None
        return f"{_all_counted(answer)}; {NOT_LOOKED_FOR}" if part else _all_counted(answer)
    if answer.stopped is not None:
        came = "time ended before the others were ruled out" if answer.kits else "no kit was found before time ended"
    elif answer.kits:
        came = "no other comes before these"
    else:
        came = f"in none{' of the others' if told.predicted else ''} can there be a kit"
    loops = f"{told.predicted:,} loops of " if told.predicted or answer.stopped is not None else ""
    words = f"Looked at {loops}{told.choices:,} choices of parts: {came}. "
    if not answer.kits and answer.stopped is None:
        words += f"The closest were looked for in a search of their own, of {NEAR_S:g} s at most"
        if answer.ways_out is not None:
            words += f"; {NOT_LOOKED_FOR}{': leave --proof out for those' if told.on_request else ''}"
        words += ". "
    return f"{words}Of parts that are out, such a search tells only those that are out by themselves"


def which_words(answer: Answer) -> Iterator[str]:
    """Which of all kits the ones listed are, where there are several."""
    shown, most = len(answer.kits), answer.on_the_front
    held = [part for part in answer.wanted if all(part in dict(kit.parts).values() for kit in answer.kits)]
    if held and shown:
        yield f"Every kit holds {' and '.join(held)}, as wanted."
    if most is not None and shown:
        more = f": --top {most} lists them all" if shown < most <= MOST_LISTED else ""
        yield (
            "No other kit is as good as one of these in all four of margin (at the low end of its band), room, price "
            f"and dry mass, and better in one. {shown:,} of {most:,} such kits stand here{more}."
        )
    elif not answer.all_variants and any(kit.picks for kit in answer.kits[1:]):
        yield (
            "Of each core and exchanger one kit stands here, the first in the order asked for: `--order price` lists "
            "the least costly first, `why BRIEF --first` tells what puts kit 1 first."
        )


def _all_counted(answer: Answer) -> str:
    counts, so_far = answer.counts, "" if answer.stopped is None else " so far"
    if answer.blocked is not None:
        return "No kit was looked at: that rule stops them all"
    loops, kits = _many(counts.loops, "loop"), _many(counts.kits_kept, "kit")
    if not counts.choices_fitting:
        return f"Looked at {loops}{so_far}: no choice of core + exchanger joins and fits"
    if counts.choices_fitting == 1:
        met = f"meets the brief, in {kits}" if counts.kits_kept else "does not meet the brief"
        return f"Looked at {loops}{so_far}: 1 choice of core + exchanger joins and fits, and {met}"
    met = f"{counts.choices_kept:,} of them meet{'s' if counts.choices_kept == 1 else ''} the brief, in {kits}"
    return (
        f"Looked at {loops}{so_far}: {counts.choices_fitting:,} choices of core + exchanger join and fit, "
        f"{met if counts.kits_kept else 'none of them meets the brief'}"
    )


def _many(count: int, what: str) -> str:
    return f"{count:,} {what}{'s' if count != 1 else ''}"


def proof_told(answer: Answer) -> tuple[str, tuple[str, ...]]:
    """Why nothing better was missed, or how far the search came: its title, and a line for each reason."""
    told = answer.best_alone
    if told is None:
        return "", ()
    choices = f"{told.choices:,} choices of core, exchanger, pump and reservoir"
    loops = f"{_many(told.predicted, 'loop')} made of them"
    groups = tuple(
        f"{_many(count, 'group')} of kits {_REASONS[why]}." for why, count in told.left_out
    )
    if answer.stopped is not None:
        return "How far the search came", (f"{choices}: {loops} were predicted before time ended.", *groups)
    title = "Why nothing better was missed" if answer.kits else "Why no kit was missed"
    head = f"{choices}: {loops} were predicted; the rest lies in groups of kits that were left out whole."
    return title, (head, *groups, *_bounds(told, answer.currency))


def _bounds(told: BestAlone, currency: str) -> Iterator[str]:
    """The last kit told and the best that any other can be, by what the order looks at."""
    if told.last is None or told.others is None:
        return
    steps = [_STEP_WORDS[step] for step in told.steps if step in _STEP_WORDS]
    if told.steps == STEPS_OF["default"][:-1]:
        enough = f", {told.enough_k:g} K is enough" if np.isfinite(told.enough_k) else ""
        steps[0] += f" (in steps of {MARGIN_STEP_K:g} K{enough})"
        steps[1] += f" (in steps of {CLEARANCE_STEP_MM:g} mm, {CLEARANCE_COUNTED_MM:g} mm is enough)"
    yield f"Counted first to last: known to fit and to hold its pressure, {', '.join(steps)}."
    yield f"The last kit listed: {_steps(told, told.last, currency)}."
    other = "No other kit" if told.all_variants else "No kit of another core + exchanger"
    yield f"{other} is better than this bound, and there need be none as good: {_steps(told, told.others, currency)}."


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
    in_steps = told.steps == STEPS_OF["default"][:-1]
    words = []
    for step, figure in zip(told.steps, key, strict=True):
        if step == "proven" and figure:
            words.append("not known to fit or to hold")
        elif step == "margin":
            most = np.floor(told.enough_k / MARGIN_STEP_K + 1e-9) * MARGIN_STEP_K
            words.append(f"margin {_step(-figure, MARGIN_STEP_K, most, 'K') if in_steps else f'{-figure:.4g} K'}")
        elif step == "room":
            most = CLEARANCE_COUNTED_MM
            words.append(f"room {_step(-figure, CLEARANCE_STEP_MM, most, 'mm') if in_steps else f'{-figure:.4g} mm'}")
        elif step == "price":
            words.append(f"price {money(int(figure), currency)}")
        elif step == "mass":
            words.append(f"dry mass {figure / 1000:.5g} kg")
    return ", ".join(words)


def _step(count: float, size: float, most: float, unit: str) -> str:
    """A figure that is counted in steps: from where to where it lies, or from where on it is no longer counted."""
    low = count * size + 0.0
    return f"{low:.4g} {unit} or more" if low >= most else f"{low:.4g} to under {low + size:.4g} {unit}"
