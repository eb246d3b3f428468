"""What one change buys of the customer's own box of parts in a car: what lies in the box is paid for already."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from configurator.brief.tables import Tables
from configurator.parts.kinds import Part
from configurator.parts.shelf import Catalogue, make_catalogue
from configurator.questions.box_car import Car
from configurator.questions.check_answer import Checked
from configurator.questions.gains import Improvement
from configurator.questions.improve import improve
from configurator.search.job import lets_in, wanted_of


def improve_box(
    checked: Checked,
    parts: Sequence[Part],
    car: Car,
    catalogue: Catalogue,
    tables: Tables,
    tell: Callable[[str], None] = lambda words: None,
) -> Improvement | None:
    """What each single change of the box's kit buys; None where the box is no kit for the car.

    What goes in comes off the shelf, as far as the brief wants it and has it in stock.
    """
    told = checked.in_car
    if told is None or told.kit is None:
        return None
    brief = told.asked
    mine = {held.part.id: held.part for held in told.own} | {part.id: part for part in parts}
    offered = [part for part in catalogue.parts.values() if part.id not in mine and _wanted(part, car, catalogue)]
    shelf = make_catalogue([*offered, *mine.values()], catalogue.layouts)
    return improve(brief, car.driving, told.own, shelf, tables, told.kit, box=parts, head_m=told.head_m, tell=tell)


def _wanted(part: Part, car: Car, catalogue: Catalogue) -> bool:
    wanted = wanted_of(car.brief, car.own, catalogue, part.kind)
    return lets_in(car.brief, car.own, part) and (not wanted or part.id in wanted)
