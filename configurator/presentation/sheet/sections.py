"""Sections that every sheet has, with a kit or without one."""

from __future__ import annotations

from collections.abc import Sequence

from configurator.presentation.facts import KitFacts
from configurator.presentation.html import Html, joined, listing, paragraph, row, table, text
from configurator.presentation.sheet.facts import PageFacts
from configurator.presentation.ways_facts import OWN_UNUSED, WANTED_OUT


def answer(facts: PageFacts) -> Html:
    """What is said before any kit, the sentence, why there is none; and in short what is asked first."""
    told = facts.answer
    return joined(
        [
            paragraph(told.before, "before"),
            paragraph(told.sentence, "said"),
            paragraph(told.why_none),
            listed("Measure these first", told.sizes_to_measure),
            pairs("In short", () if facts.kit is None else facts.kit.in_short),
        ]
    )


def ways_out(facts: PageFacts) -> Html:
    """The least that gives a kit, each way by itself."""
    return listing(facts.answer.ways_out[1])


def closest(facts: PageFacts) -> Html:
    """The kits that come near, and what each misses."""
    kits = facts.answer.closest
    restart = any(kit.restart for kit in kits)
    heads = ("kit", "price", *(("on restart",) if restart else ()), "charge at worst", "margin", "misses", "choice")
    return scrolling("The nearest kits", table("", heads, [_near(kit, restart=restart) for kit in kits], "wide"))


def _near(kit: KitFacts, *, restart: bool) -> tuple[str, ...]:
    choice = " ".join(f"{kit.core} {kit.front}".split())
    again = (kit.restart,) if restart else ()
    return kit.rank, kit.price, *again, f"{kit.worst} ({kit.band})", kit.margin, kit.missed, choice


def job(facts: PageFacts) -> Html:
    """What the brief states, what was assumed where it is silent, and what was not checked."""
    told = [pairs("As the brief states it", facts.stated), pairs("Assumed, where the brief is silent", facts.assumed)]
    return in_columns(joined([*told, listed("Not checked yet", facts.answer.not_checked)]))


def reasons(facts: PageFacts) -> Html:
    """Why parts are out, commonest causes first (all where there is no kit), and what one change would buy."""
    causes = "by cause" if facts.kit is None else "commonest causes"
    return joined(
        [
            listed(WANTED_OUT, facts.answer.wanted_out),
            listed(OWN_UNUSED, facts.answer.own_unused),
            listed(f"Parts left out, {causes}", facts.causes),
            paragraph(f"{facts.answer.counted}."),
            listed("What one change buys", facts.one_change),
        ]
    )


def cautions(facts: PageFacts) -> Html:
    """Every caution of the answer and its kits."""
    return listing(facts.cautions, "columns")


def listed(title: str, entries: Sequence[str], look: str = "") -> Html:
    """Entries under a heading; nothing where there are none."""
    return joined([Html(f"<h3>{text(title)}</h3>"), listing(entries, look)]) if entries else Html("")


def pairs(title: str, rows: Sequence[tuple[str, str]]) -> Html:
    """Names with what is told of each; nothing where there are none."""
    if not rows:
        return Html("")
    lines = joined(row(pair) for pair in rows)
    name = f"<caption>{text(title)}</caption>\n" if title else ""
    return Html(f'<table class="facts">\n{name}<tbody>\n{lines}\n</tbody>\n</table>')


def in_columns(inside: Html) -> Html:
    """Something long, that goes in two columns where the page is wide enough or printed."""
    return Html(f'<div class="columns">\n{inside}\n</div>')


def scrolling(name: str, inside: Html) -> Html:
    """Something wide, that a narrow screen scrolls by itself, by keys too; nothing where there is nothing."""
    if not inside:
        return inside
    return Html(f'<div class="scroll" role="region" aria-label="{text(name)}" tabindex="0">\n{inside}\n</div>')
