"""`kitwright shelf list`: load, ask, show."""

from __future__ import annotations

import math
import sys
from pathlib import Path

from configurator.cli import exit_codes
from configurator.cli.told import named, usage
from configurator.files.find_catalogue import find_catalogue
from configurator.files.load_catalogue import KIND_OF_SECTION, load_catalogue
from configurator.files.problems import not_known
from configurator.parts.kinds import PART_KINDS
from configurator.presentation.shelf_list_json import shelf_list_json
from configurator.presentation.shelf_list_text import shelf_list_text
from configurator.questions.shelf_list import shelf_list


def list_parts(
    kind: str | None, catalogue_folder: Path | None, *, in_stock: bool, under: float | None, as_json: bool
) -> int:
    """Do what `shelf list` asks and return its exit code."""
    kind = KIND_OF_SECTION.get(kind or "", kind)
    if kind is not None and kind not in PART_KINDS:
        return usage(not_known("kind", kind, PART_KINDS, most=len(PART_KINDS)))
    if under is not None and not math.isfinite(under):
        return usage(f"--under {under} is not a price: write a number, like --under 150")
    catalogue, _ = load_catalogue(find_catalogue(catalogue_folder))
    listed = shelf_list(catalogue, kind, in_stock=in_stock, under=under)
    if as_json:
        sys.stdout.write(shelf_list_json(listed, len(catalogue.parts), catalogue.fingerprint) + "\n")
    else:
        following = f"kitwright shelf show {listed[0].part.id if listed else 'PART'}{named(catalogue_folder)}"
        sys.stdout.write(shelf_list_text(listed, len(catalogue.parts), following))
    return exit_codes.ALL_WELL
