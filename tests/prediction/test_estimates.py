"""What stands for a part of which nobody measured anything, worked by hand from the rules that it is made by."""

from __future__ import annotations

from typing import Any

import pytest

from configurator.foundations.coolants import Coolant, properties
from configurator.parts.kinds import Core, Exchanger
from configurator.prediction.estimates import (
    default_exchanger_channels,
    film_conductance,
    fin_depth_m,
)
from configurator.prediction.surfaces import Surface, core_surface, exchanger_surface
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
