"""Ways out and conflicts in words: what the brief would have to say instead, and which demands rule each other out."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence

from configurator.foundations.units import UNITS, in_unit
from configurator.parts.kinds import NEEDED_TO_JOIN
from configurator.reasons.thresholds import LEAST_BOIL_MARGIN_K
from configurator.search.loosening import Change, Choice
from configurator.standards.articles import with_article

NO_SHELF = (
    "No limit of the brief stands in the way: whatever kit is put together from this shelf, it does not join, hold or "
    "fit. The parts left out say why."
)
NOT_KNOWN = (
    "Whether a demand of the brief stands in the way is not known: some were not tried to the end. The parts left out "
    "say why."
)
_CARRIES = "measure again, and cut or move nothing that carries load, guards a crash or holds a sensor"

_DEMANDS: dict[str, str] = {
    "aim": "the aim",
    "price": "the price limit",
    "mass": "the mass limit",
    "current": "the current to spare",
    "charge loss": "the limit on charge loss",
    "wanted": "the parts wanted (`wanted`)",
    "without": "the parts not wanted (`without`)",
    "in_stock": "what is in stock",
    "power": "the engine's power and boost",
    "driving": "how hard it is driven",
    "front area": "the front area and the air speed at it",
    "room": "the room in",
    "coolant kinds": "the coolant kinds that are welcome",
    "adapter": "a missing adapter or coupler",
    "ice": "how much ice goes into the tank",
    "front exchanger": "a front exchanger in the loop",
}


def demand_text(code: str, zones: tuple[str, ...]) -> str:
    """One demand in few words."""
    if code == "room":
        return f"{_DEMANDS[code]} {' and '.join(map(repr, zones))}"
    return f"{_DEMANDS[code]} ({', '.join(zones)})" if zones else _DEMANDS[code]


def lacking_text(kinds: Sequence[str], *, mended: bool = False) -> str:
    """What to do about kinds of part of which a shelf has none; hose and clamps are bought, whoever has some.

    `mended`: whether a way out does without.
    """
    own = "" if set(kinds) & {*NEEDED_TO_JOIN} else ", or name the customer's under `own`"
    mend = f"put {' and '.join(map(with_article, kinds))} on the shelf{own}"
    return f"P{mend[1:]}; or do without, as below." if mended else f"No change of the brief mends that: {mend}."


def no_one_side_text(zones: Sequence[str], most_mm: int) -> str:
    """Zones whose room is in the way, where none of their sides alone helps."""
    if not zones:
        return ""
    named = " and ".join(f"'{zone}'" for zone in zones)
    return f" For {named} no way out was found: to make one side up to {most_mm} mm larger did not help."


def conflict_text(
    demands: tuple[tuple[str, tuple[str, ...]], ...], also_alone: tuple[tuple[str, tuple[str, ...]], ...] = ()
) -> str:
    """Why there is no kit: each demand's code and zones; `also_alone`: those that are enough by themselves as well."""
    if not demands:
        return NO_SHELF
    words = [demand_text(code, zones) for code, zones in demands]
    if demands in ((("adapter", ()),), (("front exchanger", ()),)):
        return f"One thing alone rules out every kit of this shelf in this car: {words[0]}."
    if len(words) == 1 and also_alone:
        each = "; ".join([*words, *(demand_text(code, zones) for code, zones in also_alone)])
        return f"Each of these alone rules out every kit of this shelf in this car: {each}."
    if len(words) == 1:
        return f"One demand alone rules out every kit of this shelf in this car: {words[0]}."
    listed = f"{', '.join(words[:-1])} and {words[-1]}"
    return (
        f"Together these rule out every kit of this shelf in this car: {listed}. Give up any one of them, and that is "
        "out of the way; another cause may lie behind it, which the ways out reckon with."
    )


def way_text(changes: tuple[Change | Choice, ...], currency: str) -> str:
    """One way out; what has to change together stands in one sentence."""
    told = {change.what: change for change in changes if isinstance(change, Change)}
    texts = [
        _CHOICES[change.what](change)
        if isinstance(change, Choice)
        else _TEXTS[change.what](change, currency, told)
        for change in changes
        if change.what != "boost"
    ]
    pieces = [change for change in changes if isinstance(change, Choice) and change.what == "adapter"]
    tried = dict.fromkeys(_TRIED_COUPLER if _is_coupler(piece) else _TRIED for piece in pieces)
    return f"{', together with '.join(texts)}{''.join(tried)}"


def in_whole_steps(changes: Sequence[Change | Choice]) -> str:
    """` in whole kelvin and kW`: the coarse steps in which these are searched, so that a part of one may do as well."""
    steps = {_STEPS.get(change.what, "") for change in changes if isinstance(change, Change)}
    steps |= {"%" for change in changes if isinstance(change, Change) and change.what == "air" and change.unit == "%"}
    named = [step for step in ("kelvin", "kW", "%") if step in steps]
    return f" in whole {' and '.join(', '.join(named).rsplit(', ', 1))}" if named else ""


def near_boiling_text(boil_margin_k: float) -> str:
    """What stands beside a way whose kits run their coolant near boiling [K]."""
    usual = f"{LEAST_BOIL_MARGIN_K:g} K is usual"
    return f"coolant comes to as little as {boil_margin_k:.0f} K below boiling there, and {usual}"


def _adapter(c: Choice) -> str:
    return f"one {'coupler' if _is_coupler(c) else 'adapter'} from {_end(c.before)} to {_end(c.after)}"


