"""The surface through measured points: what contradicts itself is told by a wider band, not by a narrow wrong one."""

from __future__ import annotations

import numpy as np
import pytest

from configurator.parts.kinds import Core, Exchanger
from configurator.prediction.plausibility import core_point_ua, exchanger_point_ua
from configurator.prediction.surface_figures import BANDS, WIDEST_BAND, Surface
from configurator.prediction.surfaces import core_surface, exchanger_surface
from configurator.prediction.working_point import at_work, measured_at
from tests.prediction.made_kits import cores, exchangers

SEVERAL = [part for part in (*cores(), *exchangers()) if len(part.performance.measured) > 1]
CORE = next(part for part in cores() if len(part.performance.measured) == 3)


def surface_of(part: Core | Exchanger) -> Surface:
    return core_surface(part) if isinstance(part, Core) else exchanger_surface(part)


def bent(core: Core, **first: float) -> Core:
    """A core with other figures at its first point, in SI units."""
    point, *rest = core.performance.measured
    figures = {key: type(getattr(point, key))(value, f"{value}") for key, value in first.items()}
    measured = (point.model_copy(update=figures), *rest)
    return core.model_copy(update={"performance": core.performance.model_copy(update={"measured": measured})})


def missed(part: Core | Exchanger) -> tuple[float, float]:
    """How far the measured conductances and losses lie from the surface, as shares of what it gives; the most."""
    of_ua, of_loss = [], []
    for index, point in enumerate(part.performance.measured):
        found = at_work(part, measured_at(point))
        if isinstance(part, Core):
            ua = core_point_ua(part, part.performance.measured[index])
            loss = float(part.performance.measured[index].charge_loss_pa)
            of_loss.append(abs(loss / float(found.charge_loss_pa or 0.0) - 1))
        else:
            ua = exchanger_point_ua(part, part.performance.measured[index])
        of_ua.append(abs(ua / found.ua_w_per_k - 1))
        of_loss.append(abs(float(point.coolant_loss_pa) / found.coolant_loss_pa - 1))
    return max(of_ua), max(of_loss)


def test_points_that_contradict_each_other_widen_the_band_on_conductance() -> None:
    """60 % at the least flows, where the other points make it some 84 %: conductances some 30 % apart."""
    core = bent(CORE, effectiveness=0.60)
    surface, (of_ua, _) = surface_of(core), missed(core)
    assert of_ua > 0.15
    assert surface.ua_band == pytest.approx(of_ua, rel=1e-6)
    assert surface.loss_band == BANDS["several points"][1]


@pytest.mark.parametrize("key", ["charge_loss_pa", "coolant_loss_pa"])
def test_points_that_contradict_each_other_widen_the_band_on_losses(key: str) -> None:
    """The loss at the least flow doubled."""
    core = bent(CORE, **{key: 2 * float(getattr(CORE.performance.measured[0], key))})
    surface, (_, of_loss) = surface_of(core), missed(core)
    assert of_loss > 0.15
    assert surface.loss_band == pytest.approx(of_loss, rel=1e-6)
    assert surface.ua_band == BANDS["several points"][0]


def test_however_far_points_are_apart_some_conductance_and_some_loss_are_left() -> None:
    """A hundredfold loss at one point is further off than its whole: a low end under nothing would be no figure."""
    core = bent(CORE, charge_loss_pa=200e3, coolant_loss_pa=500e3)
    surface = surface_of(core)
    assert missed(core)[1] > 0.9
    assert surface.loss_band == WIDEST_BAND < 1
    low = at_work(core, measured_at(core.performance.measured[1]), +1)
    assert low.coolant_loss_pa > 0 and (low.charge_loss_pa or 0.0) > 0


@pytest.mark.parametrize("part", SEVERAL, ids=lambda part: part.id)
def test_the_points_of_every_shipped_part_lie_well_inside_its_band(part: Core | Exchanger) -> None:
    """Within 3 %, as a good bench repeats its points; so the band is that of the tier. Common practice, no source."""
    assert np.max(missed(part)) < 0.03
    assert (surface_of(part).ua_band, surface_of(part).loss_band) == BANDS["several points"]
