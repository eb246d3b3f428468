"""The sheet of one answer as an HTML page, whole in itself: its sections in order."""

from __future__ import annotations

from collections.abc import Iterator

from configurator.presentation.html import Html, document, joined, paragraph, text
from configurator.presentation.sheet import kit_sections, schematic, sections
from configurator.presentation.sheet.facts import PageFacts
from configurator.presentation.sheet.pictures import scoped, styles
from configurator.presentation.sheet.style import STYLE, paged

Section = tuple[str, str, Html]
"""The id of a section, its title, and what stands in it."""


def sheet_html(facts: PageFacts) -> str:
    """The whole page. A section in which nothing stands is left out, with its entry in the list of sections."""
    found = [section for section in _sections(facts) if section[2]]
    style = STYLE + paged(facts.foot) + styles() + scoped(schematic.STYLE, "loop")
    return document(facts.title, style, joined(_body(facts, found)))


def _sections(facts: PageFacts) -> Iterator[Section]:
    kit = facts.kit
    yield "answer", "The answer", sections.answer(facts)
    if kit is None:
        yield "ways-out", facts.answer.ways_out[0], sections.ways_out(facts)
        yield "closest", "The nearest kits, and what each misses", sections.closest(facts)
    yield "job", "The job, and what was assumed", sections.job(facts)
    if kit is not None:
        yield "kit", "The kit, and others beside it", kit_sections.kit(kit)
        yield "bay", "The kit in its bay", kit_sections.bay(kit, facts.answer)
        yield "loop", "The loop at its worst moment", kit_sections.loop(kit)
        yield "course", "Temperatures over the drive, and what the kit does", kit_sections.course(kit)
        yield "bill", "The bill", kit_sections.bill(kit)
        yield "joints", "Joints, and what makes each", kit_sections.joints(kit)
        yield "ratings", "What each side stands, and its weakest member", kit_sections.ratings(kit)
    yield "reasons", "Why not other parts", sections.reasons(facts)
    if kit is not None:
        yield "failures", "If the pump stops, if the core cracks", kit_sections.failures(kit)
        yield "start", "Leak test, filling, first run: what to do, and what to find", kit_sections.start(kit)
    yield "cautions", "Cautions, all of them", sections.cautions(facts)


def _body(facts: PageFacts, found: list[Section]) -> Iterator[Html]:
    yield Html('<a class="skip" href="#main">To the answer</a>')
    yield Html(f"<header>\n<h1>{text(facts.title)}</h1>\n</header>")
    entries = "\n".join(
        f'<li><a href="#{ident}">{number}. {text(title)}</a></li>'
        for number, (ident, title, _) in enumerate(found, start=1)
    )
    yield Html(f'<nav aria-label="Sections">\n<ul>\n{entries}\n</ul>\n</nav>\n<main id="main">')
    for number, (ident, title, inside) in enumerate(found, start=1):
        yield Html(f'<section id="{ident}" aria-labelledby="{ident}-heading">')
        yield Html(f'<h2 id="{ident}-heading">{number}. {text(title)}</h2>\n{inside}\n</section>')
    yield Html(f"</main>\n<footer>\n{paragraph(facts.made_from, 'note')}\n</footer>")
