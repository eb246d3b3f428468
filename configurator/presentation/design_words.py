"""Of what a design pressure is made, in words whose figures add up as printed."""

from __future__ import annotations

import math
from collections.abc import Sequence

from configurator.joining.ratings import OVERSHOOT, OVERSHOOT_LEAST_PA
from configurator.joining.words import bar_words
from configurator.parts.kinds import Reservoir
from configurator.questions.check_answer import Checked


def charge_made_of(checked: Checked) -> str:
    """` (boost 1.40 and a quarter of it)`; nothing where the boost is not known."""
    boost = checked.boost_pa_gauge
    if boost is None:
        return ""
    quarter = boost * OVERSHOOT >= boost + OVERSHOOT_LEAST_PA
    more = "a quarter of it" if quarter else f"{_figure(OVERSHOOT_LEAST_PA)} more"
    return f" (boost {_figure(boost)} and {more})"


def coolant_made_of(checked: Checked) -> str:
    """` (cap 1.10 and a tenth of it: 1.21, pump at no flow 0.70)` and the like; without what prints as nothing."""
    shares, side = checked.coolant_from, checked.coolant
    if shares is None or side is None or side.lowest is None:
        return ""
    pascals = (shares.cap_pa, shares.pump_pa, shares.liquid_pa)
    words = (f"cap {_figure(shares.opens_pa_gauge)} and a tenth of it:", "pump at no flow", "liquid above")
    figures = adding_up(pascals, bar_words(side.lowest.design_pa_gauge).removesuffix(" bar"))
    told = [f"{word} {figure}" for word, figure in zip(words, figures, strict=True) if float(figure)]
    unknown = {"reservoir": "what the cap adds", "pump": "what the pump adds"}
    lacking = (*checked.missing, *_uncapped(checked))
    told += [f"{what} not known" for kind, what in unknown.items() if kind in lacking]
    return f" ({', '.join(told)})" if told else ""


def _uncapped(checked: Checked) -> tuple[str, ...]:
    """The reservoir, where it is sealed and there is no cap for it: neither in the box nor on the shelf."""
    capped = checked.cap_stated_pa_gauge is not None or any(part.kind == "cap" for _, part in checked.slots)
    sealed = any(isinstance(part, Reservoir) and not part.vented for _, part in checked.slots)
    known = checked.coolant_from is not None and checked.coolant_from.opens_pa_gauge > 0.0
    return ("reservoir",) if sealed and not capped and not known else ()


def adding_up(pascals: Sequence[float], total: str) -> tuple[str, ...]:
    """Parts of a pressure [Pa] in bar, with the decimals of the printed total and rounded so that they make it up.

    Each is cut off, and those cut most get one more of the last place until the sum is reached.
    """
    decimals = len(total.partition(".")[2])
    exact = [pa / 1e5 * 10**decimals for pa in pascals]
    units = [math.floor(part + 1e-6) for part in exact]
    lacking = round(float(total) * 10**decimals) - sum(units)
    most_cut = sorted(range(len(exact)), key=lambda place: units[place] - exact[place])
    for place in most_cut[: max(lacking, 0)]:
        units[place] += 1
    return tuple(f"{unit / 10**decimals:.{decimals}f}" for unit in units)


def _figure(pressure_pa: float) -> str:
    return bar_words(pressure_pa).removesuffix(" bar")
