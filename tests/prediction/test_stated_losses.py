"""A core or exchanger whose passage states its pressure loss at one flow: that loss is used, and nothing else moves."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import Any

import numpy as np
import pytest
import yaml
from pydantic import ValidationError

from configurator.foundations.coolants import Coolant, properties
from configurator.parts.kinds import Core, Exchanger, Pump, Reservoir
from configurator.physics.operating_point import head
from configurator.prediction.bench import Loop, make_bench, make_columns
from configurator.prediction.charge import charge_at
from configurator.prediction.loop_flow import run_losses_pa
from configurator.prediction.surface_figures import BANDS, Surface
from configurator.prediction.surfaces import core_surface, exchanger_surface
from configurator.prediction.working_point import WorkingPoint, at_work
from configurator.prediction.zone_air import ZoneAir
from tests.prediction.made_kits import ROOT, WATER, Made, conditions, run, shelf

SIX_AT_30 = {"loss": "6 kPa", "loss_at": "30 L/min"}
KINDS: dict[str, type[Core] | type[Exchanger]] = {"core": Core, "exchanger": Exchanger}


@lru_cache(maxsize=2)
def first_measured(kind: str) -> dict[str, Any]:
    """The first shipped part of a kind that has measured points, as it is written."""
    entries = yaml.safe_load((ROOT / "catalogue" / f"{kind}s.yaml").read_text(encoding="utf-8"))[f"{kind}s"]
    return next(entry for entry in entries if entry.get("performance", {}).get("measured"))


def stating(kind: str, *, measured: bool = False, **passages: dict[str, str]) -> Any:
    """That part with more written of its passages; by its size alone, unless `measured`."""
    raw = {key: value for key, value in first_measured(kind).items() if measured or key != "performance"}
    for name, keys in passages.items():
        raw[name] = {**raw[name], **keys}
    return KINDS[kind].model_validate(raw)


def surface_of(part: Core | Exchanger) -> Surface:
    return core_surface(part) if isinstance(part, Core) else exchanger_surface(part)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize(("litres", "expected"), [(15.0, 1.5e3), (30.0, 6e3), (60.0, 24e3)])
def test_a_stated_coolant_loss_goes_with_the_square_of_flow(kind: str, litres: float, expected: float) -> None:
    """By hand: 6 kPa at 30 L/min of water at 20 degC are 24 kPa at twice the flow; other liquids by their density."""
    part = stating(kind, coolant=SIX_AT_30)
    water = float(properties(WATER, 293.15).density)
    for liquid, t_k in ((WATER, 293.15), (Coolant("ethylene glycol", 0.5), 333.15)):
        air = (0.15, None) if kind == "core" else (None, 6.0)
        point = WorkingPoint(*air, 390.0, 0.0, litres / 60e3, liquid, t_k)
        wanted = expected * float(properties(liquid, t_k).density) / water
        assert at_work(part, point).coolant_loss_pa == pytest.approx(wanted, rel=1e-9)


@pytest.mark.parametrize("kind", KINDS)
def test_a_stated_coolant_loss_changes_that_loss_alone(kind: str) -> None:
    bare, stated = surface_of(stating(kind)), surface_of(stating(kind, coolant=SIX_AT_30))
    assert replace(stated, friction_scale=bare.friction_scale, ports_per_m4=bare.ports_per_m4) == bare
    assert (stated.tier, stated.loss_band) == ("size", BANDS["size"][1])


def test_a_stated_charge_loss_goes_with_flow_and_density() -> None:
    """By hand: 540 m3/h of air at 20 degC and sea level, 101325/(287.05 x 293.15) = 1.2041 kg/m3, are 0.1806 kg/s."""
    core = core_surface(stating("core", charge={"loss": "4 kPa", "loss_at": "540 m3/h"}))
    bare = core_surface(stating("core"))
    charge = {name: getattr(bare, name) for name in ("charge_loss_pa", "charge_loss_flow", "charge_loss_density")}
    assert replace(core, **charge) == bare
    at = conditions(boost_held_at_throttle=False)
    found = charge_at(at, 1.0, core, np.zeros(1), np.zeros(1), 0.0)
    here = (101325 + 1.2e5) / (287.05 * float(found.in_k[0]))
    by_hand = 4e3 * (at.air_kg_per_s / 0.1806) ** 1.8 * 1.2041 / here
    assert float(found.core_loss_pa[0]) == pytest.approx(by_hand, rel=2e-3)


def test_the_flow_of_a_loop_is_where_the_pump_meets_the_stated_losses() -> None:
    """The head at the flow found is what the runs take and, by hand, twice 6 kPa x (flow / 30 L/min)^2, by density."""
    catalogue, _ = shelf()

    def loop(**passages: dict[str, str]) -> tuple[Made, float]:
        parts = stating("core", **passages), stating("exchanger", **passages)
        bench = make_bench(parts[:1], parts[1:], catalogue.of(Pump), catalogue.of(Reservoir))
        made = Made(bench, make_columns(bench, [Loop(0, 0, 0, 0, (run(),) * 4, (), ZoneAir(0.25, 0.0, 0.0, 0.0))]))
        return made, float(made.predict(conditions()).flow_m3_per_s[0])

    (made, flow), (_, estimated) = loop(coolant=SIX_AT_30), loop()
    liquid = properties(WATER, made.predict(conditions()).properties_at_k)
    density = float(liquid.density[0]) / float(properties(WATER, 293.15).density)
    by_hand = 2 * 6e3 * (flow * 60e3 / 30) ** 2 * density
    in_runs = float(run_losses_pa(made.columns, liquid, np.array([flow])).sum())
    assert float(head(made.bench.curves, made.columns.pump, np.array([flow]))[0]) == pytest.approx(
        by_hand + in_runs, rel=1e-4
    )
    assert abs(flow / estimated - 1) > 0.02


@pytest.mark.parametrize(("kind", "medium"), [("core", "charge"), ("core", "coolant"), ("exchanger", "coolant")])
def test_a_loss_beside_measured_points_is_refused(kind: str, medium: str) -> None:
    with pytest.raises(ValidationError, match=f"the measured points state the {medium} loss already"):
        stating(kind, measured=True, **{medium: SIX_AT_30})
