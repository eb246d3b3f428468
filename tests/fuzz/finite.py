"""Figures that no answer may hold, wherever they stand in plain data or in records."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from typing import Any

from pydantic import BaseModel

DIFFERENCES = ("margin", "gap", "_per_k")
"""What names that end like a temperature hold else."""


def unfit_figures(value: Any, path: str = "") -> Iterator[str]:
    """The place of every figure that is infinite or no number, and of every temperature below absolute zero."""
    if isinstance(value, float):
        name = path.rsplit(".", 1)[-1].split("[")[0]
        least = -273.15 if name.endswith("_c") else 0.0 if name.endswith("_k") else -math.inf
        difference = any(word in name for word in DIFFERENCES)
        if not math.isfinite(value) or (value < least and not difference):
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
