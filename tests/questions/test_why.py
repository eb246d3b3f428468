"""Why a part is in or out: each story against the whole answer, and what it says would change it, done."""

from __future__ import annotations

from dataclasses import replace

import pytest

from configurator.foundations.verdicts import Verdict
from configurator.parts.kinds import IN_LOOP
from configurator.parts.own import OwnPart
from configurator.parts.shelf import make_catalogue
from configurator.questions.searches import kept, make_job, search
from configurator.questions.why import why
from configurator.questions.why_answer import PartStory, Whys
from configurator.ranking.order import ranked
from tests.oracles.comparison import answer, judged, shelf, short_list
from tests.oracles.shelves import Shelf
from tests.search import small_shelves as small

WITH_KITS = (10, 14, 24, 34, 44, 59)
DRAWN = (3, 9, 25, 47, *WITH_KITS)
LOOSENED = (24, 92, 141, 149)
"""Shelves drawn by seed: the first have kits; the last have parts whose nearest kit misses an aim or a limit."""


def told(of: Shelf, *asked: str) -> Whys:
    """The answer to a shelf."""
    return why(of.brief, of.driving, of.own, of.catalogue, of.tables, asked)


def ids(of: Shelf) -> list[str]:
    """The parts of a shelf that fill a place of the loop."""
    return [part.id for part in of.catalogue.parts.values() if part.kind in IN_LOOP]


def story(of: Shelf, part: str) -> PartStory:
    """One part's story."""
    (found,) = told(of, part).stories
    return found


@pytest.mark.parametrize("seed", DRAWN)
def test_a_part_is_in_where_trying_everything_finds_a_kit_with_it_and_both_ways_of_asking_agree(seed: int) -> None:
    of = shelf(seed)
    used = {part for kit in judged(seed) for _, part in kit.parts}
    stories = told(of, *ids(of)).stories
    assert [(one.part, one.is_in) for one in stories] == [(part, part in used) for part in ids(of)]
    every = {one.part: one.reasons[0] for one in told(of).stories if one.kind in IN_LOOP}
    assert every == {one.part: one.reasons[0] for one in stories if not one.is_in}


def test_the_reasons_are_those_of_the_answer() -> None:
    of = shelf(24)
    reasons = [one.reasons[0] for one in told(of).stories if one.kind in IN_LOOP]
    assert reasons == sorted(answer(of, top=1).exclusions) and len(reasons) > 3


@pytest.mark.parametrize("seed", WITH_KITS)
def test_the_rank_is_the_place_of_the_first_kit_with_it_and_the_step_tells_it_from_kit_1(seed: int) -> None:
    """Held against all kits as trying everything orders them."""
    of, kits = shelf(seed), judged(seed)
    short = short_list(kits, len(kits))
    for one in told(of, *ids(of)).stories:
        if not one.is_in:
            continue
        best = one.best
        assert best is not None and best.rank is not None and best.listed is not None
        place = next(at for at, kit in enumerate(kits, start=1) if one.part in dict(kit.parts).values())
        first, kit = kits[0], kits[place - 1]
        assert (best.rank, best.of, best.parts) == (place, len(kits), kit.parts)
        assert one.kits == sum(one.part in dict(other.parts).values() for other in kits)
        assert short[best.listed - 1].choice == kit.choice and best.stands == (short[best.listed - 1] == kit)
        assert (best.behind is None) == (place == 1)
        if best.behind is not None:
            figures = {
                "margin": (first.margin_low_k, kit.margin_low_k),
                "room": (first.clearance_mm, kit.clearance_mm),
                "price": (first.price_cents, kit.price_cents),
            }.get(best.behind.step, (None, None))
            assert (best.behind.winner, best.behind.this) == pytest.approx(figures, abs=0.0101)


@pytest.mark.parametrize("seed", DRAWN)
def test_to_take_a_part_that_is_out_off_the_shelf_changes_no_kit(seed: int) -> None:
    of = shelf(seed)
    before = kits_of(of)
    held = {own.part.id for own in of.own}
    out = [one.part for one in told(of).stories if one.kind in IN_LOOP and one.part not in held]
    assert out or seed == 44
    for part in out[:4]:
        assert kits_of(without(of, part)) == before, part


