"""One part alone at a point: held against what was measured, and against textbook relations worked out here."""

from __future__ import annotations

import math

import pytest

from configurator.foundations.air import specific_heat
from configurator.foundations.coolants import Coolant, properties
from configurator.parts.kinds import Core, Exchanger
from configurator.prediction.surface_figures import BANDS
from configurator.prediction.working_point import CORE_POINT, EXCHANGER_POINT, WorkingPoint, at_work, measured_at
from tests.journeys.kitwright import shipped_part

ONE_POINT = Core.model_validate(shipped_part("core-176-wide"))
SLIM = Exchanger.model_validate(shipped_part("exchanger-380-slim"))


@pytest.mark.parametrize("part", [ONE_POINT, SLIM])
def test_a_part_measured_once_gives_its_point_back(part: Core | Exchanger) -> None:
    (point,) = part.performance.measured
    found = at_work(part, measured_at(point))
    assert found.effectiveness == pytest.approx(float(point.effectiveness), rel=1e-9)
    assert found.coolant_loss_pa == pytest.approx(float(point.coolant_loss_pa), rel=1e-9)
    if found.charge_loss_pa is not None:
        assert found.charge_loss_pa == pytest.approx(float(point.charge_loss_pa), rel=1e-9)


def test_a_counter_flow_core_by_the_textbook() -> None:
    """eps = (1 - exp(-N (1 - C))) / (1 - C exp(-N (1 - C))): Kays and London, Compact Heat Exchangers; from memory."""
    core = Core.model_validate(
        shipped_part("core-450-long", arrangement={"flow": "counter-flow", "passes": 1}, performance={})
    )
    found = at_work(core, CORE_POINT)
    air = 0.2 * float(specific_heat(423.15))
    liquid = properties(Coolant("ethylene glycol", 0.3), 313.15)
    ratio = air / (0.0005 * float(liquid.density * liquid.specific_heat))
    units = found.ua_w_per_k / air
    left = math.exp(-units * (1 - ratio))
    assert found.effectiveness == pytest.approx((1 - left) / (1 - ratio * left), rel=1e-9)
    assert found.heat_w == pytest.approx(found.effectiveness * air * 110, rel=1e-9)
    assert found.air_out_k == pytest.approx(423.15 - found.effectiveness * 110)


@pytest.mark.parametrize(("part", "point"), [(ONE_POINT, CORE_POINT), (SLIM, EXCHANGER_POINT)])
def test_the_ends_are_the_bands_of_the_tier(part: Core | Exchanger, point: WorkingPoint) -> None:
    low, nominal, high = (at_work(part, point, end) for end in (-1, 0, 1))
    ua, loss = BANDS["one point"]
    assert (low.ua_w_per_k, high.ua_w_per_k) == pytest.approx(
        (nominal.ua_w_per_k * (1 - ua), nominal.ua_w_per_k * (1 + ua))
    )
    assert (low.coolant_loss_pa, high.coolant_loss_pa) == pytest.approx(
        (nominal.coolant_loss_pa * (1 + loss), nominal.coolant_loss_pa * (1 - loss))
    )
    assert low.effectiveness < nominal.effectiveness < high.effectiveness < 1
