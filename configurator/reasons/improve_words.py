"""Single changes of a kit in the trade's words: what goes in, what it brings, and which limit it breaks."""

from __future__ import annotations

from collections.abc import Sequence

from configurator.parts.layouts import Twins
from configurator.search.loosening import Change

LIMITS = {
    "aim": "misses the aim",
    "price": "over the price limit",
    "mass": "over the mass limit",
    "current": "over the current limit",
    "charge loss": "over the limit on charge loss",
    "coolant temperature": "coolant hotter than its parts stand",
    "coolant boils": "its coolant boils",
}

_NAMES = {
    "exchanger": ("a larger front", "another front"),
    "core": ("a larger core", "another core"),
    "pump": ("another pump", "another pump"),
    "reservoir": ("a larger tank", "another tank"),
    "fan": ("another fan", "another fan"),
    "timer": ("another timer", "another timer"),
    "fan and timer": ("a fan with an after-run timer", "a fan with an after-run timer"),
    "hose": ("wider hose", "wider hose"),
    "first exchanger": ("a front", "a front"),
    "second exchanger": ("a second front like the first", "a second front like the first"),
    "second core": ("a second core like the first", "a second core like the first"),
    "coolant": ("another share of antifreeze", "another share of antifreeze"),
    "duct": ("a duct sealed to the fins", "a duct sealed to the fins"),
    "start": ("coolant chilled before the start", "coolant chilled before the start"),
    "ice": ("more ice", "more ice"),
}
_ADDED = {"fan": "a fan", "timer": "an after-run timer"}
_OF_BRIEF = {
    "duct": "this takes {after} of the road speed at the fins instead of {before}; a usual figure, measure yours. The "
    "shelf sells no duct, and what it takes from a radiator is not counted",
    "start": "only where the class allows it, and only for the first run unless it is chilled again. Coolant below the "
    "dew point of the charge sheds water in the core: drain the charge side",
    "ice": "the shelf sells no ice",
    "coolant": "as far as the coldest night of the brief lets; a garage colder than that bursts the loop",
    "first exchanger": "against what the brief does not want",
}


def kind_words(kind: str, *, larger: bool = True, added: bool = False) -> str:
    """A kind of change in few words; `added`: nothing is taken out for it."""
    if added and kind in _ADDED:
        return _ADDED[kind]
    return _NAMES[kind][0 if larger else 1]


def change_words(
    kind: str,
    part: str | None,
    replaced: str | None,
    along: Sequence[str],
    change: Change | None,
    twins: Twins,
    *,
    larger: bool,
) -> str:
    """One change in few words, with the ids of what goes in; `twins`: of the layout that the kit then has."""
    if change is not None:
        return _brief_words(kind, change)
    if part is None:
        return f"without the {kind.replace(' and ', ' and the ')}"
    words = kind_words(kind, larger=larger, added=replaced is None)
    words = words.removeprefix("a ").removeprefix("an ")
    if kind.startswith("second"):
        of = kind.rpartition(" ")[2]
        words = f"second {'front' if kind.endswith('exchanger') else 'core'} in {dict(twins)[of]}"
    return f"{words}: {' + '.join((part, *along))}"


def note_of(kind: str, change: Change | None) -> str:
    """What has to be known of a change that the brief, and not the shelf, decides; empty for others."""
    note = _OF_BRIEF.get(kind, "")
    if kind == "coolant" and change is not None and change.after > change.before:
        return ""
    if change is None or "{" not in note:
        return note
    return note.format(before=_share(change.before), after=_share(change.after))


def _brief_words(kind: str, change: Change) -> str:
    if kind == "coolant":
        return "plain water, no antifreeze" if change.after == 0 else f"antifreeze {_share(change.after)}"
    if kind == "duct":
        return f"duct sealed to the fins ({change.zone})"
    if kind == "ice":
        return f"more ice: {change.after:.4g} kg"
    return f"coolant chilled to {change.after:.4g} degC"


def _share(per_cent: float) -> str:
    return f"{per_cent:.3g} %"
