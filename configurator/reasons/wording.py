"""Exclusions in words that a customer understands. The records come from the search; nothing else phrases them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable

from configurator.fitting.laid_hoses import NotLaid
from configurator.fitting.reaches import PUMP_UNDER_MM
from configurator.foundations.units import celsius
from configurator.joining.words import bars_apart, told_apart
from configurator.search.job import Exclusion

SIDE_WORDS = {"wall back": "its depth", "wall right": "its width", "wall top": "its height"}
"""The wall of a zone that a part misses most, as the side that would have to be larger."""


def exclusion_text(exclusion: Exclusion, name: str) -> str:
    """One sentence: why this part is out for this brief."""
    return _SENTENCES[exclusion.code](exclusion, name)


def cause_text(code: str) -> str:
    """A cause in few words, for counting."""
    return _CAUSES[code]


def commonest(exclusions: Iterable[Exclusion], most: int = 4) -> tuple[tuple[str, int], ...]:
    """The commonest causes and how many parts each keeps out; ties by name."""
    counted = Counter(exclusion.code for exclusion in exclusions)
    ordered = sorted(counted.items(), key=lambda entry: (-entry[1], entry[0]))
    return tuple((cause_text(code), count) for code, count in ordered[:most])


def no_route_text(why: NotLaid) -> str:
    """Why a hose has no route, in few words."""
    return _NO_ROUTE[why]


_NO_ROUTE: dict[NotLaid, str] = {
    "no-place": "an end has no place in the bay",
    "apart": "its zones have no place in the car",
    "start": "no room to bend it ahead of its start",
    "finish": "no room to bend it ahead of its finish",
    "between": "no way between its ends leaves room for its bends",
}


def _both(e: Exclusion) -> tuple[float, float]:
    return float(e.found or 0), float(e.limit or 0)


def _celsius(e: Exclusion) -> tuple[str, str]:
    found, limit = (celsius(kelvin) for kelvin in _both(e))
    return told_apart(found, limit, "degC", 0)


def _bars(e: Exclusion) -> tuple[str, str]:
    return bars_apart(*_both(e))


def _money(e: Exclusion) -> tuple[str, str]:
    return told_apart(*_both(e), "", 2)


def _told(e: Exclusion, unit: str, per: float = 1.0) -> tuple[str, str]:
    """Found and limit with a decimal, or as many as tell them apart; `per`: how much one of the unit is in SI."""
    found, limit = (figure / per for figure in _both(e))
    return told_apart(found, limit, unit, 1)


def _ended(words: str) -> str:
    """The end of a sentence; what has to be asked ends as a question does."""
    return words if words.endswith(("?", ".")) else f"{words}."


_SENTENCES: dict[str, Callable[[Exclusion, str], str]] = {
    "not-wanted": lambda e, n: f"{n} is left out because the brief says so.",
    "another-wanted": lambda e, n: f"{n} is left out because the brief wants {e.about}.",
    "not-in-stock": lambda e, n: f"{n} is not in stock.",
    "price-over-limit": lambda e, n: "{} alone costs {}, the whole kit may cost {}.".format(n, *_money(e)),
    "mass-over-limit": lambda e, n: "{} alone weighs {}, the kit may weigh {} dry.".format(n, *_told(e, "kg")),
    "coolant-banned": lambda e, n: f"{n} must not be filled with {e.found}.",
    "current-over-limit": lambda e, n: "{} draws {}, {} are to spare.".format(n, *_told(e, "A")),
    "rating-below-pressure": lambda e, n: (
        f"{n} holds {_bars(e)[0]} on its {e.about} side, {_bars(e)[1]} is needed."
    ),
    "cap-too-weak": lambda e, n: (
        "{} holds {}, and has to hold {}: a tenth more than it opens at.".format(n, *_bars(e))
    ),
    "too-hot": lambda e, n: "{0} stands {2}, the charge arrives at {1} at full power.".format(n, *_celsius(e)),
    "too-cold": lambda e, n: "{0} stands cold down to {2}, it meets {1} here.".format(n, *_celsius(e)),
    "charge-loss-over-limit": lambda e, n: (
        "{} takes {} of the charge pressure, {} is allowed.".format(n, *_told(e, "kPa", 1e3))
    ),
    "no-zone-takes-it": lambda e, n: f"No zone of the bay takes a part of this kind ({e.found}).",
    "obstacle-in-the-way": lambda e, n: f"{n} is kept out by an obstacle: {e.about}.",
    "does-not-fit": lambda e, n: (
        f"{n} misses the zone '{e.about}' by {float(e.found or 0):.0f} mm in {SIDE_WORDS[e.side]} (its outer "
        "box, turned the way that misses least)."
    ),
    "way-in-too-small": lambda e, n: (
        f"{n} does not pass the way into the zone '{e.about}', by {float(e.found or 0):.0f} mm."
    ),
    "ends-face-wrong": lambda e, n: f"{n} cannot be turned so that its ends face as the zone asks: {e.about}.",
    "no-room-before-ends": lambda e, n: (
        f"{n} goes in, but fitting, hand and hose bend find no room before {e.about}. Under `open` in "
        "the brief, name the walls of that zone that hoses may go through, and ask again."
    ),
    "no-kit-goes-in": lambda e, n: f"{n} would go in, but the parts that have to go with it find no room.",
    "fan-overhangs": lambda e, n: f"{n} is larger than every single exchanger that is left for it to stand behind.",
    "voltages-differ": lambda e, n: f"{n} is for {float(e.found or 0):g} V, {e.about}: a kit is of one voltage.",
    "no-loop": lambda e, n: f"{n}: no loop is left that it could serve; see the exclusions of the others.",
    "too-high": lambda e, n: (
        f"{n} goes in, but not so that the pump's inlet lies {PUMP_UNDER_MM} mm under the liquid's surface and nothing "
        f"without a bleed stands above it ({e.about})."
    ),
    "ends-do-not-meet": lambda e, n: f"{n} cannot be joined: {_ended(e.about)}",
    "suction-hose": lambda e, n: f"{n} has no hose between reservoir and pump: {e.about}.",
    "joins-nothing": lambda e, n: (
        f"{n}: no part that is left goes with it by ends, bores and ratings."
    ),
    "none-left": lambda e, n: f"{n} is out because no {e.about} is left to go with it.",
    "warms-ice": lambda e, n: (
        f"{n} in circuit would warm the iced water by {float(e.found or 0) / 1e3:.1f} kW in the drive's fastest air: "
        "leave it out, or bypass it while there is ice."
    ),
    "not-for-ice": lambda e, n: f"{n} is no ice tank: no ice goes into it (ice: true where it has a hatch).",
    "ice-over-tank": lambda e, n: (
        "{0} holds {2} to its brim, heaped ice takes {1}: less ice, or a larger tank.".format(n, *_told(e, "L", 1e-3))
    ),
    "impossible-point": lambda e, n: f"{n} claims what its arrangement cannot do: {e.about}.",
    "no-core-joins": lambda e, n: f"{n} is out because no core that is left can be joined to the engine.",
    "no-room-together": lambda e, n: (
        f"{n} fits alone, but not together with the parts that share its zone: {e.about or 'none of them'}."
    ),
    "aim-missed": lambda e, n: (
        "The coolest kit with {} lets the charge reach {}, {} is the aim".format(n, *_celsius(e))
        + f"{f'; it misses another demand too: {e.about}' if e.about else ''}."
    ),
    "over-limits": lambda e, n: (
        f"Every kit with {n} that meets the aim breaks a limit of the brief: {e.about}."
    ),
    "place-taken": lambda e, n: f"{n} has no place: the {e.about} that the car has ({e.found}) stays.",
    "not-asked-for": lambda e, n: (
        f"{n} is not in question: fans and timers come into a kit only where the aim is after a standstill "
        "(aim: after), a timer only where the brief does not say itself how long the pump runs on (after_run)."
    ),
    "serves-nothing": lambda e, n: f"{n} is on the bill of no kit: {_ended(e.about)}",
    "unknown-end": lambda e, n: f"{n} has an end that is not known: {_ended(e.about)}",
    "shelf-serves": lambda e, n: (
        f"{n} is on the bill of no kit: what joins and wires a kit is taken off the shelf alone, for "
        "the brief does not say how much of your own there is."
        + (f" It goes into a joint here, and stands what is seen there: {e.about}." if e.about else "")
    ),
    "other-medium": lambda e, n: f"{n} is for {e.found}: hoses of a kit carry {e.limit}.",
    "no-kit-to-serve": lambda e, n: f"{n} is on the bill of no kit: with this brief none can be made at all.",
    "refused-there": lambda e, n: f"{n} fits a joint of these kits and does not stand it: {e.about}.",
    "all-stopped": lambda e, n: f"{n} is out because no kit can be made at all. {e.about}",
}

_CAUSES = {
    "not-wanted": "not wanted",
    "another-wanted": "the brief wants another",
    "not-in-stock": "not in stock",
    "price-over-limit": "costs more alone than the whole kit may",
    "mass-over-limit": "weighs more alone than the whole kit may",
    "coolant-banned": "must not be filled with this coolant",
    "current-over-limit": "draws more current than is to spare",
    "rating-below-pressure": "pressure rating too low",
    "cap-too-weak": "a cap rated below what it sees until it opens",
    "too-hot": "would not stand the charge temperature",
    "too-cold": "would not stand the cold",
    "charge-loss-over-limit": "takes too much charge pressure",
    "no-zone-takes-it": "no zone takes it",
    "obstacle-in-the-way": "an obstacle is in the way",
    "does-not-fit": "too large for every zone that takes it",
    "way-in-too-small": "does not pass the way into its zone",
    "ends-face-wrong": "its ends cannot face as the zone asks",
    "no-room-before-ends": "no room before its ends for fitting, hand and bend",
    "no-kit-goes-in": "the parts that have to go with it find no room",
    "fan-overhangs": "larger than the exchanger it would stand behind",
    "voltages-differ": "for another voltage than the parts it would stand beside",
    "no-loop": "no loop is left that it could serve",
    "too-high": "the heights of surface, pump and high points cannot be kept",
    "ends-do-not-meet": "its ends cannot be joined",
    "suction-hose": "no hose for the pump's suction",
    "none-left": "no part of another kind is left to go with it",
    "joins-nothing": "no part that is left goes with it by ends, bores and ratings",
    "warms-ice": "would warm the iced water",
    "not-for-ice": "no ice goes into it",
    "ice-over-tank": "too small for the ice",
    "impossible-point": "a measured point that its arrangement cannot reach",
    "no-core-joins": "no core can be joined to the engine",
    "no-room-together": "no room beside the parts that share its zone",
    "aim-missed": "every kit with it misses the aim",
    "over-limits": "every kit with it breaks a limit of the brief",
    "place-taken": "the car's own part of this kind stays",
    "not-asked-for": "the brief asks for no standstill",
    "serves-nothing": "no joint or motor of these kits takes it",
    "refused-there": "fits a joint of these kits and does not stand it",
    "unknown-end": "an end of it is not known",
    "shelf-serves": "your own, and such pieces are taken off the shelf",
    "other-medium": "made for another medium",
    "no-kit-to-serve": "no kit can be made at all",
    "all-stopped": "one rule stops every kit",
}
