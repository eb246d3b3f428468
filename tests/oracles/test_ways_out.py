"""Where trying everything finds no kit: each way out gives one, a step less none, and the conflict is a smallest.

The brief is changed as it is written, not by the program; the judge is the one that tries everything.
"""

from __future__ import annotations

import copy
import math
from collections import Counter
from collections.abc import Iterable, Iterator
from functools import cache
from random import Random
from typing import Any

import pytest

from configurator.questions.changed_brief import without_limits
from configurator.questions.conflict import Demand
from configurator.questions.searches import make_job, search
from configurator.questions.suggest import suggest
from configurator.questions.ways_out import WaysOut
from configurator.search.loosening import (
    SOFT,
    Change,
    Choice,
    Wanting,
    limits_of,
    looser_limits,
    smallest_conflict,
    wanting,
)
from tests.oracles.comparison import judged, shelf
from tests.oracles.shelves import Shelf, shelf_of
from tests.oracles.try_everything import every_kit

TIGHT = (
    10, 25, 34, 37, 44, 48, 76, 83, 85, 86, 87, 91, 92, 94, 97, 104, 123, 137, 144, 149, 155, 158, 164, 165, 167, 170,
    177, 180, 189, 197, 202,
)  # fmt: skip
"""Shelves whose kits all break limits, and that are soon tried."""

WHOLE = (25, 31, 33)
"""Shelves for all that is not a limit: air, power and drive; power alone; a zone too low."""

STEP = {"aim": 1, "price": 1, "mass": 0.01, "current": 0.1, "charge loss": 0.1, "power": -1, "driving": -1, "start": -1}
LIMITS = {"price": "price", "mass": "mass_dry", "current": "current"}

Tree = dict[str, Any]


def tightened(seed: int) -> Shelf:
    """The shelf of a seed with kits, asked for a little more than any of them does: in one demand or in two at once."""
    of, kits = shelf(seed), judged(seed)
    if not kits:
        return of
    r = Random(f"tightened {seed}")
    brief = copy.deepcopy(of.written["brief"])
    key = "charge_air" if "charge_air" in brief["aim"] else "above_air"
    figure, unit = brief["aim"][key].split()
    cents, grams = min(kit.price_cents for kit in kits), min(kit.mass_g for kit in kits)
    margin_k, loss = max(kit.margin_k for kit in kits), min(kit.charge_loss for kit in kits)
    spared = r.choice((0, 0, 1))
    limits: dict[str, Any] = {
        "price": {"price": cents / 100 - r.choice((0.5, 40))},
        "mass_dry": {"mass_dry": f"{grams / 1000 - r.choice((0.01, 0.4)):.3f} kg"},
        "aim": {key: f"{float(figure) + math.ceil(-margin_k) - r.choice((1, 6))} {unit}"},
        "charge_loss": {"charge_loss": f"{loss / 1000 - r.choice((0.1, 1)):.2f} kPa"},
        "current": {"current": f"{r.choice((3, 4.5))} A"},
    }
    for name in r.sample(sorted(limits), 1 + spared):
        brief.setdefault("aim" if name in ("aim", "charge_loss") else "limits", {}).update(limits[name])
    return shelf_of({**of.written, "brief": brief}, seed)


@cache
def hard(seed: int) -> Shelf:
    return tightened(seed)


@cache
def ways(seed: int) -> WaysOut:
    """What the program says of a shelf that has no kit."""
    of = hard(seed)
    answer = suggest(of.brief, of.driving, of.own, "", of.catalogue, of.tables)
    assert answer.outcome == "no_kit" and answer.ways_out is not None
    return answer.ways_out


def has_kit(seed: int, brief: Tree) -> bool:
    """Whether trying everything finds a kit for a brief on the shelf of a seed."""
    return bool(every_kit(shelf_of({**hard(seed).written, "brief": brief}, seed)))


def asked(seed: int) -> Tree:
    """The brief of a seed as it is written."""
    return copy.deepcopy(hard(seed).written["brief"])


