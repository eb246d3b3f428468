"""Figures that no answer may hold, wherever they stand in plain data or in records."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from typing import Any

from pydantic import BaseModel


def unfit_figures(value: Any, path: str = "") -> Iterator[str]:
    """The place of every figure that is infinite or no number, and of every absolute temperature below zero [K]."""
    if isinstance(value, float):
        name = path.rsplit(".", 1)[-1].split("[")[0]
        cold = value < 0 and name.endswith("_k") and "temperature" in name
        if not math.isfinite(value) or cold:
            yield f"{path}: {value!r}"
    elif isinstance(value, Mapping):
        for key, item in value.items():
            yield from unfit_figures(item, f"{path}.{key}")
    elif isinstance(value, list | tuple):
        for index, item in enumerate(value):
            yield from unfit_figures(item, f"{path}[{index}]")
    elif isinstance(value, BaseModel):
        for key in type(value).model_fields:
            yield from unfit_figures(getattr(value, key), f"{path}.{key}")
    elif is_dataclass(value) and not isinstance(value, type):
        for one in fields(value):
            yield from unfit_figures(getattr(value, one.name), f"{path}.{one.name}")
