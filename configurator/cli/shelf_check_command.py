"""`kitwright shelf check`: load, look, show."""

from __future__ import annotations

import sys
from collections.abc import Iterable
from pathlib import Path

from configurator.cli import exit_codes
from configurator.cli.told import named, part_of
from configurator.errors import Problem
from configurator.files.find_catalogue import find_catalogue
from configurator.files.load_bounds import load_bounds
from configurator.files.load_catalogue import load_catalogue
from configurator.files.part_places import catalogue_documents, part_places
from configurator.presentation.shelf_check_json import shelf_check_json
from configurator.presentation.shelf_check_text import shelf_check_text
from configurator.questions.shelf_check import Finding, shelf_check


def check_shelf(part_id: str | None, catalogue_folder: Path | None, *, as_json: bool) -> int:
    """Do what `shelf check` asks and return its exit code. Raises BadInput with what keeps it from being loaded."""
    folder = find_catalogue(catalogue_folder)
    catalogue, _ = load_catalogue(folder)
    part = None if part_id is None else part_of(part_id, catalogue, catalogue_folder)
    found = placed_findings(folder, shelf_check(catalogue, load_bounds(), part))
    if as_json:
        looked_at = len(catalogue.parts) if part is None else 1
        sys.stdout.write(shelf_check_json(found, looked_at, catalogue.fingerprint) + "\n")
    else:
        what = f"{folder}: {len(catalogue.parts)} parts" if part is None else f"{folder}: {part.id}"
        at = named(catalogue_folder)
        again = f"kitwright shelf check{at}" if part is None else f"kitwright shelf check {part.id}{at}"
        well = f"kitwright shelf list{at}" if part is None else f"kitwright shelf show {part.id}{at}"
        sys.stdout.write(shelf_check_text(found, what, again if found else well))
    return exit_codes.ANSWER_IS_NO if found else exit_codes.ALL_WELL


def placed_findings(folder: Path, findings: Iterable[Finding]) -> list[tuple[Finding, Problem]]:
    """Findings with the place in the files of a folder at which each is to be mended."""
    documents = catalogue_documents(folder)
    parts, layouts = part_places(documents), part_places(documents, layouts=True)
    found = []
    for finding in findings:
        place = (layouts if finding.code == "layout-without-parts" else parts).get(finding.subject)
        if place is not None:  # a layout that the folder lacks is the shipped one
            found.append((finding, place.problem(finding.at, finding.text)))
    return found
