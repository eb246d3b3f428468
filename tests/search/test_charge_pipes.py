"""The charge side of one core: which pipe ends are joined, for how hot a charge, and what is said where one is not."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from configurator.brief.tables import Soak
from configurator.foundations.verdicts import Verdict
from configurator.parts.kinds import Core
from configurator.parts.kit import Joint
from configurator.prediction.surfaces import core_surface
from configurator.search.charge_pipes import ChargePipes, charger_outlets, throttle
from configurator.search.sieve import charge_of_core
from tests.joining.made_parts import adapter, clamp
from tests.journeys.kitwright import shipped
from tests.oracles.shelves import shelf_of
from tests.search.small_shelves import BRIEF, core, job_of, shelf

COUPLERS = [adapter(f"c-{mm}", f"coupler {mm}", "coupler 57", medium="charge", hottest=230) for mm in (57, 63.5)]
CLAMPS = [clamp(f"t-{least}", least, least + 10, style="T-bolt") for least in (60, 70)]


def around(*, own: bool = False, **engine: Any) -> tuple[Joint, ...] | Verdict:
    """How the core of the small shelf is joined to an engine."""
    written = shelf(engine={**BRIEF["engine"], **engine}).written
    job = job_of(shelf_of({**written, "own": [["core", True]] if own else []}))
    return ChargePipes(job, COUPLERS, [], CLAMPS).around(Core.model_validate(core()))


BOTH = {"charger_outlet": "63.5 mm", "throttle": "57 mm"}


def joints(**engine: Any) -> tuple[Joint, ...]:
    made = around(**engine)
    assert not isinstance(made, Verdict), made
    return made


@pytest.mark.parametrize(
    ("engine", "ends"),
    [
        (BOTH, [("engine.charger outlet", "core.in"), ("core.out", "engine.throttle")]),
        ({"charger_outlet": "63.5 mm"}, [("engine.charger outlet", "core.in")]),
        ({"throttle": "57 mm"}, [("core.out", "engine.throttle")]),
        ({}, []),
    ],
)
def test_each_pipe_end_whose_bore_is_known_is_joined(engine: dict[str, str], ends: list[tuple[str, str]]) -> None:
    assert [(joint.start, joint.finish) for joint in joints(**engine)] == ends


def test_a_core_that_stays_in_the_car_is_joined_already() -> None:
    assert around(own=True, **BOTH) == ()


def test_the_coupler_before_a_core_is_derated_to_what_arrives_rounded_up_to_five_kelvin() -> None:
    """Hot silicone holds less: it is never taken for cooler than it is. Behind the core: the ceiling, 120 degC."""
    job = job_of(shelf(engine={**BRIEF["engine"], **BOTH}))
    arrives_k, _ = charge_of_core(job, core_surface(Core.model_validate(core())))
    assert arrives_k > 330.0 and arrives_k % 5.0 != 0.0
    before, behind = (joint.members[0] for joint in joints(**BOTH))
    assert before.derated_at_k == 5.0 * math.ceil(arrives_k / 5.0)
    assert behind.derated_at_k == pytest.approx(393.15)
    assert before.working_pa_gauge is not None and behind.working_pa_gauge is not None
    assert before.cold_pa_gauge == behind.cold_pa_gauge == 10e5


def test_a_coupler_behind_a_core_stands_the_drive_where_the_aim_is_held_against_the_restart_alone() -> None:
    """The ceiling of such an aim bounds no drive: 2.00 bar of silicone at 62 degC was 1.82, at the 76 degC of its drive
    1.75, and 1.80 had to be held.
    """
    written = shelf(engine={**BRIEF["engine"], **BOTH}).written
    aim = {"charge_air": "62 degC", "after": "5 min standstill"}
    of = shelf_of({**written, "brief": {**written["brief"], "aim": aim}})
    soak = {row["id"]: Soak.model_validate(row) for row in shipped("soak")}
    job = job_of(replace(of, tables=replace(of.tables, soak=soak)))
    made = ChargePipes(job, COUPLERS, [], CLAMPS).around(Core.model_validate(core()))
    assert not isinstance(made, Verdict)
    before, behind = (joint.members[0] for joint in made)
    assert before.derated_at_k == behind.derated_at_k
    assert behind.derated_at_k is not None and behind.derated_at_k > 62.0 + 273.15


def test_two_outlets_of_a_charger_are_numbered_from_one_and_one_is_not() -> None:
    assert [end.name for _, end in charger_outlets(0.0635, 2)] == ["charger outlet 1", "charger outlet 2"]
    ((slot, outlet),) = charger_outlets(0.0635, 1)
    assert (slot, outlet.name, outlet.form, outlet.size_m, outlet.bead) == (
        "engine", "charger outlet", "spigot", 0.0635, True,
    )  # fmt: skip
    assert charger_outlets(None, 2) == throttle(None) == []
    assert [end.name for _, end in throttle(0.057)] == ["throttle"]


def test_a_pipe_that_no_coupler_goes_on_is_told() -> None:
    said = around(charger_outlet="76 mm", throttle="57 mm")
    assert isinstance(said, Verdict) and "76 mm" in said.text
