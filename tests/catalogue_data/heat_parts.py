"""The shipped cores, front exchangers and bounds, as written and as records; for the tests beside it."""

from __future__ import annotations

import copy
from pathlib import Path
from typing import Any

import yaml

from configurator.parts.bounds import Bounds
from configurator.parts.kinds import Core, Exchanger

CATALOGUE = Path(__file__).parents[2] / "catalogue"


def _written(section: str) -> Any:
    return yaml.safe_load((CATALOGUE / f"{section}.yaml").read_text(encoding="utf-8"))[section]


CORE_ROWS: dict[str, dict[str, Any]] = {row["id"]: row for row in _written("cores")}
EXCHANGER_ROWS: dict[str, dict[str, Any]] = {row["id"]: row for row in _written("exchangers")}
CORES = {name: Core.model_validate(row) for name, row in CORE_ROWS.items()}
EXCHANGERS = {name: Exchanger.model_validate(row) for name, row in EXCHANGER_ROWS.items()}
BOUNDS = Bounds.model_validate(_written("bounds"))


def changed(row: dict[str, Any], at: tuple[str | int, ...], value: Any) -> dict[str, Any]:
    """A copy of a part as written, with one figure changed."""
    copied = copy.deepcopy(row)
    place: Any = copied
    for key in at[:-1]:
        place = place[key]
    place[at[-1]] = value
    return copied


def box_mm(part: Core | Exchanger) -> tuple[float, float, float]:
    """Length, width and height as drawn [mm]."""
    return (float(part.size.x_m) * 1e3, float(part.size.y_m) * 1e3, float(part.size.z_m) * 1e3)
