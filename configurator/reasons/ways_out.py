"""What would have to change so that a part is in: for each reason a sentence, for a kit's shortfalls the figures.

Ratings, rules of ends, cap, freezing and boiling, wire and fuse, the clearance that obstacles ask for, power and
boost are never offered as a way out: where only they stand in the way, the sentence says that nothing does.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Final

from configurator.foundations.units import ZERO_CELSIUS_K, celsius
from configurator.foundations.verdicts import Verdict
from configurator.joining.words import (
    BEAD_UNSAID,
    END_UNKNOWN,
    SAY_THE_BEAD,
    bar_words,
    celsius_words,
    decimals_apart,
    told_apart,
)
from configurator.reasons.wording import SIDE_WORDS
from configurator.search.job import Exclusion
from configurator.standards.articles import with_article

_PARTNERS: Final = "Parts that would go with it are out themselves, or not on this shelf: ask why of those"
_STANDS: Final = "No change of the brief mends this: {}. It takes {}."
_THEN: Final = (
    "It is then tried in kits like any other part: there its joints, the room beside other parts, the heat, and the "
    "limits on price, mass and current may still keep it out."
)
_TURNED: Final = (
    "It would go in lying on another face ({}); nobody says how it may lie, so it is taken to stand on its low face "
    "only: if it may be turned, say so in its `turns`, like turns: {{up: [+z, -y]}}."
)
_WHOLE: Final = "Nothing has to: the kits are whole without it."
_ANSWER: Final = "The answer to that question: write it as that end's form and size, and ask again."
_FIXED: Final = ("coolant temperature", "coolant boils")


def way_out(exclusion: Exclusion) -> str:
    """What would have to change so that this reason no longer keeps a part out, in one sentence."""
    stands = _stands(exclusion)
    way = _WAYS[exclusion.code](exclusion) if stands is None else _STANDS.format(*stands)
    return f"{_TURNED.format(exclusion.about)} Else: {way[0].lower()}{way[1:]}" if exclusion.turned else way


def ways_out(reasons: Sequence[Exclusion]) -> str:
    """What would have to change so that none of these keeps a part out: every rule, but of several zones only one."""
    told = [(reason.code in _OF_A_ZONE, way_out(reason)) for reason in reasons]
    zones = " Or: ".join(dict.fromkeys(way for of_a_zone, way in told if of_a_zone))
    every = list(dict.fromkeys(zones if of_a_zone else way for of_a_zone, way in told))
    stands = [_stands(reason) for reason in reasons]
    standing = {one is not None for one in stands}
    untried = any(reason.code in _UNTRIED for reason in reasons)
    then = f" {_THEN}" if untried and True not in standing else ""
    if standing == {True}:  # said once, not of each
        rules, takes = (dict.fromkeys(words) for words in zip(*filter(None, stands), strict=True))
        return _STANDS.format(", ".join(rules), "; and ".join(takes))
    if len(standing) < 2:
        return " And: ".join(every) + then
    numbered = (f"({number}) {way}" for number, way in enumerate(every, 1))  # what the brief lifts, and what it cannot
    return f"All of this together: {' '.join(numbered)}{then}"


def _stands(exclusion: Exclusion) -> tuple[str, str] | None:
    """What stands whatever the brief says, and what it takes instead; None where a brief or a shelf mends it."""
    stands = _STANDING.get(exclusion.code)
    return None if stands is None else stands(exclusion)


def way_out_of(shortfalls: Sequence[Verdict], rises_from_k: float | None) -> str:
    """What would have to change so that a kit misses nothing; `rises_from_k`: the air that a rise is counted from."""
    if any(shortfall.rule in _FIXED for shortfall in shortfalls):
        return _STANDS.format(
            "what its pieces stand and where its coolant boils is no matter of choice",
            "parts that this shelf does not have, or a drive with less heat",
        )
    asked = [_loosened(shortfall, rises_from_k) for shortfall in shortfalls]
    together = " All of these together." if len(asked) > 1 else ""
    return f"This kit would be in with {'; '.join(asked)}.{together}"


def way_out_of_ends(*kinds: str) -> str:
    """What would have to change for a part that can be joined to no part of these kinds."""
    others = f"{_each(kinds)}, or pieces of the shelf, that it can be joined to"
    return _STANDS.format("rules of joints stand", others)


def way_out_of_ratings(*kinds: str) -> str:
    """What would have to change for a pump whose pressure no part of these kinds holds."""
    return _STANDS.format("ratings stand", f"{_each(kinds)} that holds what the pump makes, or a weaker pump")


def _each(kinds: Sequence[str]) -> str:
    return " and ".join(with_article(kind) for kind in kinds)


def shortfall_text(shortfall: Verdict, rises_from_k: float | None) -> str:
    """One demand that a kit misses, with what was found, the limit and the difference."""
    return _MISSED[shortfall.rule](shortfall, rises_from_k)


def _over(shortfall: Verdict) -> tuple[float, float, float]:
    found, limit = float(shortfall.found or 0.0), float(shortfall.limit or 0.0)
    return found, limit, found - limit


def _sum(pattern: str, decimals: int, per: float = 1.0) -> Callable[[Verdict, float | None], str]:
    """Found, limit and difference by a pattern, with at least so many decimals; `per`: one of its unit in SI."""

    def text(shortfall: Verdict, _: float | None) -> str:
        found, limit, over = (figure / per for figure in _over(shortfall))
        shown = decimals_apart(found, limit, decimals)
        return pattern.format(*(f"{figure:,.{shown}f}" for figure in (found, limit, over)))

    return text


def _aim(shortfall: Verdict, rises_from_k: float | None) -> str:
    found, limit, over = _over(shortfall)
    zero = ZERO_CELSIUS_K if rises_from_k is None else rises_from_k
    unit = "degC" if rises_from_k is None else "K above the air"
    shown = decimals_apart(found - zero, limit - zero, 1)
    told = (f"{figure:.{shown}f}" for figure in (found - zero, limit - zero, over))
    return "the aim: charge at {0} {3}, asked {1}: {2} K too warm".format(*told, unit)


def _heat(shortfall: Verdict, _: float | None) -> str:
    found, limit, _over_k = _over(shortfall)
    reaches, stands = told_apart(celsius(found), celsius(limit), "degC", 0)
    return f"heat: its coolant reaches {reaches}, {shortfall.text} stands {stands}"


_MISSED: Final[dict[str, Callable[[Verdict, float | None], str]]] = {
    "aim": _aim,
    "price": _sum("price: {0}, allowed {1}: {2} too much", 2),
    "mass": _sum("mass: {0} kg dry, allowed {1}: {2} kg too much", 2),
    "current": _sum("current: {0} A, allowed {1}: {2} A too much", 1),
    "charge loss": _sum("charge pressure lost: {0} kPa, allowed {1}: {2} kPa too much", 1, 1e3),
    "coolant temperature": _heat,
    "coolant boils": _sum("boiling: its coolant is {2} K hotter than it boils at under its cap", 1),
}


def _loosened(shortfall: Verdict, rises_from_k: float | None) -> str:
    """The key of the brief and the least figure that lets this kit in."""
    found, _, _ = _over(shortfall)
    if shortfall.rule == "aim" and rises_from_k is not None:
        return f"aim: above_air of {_up(found - rises_from_k)} K or more"
    if shortfall.rule == "aim":
        return f"aim: charge_air of {_up(celsius(found))} degC or more"
    if shortfall.rule == "charge loss":
        return f"aim: charge_loss of {_up(found / 1e3)} kPa or more"
    key, figure = {
        "price": ("price", f"{found:,.2f}"),
        "mass": ("mass_dry", f"{found:.3f} kg"),
        "current": ("current", f"{_up(found)} A"),
    }[shortfall.rule]
    return f"limits: {key} of {figure} or more"


def _up(figure: float) -> str:
    """A figure with one decimal, never below what it was."""
    return f"{math.ceil(round(figure * 10, 6)) / 10:.1f}"


def _larger(what: str, e: Exclusion, most: str = "") -> str:
    miss = f"{float(e.found or 0):.0f} mm"
    return f"{what} with {miss} more{most} at least (measure it again), or another zone."


def _ends_stand(e: Exclusion) -> tuple[str, str] | None:
    if e.found is not None or e.cause in _MENDED:
        return None
    return "ends that do not mate are not forced", "another part, or the piece that the reason names"


def _ends(e: Exclusion) -> str:
    return _MENDED[e.cause] if e.found is None else f"An adapter on the shelf: {e.found} to {e.limit}."


_MENDED: Final = {
    "rating-below-pressure": "Less boost, and the power that it makes, or a piece on the shelf that holds what the "
    "pipe may see.",
    END_UNKNOWN: _ANSWER,
    BEAD_UNSAID: f"The spigot's end, where the part is written: {SAY_THE_BEAD}.",
}
"""What mends ends that do not meet, by cause, where that is no piece."""

_WAYS: Final[dict[str, Callable[[Exclusion], str]]] = {
    "not-wanted": lambda e: "Take it, or its kind, off `without` in the brief.",
    "another-wanted": lambda e: "Add it to `wanted` in the brief, or take that out.",
    "not-in-stock": lambda e: "Order it, or take `in_stock: true` out of the brief.",
    "price-over-limit": lambda e: (
        f"limits: price would have to cover the whole kit, so well over the {float(e.found or 0):,.2f} of this part."
    ),
    "mass-over-limit": lambda e: (
        f"limits: mass_dry would have to cover the whole kit, well over the {float(e.found or 0):.1f} kg of this part."
    ),
    "current-over-limit": lambda e: (
        f"limits: current of {_up(float(e.found or 0))} A or more, where the car has that to spare."
    ),
    "coolant-banned": lambda e: (
        "Another of `coolant: kinds`, where the coldest night and the circuit allow it; this part never holds "
        f"{e.found}."
    ),
    "charge-loss-over-limit": lambda e: (
        f"A wider core; or aim: charge_loss well over {float(e.found or 0) / 1e3:.1f} kPa, as couplers and pipes come "
        "on top."
    ),
    "no-zone-takes-it": lambda e: f"A zone that may hold it, with {e.found} under `takes`.",
    "obstacle-in-the-way": lambda e: (
        "Another zone, or a smaller part. The obstacle stays, with the room that it asks for; measure again where it "
        "stands."
    ),
    "does-not-fit": lambda e: _larger(f"A zone '{e.about}'", e, f" in {SIDE_WORDS[e.side]}"),
    "way-in-too-small": lambda e: _larger(f"A way into the zone '{e.about}'", e),
    "ends-face-wrong": lambda e: "Other sides under `ends` of the zone, another zone, or another part.",
    "no-room-before-ends": lambda e: (
        "A wall that hoses really may go through, named under `open`; a larger or another zone; or a smaller part "
        "beside it."
    ),
    "no-kit-goes-in": lambda e: f"{_PARTNERS}.",
    "fan-overhangs": lambda e: "A smaller fan, or a larger exchanger that goes in.",
    "no-loop": lambda e: f"{_PARTNERS}.",
    "too-high": lambda e: "A higher place for the reservoir, a lower one for the pump, or another zone.",
    "ends-do-not-meet": _ends,
    "suction-hose": lambda e: "A wired hose of that bore on the shelf (`vacuum: true`).",
    "joins-nothing": lambda e: f"{_PARTNERS}.",
    "none-left": lambda e: f"What keeps every {e.about} out: see those.",
    "warms-ice": lambda e: (
        "A bypass valve on the shelf, to shut it out while there is ice, and `layouts: [bypass]` in the brief."
    ),
    "not-for-ice": lambda e: "Nothing while there is ice: a tank that is made for it, with `ice: true`.",
    "ice-over-tank": lambda e: "Less ice, or a larger tank.",
    "impossible-point": lambda e: "Mend the measured point or the arrangement in the catalogue.",
    "no-core-joins": lambda e: "A coupler for the bores on the shelf, or the engine's true bores in the brief.",
    "no-room-together": lambda e: "A larger zone, another zone that takes one of them, or a smaller part beside it.",
    "aim-missed": lambda e: "A lower demand on the charge, or another part.",
    "over-limits": lambda e: "A higher limit of the brief, or another part.",
    "place-taken": lambda e: "Take `fitted: true` off that part in the brief, if it may go.",
    "not-asked-for": lambda e: "An aim after a standstill: aim: after.",
    "serves-nothing": lambda e: _WHOLE,
    "unknown-end": lambda e: _ANSWER,
    "shelf-serves": lambda e: _WHOLE,
    "no-kit-to-serve": lambda e: "What stops every kit: `suggest` with this brief names it, and ways out.",
    "all-stopped": lambda e: "The rule that is named, see its sentence.",
}

_STANDING: Final[dict[str, Callable[[Exclusion], tuple[str, str] | None]]] = {
    "rating-below-pressure": lambda e: (
        "a rating is not stretched", f"a part that holds {bar_words(float(e.limit or 0))} or more"
    ),
    "cap-too-weak": lambda e: (
        "a rating is not stretched",
        f"a cap that holds {bar_words(float(e.limit or 0))} or more, or this one's working pressure from its maker, "
        "where what it opens at was written for it",
    ),
    "too-hot": lambda e: (
        "what it stands is not stretched", f"a part that stands {celsius_words(float(e.found or 0))} or more"
    ),
    "too-cold": lambda e: (
        "what it stands is not stretched", f"a part that stands {celsius_words(float(e.found or 0))} or less"
    ),
    "voltages-differ": lambda e: (
        "a voltage is no matter of choice", f"a part for {float(e.limit or 0):g} V, or parts beside it for its own"
    ),
    "refused-there": lambda e: (
        "what a piece stands is not stretched", "a piece that stands it, as those of the kits do"
    ),
    "other-medium": lambda e: ("what a hose may carry is no matter of choice", f"a hose for {e.limit}"),
    "ends-do-not-meet": _ends_stand,
}

_OF_A_ZONE: Final = ("obstacle-in-the-way", "does-not-fit", "way-in-too-small", "ends-face-wrong")
_UNTRIED: Final = (
    *_OF_A_ZONE, "not-wanted", "another-wanted", "not-in-stock", "price-over-limit", "mass-over-limit",
    "current-over-limit", "coolant-banned", "charge-loss-over-limit", "no-zone-takes-it", "place-taken",
    "not-asked-for",
)  # fmt: skip
"""Causes that keep a part out before it is tried in any kit, and that a brief can lift; the first speak of one zone."""
