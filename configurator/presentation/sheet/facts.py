"""Everything that a sheet shows, as strings and pictures: put together from the facts that every output shares."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from configurator.brief.driving import Driving
from configurator.brief.request import Brief
from configurator.parts.kinds import Part
from configurator.prediction.points import LoopPoints
from configurator.presentation.chart.facts import ChartFacts, chart_facts
from configurator.presentation.commission_rows import rows_of
from configurator.presentation.commission_words import SheetFacts as Steps
from configurator.presentation.commission_words import number_words, sheet_words
from configurator.presentation.drawing.facts import SheetFacts as BayFacts
from configurator.presentation.drawing.facts import sheet_facts
from configurator.presentation.facts import AnswerFacts, KitFacts, causes_of
from configurator.presentation.failure_words import failure_rows
from configurator.presentation.joint_words import made_words, ways_found
from configurator.presentation.layout_words import STAYS
from configurator.presentation.sheet.alternatives import alternatives, rows_beside
from configurator.presentation.sheet.job import assumed_rows, stated_rows
from configurator.presentation.sheet.limits import limit_rows
from configurator.presentation.sheet.loop_facts import LoopFacts, loop_facts
from configurator.presentation.sheet.places import as_shown, cut, places
from configurator.presentation.terminal import cautions_of
from configurator.questions.answer import Answer, OfferedKit
from configurator.questions.commissioning import Commissioning
from configurator.questions.trace import Course

_SIDES: Final = ("charge side", "coolant side")
_FLOW: Final = "flow_cold_l_per_min"
_NAME_LETTERS: Final = 60
INVENTED: Final = "Invented data: no maker sells these parts."


@dataclass(frozen=True)
class Asked:
    """One kit of an answer asked further: its parts by slot, its course, the points of its loop, its first runs."""

    parts: Mapping[str, Part]
    course: Course
    points: LoopPoints
    commissioning: Commissioning


@dataclass(frozen=True)
class KitPage:
    """What a sheet shows of its kit. `beside`: heads and rows of the table of alternatives, none without others.

    `names`: of its parts by slot. `made`: what it means that every joint is made.
    """

    facts: KitFacts
    in_short: tuple[tuple[str, str], ...]
    places: tuple[tuple[str, ...], ...]
    invented: bool
    beside: tuple[tuple[str, ...], tuple[tuple[str, ...], ...]]
    figures: tuple[tuple[str, str], ...]
    ratings: tuple[tuple[str, str], ...]
    failures: tuple[tuple[str, str], ...]
    names: Mapping[str, str]
    made: str
    bay: BayFacts | None
    loop: LoopFacts
    chart: ChartFacts
    steps: Steps


@dataclass(frozen=True)
class PageFacts:
    """A whole sheet. `foot`: its title cut to a line, for the foot of each page.

    `one_change`: sentences of what one change would buy, none where nobody asked.
    """

    title: str
    foot: str
    answer: AnswerFacts
    stated: tuple[tuple[str, str], ...]
    assumed: tuple[tuple[str, str], ...]
    kit: KitPage | None
    cautions: tuple[str, ...]
    causes: tuple[str, ...]
    made_from: str
    one_change: tuple[str, ...] = ()


def shortened(name: str) -> str:
    """A part's name as a sheet has it: cut where it is very long, for the bill has its id beside it."""
    return cut(name, _NAME_LETTERS)


