"""Which layouts a brief can host, what the coolant passes in each, and what of the shelf a job may use."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from configurator.brief.request import Brief
from configurator.parts.kinds import Exchanger, Hose, Pump
from configurator.parts.layouts import Layout
from configurator.parts.shelf import make_catalogue
from configurator.prediction.stages import Stage
from configurator.search.circuit import circuit_of, unwanted
from configurator.search.hosts import hosted
from configurator.search.job import Job
from configurator.search.skeleton import loop_steps
from tests.journeys.kitwright import shipped
from tests.search.small_shelves import BRIEF, exchanger, hose, job_of, pump, shelf
from tests.search.test_bypass_joints import valve

ICE: dict[str, Any] = {"coolant": {"kinds": ["water"]}, "ice": {"kind": "crushed", "mass": "5 kg"}}


@cache
def layouts() -> dict[str, Layout]:
    """Every layout of the shipped shelf."""
    return {written["id"]: Layout.model_validate(written) for written in shipped("layouts")}


def brief(**changes: Any) -> Brief:
    return Brief.model_validate({**BRIEF, **changes})


def job(*parts: Any, **changes: Any) -> Job:
    """A job of the small shelf with every layout, and a bypass valve."""
    made = job_of(shelf(*parts, **changes))
    on_shelf = [*made.catalogue.parts.values(), valve("valve")]
    return replace(made, catalogue=make_catalogue(on_shelf, layouts().values()))


@pytest.mark.parametrize(
    ("changes", "found"),
    [
        ({}, {"single"}),
        ({"layouts": ["twin-exchangers-series"]}, {"twin-exchangers-series"}),
        ({"layouts": ["twin-cores-series", "single"]}, {"single", "twin-cores-series"}),
        ({"layouts": ["bypass"]}, {"bypass"}),
        ({"layouts": ["bypass"], "without": ["exchanger"]}, set()),
        ({"layouts": ["bypass"], "without": ["valve"]}, set()),
        ({"layouts": ["twin-cores-series"], "without": ["core"]}, set()),
    ],
)
def test_layouts_that_are_named_are_the_only_ones_and_twins_want_a_reason(
    changes: dict[str, Any], found: set[str]
) -> None:
    assert {one.layout.id for one in hosted(job(**changes))} == found


def test_two_charger_outlets_or_two_zones_for_an_exchanger_are_a_reason_for_twins() -> None:
    engine = {**BRIEF["engine"], "charger_outlets": 2}
    assert {one.layout.id for one in hosted(job(engine=engine))} == {
        "single", "twin-cores-parallel", "twin-cores-series",
    }  # fmt: skip
    zones = BRIEF["bay"]["zones"]
    bay = {"zones": {**zones, "second": zones["nose"]}}
    assert {one.layout.id for one in hosted(job(bay=bay))} == {
        "single", "twin-exchangers-parallel", "twin-exchangers-series",
    }  # fmt: skip


CORE, FRONT = Stage("core"), Stage("exchanger")


@pytest.mark.parametrize(
    ("layout", "changes", "stages"),
    [
        ("single", {}, (CORE, FRONT)),
        ("single", {"without": ["exchanger"]}, (CORE,)),
        ("single", ICE, (CORE,)),
        ("bypass", {}, (Stage("core", 1, "through"), FRONT)),
        ("bypass", ICE, (Stage("core", 1, "past"),)),
        ("twin-cores-parallel", {}, (Stage("core", 2), FRONT)),
        ("twin-cores-series", {}, (CORE, CORE, FRONT)),
        ("twin-exchangers-parallel", {}, (CORE, Stage("exchanger", 2))),
        ("twin-exchangers-series", {}, (CORE, FRONT, FRONT)),
    ],
)
def test_what_the_coolant_passes_in_each_layout(layout: str, changes: dict[str, Any], stages: Any) -> None:
    """Ice wants the front exchanger out of the circuit, which would warm it: left out, or shut off by the valve."""
    assert circuit_of(brief(**changes), layouts()[layout]).stages == stages


def test_an_exchanger_that_is_shut_out_holds_liquid_that_stands_still() -> None:
    """The 0.7 L that the exchanger says it holds; none stands in one that is in circuit, or where there is none."""
    part = Exchanger.model_validate(exchanger())
    shut = circuit_of(brief(**ICE), layouts()["bypass"])
    assert shut.shut_out == "exchanger"
    assert shut.standing_m3(part) == pytest.approx(0.7e-3)
    assert shut.standing_m3(None) == shut.standing_m3(Pump.model_validate(pump())) == 0.0
    assert circuit_of(brief(), layouts()["bypass"]).standing_m3(part) == 0.0


def test_a_loop_with_ice_is_made_without_a_front_exchanger_unless_a_valve_shuts_it_out() -> None:
    assert unwanted(brief(**ICE), layouts()["single"]) == ("exchanger",)
    assert unwanted(brief(**ICE, without=["fan"]), layouts()["single"]) == ("fan", "exchanger")
    assert unwanted(brief(**ICE, without=["exchanger"]), layouts()["single"]) == ("exchanger",)
    assert unwanted(brief(**ICE), layouts()["bypass"]) == unwanted(brief(), layouts()["single"]) == ()


def test_a_slot_that_may_not_be_empty_stays_though_its_kind_is_not_wanted() -> None:
    """A loop whose layout says that an exchanger is in it has one; where it may lack one, the step goes."""
    loop = (("reservoir",), ("pump",), ("core",), ("exchanger",))
    assert loop_steps(layouts()["bypass"], ("exchanger",)) == loop
    assert loop_steps(layouts()["single"], ("exchanger",)) == loop[:-1]
    assert loop_steps(layouts()["single"], ()) == loop
    assert loop_steps(layouts()["twin-exchangers-parallel"], ("exchanger",))[-1] == ("exchanger-1", "exchanger-2")


@pytest.mark.parametrize(
    ("stock", "asked", "two"), [(1, True, False), (2, True, True), (1, False, True), (None, True, True)]
)
def test_two_of_a_part_are_two_in_stock_where_stock_is_asked_for(stock: int | None, asked: bool, two: bool) -> None:
    """A part that does not say how many there are is taken to be there."""
    core = {**exchanger("twin"), **({} if stock is None else {"stock": stock})}
    made = job(core, in_stock=asked)
    assert made.two_of(made.catalogue["twin"]) is two


def test_what_serves_joints_is_what_the_brief_lets_in() -> None:
    gone = {**hose("gone"), "stock": 0}
    assert [part.id for part in job(gone).serving(Hose)] == ["gone", "hose"]
    assert [part.id for part in job(gone, in_stock=True).serving(Hose)] == ["hose"]
    assert [part.id for part in job(gone, without=["hose"]).serving(Hose)] == []
    other = {**hose("other"), "stock": 3}
    assert [part.id for part in job(other, without=["hose-x", "other"]).serving(Hose)] == ["hose"]
