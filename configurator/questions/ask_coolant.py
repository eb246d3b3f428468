"""Does a coolant that is welcome survive the coldest night? Asked while the questions go on."""

from __future__ import annotations

from dataclasses import dataclass

from configurator.brief.request import Brief
from configurator.brief.tables import Tables
from configurator.prediction.conditions import choose_coolant
from configurator.questions.ask import Answers
from configurator.questions.ask_air import USUAL_AIR


@dataclass(frozen=True)
class Frozen:
    """Coolants of which none survives the coldest night, as both were told; with ice, water alone."""

    kinds: tuple[str, ...]
    coldest: str
    with_ice: bool


def frozen_by(answers: Answers, key: str, tables: Tables) -> Frozen | None:
    """What the answer to the question of this `key` leaves to freeze; None where a coolant survives.

    The night is asked for before, so it can only be the coolants or the ice that make it so.
    """
    coldest, kinds = answers.told("coldest"), answers.told("coolant")
    with_ice = key == "ice" and bool(answers.told("ice"))
    if not coldest or not (with_ice or (key == "coolant" and kinds)):
        return None
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
            "site": {"air": USUAL_AIR, "coldest": coldest[0]},
            "driving": next(iter(tables.driving)),
            "aim": {"above_air": "35 K"},
            "coolant": {"kinds": kinds},
            "bay": "unmeasured",
        }
    )
    return Frozen(kinds, coldest[0], with_ice) if choose_coolant(brief) is None else None
