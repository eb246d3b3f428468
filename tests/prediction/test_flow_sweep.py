"""Every shipped part over all flows it may see: heat and loss without a jump, loss never falling."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray

from configurator.foundations.coolants import Coolant, properties
from configurator.parts.kinds import Core, Exchanger
from configurator.physics.effectiveness import conductance
from configurator.physics.operating_point import head
from configurator.prediction.bench import Loop, make_columns
from configurator.prediction.estimates import film_conductance
from configurator.prediction.loop_flow import part_loss_pa
from configurator.prediction.surface_figures import Surface
from configurator.prediction.zone_air import ZoneAir
from tests.prediction.made_kits import HALF_GLYCOL, WATER, cores, exchangers, run, whole_bench

FLOWS = np.arange(1.0, 100.05, 0.1) / 60e3
"""1 to 100 L/min in steps of 0.1 L/min [m3/s]."""

COLD_K, WARM_K = 278.15, 353.15
ALONE = Loop(0, None, 0, 0, (run(),) * 3, (), ZoneAir(0.0, 0.0, 0.0, 0.0))


def excess(values: NDArray[np.float64]) -> float:
    """Largest step between neighbours over what the steps beside it explain, on the scale of the curve's height.

    A kink lies inside one step, which is then between its two neighbours; a jump is larger than both.
    """
    steps = np.abs(np.diff(values))
    beside = np.maximum(steps[:-2], steps[2:])
    return float(np.max(steps[1:-1] - 1.3 * beside) / np.max(np.abs(values)))


def test_the_measure_of_jumps_sees_a_jump_and_no_kink() -> None:
    straight, middle = FLOWS * 1.0, float(FLOWS[500])
    kinked = np.where(straight < middle, straight, 5 * straight - 4 * middle)
    jumping = straight + 0.002 * FLOWS[-1] * (straight > middle)
    assert excess(straight) < 1e-6
    assert excess(kinked) < 1e-6
    assert excess(jumping) > 1e-3


def _on_all_flows(surface: Surface) -> Surface:
    """The surface as a column with a row for every flow."""
    rows = {
        name: np.broadcast_to(np.asarray(getattr(surface.channels, name), dtype=float), FLOWS.shape)
        for name in ("area_m2", "diameter_m", "aspect", "pass_length_m", "length_m", "wetted_m2")
    }
    return replace(surface, channels=replace(surface.channels, **rows))


def _loss(surface: Surface, coolant: Coolant, t_k: float) -> NDArray[np.float64]:
    """Coolant loss of one part at every flow, as a loop of that core alone is asked."""
    columns = make_columns(whole_bench(), [ALONE] * len(FLOWS))
    alone = replace(columns, core=_on_all_flows(surface))
    liquid = properties(coolant, np.full(FLOWS.shape, t_k))
    return part_loss_pa(alone, liquid, FLOWS, 0)


def _heat(part: Core | Exchanger, surface: Surface, coolant: Coolant, t_k: float) -> NDArray[np.float64]:
    """Conductance on inlet difference at every flow, with the other side held: 0.2 kg/s of charge, 5 m/s of air."""
    air = 0.2 if isinstance(part, Core) else 5.0 * float(surface.face_area_m2) * 1.18
    liquid = properties(coolant, t_k)
    film = film_conductance(surface.channels, surface.film_scale, FLOWS, liquid)
    ua = 1 / (float(surface.air_resistance) * air ** -float(surface.air_exponent) + 1 / film)
    how = part.arrangement
    rate = FLOWS * float(liquid.density * liquid.specific_heat)
    return np.asarray(conductance(how.flow, how.passes, how.pass_order, ua, air * 1008.0, rate))


PARTS = [
    *zip(cores(), whole_bench().core_surfaces, strict=True),
    *zip(exchangers(), whole_bench().exchanger_surfaces, strict=True),
]


@pytest.mark.parametrize(("part", "surface"), PARTS, ids=[part.id for part, _ in PARTS])
@pytest.mark.parametrize("coolant", [WATER, HALF_GLYCOL], ids=["water", "half glycol"])
@pytest.mark.parametrize("t_k", [COLD_K, WARM_K], ids=["cold", "warm"])
def test_heat_and_loss_have_no_jump_and_loss_never_falls(
    part: Core | Exchanger, surface: Surface, coolant: Coolant, t_k: float
) -> None:
    loss = _loss(surface, coolant, t_k)
    assert np.all(np.diff(loss) > 0)
    assert excess(loss) < 1e-6
    heat = _heat(part, surface, coolant, t_k)
    assert np.all(heat > 0)
    assert excess(heat) < 1e-6


@pytest.mark.parametrize("index", range(len(whole_bench().pumps)), ids=[pump.id for pump in whole_bench().pumps])
def test_a_pump_makes_less_the_more_flows_and_without_a_jump(index: int) -> None:
    bench = whole_bench()
    flows = np.linspace(0.0, 1.3 * bench.pump_free_flow[index], 1001)
    heads = head(bench.curves, index, flows)
    assert np.all(np.diff(heads) < 0)
    assert excess(heads) < 1e-6
    for point in bench.pumps[index].curve:
        found = float(head(bench.curves, index, float(point.flow_m3_per_s)))
        assert found == pytest.approx(float(point.head_pa), abs=1e-6 * heads[0])
