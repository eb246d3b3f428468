"""A box of parts that someone has, and what is known of the loop that they are meant for."""

from __future__ import annotations

from typing import Any

from pydantic import Field

from configurator.foundations.figures import Boost, GaugePressure, Length, PipeBore
from configurator.foundations.records import Count, Flag, Record


class Box(Record):
    """A kit file. Parts are ids of the catalogue or whole parts written in place, with their kind.

    Boost and the pressure that the cap opens at are gauge. `head`: liquid above the lowest part.
    `charger_outlets`: how many of that bore. `oily`: the charge carries oil.
    """

    kit: str = Field(min_length=1, max_length=200)
    parts: tuple[Any, ...] = Field(min_length=1, max_length=100)
    boost_pa_gauge: Boost | None = Field(default=None, alias="boost")
    cap_pa_gauge: GaugePressure | None = Field(default=None, alias="cap")
    head_m: Length | None = Field(default=None, alias="head")
    charger_outlet_m: PipeBore | None = Field(default=None, alias="charger_outlet")
    charger_outlets: Count | None = Field(default=None, ge=1, le=2)
    throttle_m: PipeBore | None = Field(default=None, alias="throttle")
    oily: Flag = False
    currency: str = Field(default="", max_length=8)
