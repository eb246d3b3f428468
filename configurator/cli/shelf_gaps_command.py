"""`kitwright shelf gaps`: load, ask, show."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Sequence
from pathlib import Path

from configurator.cli import exit_codes
from configurator.cli.progress import progress
from configurator.cli.told import as_word, named, usage
from configurator.errors import BadInput, Problem
from configurator.files.find_catalogue import ENVIRONMENT_VARIABLE, find_catalogue
from configurator.files.load_brief import load_brief
from configurator.files.load_catalogue import load_catalogue, load_parts
from configurator.presentation.shelf_gaps_json import shelf_gaps_json
from configurator.presentation.shelf_gaps_text import shelf_gaps_text
from configurator.questions.shelf_gaps import Asked, Gaps, shelf_gaps


def run(briefs: Sequence[Path], candidates: Path, catalogue_folder: Path | None, *, as_json: bool) -> int:
    """Do what the command asks and return its exit code. Raises BadInput with every problem of every file."""
    named_files = (sorted(path.glob("*.yaml")) if path.is_dir() else [path] for path in briefs)
    files = [*dict.fromkeys(file for some in named_files for file in some)]
    if not files:
        return usage("no brief: name files, or a folder with .yaml files")
    gc.disable()
    catalogue, tables = load_catalogue(find_catalogue(catalogue_folder))
    problems: list[Problem] = []
    asked = []
    for file in files:
        try:
            loaded = load_brief(file, catalogue, tables)
            asked.append(Asked(str(file), loaded.brief, loaded.driving, loaded.own))
        except BadInput as error:
            problems += error.problems
    try:
        parts = load_parts(candidates, catalogue)
    except BadInput as error:
        problems += error.problems
    if problems:
        raise BadInput(tuple(problems))
    gaps = shelf_gaps(asked, parts, catalogue, tables, tell=progress)
    progress("")
    if as_json:
        sys.stdout.write(shelf_gaps_json(gaps, catalogue.fingerprint) + "\n")
    else:
        sys.stdout.write(shelf_gaps_text(gaps, _next(gaps, candidates, catalogue_folder)))
    return exit_codes.ANSWER_IS_NO if gaps.unserved else exit_codes.ALL_WELL


def _next(gaps: Gaps, candidates: Path, catalogue_folder: Path | None) -> str:
    """The way on: to put the candidate that helps on the shelf, else to ask for a brief, the first without a kit."""
    at = named(catalogue_folder)
    if gaps.best is None:
        return f"kitwright suggest {as_word((gaps.unserved or gaps.briefs)[0].file)}{at}"
    if not at and not os.environ.get(ENVIRONMENT_VARIABLE):
        at = " --catalogue DIR"  # nothing is added to the shipped one
    part, alone, file = gaps.best.part, "", as_word(candidates)
    if len(gaps.candidates) > 1:
        alone, file = f"write {part.id} alone into a file, then: ", "FILE"
    served = f"kitwright suggest {as_word(gaps.best.serves[0])}{at}"
    return f"{alone}kitwright shelf add {part.kind} --from {file}{at}, then: {served}"
