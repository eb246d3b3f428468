"""What stands for a part of which nobody measured anything, worked by hand from the rules that it is made by."""

from __future__ import annotations

import math
from typing import Any

import pytest

from configurator.foundations.coolants import Coolant, properties
from configurator.parts.kinds import Core, Exchanger
from configurator.prediction.estimates import (
    default_exchanger_channels,
    film_conductance,
    fin_depth_m,
)
from configurator.prediction.surface_figures import Surface
from configurator.prediction.surfaces import core_surface, exchanger_surface
from tests.catalogue_data.heat_parts import CORE_ROWS, EXCHANGER_ROWS, box_mm

CORE, EXCHANGER = "core-260-short", "exchanger-460-plain"
STRIPS = {"kind": "offset strip", "pitch": "2 mm", "height": "8 mm", "thickness": "0.1 mm", "strip_length": "3 mm"}


def core(**figures: Any) -> Core:
    """A shipped core with other figures, as in a file; nothing of it was measured."""
    return Core.model_validate({**CORE_ROWS[CORE], "performance": {}, **figures})


def exchanger(**figures: Any) -> Exchanger:
    """The same of a front exchanger."""
    return Exchanger.model_validate({**EXCHANGER_ROWS[EXCHANGER], "performance": {}, **figures})


def conductance(surface: Surface, air_kg_per_s: float, litres_per_min: float, liquid: Coolant, t_k: float) -> float:
    """1/UA = air resistance x flow^-n + 1/(hA of the liquid)."""
    film = film_conductance(surface.channels, surface.film_scale, litres_per_min / 60e3, properties(liquid, t_k))
    return float(1 / (surface.air_resistance * air_kg_per_s**-surface.air_exponent + 1 / film))


def test_a_core_by_its_size_has_the_conductance_of_its_litres() -> None:
    """80 W/K per litre of box at 10 kg/s per m2 of front and 30 L/min of 30 % glycol at 40 degC, and 13 kPa lost per
    metre that the charge flows (common practice, no source).
    """
    x, y, z = box_mm(core())
    surface = core_surface(core())
    assert surface.tier == "size"
    found = conductance(surface, 1e-5 * y * z, 30.0, Coolant("ethylene glycol", 0.3), 313.15)
    assert found == pytest.approx(80.0 * x * y * z / 1e6, rel=1e-6)
    assert float(surface.charge_loss_pa) == pytest.approx(13.0 * x)
    assert float(surface.charge_loss_flow) == pytest.approx(1e-5 * y * z)


def test_the_metal_of_a_core_warms_as_aluminium_does() -> None:
    """903 J/(kg K), pure aluminium at 300 K; published: Incropera, Fundamentals of Heat and Mass Transfer, table A.1
    (from memory); wrought alloys lie within 2 % of it. A stated specific heat comes first.
    """
    light, copper = core(mass="4 kg"), core(mass="4 kg", specific_heat="385 J/kg/K")
    assert float(core_surface(light).metal_j_per_k) == pytest.approx(903.0 * 4, rel=0.02)
    assert float(core_surface(copper).metal_j_per_k) == pytest.approx(385.0 * 4)


def test_a_front_exchanger_without_its_inside_has_a_tube_each_ten_millimetres() -> None:
    """Of a face 200 mm high 20 tubes, 1.6 mm clear; 24 mm wide in fins of 26 mm. In two passes 10 lie side by side."""
    face = {"wide": "600 mm", "high": "200 mm"}
    one = {"flow": "cross-flow both unmixed", "passes": 1}
    slim = exchanger(face=face, fin_depth="26 mm", arrangement=one)
    found = default_exchanger_channels(slim)
    assert found.area_m2 == pytest.approx(20 * 24e-3 * 1.6e-3)
    assert found.length_m == pytest.approx(0.6)
    two = exchanger(face=face, fin_depth="26 mm", arrangement={**one, "passes": 2, "pass_order": "side by side"})
    assert default_exchanger_channels(two).area_m2 == pytest.approx(found.area_m2 / 2)
    assert default_exchanger_channels(two).length_m == pytest.approx(1.2)


def test_fins_that_nobody_measured_fill_nine_tenths_of_their_box() -> None:
    assert fin_depth_m(exchanger(fin_depth="26 mm")) == pytest.approx(26e-3)
    silent = exchanger(fin_depth=None)
    assert fin_depth_m(silent) == pytest.approx(0.9e-3 * box_mm(silent)[0])


# Air at 1 atm; published: Incropera, Fundamentals of Heat and Mass Transfer, table A.4 (from memory, between rows).
AIR_305_K = {"density": 1.157, "viscosity": 18.7e-6, "specific_heat": 1007.0, "prandtl": 0.706}
AIR_390_K = {"viscosity": 22.6e-6, "specific_heat": 1013.0, "prandtl": 0.691}
ALUMINIUM_W_PER_M_K = 180.0
"""Wrought alloys of fins, 160 to 200; published, handbook values (from memory)."""


def straight_fin(film: float, thick_m: float, half_m: float) -> float:
    """tanh(mL)/(mL) with m2 = 2h/(kt)."""
    ml = half_m * math.sqrt(2 * film / (ALUMINIUM_W_PER_M_K * thick_m))
    return math.tanh(ml) / ml


