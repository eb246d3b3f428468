"""`--chart` of `kitwright suggest`: the course of one kit of an answer, drawn."""

from __future__ import annotations

import sys
from pathlib import Path

from configurator.brief.tables import Tables
from configurator.cli.told import no_kit
from configurator.files.load_brief import LoadedBrief
from configurator.files.write_file import write_whole
from configurator.parts.shelf import Catalogue
from configurator.presentation.chart.chart import chart_svg
from configurator.presentation.chart.facts import chart_facts
from configurator.questions.answer import Answer
from configurator.questions.trace import course_of


def chart(
    answer: Answer, loaded: LoadedBrief, catalogue: Catalogue, tables: Tables, number: int, file: Path, *, force: bool
) -> None:
    """Write the chart of a kit, or say why there is none."""
    kit = next((kit for kit in answer.kits if kit.rank == number), None)
    if kit is None:
        sys.stderr.write(f"{no_kit(number, len(answer.kits))}, so no chart was written\n")
        return
    course = course_of(kit, loaded.brief, loaded.driving, loaded.own, catalogue, tables)
    write_whole(file, chart_svg(chart_facts(answer, kit, loaded.driving, course)), force=force)
    sys.stderr.write(f"wrote the chart of kit {number}: {file}\n")
