"""Do power, boost, displacement and revs of an engine belong together? Asked while the questions go on."""

from __future__ import annotations

from dataclasses import dataclass

from configurator.brief.request import Brief
from configurator.brief.tables import Tables
from configurator.prediction.conditions import (
    DISAGREEMENT,
    air_flow_by_displacement_kg_per_s,
    air_flow_kg_per_s,
)
from configurator.questions.ask import Answers
from configurator.questions.ask_table import QUESTIONS

USUAL_AIR = "25 degC"
"""The air of the check: that of the site is asked for later. Sea level goes with it."""


@dataclass(frozen=True)
class AirCheck:
    """Air that an engine takes at full power [kg/s], by its power, and by displacement, revs and boost where told."""

    by_power: float
    by_displacement: float | None
    power: str
    boost: str
    displacement: str

    @property
    def plausible(self) -> bool | None:
        """Whether both agree as well as the answer to a brief asks for; None where there is nothing to compare."""
        if self.by_displacement is None:
            return None
        most = max(self.by_power, self.by_displacement)
        return abs(self.by_power - self.by_displacement) <= DISAGREEMENT * most


def air_check(answers: Answers, tables: Tables) -> AirCheck | None:
    """The check of the engine as far as it was told; None before power, fuel, charger and boost were."""
    engine = {
        question.path[1]: answers.told(question.key)[0]
        for question in QUESTIONS
        if question.path[:1] == ("engine",) and question.of != "outlets" and answers.told(question.key)
    }
    if not {"power", "fuel", "charger", "boost"} <= {*engine}:
        return None
    brief = Brief.model_validate(
        {
            "brief": "engine alone",
            "engine": engine,
            "site": {"air": USUAL_AIR},
            "driving": next(iter(tables.driving)),
            "aim": {"above_air": "35 K"},
            "bay": "unmeasured",
        }
    )
    by_power = air_flow_kg_per_s(brief, tables.fuels[engine["fuel"]], tables.chargers[engine["charger"]])
    by_displacement = air_flow_by_displacement_kg_per_s(brief)
    return AirCheck(by_power, by_displacement, engine["power"], engine["boost"], engine.get("displacement", ""))
