"""What a chart shows of a course: lines with their labels, the stretches of the drive, what to know beside them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from configurator.brief.driving import Driving
from configurator.foundations.units import celsius
from configurator.foundations.verdicts import Caution
from configurator.joining.words import celsius_words
from configurator.presentation.chart.panels import MANY, Panel, Point, panels_of
from configurator.presentation.first_sentence import drive_words
from configurator.presentation.standstill_words import restart_band, time_words
from configurator.questions.answer import Answer, OfferedKit
from configurator.questions.trace import Course, Record, around_core
from configurator.standards.articles import with_article

_IN_MINUTES_FROM_S = 180.0
_ON_THE_CHART = ("where-measured", "ice-short", "condensate", "boil-margin")


@dataclass(frozen=True)
class Label:
    """What a kind of line is called, the figures beside it, and its level where it is one all the while [degC]."""

    kind: str
    name: str
    figures: str
    level_c: float | None = None


@dataclass(frozen=True)
class ChartFacts:
    """Everything that a chart draws and writes of one kit."""

    title: str
    subtitle: str
    labels: tuple[Label, ...]
    panels: tuple[Panel, ...]
    notes: tuple[str, ...]
    cautions: tuple[str, ...]


def chart_facts(answer: Answer, kit: OfferedKit, driving: Driving, course: Course) -> ChartFacts:
    """The facts of one offered kit and its course."""
    records, stood = course.nominal, kit.thermal.standstill
    round_s = sum(float(stretch.lasts_s) for stretch in driving.stretches)
    restart_c = None if stood is None else celsius(stood.restart_k)
    worst = (kit.thermal.worst_at_s, celsius(kit.thermal.charge_out_worst_k))
    panels = panels_of(course, round_s, worst, restart_c, minutes=records[-1]["time_s"] > _IN_MINUTES_FROM_S)
    into, leaving = around_core(records[0])
    standing = "" if stood is None else f", then {time_words(stood.seconds)} standstill"
    return ChartFacts(
        title=f"{answer.brief_name}, kit {kit.rank}",
        subtitle=f"Temperatures through {drive_words(answer.driving_name)}{standing}, on "
        f"{with_article(f'{celsius_words(answer.air_k)} day')}",
        labels=(
            Label("charge", "charge out of the core", _charge_figures(kit)),
            Label("warm", "coolant out of the core", _range(records, leaving)),
            Label("cold", "coolant into the core", _range(records, into)),
            _level(
                "aim",
                "the aim" if stood is None else "the aim, on the restart",
                f"at most {celsius_words(answer.ceiling_k)}, {'kept' if kit.thermal.margin_k >= 0 else 'missed'}",
                answer.ceiling_k,
            ),
            _level("air", "outside air", celsius_words(answer.air_k), answer.air_k),
        ),
        panels=panels,
        notes=tuple(_notes(kit, driving, records, panels[0].worst, float(driving.total_s) / round_s)),
        cautions=_cautions((*kit.cautions, *answer.cautions)),
    )


def _level(kind: str, name: str, figures: str, level_k: float) -> Label:
    return Label(kind, name, figures, celsius(level_k))


def _range(records: Sequence[Record], key: str) -> str:
    low, high = (f"{end(record[key] for record in records):.0f}" for end in (min, max))
    return f"{low} degC" if low == high else f"{low} to {high} degC"


def _charge_figures(kit: OfferedKit) -> str:
    heat = kit.thermal
    coolest, hottest = celsius(heat.charge_out_good_end_k), celsius(heat.charge_out_bad_end_k)
    worst = f"{celsius_words(heat.charge_out_worst_k)} at worst ({coolest:.0f} to {hottest:.0f})"
    if heat.standstill is None:
        return worst
    stood = heat.standstill
    return f"{worst}; {celsius(stood.restart_k):.0f} ({restart_band(stood)}) on the restart"


def _notes(kit: OfferedKit, driving: Driving, records: Sequence[Record], worst: Point, rounds: float) -> list[str]:
    heat = kit.thermal
    parts = ", ".join(part for _, part in kit.parts)
    notes = [
        f"Ring: the charge at its worst, {worst[1]:.0f} degC after {_time(worst[0])}. Shaded along its line: from its "
        "best to its worst, with every uncertain figure of the kit at its good or its bad end.",
        f"Charge into the core: {celsius_words(heat.charge_in_k)} at full power; not drawn, the rest would be "
        "squashed flat.",
        f"Coolant: {heat.coolant_flow_m3_per_s * 60e3:.0f} L/min. Parts: {parts}.",
    ]
    if rounds > 1.0:
        one = ", ".join(f"{stretch.lasts_s:g} s at {100 * stretch.share:g} %" for stretch in driving.stretches)
        of_each = " The whole drive on the left: of each line the highest in each round." if rounds > MANY else ""
        notes.append(f"A round is {one} of full power; {rounds:.3g} rounds.{of_each}")
    if heat.standstill is not None:
        notes.append("Hatched: the engine stands, no charge flows. Square: the charge as the engine idles again.")
    if heat.ice is not None:
        notes.append(f"Ice: {records[0]['ice_kg']:.1f} kg at the start, {records[-1]['ice_kg']:.1f} kg at the end.")
        if driving.passes > 1:
            notes.append(f"One pass of {driving.passes} is drawn.")
    return notes


def _time(seconds: float) -> str:
    return f"{seconds:.0f} s" if seconds <= _IN_MINUTES_FROM_S else f"{seconds / 60:.1f} min"


def _cautions(cautions: Sequence[Caution]) -> tuple[str, ...]:
    """What touches the temperatures, word for word, and how many more the answer has: a chart has no room for all."""
    told: Mapping[str, str] = {caution.code: caution.text for caution in cautions}
    here = [told[code] for code in _ON_THE_CHART if code in told]
    more = len(cautions) - len(here)
    rest = [f"{more} more cautions stand in the answer of kitwright suggest: read them before work."] if more else []
    return (*here, *rest)
