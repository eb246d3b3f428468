"""Does a coolant that is welcome survive night and day? Asked while the questions go on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from configurator.brief.request import Brief, CoolantWish
from configurator.brief.tables import Tables
from configurator.prediction.conditions import choose_coolant
from configurator.prediction.frost import frost_of
from configurator.questions.ask import Answers
from configurator.questions.ask_air import USUAL_AIR

FREEZING: Final = ("coolant", "ice")
"""The questions whose answers may leave nothing that survives the cold."""


@dataclass(frozen=True)
class Frozen:
    """Coolants of which none survives the hardest cold, as both were told; with ice, water alone.

    `by_day`: the day is that, not the night.
    """

    kinds: tuple[str, ...]
    cold: str
    by_day: bool
    with_ice: bool


def frozen_by(answers: Answers, key: str, tables: Tables) -> Frozen | None:
    """What the answer to the question of this `key` leaves to freeze; None where a coolant survives.

    Day and night are asked for before, so it can only be the coolants or the ice that make it so.
    """
    air, coldest = answers.told("air"), answers.told("coldest")
    with_ice = key == "ice" and bool(answers.told("ice"))
    if not (air or coldest) or not (with_ice or (key == "coolant" and answers.of("coolant") is not None)):
        return None
    kinds = answers.told("coolant") or CoolantWish().kinds
    site = {"air": air[0] if air else USUAL_AIR, **({"coldest": coldest[0]} if coldest else {})}
    kinds = ("water",) if with_ice else kinds
    # the engine and the aim decide nothing of it: any that can be read will do
    charger = next(iter(tables.chargers.values()))
    brief = Brief.model_validate(
        {
            "brief": "coolant alone",
            "engine": {
                "power": "100 kW",
                "fuel": next(iter(charger.consumption)),
                "charger": charger.id,
                "boost": "1 bar",
            },
            "site": site,
            "driving": next(iter(tables.driving)),
            "aim": {"above_air": "35 K"},
            "coolant": {"kinds": kinds},
            "bay": "unmeasured",
        }
    )
    if choose_coolant(brief) is not None:
        return None
    frost = frost_of(brief)
    return Frozen(kinds, frost.told, frost.when == "day", with_ice)
