"""Sections of a sheet that tell of its kit."""

from __future__ import annotations

from collections.abc import Sequence

from configurator.presentation.commission_html import steps
from configurator.presentation.facts import AnswerFacts
from configurator.presentation.html import Html, joined, listing, paragraph, table, text
from configurator.presentation.sheet.facts import INVENTED, KitPage
from configurator.presentation.sheet.loop_facts import HEADS as POINTS
from configurator.presentation.sheet.pictures import chart_picture, figures, zone_pictures
from configurator.presentation.sheet.schematic import loop_picture
from configurator.presentation.sheet.sections import in_columns, pairs, scrolling
from configurator.presentation.terminal import KEY

_PLACES = ("part", "no.", "what it is", "zone", "turned so that its ends look", "size", "stands at")
_FEW_ZONES = 3
_LOOKS = (
    "Keys of ends (1a) are those of the drawings; front, left and right are the car's. Size: deep, wide, high as it "
    "stands. It stands at so many millimetres behind its zone's front wall, right of its left wall, over its floor."
)


def kit(told: KitPage) -> Html:
    """The parts with their places, and other kits beside it."""
    heads, rows = told.beside
    places = table("Parts: where each sits, which way up and round", _PLACES, told.places, "wide places")
    caption = f"Beside the next best; in brackets: against kit {told.facts.rank}"
    others = table(caption, ("figure", *heads), rows, "wide others")
    return joined(
        [
            scrolling("Parts and places", places),
            paragraph(f"{_LOOKS} {INVENTED if told.invented else ''}".strip(), "note"),
            scrolling("Other kits", others),
        ]
    )


def bay(told: KitPage, answer: AnswerFacts) -> Html:
    """The drawing, zone by zone; or why there is none."""
    if told.bay is None:
        wanted = "; it needs the sizes listed under the answer" if answer.sizes_to_measure else ""
        return paragraph(f"No drawing: no placement is decided{wanted}.")
    scale, zones, beside = zone_pictures(told.bay)
    size = (
        f"Drawn 1:{scale}, true to scale when printed at 100 %, third angle; figures without a unit are millimetres. "
        "Numbers are parts, letters obstacles, small circles ends."
    )
    rows = [(row.key, "; ".join(row.lines)) for row in told.bay.obstacles]
    return joined(
        [
            *(paragraph(words) for words in told.bay.room),
            paragraph(size, "note"),
            Html(f'<div class="pictures">\n{figures(zones, "bay")}\n{_stacked(zones, beside)}\n</div>'),
            table("Obstacles", ("letter", "what it is"), rows),
            listing((*told.bay.notes, *told.bay.cautions)),
        ]
    )


def _stacked(zones: Sequence[Html], beside: Sequence[Html]) -> Html:
    """Where the zones lie, over what lines mean: one column beside few zones, a row of their own below many."""
    pictures = figures(beside, "bay")
    return pictures if len(zones) > _FEW_ZONES else Html(f'<div class="stack">\n{pictures}\n</div>')


def loop(told: KitPage) -> Html:
    """The loop as a picture and as a table."""
    picture = figures([loop_picture(told.loop, told.names)], "loop")
    rows = table("The same as a table", POINTS, [point.cells for point in told.loop.points], "tight")
    words = joined([paragraph(f"{told.loop.when}."), scrolling("Points of the loop", rows), listing(told.loop.notes)])
    return Html(f'<div class="beside">\n{picture}\n<div>\n{words}\n</div>\n</div>')


def course(told: KitPage) -> Html:
    """The chart with its notes, and every figure of the kit."""
    chart = figures([chart_picture(told.chart)], "course")
    return joined(
        [
            paragraph(f"{told.chart.subtitle}."),
            scrolling("Chart", chart),
            listing(told.chart.notes),
            Html("<h3>Figures of the kit</h3>"),
            in_columns(pairs("", told.figures)),
        ]
    )


def bill(told: KitPage) -> Html:
    """Every line by group, the sum, and what metres and words stand for."""
    facts = told.facts
    groups = [_group(told, group) for group in dict.fromkeys(line[0] for line in facts.lines)]
    key = [words for word, words in KEY.items() if any(line[4] == word for line in facts.lines)]
    total = paragraph(f"Sum of what is priced: {facts.price}", "total")
    return joined([in_columns(joined([*groups, total])), listing((*facts.notes, *key))])


def _group(told: KitPage, group: str) -> Html:
    """The lines of one group of a bill."""
    lines = [
        f'<table>\n<caption>{text(group)}</caption>\n<thead><tr><th scope="col">item</th>'
        '<th scope="col" class="n">quantity</th><th scope="col" class="n">price</th></tr></thead>\n<tbody>'
    ]
    for of_group, item, quantity, part, price in told.facts.lines:
        if of_group == group:
            name = f"{item} [{part}]" if part else item
            lines.append(
                f'<tr><th scope="row">{text(name)}</th><td class="n">{text(quantity)}</td>'
                f'<td class="n">{text(price)}</td></tr>'
            )
    return Html("\n".join([*lines, "</tbody>\n</table>"]))


def joints(told: KitPage) -> Html:
    """Each joint with its pieces in the order in which they go together."""
    rows = []
    for words in told.facts.joints:
        ends, _, pieces = words.partition(": ")
        rows.append((ends, pieces))
    return joined([paragraph(told.made), table("", ("joint", "made by, in this order"), rows, "facts")])


def ratings(told: KitPage) -> Html:
    """What both sides hold, with the member that has the least to spare."""
    return pairs("", told.ratings)


def failures(told: KitPage) -> Html:
    """What a stopped pump and a cracked core come to."""
    return pairs("", told.failures)


def start(told: KitPage) -> Html:
    """The steps of commissioning with their figures."""
    return joined([*(paragraph(words) for words in told.steps.head), in_columns(steps(told.steps, "h3"))])
