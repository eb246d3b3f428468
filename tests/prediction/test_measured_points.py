"""The surface through measured points: what contradicts itself is told by a wider band, not by a narrow wrong one."""

from __future__ import annotations

import numpy as np
import pytest

from configurator.foundations.air import specific_heat
from configurator.foundations.coolants import properties
from configurator.parts.kinds import Core, Exchanger
from configurator.physics.effectiveness import conductance
from configurator.prediction.estimates import film_conductance
from configurator.prediction.measured_points import fluid_of, point_ua
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
        ua = point_ua(part, point)
        if isinstance(part, Core):
            loss = float(part.performance.measured[index].charge_loss_pa)
            of_loss.append(abs(loss / float(found.charge_loss_pa or 0.0) - 1))
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


def at_points(core: Core, ua_w_per_k: list[float]) -> Core:
    """A core whose points have these conductances, each at its own flows, so written as effectiveness."""
    way, points = core.arrangement, []
    for point, ua in zip(core.performance.measured, ua_w_per_k, strict=True):
        air = float(point.air_kg_per_s) * float(specific_heat(float(point.charge_in_k)))
        liquid = properties(fluid_of(point.fluid), float(point.coolant_in_k))
        rate = float(point.coolant_m3_per_s) * float(liquid.density * liquid.specific_heat)
        share = float(conductance(way.flow, way.passes, way.pass_order, ua, air, rate)) / air
        points.append(point.model_copy(update={"effectiveness": type(point.effectiveness)(share, f"{share}")}))
    return core.model_copy(update={"performance": core.performance.model_copy(update={"measured": tuple(points)})})


def shares_of_film(core: Core) -> list[float]:
    """The liquid film's share of the whole resistance at each point."""
    surface, shares = surface_of(core), []
    for point in core.performance.measured:
        liquid = properties(fluid_of(point.fluid), float(point.coolant_in_k))
        film = 1 / float(film_conductance(surface.channels, surface.film_scale, float(point.coolant_m3_per_s), liquid))
        air = float(surface.air_resistance) * float(point.air_kg_per_s) ** -float(surface.air_exponent)
        shares.append(film / (film + air))
    return shares


def test_where_the_film_would_be_negative_the_air_alone_is_fitted() -> None:
    """Conductance rises as air^0.9, steeper than an air side can at the steepest exponent, 0.8."""
    flows = [float(point.air_kg_per_s) for point in CORE.performance.measured]
    core = at_points(CORE, [200 * (flow / flows[0]) ** 0.9 for flow in flows])
    assert surface_of(core).air_exponent == pytest.approx(0.80)
    assert max(shares_of_film(core)) < 1e-5
    assert missed(core)[0] < 0.05


def test_where_the_air_would_be_negative_the_film_alone_is_fitted() -> None:
    """Conductance that follows the coolant's film alone, though there is more air at more coolant: less at more air."""
    liquid = [properties(fluid_of(p.fluid), float(p.coolant_in_k)) for p in CORE.performance.measured]
    films = [
        float(film_conductance(surface_of(CORE).channels, 1.0, float(point.coolant_m3_per_s), fluid))
        for point, fluid in zip(CORE.performance.measured, liquid, strict=True)
    ]
    flows = [float(point.air_kg_per_s) for point in CORE.performance.measured]
    falling = [
        300 * film / films[0] * (flow / flows[0]) ** -0.1 for film, flow in zip(films, flows, strict=True)
    ]
    core = at_points(CORE, falling)
    assert min(shares_of_film(core)) > 1 - 1e-5
    assert missed(core)[0] < 0.10