def kits_of(of: Shelf) -> list[tuple[object, ...]]:
    """All kits of a shelf in order, with what orders them."""
    job = make_job(of.brief, of.driving, of.own, of.catalogue, of.tables)
    assert job is not None
    kits = ranked(kept(search(job, lambda words: None)), "default", job.conditions.enough_k)
    return [(kit.ids, kit.margin_k, kit.margin_low_k, kit.clearance_mm, kit.price_cents) for kit in kits]


def without(of: Shelf, part_id: str) -> Shelf:
    """A shelf without one of its parts."""
    left = [part for part in of.catalogue.parts.values() if part.id != part_id]
    return replace(of, catalogue=make_catalogue(left, of.catalogue.layouts))


def test_to_take_a_part_that_is_in_off_the_shelf_does_change_them() -> None:
    of = small.shelf()
    assert len(kits_of(of)) == 1 and kits_of(without(of, "core")) == []


def loosened(of: Shelf, shortfalls: tuple[Verdict, ...]) -> Shelf:
    """The shelf under a brief in which each of these demands is as loose as was found."""
    aim, limits = of.brief.aim, of.brief.limits
    for shortfall in shortfalls:
        found = float(shortfall.found or 0.0)
        assert shortfall.limit is not None and found > float(shortfall.limit)
        if shortfall.rule == "aim" and aim.charge_air_k is not None:
            aim = aim.model_copy(update={"charge_air_k": found})
        elif shortfall.rule == "aim":
            aim = aim.model_copy(update={"above_air_k": found - float(of.brief.site.air_k)})
        elif shortfall.rule == "charge loss":
            aim = aim.model_copy(update={"charge_loss_pa": found})
        else:
            key = {"price": "price", "mass": "mass_dry_kg", "current": "current_a"}[shortfall.rule]
            limits = limits.model_copy(update={key: found})
    return replace(of, brief=of.brief.model_copy(update={"aim": aim, "limits": limits}))


@pytest.mark.parametrize("seed", LOOSENED)
def test_a_brief_as_loose_as_the_shortfalls_ask_lets_the_part_in_and_not_before(seed: int) -> None:
    of = shelf(seed)
    stories = [one for one in told(of, *ids(of)).stories if one.best is not None and one.best.shortfalls]
    assert stories
    for one in stories[:2]:
        assert one.best is not None
        assert story(loosened(of, one.best.shortfalls), one.part).is_in, one.best.shortfalls
        assert not story(loosened(of, one.best.shortfalls[1:]), one.part).is_in


def test_the_kit_that_misses_less_is_told_beside_the_nearest() -> None:
    """The strong pump cools best, and alone is too dear; with the plain one the aim alone is missed."""
    strong = {**small.pump("strong", dead_head=90), "price": 400}
    of = small.shelf(strong, aim={"charge_air": "40 degC"}, limits={"price": 800})
    found = story(of, "core")
    assert found.best is not None and found.fewer is not None
    assert [one.rule for one in found.best.shortfalls] == ["aim", "price"]
    assert [one.rule for one in found.fewer.shortfalls] == ["aim"]
    assert story(loosened(of, found.fewer.shortfalls), "core").is_in


def test_every_rule_that_it_breaks_alone_is_told_and_every_zone() -> None:
    zones = {**small.BRIEF["bay"]["zones"]}
    zones["boot"] = {**zones["bulkhead"], "deep": "210 mm"}
    big = {**small.core("big", working="2 bar", long=260), "price": 900, "mass": "20 kg"}
    big["charge"] = {**big["charge"], "working": "1 bar", "hottest": "60 degC"}
    limits = {"price": 800, "mass_dry": "15 kg"}
    found = story(small.shelf(big, bay={"zones": zones}, limits=limits, without=["big"]), "big")
    assert found.alone
    assert [(reason.code, reason.found, reason.about) for reason in found.reasons if reason.unit == "mm"] == [
        ("does-not-fit", 40.0, "bulkhead"),
        ("does-not-fit", 50.0, "boot"),
    ]
    assert [reason.code for reason in found.reasons][:5] == [
        "not-wanted",
        "price-over-limit",
        "mass-over-limit",
        "rating-below-pressure",
        "too-hot",
    ]


