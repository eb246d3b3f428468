"""Where a large shelf has no kit: what of the brief, changed alone, would give one.

A way is found with the few parts of the kits that come near. Whether less would do is then looked for on the whole
shelf, for so long as one look may take; where that was not to be known, the way says so. Which demands rule each other
out, and what adapters would help, follows from every kit that there is: that is not looked for here.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from configurator.parts.shelf import Catalogue
from configurator.questions.best_alone import that_come_near
from configurator.questions.changed_brief import with_changes, without_limits
from configurator.questions.choices import coolant_ways
from configurator.questions.further import Further, coolest_first
from configurator.questions.searches import Searched, cut, kept
from configurator.questions.ways_out import Way, WaysOut, front_left_out, kept_out_by_limits, single_ways
from configurator.search.best_so_far import Order
from configurator.search.loosening import Change, looser_limits


def _cheapest_first(scores: Any) -> tuple[Any, ...]:
    return scores.price_cents, scores.ids


def _lightest_first(scores: Any) -> tuple[Any, ...]:
    return scores.mass_g, scores.price_cents, scores.ids


_ORDERS: Mapping[str, Order] = {"price": _cheapest_first, "mass": _lightest_first}


def ways_on_large(further: Further, near: Sequence[Searched]) -> WaysOut:
    """What would give a kit; `near`: a search for those that come near."""
    limits = [*_limits(further, near)]
    choices = [Way((choice,), least=None) for choice in coolant_ways(further, near)]
    alone = [*(way for way in limits if len(way.changes) == 1), *choices, *single_ways(further, near)]
    told = (*(alone or limits), *front_left_out(further, near))
    return WaysOut(None, told, tuple(dict.fromkeys(further.not_tried)))


def _limits(further: Further, near: Sequence[Searched]) -> Iterator[Way]:
    """The fewest limits that give a kit where they alone give way; by how much each that is enough alone."""
    shelf = further.few(near)
    looser = _looser(further, shelf)
    unlimited = further.job_of(without_limits(further.asked))
    if not looser and unlimited is not None and kept_out_by_limits(near):
        shelf = further.few(that_come_near(unlimited, 1, further.tell, further.patience))
        looser = _looser(further, shelf)
    for changes in looser:
        yield _least(further, changes[0], shelf) if len(changes) == 1 else Way(changes, least=False)


def _looser(further: Further, shelf: Catalogue) -> list[tuple[Change, ...]]:
    """The fewest limits that let in a kit of few parts, and by how much."""
    kits = further.wanting(further.of_few(without_limits(further.asked), shelf))
    ways = looser_limits(further.limits, kits)
    # a looser aim may need a coupler that the shelf does not have
    return [changes for changes in ways if further.any_of(with_changes(further.asked, changes), shelf)]


def _least(further: Further, change: Change, shelf: Catalogue) -> Way:
    """The least that one limit has to give way: one step less, the whole shelf has no kit, or none in the time."""
    while True:
        steps = further.limits[change.what].steps
        less = replace(change, after=(round(change.after * steps) - 1) / steps)
        if less.after <= change.before:
            return Way((change,))
        if further.spent:
            return Way((change,), least=False)
        found = further.whole(with_changes(further.asked, [less]), _ORDERS.get(change.what, coolest_first))
        better = kept(found)
        if not better:
            return Way((change,), least=not cut(found))
        shelf = further.with_best(shelf, better)
        alone = [ways[0].after for ways in _looser(further, shelf) if [one.what for one in ways] == [change.what]]
        change = replace(change, after=min([less.after, *alone]))
