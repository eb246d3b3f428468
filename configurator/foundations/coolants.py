"""Water and its mixtures with glycol: density, specific heat, viscosity, conductivity and freezing point.

The figures stand in `coolant_tables.json`, generated from CoolProp's fits of the published ASHRAE tables of
inhibited glycols and from IAPWS-95 for water by `tests/oracle_checks/make_coolant_tables.py`. A share of glycol is
always by volume, as poured. Such tables are good to about 1 % in density, 2 % in specific heat, 3 % in
conductivity and 8 % in viscosity.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from typing import Any, Final, Literal, NamedTuple

import numpy as np

from configurator.foundations.freezing import MOST_GLYCOL, WATER_FREEZES_K
from configurator.foundations.numbers import Array, Numbers

Kind = Literal["water", "ethylene glycol", "propylene glycol"]
FREEZE_MARGIN_K: Final = 3.0
"""A coolant stays liquid this far below the coldest night; common practice, no source."""


@dataclass(frozen=True)
class Coolant:
    """One filling: `kind` of antifreeze and its share by volume, 0 to 0.6 (water: 0). Raises ValueError
    outside.
    """

    kind: Kind
    glycol_by_volume: float

    def __post_init__(self) -> None:
        most = 0.0 if self.kind == "water" else MOST_GLYCOL
        if not 0.0 <= self.glycol_by_volume <= most:
            share = f"a share of {self.glycol_by_volume:g} by volume"
            raise ValueError(f"{self.kind}: {share} is outside 0 to {most:g}")


FILLED_K = 293.15
"""A loop is filled at room temperature: that settles what mass of coolant it holds, however hot it gets."""


class Liquid(NamedTuple):
    """Properties of a liquid, each of the shape of the temperature asked for."""

    density: Array
    """[kg/m³]"""
    specific_heat: Array
    """[J/(kg K)]"""
    viscosity: Array
    """dynamic [Pa s]"""
    conductivity: Array
    """[W/(m K)]"""


class _Curves(NamedTuple):
    t_k: Array
    columns: Array
    """Density, specific heat, logarithm of the viscosity, conductivity: shape (4, temperatures)."""
    freezing_k: float

    @property
    def least_k(self) -> float:
        return max(self.freezing_k, float(self.t_k[0]))


def properties(coolant: Coolant, t_k: Numbers) -> Liquid:
    """Properties of `coolant` at `t_k` [K], any shape, between the table's points (viscosity: its logarithm).

    Outside `valid_range` the value at the nearer edge is given, so that a search can go on; `edge_passed` tells, and a
    kit whose coolant is outside carries a caution.
    """
    curves = _curves(coolant)
    t = np.maximum(t_k, curves.least_k)
    density, specific_heat, log_viscosity, conductivity = (
        np.interp(t, curves.t_k, column) for column in curves.columns
    )
    return Liquid(density, specific_heat, np.exp(log_viscosity), conductivity)


def freezing_point_k(coolant: Coolant) -> float:
    """Temperature [K] at which the first ice forms in `coolant`; 0 to 60 % by volume, below 10 % on a straight
    line to water.
    """
    return _curves(coolant).freezing_k


def valid_range(coolant: Coolant) -> tuple[float, float]:
    """Lowest and highest temperature [K] at which `properties` of `coolant` are vouched for: liquid, and inside the
    tables.
    """
    curves = _curves(coolant)
    return curves.least_k, float(curves.t_k[-1])


def edge_passed(coolant: Coolant, t_k: float) -> float | None:
    """The end of the `valid_range` of `coolant` that `t_k` [K] lies beyond [K]; None inside it."""
    least, most = valid_range(coolant)
    return least if t_k < least else most if t_k > most else None


def smallest_share(kind: Kind, coldest_k: float, margin_k: float = FREEZE_MARGIN_K) -> float | None:
    """Smallest share of `kind` by volume [-], in whole steps of 5 %, that stays liquid down to `coldest_k` -
    `margin_k` [K].

    0 for water where that is not below 0 degC; None where no share up to 60 % (or no water) protects so far.
    """
    needed = coldest_k - margin_k
    if kind == "water":
        return 0.0 if needed >= WATER_FREEZES_K else None
    steps = range(1, round(MOST_GLYCOL / 0.05) + 1)
    shares = (round(0.05 * step, 2) for step in steps)
    return next((share for share in shares if freezing_point_k(Coolant(kind, share)) <= needed), None)


@lru_cache(maxsize=1)
def _tables() -> dict[str, Any]:
    text = (files("configurator.foundations") / "coolant_tables.json").read_text(encoding="utf-8")
    tables: dict[str, Any] = json.loads(text)
    return tables


@lru_cache(maxsize=256)
def _curves(coolant: Coolant) -> _Curves:
    """The table's rows at one share: between the neighbouring shares, and between water and the leanest
    mixture.
    """
    water = _rows("water", 0)
    if coolant.glycol_by_volume == 0.0:
        return water
    shares: list[float] = _tables()[coolant.kind]["share"]
    if coolant.glycol_by_volume >= shares[0]:
        above = int(np.clip(np.searchsorted(shares, coolant.glycol_by_volume), 1, len(shares) - 1))
        low, lean = _rows(coolant.kind, above - 1), shares[above - 1]
        high, rich = _rows(coolant.kind, above), shares[above]
    else:
        high, rich = _rows(coolant.kind, 0), shares[0]
        t_k = np.append(water.least_k, high.t_k[high.t_k > water.least_k])
        low, lean, high = _resampled(water, t_k), 0.0, _resampled(high, t_k)
    weight = (coolant.glycol_by_volume - lean) / (rich - lean)
    return _Curves(
        low.t_k,
        (1.0 - weight) * low.columns + weight * high.columns,
        (1.0 - weight) * low.freezing_k + weight * high.freezing_k,
    )


def _rows(kind: str, index: int) -> _Curves:
    table = _tables()[kind]
    density, specific_heat, viscosity, conductivity = (
        np.array(table[name][index]) for name in ("density", "specific_heat", "viscosity", "conductivity")
    )
    columns = np.array([density, specific_heat, np.log(viscosity), conductivity])
    return _Curves(np.array(table["t_k"]), columns, float(table["freezing_k"][index]))


def _resampled(curves: _Curves, t_k: Array) -> _Curves:
    """The same curves at other temperatures."""
    columns = np.array([np.interp(t_k, curves.t_k, column) for column in curves.columns])
    return _Curves(t_k, columns, curves.freezing_k)