def test_what_it_goes_with_neighbour_by_neighbour() -> None:
    """A core of 30 mm spigots meets no hose of 19 mm; one that holds 0.1 bar holds no cap's pressure."""
    wide = story(small.shelf(small.core("wide", spigot="32 mm")), "wide")
    assert wide.reasons[0].code == "ends-do-not-meet"
    assert {(one.kind, one.of) for one in wide.pairings if not one.goes} == {("pump", 1), ("exchanger", 1)}
    assert all(one.refused for one in wide.pairings if not one.goes)
    weak = story(small.shelf(small.core("weak", working="0.1 bar")), "weak")
    assert weak.reasons[0].code == "joins-nothing"
    (ratings,) = [one for one in weak.pairings if one.rule == "rating"]
    assert ratings.goes == () and weak.zones == ("bulkhead",)


def test_a_crowd_is_told_with_its_zone() -> None:
    large = {**small.pump("large"), "size": {"x": "230 mm", "y": "210 mm", "z": "200 mm"}}
    found = story(small.shelf(large), "large")
    assert found.reasons[0].code in ("no-room-together", "no-room-before-ends")
    assert found.crowd == ("side", ("reservoir",))


def test_pieces_of_joints_and_wiring_are_in_where_a_kit_has_them_on_its_bill() -> None:
    of = small.shelf(small.hose("narrow", bore="10 mm"))
    stories = {one.part: one for one in told(of, *of.catalogue.parts).stories}
    bill = {line.part for kit in answer(of).kits for line in kit.lines if line.part is not None}
    assert "hose" in bill and {part for part, one in stories.items() if one.is_in} == bill
    assert stories["narrow"].reasons[0].code == "serves-nothing"
    (unwanted,) = story(small.shelf(small.hose("narrow", bore="10 mm"), without=["narrow"]), "narrow").reasons
    assert unwanted.code == "not-wanted"


def test_a_part_that_only_unproven_kits_hold_is_in_and_not_proven() -> None:
    unknown = small.core("unknown")
    unknown["charge"] = {**unknown["charge"], "working": "unknown"}
    proven, unproven = told(small.shelf(unknown), "core", "unknown").stories
    assert proven.is_in and proven.is_proven
    assert unproven.is_in and not unproven.is_proven and unproven.best is not None
    assert unproven.best.behind is not None and unproven.best.behind.step == "proven"


def test_a_place_that_is_taken_and_a_kind_that_nobody_asked_for() -> None:
    of = small.shelf(small.core("other"))
    held = replace(of, own=(OwnPart(of.catalogue["other"], True),))
    assert story(held, "core").reasons[0].found == "other"
    blades = small.pump("fan")
    del blades["coolant"]
    curve = [{"flow": "0 m3/s", "rise": "90 Pa"}, {"flow": "0.2 m3/s", "rise": "0 Pa"}]
    assert story(small.shelf({**blades, "kind": "fan", "curve": curve}), "fan").reasons[0].code == "not-asked-for"


def test_one_rule_that_stops_every_kit_is_the_reason_of_each_part() -> None:
    """No glycol is liquid at -70 degC (ASHRAE tables of inhibited glycols)."""
    of = small.shelf()
    site = of.brief.site.model_copy(update={"coldest_k": 203.15})
    found = told(replace(of, brief=of.brief.model_copy(update={"site": site})))
    assert found.kits == 0 and {one.reasons[0].code for one in found.stories} == {"all-stopped"}
    assert "coolant" in found.stories[0].reasons[0].about


def test_coolant_that_gets_too_hot_names_the_piece_that_stands_least() -> None:
    start = {"coolant": {"start": "96 degC"}, "aim": {"charge_air": "160 degC"}}
    soft = small.pump("pump")
    soft["coolant"] = {**soft["coolant"], "hottest": "90 degC"}
    best = story(small.shelf(soft, **start), "pump").best
    assert best is not None
    (shortfall,) = best.shortfalls
    assert (shortfall.rule, shortfall.text, shortfall.limit) == ("coolant temperature", "pump", 363.15)
    assert float(shortfall.found or 0.0) > 363.15