def _is_coupler(c: Choice) -> bool:
    return str(c.before).startswith("coupler:")


def _end(code: str) -> str:
    """An end as `form:size:sex` in words."""
    form, size, *more = code.split(":")
    size = f"{size.removesuffix('mm')} mm" if size.endswith("mm") else size
    if form == "coupler":
        return size
    if form == "spigot":
        return f"hose barb {size}" if "barb" in more else f"spigot {size}"
    return " ".join((form, size, *more))


_TRIED = (
    " (on the shelf; tried as 60 mm long, for 10 bar and -40 to 130 degC; its own price and mass come on top)"
)
_TRIED_COUPLER = (
    " (on the shelf; tried as lined, 60 mm long, for 10 bar and up to 230 degC; its own price and mass come on top)"
)


_NO_FRONT = (
    "no front exchanger (`without: [exchanger]`): then nothing takes the heat out of the coolant but standing for "
    "hours, and a drive soon after another starts as warm as that one ended"
)


def _figure(value: float) -> str:
    return f"{value:,.2f}".rstrip("0").rstrip(".")


_KINDS = {
    "degC": "temperature",
    "K": "temperature difference",
    "kW": "power",
    "bar": "pressure",
    "kPa": "pressure",
    "kg": "mass",
    "A": "current",
    "mm": "length",
    "m/s": "speed",
    "%": "share",
}
"""Of which kind of quantity the figures of a change are, by their unit."""


_STEPS = {"aim": "kelvin", "start": "kelvin", "power": "kW", "driving": "%"}
"""What is searched in whole units of; the steps of the rest are too small to matter."""


def _instead(c: Change, over: str = "") -> tuple[str, str]:
    """What a figure is changed to, and from, in the unit of the brief; beside it in the usual one where that is other.

    Rounded to the side that helps, so that it can be written into the brief as it stands.
    """
    usual = f"{_figure(c.after)} {c.unit}{over}"
    units = UNITS[_KINDS[c.unit]]
    if not c.written or units[c.written] == units[c.unit]:
        return usual, f"{_figure(c.before)} {c.unit}"
    rounding = math.ceil if c.after > c.before else math.floor
    before, after = (in_unit(figure, c.unit, c.written, _KINDS[c.unit]) for figure in (c.before, c.after))
    told = rounding(round(after * 100, 6)) / 100
    return f"{_figure(told)} {c.written} ({usual})", f"{_figure(before)} {c.written}"


def _plain(name: str) -> Callable[[Change, str, Mapping[str, Change]], str]:
    def text(c: Change, currency: str, told: Mapping[str, Change]) -> str:
        after, before = _instead(c)
        return f"{name} of {after} instead of {before} (+{_figure(round(c.after - c.before, 4))} {c.unit})"

    return text


def _aim(c: Change, currency: str, told: Mapping[str, Change]) -> str:
    after, before = _instead(c, " above the air" if c.unit == "K" else "")
    return f"an aim of {after} instead of {before} (+{_figure(round(c.after - c.before, 2))} K)"


def _price(c: Change, currency: str, told: Mapping[str, Change]) -> str:
    unit = f" {currency}" if currency else ""
    more = _figure(round(c.after - c.before, 2))
    return f"a price limit of {_figure(c.after)}{unit} instead of {_figure(c.before)}{unit} (+{more})"


def _power(c: Change, currency: str, told: Mapping[str, Change]) -> str:
    boost = told["boost"]
    (power_after, power_before), (boost_after, boost_before) = _instead(c), _instead(boost)
    if _figure(boost.after) == _figure(boost.before):
        return f"power of {power_after} instead of {power_before}, at the same boost"
    return f"power of {power_after} with {boost_after} of boost instead of {power_before} with {boost_before}"


def _air(c: Change, currency: str, told: Mapping[str, Change]) -> str:
    what = "an air speed" if c.unit == "m/s" else "a share of road speed"
    after, before = _instead(c)
    return f"{what} at {c.zone} of {after} instead of {before}"


def _size(c: Change, currency: str, told: Mapping[str, Change]) -> str:
    after, before = _instead(c)
    return f"{c.zone} {after} {c.what} instead of {before} ({_CARRIES})"


def _ice(c: Change, currency: str, told: Mapping[str, Change]) -> str:
    after, before = _instead(c)
    return f"{after} of ice in the tank instead of {before}, and more between passes"


def _start(c: Change, currency: str, told: Mapping[str, Change]) -> str:
    after, before = _instead(c)
    return f"coolant that starts at {after} instead of {before}"


_TEXTS: dict[str, Callable[[Change, str, Mapping[str, Change]], str]] = {
    "aim": _aim,
    "price": _price,
    "mass": _plain("a dry mass"),
    "current": _plain("a current"),
    "charge loss": _plain("a charge loss"),
    "power": _power,
    "driving": lambda c, currency, told: f"a milder drive: every share of power at {_figure(c.after)} % of what it is",
    "start": _start,
    "ice": _ice,
    "air": _air,
    "wide": _size,
    "high": _size,
    "deep": _size,
}

_CHOICES: dict[str, Callable[[Choice], str]] = {
    "coolant kinds": lambda c: f"{c.after} as the coolant instead of {c.before}, if your circuit allows it",
    "adapter": _adapter,
    "front exchanger": lambda c: _NO_FRONT,
}