def page_facts(
    answer: Answer,
    told: AnswerFacts,
    brief: Brief,
    driving: Driving,
    names: Mapping[str, str],
    kit: OfferedKit | None,
    asked: Asked | None,
) -> PageFacts:
    """The facts of a sheet; `kit` and what it was asked further are None where the answer has none."""
    facts = {one.rank: one for one in told.kits}
    shown: Sequence[KitFacts] = told.closest
    page = None
    kept = "no kit"
    if kit is not None and asked is not None:
        others = alternatives(kit, answer.kits)
        shown = [facts[str(one.rank)] for one in (kit, *others)]
        page = _kit_page(answer, brief, driving, names, kit, asked, others, told)
        kept = f"kit {kit.rank}"
    return PageFacts(
        title=f"{answer.brief_name}: {kept}",
        foot=f"{shortened(answer.brief_name)}: {kept}",
        answer=told,
        stated=stated_rows(brief, driving, answer),
        assumed=assumed_rows(answer),
        kit=page,
        cautions=(*cautions_of(shown), *told.cautions),
        causes=told.causes if page is not None else causes_of(answer.exclusions, most=len(answer.exclusions)),
        made_from=f"Brief {answer.brief_fingerprint}, catalogue {answer.catalogue_fingerprint} of "
        f"{answer.catalogue_parts} parts.",
    )


def _kit_page(
    answer: Answer,
    brief: Brief,
    driving: Driving,
    names: Mapping[str, str],
    kit: OfferedKit,
    asked: Asked,
    others: Sequence[OfferedKit],
    told: AnswerFacts,
) -> KitPage:
    facts = {int(one.rank): one for one in told.kits}
    mine = facts[kit.rank]
    failures = failure_rows(kit)
    apart = {*_SIDES, *(name for name, _ in failures)}
    every = (kit, *others)
    slots = {slot: names.get(part, part) for slot, part in kit.parts}
    bay = None
    if brief.bay is not None and kit.fit.placements:
        bay = as_shown(sheet_facts(answer.brief_name, brief.bay, kit, asked.parts, ()), slots)
    return KitPage(
        facts=mine,
        in_short=_in_short(answer, mine, kit, others, asked.commissioning, names),
        places=places(mine, bay),
        invented=any(getattr(part, "source", "") == "invented" for part in asked.parts.values()),
        beside=(tuple(f"kit {one.rank}" for one in every), rows_beside(every, facts, names, answer.currency))
        if others
        else ((), ()),
        figures=tuple(row for row in mine.figures if row[0] not in apart),
        ratings=tuple(row for row in mine.figures if row[0] in _SIDES),
        failures=failures,
        names=slots,
        made=made_words(kit),
        bay=bay,
        loop=loop_facts(asked.points, asked.commissioning.cap_pa_gauge or 0.0),
        chart=chart_facts(answer, kit, driving, asked.course),
        steps=sheet_words(asked.commissioning, names),
    )


def _in_short(
    answer: Answer,
    facts: KitFacts,
    kit: OfferedKit,
    others: Sequence[OfferedKit],
    sheet: Commissioning,
    names: Mapping[str, str],
) -> tuple[tuple[str, str], ...]:
    """The answers to what is asked first by whoever builds from the page."""
    flow = next(row for row in rows_of(sheet) if row.code == _FLOW)
    predicted, passes = number_words(flow)
    bring = sum(line.bring_yourself and line.part is None for line in kit.lines)
    zones = {zone: [slot for slot, _, of, _ in facts.parts if of == zone] for _, _, zone, _ in facts.parts if zone}
    stay = zones.pop(STAYS, [])
    where = "; ".join(
        (
            *(f"{' and '.join(slots)} in {zone}" for zone, slots in zones.items()),
            *((f"{' and '.join(stay)} stay{'s' if len(stay) == 1 else ''}",) if stay else ()),
        )
    )
    first = "; ".join(step.title[0].lower() + step.title[1:] for step in sheet_words(sheet, names).steps[:3])
    return (
        ("to buy", f"{facts.price} for what the shelf has, and {bring} lines to bring along: under The bill"),
        ("where it sits", f"{where}: under The kit which way up and round" if where else "not decided: bay unmeasured"),
        *((("hoses", f"{ways}: under Joints"),) if (ways := ways_found(kit)) else ()),
        ("flow at the first run", f"{predicted} ({passes}), pump alone, engine off, all as warm as the day"),
        *limit_rows(answer, kit, others, names),
        ("before the first start", f"read every caution; then in this order: {first}"),
    )
