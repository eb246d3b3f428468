"""Flow, pressure and temperature all round the loop of one offered kit, at the worst moment of its drive."""

from __future__ import annotations

from collections.abc import Mapping

from configurator.brief.driving import Driving
from configurator.brief.request import Brief
from configurator.brief.tables import Tables
from configurator.foundations.coolants import Coolant
from configurator.parts.kinds import Part
from configurator.parts.shelf import Catalogue
from configurator.prediction.conditions import make_conditions
from configurator.prediction.points import LoopPoints, points_at_worst
from configurator.prediction.predict import predict
from configurator.questions.answer import OfferedKit
from configurator.questions.one_loop import one_loop


def loop_points(
    kit: OfferedKit,
    brief: Brief,
    driving: Driving,
    parts: Mapping[str, Part],
    coolant: Coolant,
    catalogue: Catalogue,
    tables: Tables,
) -> LoopPoints:
    """The points of a kit's loop; `parts` by slot, `coolant` that of its answer."""
    bench, columns = one_loop(kit, parts, brief, catalogue)
    conditions = make_conditions(brief, driving, tables, coolant)
    return points_at_worst(predict(bench, columns, conditions), columns, conditions)
