"""`--draw` and `--sketch` of `kitwright suggest`: one kit of an answer in its bay."""

from __future__ import annotations

import sys
from pathlib import Path

from configurator.cli.told import no_kit
from configurator.files.load_brief import LoadedBrief
from configurator.files.write_file import write_whole
from configurator.parts.shelf import Catalogue
from configurator.presentation.drawing.facts import SheetFacts, sheet_facts
from configurator.presentation.drawing.sketch import sketch_lines
from configurator.presentation.drawing.svg import drawing_svg
from configurator.questions.answer import Answer


def draw(
    answer: Answer,
    loaded: LoadedBrief,
    catalogue: Catalogue,
    number: int,
    *,
    file: Path | None,
    sketch: bool,
    force: bool,
) -> None:
    """Write the drawing of a kit, print its sketch, or say why there is nothing to be drawn."""
    facts = _facts(answer, loaded, catalogue, number)
    if isinstance(facts, str):
        sys.stderr.write(f"{facts}, so nothing was drawn\n")
        return
    if file is not None:
        write_whole(file, drawing_svg(facts), force=force)
        sys.stderr.write(f"wrote the drawing of kit {number}: {file}\n")
    if sketch:
        sys.stdout.write("\n" + sketch_lines(facts))


def _facts(answer: Answer, loaded: LoadedBrief, catalogue: Catalogue, number: int) -> SheetFacts | str:
    bay = loaded.brief.bay
    kit = next((kit for kit in answer.kits if kit.rank == number), None)
    if kit is None:
        return no_kit(number, len(answer.kits))
    if bay is None or not kit.fit.placements:
        return "no placement: the fit is not decided"
    own = {held.part.id: held.part for held in loaded.own}
    parts = {slot: own.get(part) or catalogue[part] for slot, part in kit.parts}
    return sheet_facts(answer.brief_name, bay, kit, parts, (*kit.cautions, *answer.cautions))
