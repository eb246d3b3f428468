"""What one change of a kit buys, of the kit that `--improve` is asked of."""

from __future__ import annotations

import sys
from collections.abc import Callable

from configurator.brief.tables import Tables
from configurator.cli.told import no_kit
from configurator.files.load_brief import LoadedBrief
from configurator.parts.shelf import Catalogue
from configurator.questions.answer import Answer
from configurator.questions.gains import Improvement
from configurator.questions.improve import improve


def improved(
    answer: Answer,
    loaded: LoadedBrief,
    catalogue: Catalogue,
    tables: Tables,
    kit: int,
    order: str,
    tell: Callable[[str], None],
) -> Improvement | None:
    """Of the kit of that rank, or of the closest where there is none; a word and None where there is no such kit."""
    listed = answer.kits or answer.closest
    if kit > len(listed):
        sys.stderr.write(f"{no_kit(kit, len(listed))}, so what one change of it buys is not told\n")
        return None
    base = listed[kit - 1]
    told = improve(
        loaded.brief, loaded.driving, loaded.own, catalogue, tables, base, order=order, tell=tell
    )
    tell("")
    return told
