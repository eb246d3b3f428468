"""Coolants: shares that protect, what is inside the tables, and continuity between their points."""

from __future__ import annotations

import subprocess
import sys

import numpy as np
import pytest

from configurator.foundations.coolants import (
    Coolant,
    Kind,
    edge_passed,
    freezing_point_k,
    properties,
    smallest_share,
    valid_range,
)

GLYCOLS: tuple[Kind, ...] = ("ethylene glycol", "propylene glycol")


@pytest.mark.parametrize("kind,share", [("water", 0.3), (GLYCOLS[0], 0.65), (GLYCOLS[1], -0.1)])
def test_a_filling_that_cannot_be_is_refused(kind: Kind, share: float) -> None:
    with pytest.raises(ValueError, match="by volume"):
        Coolant(kind, share)


@pytest.mark.parametrize("kind", GLYCOLS)
def test_the_smallest_share_protects_and_one_step_less_does_not(kind: Kind) -> None:
    for coldest_k in np.arange(225.0, 275.0, 2.5):
        share = smallest_share(kind, float(coldest_k))
        if share is None:
            assert freezing_point_k(Coolant(kind, 0.6)) > coldest_k - 3.0
            continue
        assert share == pytest.approx(round(share * 20) / 20)
        assert freezing_point_k(Coolant(kind, share)) <= coldest_k - 3.0
        assert freezing_point_k(Coolant(kind, share - 0.05)) > coldest_k - 3.0 or share == 0.05


@pytest.mark.parametrize(
    "kind,coldest_c,share", [(GLYCOLS[0], -12.0, 0.30), (GLYCOLS[0], -13.0, 0.35), (GLYCOLS[1], -10.0, 0.30)]
)
def test_share_for_a_cold_night_is_that_of_printed_tables(kind: Kind, coldest_c: float, share: float) -> None:
    """ASHRAE by volume: EG 30 % freezes at -15.7 degC, PG 30 % at -13.1 degC; 3 K are kept in hand."""
    assert smallest_share(kind, coldest_c + 273.15) == share


def test_water_is_for_frost_free_places_only() -> None:
    assert smallest_share("water", 273.15 + 3.0) == 0.0
    assert smallest_share("water", 273.15 + 2.9) is None
    assert smallest_share("water", 273.15, margin_k=0.0) == 0.0


def test_a_colder_night_than_any_mixture_stands_has_no_share() -> None:
    assert smallest_share("propylene glycol", 200.0) is None


@pytest.mark.parametrize(
    "coolant", [Coolant("water", 0.0), Coolant(GLYCOLS[0], 0.07), Coolant(GLYCOLS[1], 0.5)]
)
def test_outside_the_tables_the_edge_is_given_and_told(coolant: Coolant) -> None:
    least, most = valid_range(coolant)
    t_k = np.array([least - 20.0, least, 0.5 * (least + most), most, most + 20.0])
    assert [edge_passed(coolant, t) for t in t_k] == [least, None, None, None, most]
    for column in properties(coolant, t_k):
        assert column[0] == column[1] and column[4] == column[3]
        assert column[1] != column[2]


@pytest.mark.parametrize("kind", GLYCOLS)
def test_nothing_jumps_with_temperature_or_share(kind: Kind) -> None:
    """A step of 0.05 K moves no figure by more than 0.5 %, a step of 0.1 % by volume by no more than 1 %."""
    t_k = np.arange(262.0, 372.0, 0.05)
    for share in (0.02, 0.1, 0.34, 0.6):
        for column in properties(Coolant(kind, share), t_k):
            assert np.max(np.abs(np.diff(np.log(column)))) < 5e-3
    shares = np.arange(0.0, 0.6001, 0.001)
    warm = [properties(Coolant(kind, min(float(s), 0.6)), 300.0) for s in shares]
    assert np.max(np.abs(np.diff(np.log(np.array(warm)), axis=0))) < 1e-2
    freezing = [freezing_point_k(Coolant(kind, min(float(s), 0.6))) for s in shares]
    assert np.all(np.diff(freezing) < 0.0)


def test_glycol_thickens_and_carries_less_heat_than_water() -> None:
    """As in every coolant table: viscosity up, specific heat and conductivity down with the share."""
    for kind in GLYCOLS:
        liquids = [properties(Coolant(kind, share), 313.15) for share in (0.1, 0.3, 0.5)]
        liquids.insert(0, properties(Coolant("water", 0.0), 313.15))
        assert np.all(np.diff([x.viscosity for x in liquids]) > 0.0)
        assert np.all(np.diff([x.specific_heat for x in liquids]) < 0.0)
        assert np.all(np.diff([x.conductivity for x in liquids]) < 0.0)


def test_the_tables_need_nothing_heavy() -> None:
    """A fresh interpreter reads them without scipy, yaml or a property library."""
    code = (
        "import sys; from configurator.foundations.coolants import Coolant, properties;"
        "properties(Coolant('ethylene glycol', 0.4), 300.0);"
        "print([m for m in ('scipy', 'yaml', 'CoolProp', 'pydantic', 'rich') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
