"""Effectiveness and channel heat held against ht, exact cross-flow also against Bessel functions."""

from __future__ import annotations

import math

import numpy as np
import pytest
from ht import effectiveness_from_NTU, fin_efficiency_Kern_Kraus
from ht.conv_internal import (
    Nu_laminar_rectangular_Shan_London,
    laminar_entry_thermal_Hausen,
    turbulent_Gnielinski,
)
from scipy.special import ive

from configurator.physics.channel_heat import nusselt
from configurator.physics.compact_surfaces import fin_efficiency
from configurator.physics.effectiveness import effectiveness

pytestmark = pytest.mark.oracle

CASES = [(n, c) for n in (0.05, 0.3, 1.0, 2.5, 6.0) for c in (0.05, 0.3, 0.7, 0.95)]
SUBTYPES = [
    ("counter-flow", True, "counterflow"),
    ("parallel-flow", True, "parallel"),
    ("cross-flow both unmixed", True, "crossflow"),
    ("cross-flow air mixed", True, "crossflow, mixed Cmin"),
    ("cross-flow air mixed", False, "crossflow, mixed Cmax"),
    ("cross-flow coolant mixed", True, "crossflow, mixed Cmax"),
    ("cross-flow coolant mixed", False, "crossflow, mixed Cmin"),
]


@pytest.mark.parametrize("flow,air_is_min,subtype", SUBTYPES)
def test_effectiveness_is_that_of_the_library(flow: str, air_is_min: bool, subtype: str) -> None:
    for ntu, ratio in CASES:
        found = effectiveness(flow, ntu, ratio, air_is_min=air_is_min)
        assert found == pytest.approx(effectiveness_from_NTU(NTU=ntu, Cr=ratio, subtype=subtype), rel=1e-7)


def test_unmixed_cross_flow_equals_the_series_of_bessel_functions() -> None:
    """1 - e^-(1+C)N (I0 + sqrt(C) I1 - (1-C)/C sum C^(n/2) In) of 2 N sqrt(C); Mason 1955, from memory."""
    for ntu in (1e-6, 1e-3, 0.1, 0.7, 2.0, 7.0, 25.0, 90.0):
        for ratio in (1e-4, 0.2, 0.6, 0.99, 1.0):
            x, n = 2.0 * ntu * math.sqrt(ratio), np.arange(2, 600)
            rest = (1.0 - ratio) / ratio * (ratio ** (n / 2.0) * ive(n, x)).sum()
            bracket = ive(0, x) + math.sqrt(ratio) * ive(1, x) - rest
            bessel = 1.0 - math.exp(x - (1.0 + ratio) * ntu) * bracket
            assert effectiveness("cross-flow both unmixed", ntu, ratio) == pytest.approx(bessel, abs=1e-10)


def test_the_widely_printed_approximation_is_not_what_is_computed() -> None:
    """The approximate formula is 3.8 % low at NTU 0.25 and equal capacity rates; the library has it too."""
    exact = float(effectiveness("cross-flow both unmixed", 0.25, 1.0))
    approximate = effectiveness_from_NTU(NTU=0.25, Cr=1.0, subtype="crossflow approximate")
    assert approximate / exact - 1.0 == pytest.approx(-0.038, abs=1e-3)


def test_laminar_round_tubes_within_one_per_cent_of_the_library() -> None:
    for re in (5.0, 200.0, 1200.0, 2300.0):
        for pr, slender in ((7.0, 0.02), (40.0, 0.005)):
            reference = laminar_entry_thermal_Hausen(Re=re, Pr=pr, L=1.0, Di=slender)
            assert nusselt(re, pr, slender, 1.0) == pytest.approx(reference, rel=1e-2)


def test_developed_flat_channels_within_one_per_cent_of_the_library() -> None:
    for aspect in (0.02, 0.1, 0.3, 0.6, 0.9):
        found = nusselt(1e-6, 5.0, 1e-3, aspect)
        assert found == pytest.approx(Nu_laminar_rectangular_Shan_London(aspect), rel=1e-2)


def test_turbulent_flow_within_one_per_cent_of_the_library() -> None:
    for re in (4000.0, 1e4, 1e5):
        for pr in (0.7, 5.0, 40.0):
            friction = (0.79 * math.log(re) - 1.64) ** -2
            reference = turbulent_Gnielinski(Re=re, Pr=pr, fd=friction)
            assert nusselt(re, pr, 0.01, 0.2) == pytest.approx(reference, rel=1e-2)


def test_fin_efficiency_is_the_straight_limit_of_the_librarys_annular_fin() -> None:
    """A fin on a very large tube is a straight fin."""
    annular = fin_efficiency_Kern_Kraus(Do=2.0, D_fin=2.0 + 2 * 4e-3, t_fin=1e-4, k_fin=180.0, h=100.0)
    assert fin_efficiency(100.0, 180.0, 1e-4, 4e-3) == pytest.approx(annular, rel=1e-3)