def changed(brief: Tree, change: Change | Choice, after: float | str) -> Tree:
    """The brief with a change written into it."""
    if isinstance(change, Choice):
        assert change.what == "front exchanger", change
        return no_front(brief)
    assert isinstance(after, float | int)
    figure = f"{round(after, 6):g} {change.unit}"
    if change.what == "aim":
        brief["aim"]["charge_air" if change.unit == "degC" else "above_air"] = figure
    elif change.what == "charge loss":
        brief["aim"]["charge_loss"] = figure
    elif change.what in LIMITS:
        brief["limits"][LIMITS[change.what]] = after if change.what == "price" else figure
    elif change.what in ("power", "boost"):
        brief["engine"][change.what] = figure
    elif change.what == "driving":
        for stretch in brief["driving"]["stretches"]:
            share = float(stretch["share"].removesuffix(" %"))
            stretch["share"] = f"{share * after / 100:.10g} %"
    elif change.what == "start":
        brief["coolant"]["start"] = figure
    elif change.what == "air":
        brief["bay"]["zones"][change.zone]["air"]["share" if change.unit == "%" else "face_speed"] = figure
    else:
        brief["bay"]["zones"][change.zone][change.what] = figure
    return brief


def no_front(brief: Tree) -> Tree:
    """The brief with no front exchanger wanted."""
    brief["without"] = [*brief.get("without", []), "exchanger"]
    return brief


def one_step_less(brief: Tree, changes: tuple[Change, ...], held: int) -> Tree:
    """All changes made, but one of them a step short; boost goes with power by the charger's part-load table."""
    power = next((change for change in changes if change.what == "power"), None)
    for index, change in enumerate(changes):
        short = index == held or (power is not None and change.what == "boost")
        step = STEP.get(change.what, 0.1 if change.unit == "m/s" else 1)
        after = change.after - step * short
        if change.what == "boost" and power is not None:
            share = (power.after + 1) / power.before
            turbo = brief["engine"]["charger"] == "turbo"
            boost = min(1.6 * share, 0.8 + 0.4 * (share - 0.5)) if turbo else share
            after = round(change.before * boost, 2)
        brief = changed(brief, change, after)
    return brief


def amounts(changes: Iterable[Change | Choice]) -> tuple[Change, ...]:
    """The changes that have an amount."""
    return tuple(change for change in changes if isinstance(change, Change))


def tries(seed: int, ways_of: Iterable[tuple[Change | Choice, ...]]) -> None:
    """All changes of a way made: a kit. Any one of them a step short: none; a choice has no step."""
    assert not has_kit(seed, asked(seed))
    for changes in ways_of:
        brief = asked(seed)
        for change in changes:
            brief = changed(brief, change, change.after)
        assert has_kit(seed, brief), (seed, changes)
        for held, change in enumerate(changes):
            if change.what != "boost" and isinstance(change, Change):
                assert not has_kit(seed, one_step_less(asked(seed), amounts(changes), held)), (seed, changes, change)


@cache
def of_limits(seed: int) -> tuple[tuple[tuple[Change, ...], ...], tuple[str, ...]]:
    """The limits that give way and those that rule each other out, from one search without limits."""
    of = hard(seed)
    brief, driving = without_limits((of.brief, of.driving))
    job = make_job(brief, driving, of.own, of.catalogue, of.tables)
    asked_for = make_job(of.brief, of.driving, of.own, of.catalogue, of.tables)
    assert job is not None and asked_for is not None
    limits = limits_of(asked_for)
    kits: list[Wanting] = []
    for one in search(job, lambda words: None):
        whole = [kit for kit in (*one.kits.kept, *one.kits.missing) if set(kit.missed) <= set(SOFT)]
        kits += wanting(of.brief, limits, one.job, one.parts, whole)
    return looser_limits(limits, kits), smallest_conflict(kits)


@pytest.mark.parametrize("seed", TIGHT)
def test_limits_looser_by_what_is_told_give_a_kit_and_a_step_less_none(seed: int) -> None:
    ways_of, _ = of_limits(seed)
    assert ways_of
    tries(seed, ways_of)


@pytest.mark.parametrize("seed", TIGHT[::3])
def test_the_limits_named_are_impossible_together_and_none_can_be_spared(seed: int) -> None:
    _, named = of_limits(seed)

    def has_kit_with(kept: Iterable[str]) -> bool:
        brief = asked(seed)
        for code in set(SOFT) - set(kept) - {"aim"}:
            (brief,) = without(brief, code)
        return any(has_kit(seed, one) for one in ([brief] if "aim" in kept else without(brief, "aim")))

    assert not has_kit_with(named)
    for code in named:
        assert has_kit_with(set(named) - {code}), (seed, named, code)


