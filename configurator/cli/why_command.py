"""`kitwright why`: load, ask, show."""

from __future__ import annotations

import gc
import sys
from collections.abc import Sequence
from pathlib import Path

from configurator.brief.tables import Tables
from configurator.cli import exit_codes
from configurator.cli.progress import progress
from configurator.cli.told import as_word, named, names_of, say, usage
from configurator.errors import BadInput, Problem
from configurator.files.find_catalogue import find_catalogue
from configurator.files.load_brief import LoadedBrief, load_brief
from configurator.files.load_catalogue import load_catalogue
from configurator.files.problems import nearest
from configurator.parts.shelf import Catalogue
from configurator.presentation.first_text import first_json, first_text
from configurator.presentation.why_json import why_json
from configurator.presentation.why_text import why_text
from configurator.questions.why import why
from configurator.questions.why_answer import Whys
from configurator.questions.why_first import why_first

CODES = {"in": exit_codes.ALL_WELL, "out": exit_codes.ANSWER_IS_NO, "not_decided": exit_codes.UNDECIDED}
COMMAND_LINE = "command line"


def run(
    brief_file: Path, asked: Sequence[str], catalogue_folder: Path | None, *, first: bool, as_json: bool
) -> int:
    """Do what the command asks and return its exit code. Raises BadInput with every id that is not known."""
    if first and asked:
        return usage("--first tells of whole kits and PART of single parts: leave one of them out")
    gc.disable()
    catalogue, tables = load_catalogue(find_catalogue(catalogue_folder))
    loaded = load_brief(brief_file, catalogue, tables)
    names = names_of(catalogue, [held.part for held in loaded.own])
    unknown = [part_id for part_id in asked if part_id not in names]
    if unknown:
        text = "'{}' is not a part of this shelf{}"
        raise BadInput(
            tuple(
                Problem(COMMAND_LINE, 1, 1, "PART", text.format(word, nearest(word, names)), word) for word in unknown
            )
        )
    again = f"kitwright suggest {as_word(brief_file)}{named(catalogue_folder)}"
    if first:
        return _first(loaded, catalogue, tables, names, again, as_json=as_json)
    whys = why(
        loaded.brief, loaded.driving, loaded.own, catalogue, tables, tuple(dict.fromkeys(asked)), tell=progress
    )
    progress("")
    outcome = _outcome(whys)
    following = again if asked else f"kitwright why {as_word(brief_file)} PART{named(catalogue_folder)}"
    if as_json:
        sys.stdout.write(why_json(whys, outcome) + "\n")
    else:
        say(why_text(whys, names, following))
    return CODES[outcome]


def _first(
    loaded: LoadedBrief, catalogue: Catalogue, tables: Tables, names: dict[str, str], again: str, *, as_json: bool
) -> int:
    told = why_first(loaded.brief, loaded.driving, loaded.own, catalogue, tables, tell=progress)
    progress("")
    outcome = "kits" if told.kits else "no_kit"
    following = f"{again}{' --wide' if told.kits else ''}"
    if as_json:
        sys.stdout.write(first_json(told, names, outcome) + "\n")
    else:
        say(first_text(told, names, following))
    return exit_codes.ALL_WELL if told.kits else exit_codes.ANSWER_IS_NO


def _outcome(whys: Whys) -> str:
    if whys.out:
        return "out"
    return "in" if all(story.is_proven for story in whys.stories) else "not_decided"
