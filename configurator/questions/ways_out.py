"""Where there is no kit: which demands together leave none, and by how much each of them would have to give way.

Limits follow from the figures of the kits that there are (`search/loosening.py`). Everything else is searched for: by
halving over the few parts that come nearest, and then, with every part, at one step less, where there must be no kit.
Never in question: ratings, mating rules, cap, freezing, boiling, wire, obstacles; and never more power or boost.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass

from configurator.brief.driving import Driving
from configurator.brief.request import Brief
from configurator.brief.tables import Tables
from configurator.parts.own import OwnPart
from configurator.parts.shelf import Catalogue
from configurator.questions.changed_brief import Asked, with_changes, with_coolant, without_limits
from configurator.questions.choices import (
    ADAPTER,
    COOLANT,
    adapter_ways,
    coolant_choice,
    coolant_ways,
    less_ice,
    no_front,
    other_coolants,
)
from configurator.questions.conflict import Demand, also_alone, conflict
from configurator.questions.few_parts import few, holds_all, kept_out, warm_kits
from configurator.questions.further import Further, whole_shelf
from configurator.questions.levers import Lever, levers
from configurator.questions.searches import Searched, cut, kept, make_job
from configurator.search.loosening import Change, Choice, boil_margin_of, looser_limits
from configurator.search.patience import UNHURRIED, Patience

_LIMIT_CODES = {"price-over-limit", "mass-over-limit", "current-over-limit", "charge-loss-over-limit"}


@dataclass(frozen=True)
class Way:
    """One way out: what has to change, all of it together.

    `least`: whether it is known that less would not do; None of a choice, which has no less. `boil_margin_k`: how near
    boiling the coolant of its kits comes, where that was looked at.
    """

    changes: tuple[Change | Choice, ...]
    least: bool | None = True
    boil_margin_k: float | None = None


@dataclass(frozen=True)
class WaysOut:
    """A smallest set of demands that leave no kit, the nearest ways out, and what was not tried for want of time.

    `conflict` is empty where no limit that may give way stands in the way: then the shelf itself has no kit. None where
    it was not looked for. `also_alone`: where the conflict is one demand, rooms that are one too.
    `no_one_side`: zones of the conflict of which no one side, larger as far as is tried, gives a kit.
    """

    conflict: tuple[Demand, ...] | None
    ways: tuple[Way, ...]
    not_tried: tuple[str, ...]
    also_alone: tuple[Demand, ...] = ()
    no_one_side: tuple[str, ...] = ()


def ways_out(further: Further, found: Sequence[Searched]) -> WaysOut:
    """Why a search found no kit, and what would; `found` is that search."""
    choices = [Way((choice,), least=None) for choice in coolant_ways(further, found)]
    ice = less_ice(further, found)
    choices += [] if ice is None else [Way((ice,))]
    choices += [Way(adapters, least=None) for adapters in adapter_ways(further, found, further.asked)]
    front = front_left_out(further, found)
    demands, ways = demands_and_limits(further, found, [*choices, *front])
    singles = [way for way in (*ways, *choices) if len(way.changes) == 1]
    zones = [zone for demand in demands for zone in demand.zones if " + " not in zone]
    of_levers = [*single_ways(further, found, zones, [demand.code for demand in demands])]
    singles += of_levers
    larger = {change.zone for way in of_levers for change in way.changes if isinstance(change, Change)}
    rooms = [lever for lever in levers(further.job) if lever.of_room and lever.words in further.not_tried]
    untried = [zone for lever in rooms for zone in lever.zones]
    stuck = tuple(zone for zone in zones if zone not in {*larger, *untried})
    also = tuple(also_alone(further, found, demands[0])) if len(demands) == 1 and not (singles or front) else ()
    told = (*(singles or (*choices, *ways)), *front)
    return WaysOut(demands, told, tuple(dict.fromkeys(further.not_tried)), also, stuck)


def front_left_out(further: Further, found: Sequence[Searched]) -> list[Way]:
    """No front exchanger, where that makes a kit: told beside the others, for it is another kind of loop."""
    choice = no_front(further, found)
    return [] if choice is None else [Way((choice,), least=None)]


def ways_out_of_frost(
    brief: Brief,
    driving: Driving,
    own: tuple[OwnPart, ...],
    catalogue: Catalogue,
    tables: Tables,
    tell: Callable[[str], None],
    patience: Patience = UNHURRIED,
) -> WaysOut:
    """Where no welcome coolant survives the coldest night: which other kind does, and whether it gives a kit.

    The night stands. The first kind is tried with the whole shelf, the next with the parts of the kits it has, while
    `patience` lasts.
    """
    asked: Asked = (brief, driving)
    shelf = catalogue
    survives, ways, not_tried = False, list[Way](), list[str]()
    for kind in other_coolants(brief):
        job = make_job(*with_coolant(asked, kind), own, shelf, tables)
        if job is not None and patience.over():
            survives = True
            not_tried.append(COOLANT)
            continue
        found = () if job is None else whole_shelf(job, tell, patience=patience)
        survives = survives or job is not None
        if kept(found):
            shelf = few(catalogue, found)
            ways.append(Way((coolant_choice(brief, kind),), least=None))
        elif cut(found):
            not_tried.append(COOLANT)
    return WaysOut((Demand(COOLANT),) if survives else (), tuple(ways), tuple(dict.fromkeys(not_tried)))


def demands_and_limits(
    further: Further, found: Sequence[Searched], choices: Sequence[Way] = ()
) -> tuple[tuple[Demand, ...], list[Way]]:
    """A smallest set of demands that leave no kit, and how limits alone would have to give way.

    `choices`: ways that no limit is part of, whose demands are named.
    """
    relaxed = _whatever_limits(further, found)
    kits = further.wanting(relaxed)
    sure = dict.fromkeys(Demand(way.changes[0].what) for way in choices)
    if not kits and not choices and adapter_ways(further, relaxed, without_limits(further.asked)):
        sure = {Demand(ADAPTER): None}
    demands = conflict(further, kits, found, tuple(sure))
    looser = looser_limits(further.limits, kits)
    sound = [changes for changes in looser if further.sound(changes, relaxed, found)]
    return demands, [Way(changes, boil_margin_k=boil_margin_of(changes, further.limits, kits)) for changes in sound]


def _whatever_limits(further: Further, found: Sequence[Searched]) -> Sequence[Searched]:
    """What there is without limits: as found, unless a limit kept a part out before it was tried in any kit."""
    if kept_out_by_limits(found):
        return further.whole(without_limits(further.asked))
    return found


def kept_out_by_limits(found: Sequence[Searched]) -> bool:
    """Whether a limit alone kept a part out before it was tried in any kit."""
    return any(exclusion.code in _LIMIT_CODES for one in found for exclusion in one.parts.exclusions)


def single_ways(
    further: Further, found: Sequence[Searched], zones: Sequence[str] = (), demands: Sequence[str] = ()
) -> Iterator[Way]:
    """Every lever that alone gives a kit, moved as little as it can be.

    `zones`: whose room is known to matter; `demands`: of the conflict, which matter without a kit that is too warm.
    """
    warm = warm_kits(found)
    tried: dict[str, tuple[Lever, Way | None]] = {}
    for lever in levers(further.job):
        matters = kept_out(found, lever.zones) or not set(zones).isdisjoint(lever.zones)
        if not (matters if lever.of_room else warm or lever.words in demands):
            continue
        if further.patience.over():
            further.not_tried.append(lever.words)
            continue
        tried[lever.words] = lever, _least(further, lever, further.few(found, lever.zones))
    in_question = _in_question(tried.values(), zones, demands)
    if in_question:
        further.look_again()
    for lever in in_question:
        tried[lever.words] = lever, _of_whole_shelf(further, lever, further.few(found, lever.zones))
    yield from (way for _, way in tried.values() if way is not None)


def _in_question(
    tried: Collection[tuple[Lever, Way | None]], zones: Sequence[str], demands: Sequence[str]
) -> tuple[Lever, ...]:
    """The levers of the conflict that few parts say nothing good of: of rooms no side of which helps, first.

    The others only where nothing helps at all.
    """
    helps = [lever for lever, way in tried if way is not None]
    stuck = {*zones} - {zone for lever in helps for zone in lever.zones}
    without = [lever for lever, way in tried if way is None]
    rooms = [lever for lever in without if lever.of_room and not stuck.isdisjoint(lever.zones)]
    return (*rooms, *(lever for lever in without if not helps and lever.words in demands))


def _of_whole_shelf(further: Further, lever: Lever, shelf: Catalogue) -> Way | None:
    """The least move of a lever whose last step no few parts make a kit at: with those of a kit that the shelf has."""
    if lever.first == lever.last or holds_all(further.job.catalogue, shelf):
        return None
    if further.spent:
        further.not_tried.append(lever.words)
        return None
    found = further.whole(_moved(further, lever, lever.last))
    better = kept(found)
    if not better:
        further.not_tried += [lever.words] if cut(found) else []
        return None
    return _least(further, lever, further.with_best(shelf, better))


def _least(further: Further, lever: Lever, shelf: Catalogue) -> Way | None:
    """The least move of a lever at which there is a kit; one step less, the whole shelf has none."""
    none, some = lever.first, lever.last
    if none == some or not further.any_of(_moved(further, lever, some), shelf):
        return None
    while True:
        while abs(some - none) > 1:
            middle = (some + none) // 2
            if further.any_of(_moved(further, lever, middle), shelf):
                some = middle
            else:
                none = middle
        if none == lever.first or holds_all(further.job.catalogue, shelf):
            return Way(lever.changes(some))
        if further.spent:
            return Way(lever.changes(some), least=False)
        found = further.whole(_moved(further, lever, none))
        better = kept(found)
        if not better:
            return Way(lever.changes(some), least=not cut(found))
        shelf = further.with_best(shelf, better)
        some, none = none, lever.first


def _moved(further: Further, lever: Lever, step: int) -> Asked:
    return with_changes(further.asked, lever.changes(step))