@pytest.mark.parametrize("seed", WHOLE)
def test_each_way_out_gives_a_kit_and_a_step_less_none(seed: int) -> None:
    assert ways(seed).ways
    tries(seed, [way.changes for way in ways(seed).ways])


def without(brief: Tree, code: str, zones: tuple[str, ...] = ()) -> list[Tree]:
    """The brief with a demand dropped, in the forms that count as that: a looser aim is any of several."""
    if code in LIMITS:
        brief["limits"].pop(LIMITS[code], None)
    elif code == "charge loss":
        brief["aim"].pop("charge_loss", None)
    elif code == "front exchanger":
        no_front(brief)
    elif code in ("without", "in_stock"):
        brief.pop(code, None)
    elif code == "power":
        brief["engine"].update(power="1 kW", boost="0.01 bar")
    elif code == "driving":
        for stretch in brief["driving"]["stretches"]:
            stretch["share"] = "2 %"
    elif code == "aim":
        key = "charge_air" if "charge_air" in brief["aim"] else "above_air"
        figure, unit = brief["aim"][key].split()
        aims = [f"{float(figure) + more} {unit}" for more in (0, 20, 40, 80, 120)]
        return [{**brief, "aim": {**brief["aim"], key: aim}} for aim in aims]
    else:
        for zone in zones:
            known = brief["bay"]["zones"][zone]
            known.update(wide="1500 mm", high="1500 mm", deep="1500 mm")
            known.pop("way_in", None)
            known.pop("at", None)  # as large as that it would take the place of others
            if code == "front area" and "share" in known.get("air", {}):
                known["air"]["share"] = "100 %"
            elif code == "front area" and "face_speed" in known.get("air", {}):
                known["air"]["face_speed"] = "15 m/s"
    return [brief]


def alone(seed: int, named: tuple[Demand, ...]) -> Tree:
    """The brief without the limits, wishes, power and drive that a conflict does not name."""
    brief = asked(seed)
    codes = {demand.code for demand in named}
    for code in ("price", "mass", "current", "charge loss", "without", "in_stock", "power", "driving"):
        if code not in codes:
            (brief,) = without(brief, code)
    return brief


def with_room(seed: int, named: tuple[Demand, ...], demand: Demand) -> list[Tree]:
    """The demand dropped where the zones that are not named are unbounded too: then no kit goes in as it is."""
    brief = alone(seed, named)
    kept = {zone for other in named if other is not demand for zone in other.zones}
    zones = tuple(set(brief["bay"]["zones"]) - kept) if isinstance(brief["bay"], dict) else ()
    if demand.code not in ("room", "front area"):
        return []
    return without(brief, "front area", zones)


def any_aim(briefs: list[Tree], named: tuple[Demand, ...]) -> Iterator[Tree]:
    """The briefs, where the aim is not named with looser ones too."""
    for brief in briefs:
        yield from [brief] if "aim" in {demand.code for demand in named} else without(brief, "aim")


@pytest.mark.parametrize("seed", WHOLE)
def test_the_named_demands_are_impossible_together_and_none_can_be_spared(seed: int) -> None:
    named = ways(seed).conflict
    assert not any(has_kit(seed, one) for one in any_aim([alone(seed, named)], named)), (seed, named)
    for demand in named:
        spared = [*without(alone(seed, named), demand.code, demand.zones), *with_room(seed, named, demand)]
        assert any(has_kit(seed, one) for one in any_aim(spared, named)), (seed, named, demand)


def test_the_impossible_shelves_are_of_many_kinds() -> None:
    """Otherwise the laws above would say little: every limit gives way somewhere, and some only together."""
    alone_or_not = [changes for seed in TIGHT for changes in of_limits(seed)[0]]
    moved = Counter(change.what for changes in alone_or_not for change in changes)
    named = Counter(code for seed in TIGHT for code in of_limits(seed)[1])
    assert len(set(TIGHT)) >= 30
    assert moved.keys() == set(SOFT), moved
    assert named.keys() == set(SOFT), named
    assert any(len(changes) > 1 for changes in alone_or_not)
    searched = {change.what for seed in WHOLE for way in ways(seed).ways for change in way.changes}
    assert searched >= {"power", "boost", "driving", "air", "high"}, searched
