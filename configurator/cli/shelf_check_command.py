"""`kitwright shelf check`: load, look, show."""

from __future__ import annotations

import gc
import sys
from pathlib import Path

from configurator.cli import exit_codes
from configurator.cli.told import named
from configurator.files.find_catalogue import find_catalogue
from configurator.files.load_catalogue import load_catalogue
from configurator.files.part_places import catalogue_documents, part_places
from configurator.presentation.shelf_check_json import shelf_check_json
from configurator.presentation.shelf_check_text import shelf_check_text
from configurator.questions.shelf_check import shelf_check


def check_shelf(catalogue_folder: Path | None, *, as_json: bool) -> int:
    """Do what `shelf check` asks and return its exit code. Raises BadInput with what keeps it from being loaded."""
    gc.disable()
    folder = find_catalogue(catalogue_folder)
    catalogue, _ = load_catalogue(folder)
    documents = catalogue_documents(folder)
    parts, layouts = part_places(documents), part_places(documents, layouts=True)
    found = []
    for finding in shelf_check(catalogue):
        place = (layouts if finding.code == "layout-without-parts" else parts).get(finding.subject)
        if place is not None:  # a layout that the folder lacks is the shipped one
            found.append((finding, place.problem(finding.at, finding.text)))
    if as_json:
        sys.stdout.write(shelf_check_json(found, len(catalogue.parts), catalogue.fingerprint) + "\n")
    else:
        following = f"kitwright shelf {'check' if found else 'list'}{named(catalogue_folder)}"
        sys.stdout.write(shelf_check_text(found, str(folder), len(catalogue.parts), following))
    return exit_codes.ANSWER_IS_NO if found else exit_codes.ALL_WELL