@pytest.mark.parametrize("speed", [3.0, 6.0])
def test_louvred_fins_give_what_their_formula_gives_by_hand(speed: float) -> None:
    """Fins 1.41 by 8 mm of 0.1 mm, louvres of 1.2 mm at 27 degrees and 6.6 mm long, between tubes of 1.6 mm clear and
    0.5 mm walls: a tube every 10.6 mm. Published: Chang & Wang, Int. J. Heat Mass Transfer 40 (1997) 533, eq. 9 (from
    memory); areas by plain geometry.
    """
    fins = {
        "kind": "louvred", "pitch": "1.41 mm", "height": "8 mm", "thickness": "0.1 mm",
        "louvre_pitch": "1.2 mm", "louvre_angle": 27.0, "louvre_length": "6.6 mm",
    }  # fmt: skip
    channels = {"count": 19, "wide": "24 mm", "high": "1.6 mm", "length": "600 mm"}
    performance = {"fins": fins, "channels": channels}
    surface = exchanger_surface(
        exchanger(face={"wide": "600 mm", "high": "212 mm"}, fin_depth="26 mm", performance=performance)
    )
    assert surface.tier == "geometry"
    air = AIR_305_K
    between = speed / (8 / 10.6 * (1 - 0.1 / 1.41))
    re = between * air["density"] * 1.2e-3 / air["viscosity"]
    shape = (27 / 90) ** 0.27 * (1.41 / 1.2) ** -0.14 * (8 / 1.2) ** -0.29 * (26 / 1.2) ** -0.23
    shape *= (6.6 / 1.2) ** 0.68 * (10.6 / 1.2) ** -0.28 * (0.1 / 1.2) ** -0.05
    film = shape * re**-0.49 * between * air["density"] * air["specific_heat"] / air["prandtl"] ** (2 / 3)
    walls_m2 = 20 * 0.6 * 2 * 26e-3
    fins_m2 = 20 * (600 / 1.41) * 2 * 8e-3 * 26e-3
    conducts = film * (walls_m2 + straight_fin(film, 0.1e-3, 4e-3) * fins_m2)
    flow = speed * 0.6 * 0.212 * air["density"]
    assert float(surface.air_resistance * flow**-surface.air_exponent) == pytest.approx(1 / conducts, rel=0.01)


@pytest.mark.parametrize("mass_flux", [5.0, 10.0])
def test_offset_strips_give_what_their_formulas_give_by_hand(mass_flux: float) -> None:
    """Fins 2 by 8 mm of 0.1 mm in strips of 3 mm, layers 12 mm apart with channels of 3 mm and two plates of 0.5 mm: 8
    in 96 mm. Published: Manglik & Bergles, Exp. Therm. Fluid Sci. 10 (1995) 171 (from memory); areas by plain geometry.
    """
    channels = {"count": 20, "wide": "60 mm", "high": "3 mm", "length": "100 mm"}
    block = {"x": "160 mm", "y": "100 mm", "z": "96 mm"}
    surface = core_surface(core(performance={"fins": STRIPS, "channels": channels, "block": block}))
    assert surface.tier == "geometry"
    air, s, h, t, strip = AIR_390_K, 1.9e-3, 7.9e-3, 0.1e-3, 3e-3
    open_m2 = 8 * (100 / 2) * s * h
    across = 4 * s * h * strip / (2 * (s * strip + h * strip + t * h) + t * s)
    flow = mass_flux * 0.1 * 0.096
    flux = flow / open_m2
    re, alpha, delta, gamma = flux * across / air["viscosity"], s / h, t / strip, t / s
    j = 0.6522 * re**-0.5403 * alpha**-0.1541 * delta**0.1499 * gamma**-0.0678
    j *= (1 + 5.269e-5 * re**1.340 * alpha**0.504 * delta**0.456 * gamma**-1.055) ** 0.1
    film = j * flux * air["specific_heat"] / air["prandtl"] ** (2 / 3)
    plates = s / (s + h)
    working = plates + (1 - plates) * straight_fin(film, t, h / 2)
    conducts = film * working * 4 * open_m2 * 0.16 / across
    assert float(surface.air_resistance * flow**-surface.air_exponent) == pytest.approx(1 / conducts, rel=0.01)

    f = 9.6243 * re**-0.7422 * alpha**-0.1856 * delta**0.3053 * gamma**-0.2659
    f *= (1 + 7.669e-8 * re**4.429 * alpha**0.920 * delta**3.767 * gamma**0.236) ** 0.1
    if mass_flux == 10.0:  # at the flow that the loss is stated for; 1.5 heads go at the ends (common practice)
        lost = (4 * f * 0.16 / across + 1.5) * flux**2 / 2 / float(surface.charge_loss_density)
        assert float(surface.charge_loss_flow) == pytest.approx(flow)
        assert float(surface.charge_loss_pa) == pytest.approx(lost, rel=0.01)


def test_strips_without_the_block_that_they_fill_fall_back_on_the_size() -> None:
    channels = {"count": 20, "wide": "60 mm", "high": "3 mm", "length": "100 mm"}
    block = {"x": "160 mm", "y": "100 mm", "z": "90 mm"}
    known = {"fins": STRIPS, "channels": channels, "block": block}
    assert core_surface(core(performance=known)).tier == "geometry"
    del known["block"]
    surface = core_surface(core(performance=known))
    assert surface.tier == "size"
    assert surface.channels.area_m2 == pytest.approx(20 * 60e-3 * 3e-3)


def test_the_less_glycol_the_better_a_part_of_a_size_cools() -> None:
    """Water's film is the better one, and the whole can only follow it: by no more than the film's own share."""
    for surface in (core_surface(core()), exchanger_surface(exchanger())):
        half, none = (
            conductance(surface, 0.1, 30.0, Coolant(kind, share), 313.15)
            for kind, share in (("ethylene glycol", 0.5), ("water", 0.0))
        )
        assert half < none < 1.5 * half
