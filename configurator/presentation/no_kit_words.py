"""What is said of the nearest kit where there is none: what it misses, and the cause where that is the aim."""

from __future__ import annotations

from configurator.foundations.units import celsius
from configurator.joining.words import celsius_words, told_apart
from configurator.parts.layouts import kind_of_slot
from configurator.questions.answer import Answer, OfferedKit
from configurator.questions.searches import LeftOfKind
from configurator.reasons.ways_out import shortfall_text
from configurator.reasons.wording import cause_text, commonest

SETTLED_K = 1.0
"""A drive whose worst moment is this near to its plateau is warm right through: litres would not help."""

_FRONT = "The front area and the air speed at it set that."
_LITRES = "In a drive this short the coolant's volume sets that as well as the front area and the air speed at it."


def reached_words(kelvin: float, ceiling_k: float) -> str:
    """A charge temperature over the ceiling, in whole degrees where these tell it from the ceiling."""
    same = round(celsius(kelvin)) <= round(celsius(ceiling_k))
    return told_apart(celsius(kelvin), celsius(ceiling_k), "degC", 2 if same else 0)[0]


def margin_words(margin_k: float) -> str:
    """A margin to a tenth of a kelvin, or to a hundredth where it is missed by less than that."""
    if round(margin_k, 2) == 0.0:  # as the aim is judged: nothing is missed
        return "+0.0 K"
    return f"{margin_k:+.2f} K" if -0.05 <= margin_k < 0 else f"{margin_k:+.1f} K"


def misses(best: OfferedKit) -> str:
    """What the nearest kit misses, each with what was found, the limit and the difference."""
    return "; ".join(shortfall_text(shortfall, None) for shortfall in best.shortfalls)


def nothing_words(answer: Answer) -> str:
    """Why no kit can be put together: kinds that the shelf lacks or of which none passes, else how many of each do."""
    none = [f"the shelf has no {of.kind}" for of in answer.left if of.lacking and of.needed]
    none += [f"no {of.kind} passes by itself ({_commonest(of)})" for of in answer.left if not of.count and of.out]
    if none:
        return " and ".join(none)
    needed = [of for of in answer.left if of.needed]
    fewest = min((of.count for of in needed), default=0)
    left = [
        f"{of.count} {of.kind}{'' if of.count == 1 else 's'}"
        + (f" ({_commonest(of)})" if of.count == fewest < len(of.out) else "")
        for of in needed
    ]
    of_these = f"of the {', '.join(left[:-1])} and {left[-1]} that pass by themselves, " if len(left) > 1 else ""
    bare = [of.kind for of in answer.left if not of.needed]
    besides = f", and the shelf has no {' and no '.join(bare)}" if bare else ""
    return f"{of_these}nothing joins and fits{besides}"


def _commonest(of: LeftOfKind) -> str:
    why, count = commonest(of.out, 1)[0]
    cold = [out for out in of.out if out.code == "too-cold"]
    if why != cause_text("too-cold"):
        return f"{count} × {why}"
    meets_k, best_k = float(cold[0].found or 0.0), min(float(out.limit or 0.0) for out in cold)
    return f"{count} × {why}: down to {celsius_words(best_k)} at best, here it is {celsius_words(meets_k)}"


def cause(best: OfferedKit, ceiling_k: float) -> str:
    """Why the nearest kit misses the ceiling, where that is beyond doubt; else nothing.

    A core never cools the charge below the coolant that enters it, and a better core would warm that further: where the
    coolant alone is above the ceiling, core, bleeding and flow in the core are not the cure.
    """
    t = best.thermal
    if t.standstill is not None:
        return ""
    feed_k = t.charge_out_worst_k - t.core_gap_k
    if feed_k <= ceiling_k or "exchanger" not in {kind_of_slot(slot) for slot, _ in best.parts}:
        return ""
    settled = t.charge_out_worst_k > t.charge_out_plateau_k - SETTLED_K
    enters = f"Its coolant enters the core at {celsius_words(feed_k)}, and no core cools the charge below that."
    return f"{enters} {_FRONT if settled else _LITRES}"
