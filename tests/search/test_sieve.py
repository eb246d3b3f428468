"""Every part judged on its own: what keeps it out, at the edge of each limit, and all of it where that is asked."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from configurator.brief.tables import IceKind, Soak
from configurator.fitting.why_not import Cause, Miss
from configurator.parts.kinds import Core
from configurator.prediction.surfaces import core_surface
from configurator.search.job import Job
from configurator.search.sieve import charge_of_core, every_reason, kept_out, kinds_in_question, sieve
from tests.journeys.kitwright import shipped
from tests.oracles.shelves import shelf_of
from tests.search.small_shelves import core, exchanger, job_of, pump, reservoir, shelf

STANDING = {"aim": {"charge_air": "120 degC", "after": "5 min standstill"}}


def out(*parts: dict[str, Any], own: tuple[tuple[str, bool], ...] = (), **brief: Any) -> dict[str, tuple[Any, ...]]:
    """The parts that the sieve keeps out: rule, what was found and the limit."""
    job = job_of(shelf_of({**shelf(*parts, **brief).written, "own": [list(part) for part in own]}))
    return {told.part: (told.code, told.found, told.limit) for told in sieve(job).exclusions}


def reasons(part: dict[str, Any], **brief: Any) -> list[tuple[Any, ...]]:
    """All that keeps one part out."""
    job = job_of(shelf(part, **brief))
    return [(told.code, told.found, told.limit) for told in every_reason(job, job.catalogue[part["id"]])]


def test_fans_and_timers_are_in_question_where_the_car_is_left_standing() -> None:
    loop = ("core", "exchanger", "pump", "reservoir", "cap")
    soak = {row["id"]: Soak.model_validate(row) for row in shipped("soak")}

    def kinds(**changes: Any) -> tuple[str, ...]:
        of = shelf(**changes)
        return kinds_in_question(job_of(replace(of, tables=replace(of.tables, soak=soak))))

    assert kinds() == loop
    assert kinds(**STANDING) == (*loop, "fan", "timer")
    assert kinds(**STANDING, after_run="60 s") == (*loop, "fan")


def test_none_in_stock_is_out_and_one_is_enough() -> None:
    none, one = {**core("none"), "stock": 0}, {**core("one"), "stock": 1}
    assert out(none, one, in_stock=True) == {"none": ("not-in-stock", 0, 1)}
    assert out(none, one) == {}
    assert out(none, one, in_stock=True, own=(("none", False),)) == {}


@pytest.mark.parametrize(
    ("limits", "changes", "told"),
    [
        ({"mass_dry": "2 kg"}, {}, None),
        ({"mass_dry": "1.9 kg"}, {}, ("mass-over-limit", 2.0, 1.9)),
        ({"price": 240}, {}, None),
        ({"price": 239}, {}, ("price-over-limit", 240.0, 239.0)),
    ],
)
def test_a_part_that_alone_breaks_a_limit_is_out(limits: Any, changes: Any, told: Any) -> None:
    assert out({**core(), **changes}, limits=limits).get("core") == told


def test_a_part_without_a_mass_and_one_that_is_in_the_car_break_no_limit_on_mass() -> None:
    """The reservoir of the small shelf states no mass; what stays in the car is not put in, and costs nothing."""
    tight = {"limits": {"mass_dry": "0.5 kg", "price": 50}}
    found = out(own=(("core", True), ("exchanger", False)), **tight)
    assert found == {
        "exchanger": ("mass-over-limit", 2.0, 0.5),
        "pump": ("price-over-limit", 110.0, 50.0),
        "reservoir": ("price-over-limit", 60.0, 50.0),
    }


def test_current_is_a_limit_on_what_draws_it() -> None:
    assert out(limits={"current": "6 A"}) == {}
    assert out(limits={"current": "5.9 A"}) == {"pump": ("current-over-limit", 6.0, 5.9)}


def arrives(job: Job) -> tuple[float, float]:
    part = job.catalogue["core"]
    assert isinstance(part, Core)
    return charge_of_core(job, core_surface(part))


def test_a_core_that_stands_just_what_arrives_is_in_and_a_tenth_of_a_kelvin_less_is_out() -> None:
    arrives_k, loss_pa = arrives(job_of(shelf()))

    def standing(hottest_k: float) -> dict[str, Any]:
        return {**core(), "charge": {**core()["charge"], "hottest": f"{hottest_k!r} K"}}

    assert out(standing(arrives_k)) == {}
    assert out(standing(arrives_k - 0.1))["core"] == ("too-hot", arrives_k, pytest.approx(arrives_k - 0.1))
    assert loss_pa >= 0.0


@pytest.mark.parametrize("kind", ["core", "pump", "reservoir"])
def test_a_part_that_does_not_stand_the_night_or_a_colder_day_is_out(kind: str) -> None:
    def standing(coldest: str) -> dict[str, Any]:
        part = {"core": core, "pump": pump, "reservoir": reservoir}[kind]()
        return {**part, "coolant": {**part["coolant"], "coldest": coldest}}

    night = {"site": {"air": "20 degC", "coldest": "-15 degC"}}
    assert kind not in out(standing("-15 degC"), **night)
    assert out(standing("-14.9 degC"), **night)[kind] == ("too-cold", pytest.approx(258.15), pytest.approx(258.25))
    assert out(standing("-14.9 degC"), site={"air": "-15 degC"})[kind][0] == "too-cold"
    assert kind not in out(standing("5 degC"), site={"air": "20 degC"})


def test_a_core_that_alone_takes_more_than_the_charge_may_lose_is_out() -> None:
    _, loss_pa = arrives(job_of(shelf()))
    assert loss_pa > 10.0
    for limit_pa, told in ((loss_pa + 1.0, None), (loss_pa - 1.0, "charge-loss-over-limit")):
        found = out(aim={"charge_air": "120 degC", "charge_loss": f"{limit_pa} Pa"})
        assert found.get("core", (None,))[0] == told


def test_with_ice_a_front_exchanger_is_out_for_that_before_all_else_and_a_tank_must_be_made_for_it() -> None:
    ice = {"coolant": {"kinds": ["water"]}, "ice": {"kind": "crushed", "mass": "1 kg"}}
    of = shelf(limits={"price": 100}, **ice)
    tables = replace(of.tables, ice={row["id"]: IceKind.model_validate(row) for row in shipped("ice")})
    job = job_of(replace(of, tables=tables))
    codes = {part: [one.code for one in every_reason(job, job.catalogue[part])] for part in ("exchanger", "reservoir")}
    assert codes == {"exchanger": ["warms-ice", "not-wanted", "price-over-limit"], "reservoir": ["not-for-ice"]}


def test_everything_that_keeps_a_part_out_is_told_and_of_a_zone_that_takes_it_nothing() -> None:
    """Two zones take a core: the one in which it does not fit is no reason as long as the other holds it."""
    zones = shelf().written["brief"]["bay"]["zones"]
    low = {**zones["bulkhead"], "high": "90 mm"}
    bay = {"zones": {**zones, "low": low}}
    dear = {"bay": bay, "limits": {"price": 200, "mass_dry": "1 kg"}}
    over = [("price-over-limit", 240.0, 200.0), ("mass-over-limit", 2.0, 1.0)]
    assert reasons(core(), **dear) == over
    assert reasons(core(), bay=bay) == []
    only_low = {"zones": {**zones, "bulkhead": low}}
    assert reasons(core(), **{**dear, "bay": only_low}) == [*over, ("does-not-fit", 10.0, 0.0)]
    assert reasons(core(), bay={"zones": {key: zones[key] for key in ("nose", "side")}}) == [
        ("no-zone-takes-it", "core", None)
    ]


def test_what_is_in_the_way_is_named_with_its_zone_and_a_wall_by_its_side() -> None:
    """A part does not stand in its own way: what is named is the other of the two."""
    zones = shelf().written["brief"]["bay"]["zones"]
    pipe = {"name": "pipe", "kind": "plain", "in": "bulkhead", "deep": "10 mm", "wide": "140 mm", "high": "120 mm",
            "from": {"front": "100 mm", "left": "0 mm", "floor": "0 mm"}}  # fmt: skip

    def told(bay: dict[str, Any]) -> tuple[str, str, str]:
        (one,) = sieve(job_of(shelf(bay=bay))).exclusions
        return one.code, one.about, one.side

    assert told({"zones": zones, "obstacles": [pipe]}) == ("obstacle-in-the-way", "pipe (bulkhead)", "")
    narrow = {**zones, "bulkhead": {**zones["bulkhead"], "deep": "99 mm"}}
    assert told({"zones": narrow})[:2] == ("does-not-fit", "bulkhead")
    assert told({"zones": narrow})[2].startswith("wall ")


def test_parts_that_no_rule_keeps_out_are_all_there_with_the_zones_that_hold_them() -> None:
    kept = sieve(job_of(shelf(pump("b"), reservoir("b-tank"), exchanger("second"))))
    assert [part.id for part in kept.pumps] == ["b", "pump"]
    assert {part: kept.zones[part] for part in ("core", "second", "b", "b-tank")} == {
        "core": ("bulkhead",), "second": ("nose",), "b": ("side",), "b-tank": ("side",),
    }  # fmt: skip


@pytest.mark.parametrize(
    ("cause", "between", "told"),
    [
        ("room before ends", ("a", "end 'in'"), "its end 'in' (side)"),
        ("room before ends", ("b", "end 'in'"), "the end 'in' of b beside it (side)"),
        ("room before ends", ("b", "ends together"), "the ends together of b beside it (side)"),
        ("room before both", ("a", "b"), "an end of its own or of b (side)"),
        ("together", ("b", "a"), "b (side)"),
        ("obstacle", ("a", "beam"), "beam (side)"),
        ("heights", ("a", "b"), "side"),
    ],
)
def test_an_end_without_room_is_told_with_the_part_whose_end_it_is(
    cause: Cause, between: tuple[str, str], told: str
) -> None:
    assert kept_out("a", "side", Miss(cause, between)).about == told
