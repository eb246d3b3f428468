"""`kitwright shelf list`, `show` and `check`: load, ask, show."""

from __future__ import annotations

import gc
import math
import sys
from pathlib import Path

from configurator.cli import exit_codes
from configurator.cli.told import named, usage
from configurator.errors import BadInput, Problem
from configurator.files.find_catalogue import find_catalogue
from configurator.files.load_catalogue import KIND_OF_SECTION, load_catalogue
from configurator.files.part_places import catalogue_documents, part_places
from configurator.files.problems import nearest, not_known
from configurator.files.write_file import refuse_to_overwrite, write_whole
from configurator.parts.kinds import PART_KINDS, Part, RigidPart
from configurator.presentation.harmless import harmless
from configurator.presentation.shelf_check_json import shelf_check_json
from configurator.presentation.shelf_check_text import shelf_check_text
from configurator.presentation.shelf_list_json import shelf_list_json
from configurator.presentation.shelf_list_text import shelf_list_text
from configurator.presentation.shelf_show_json import shelf_show_json
from configurator.presentation.shelf_show_text import shelf_show_text
from configurator.questions.shelf_check import shelf_check
from configurator.questions.shelf_list import shelf_list
from configurator.questions.shelf_show import shelf_show

COMMAND_LINE = "command line"


def list_parts(
    kind: str | None, catalogue_folder: Path | None, *, in_stock: bool, under: float | None, as_json: bool
) -> int:
    """Do what `shelf list` asks and return its exit code."""
    kind = KIND_OF_SECTION.get(kind or "", kind)
    if kind is not None and kind not in PART_KINDS:
        return usage(not_known("kind", kind, PART_KINDS, most=len(PART_KINDS)))
    if under is not None and not math.isfinite(under):
        return usage(f"--under {under} is not a price: write a number, like --under 150")
    gc.disable()
    catalogue, _ = load_catalogue(find_catalogue(catalogue_folder))
    listed = shelf_list(catalogue, kind, in_stock=in_stock, under=under)
    if as_json:
        sys.stdout.write(shelf_list_json(listed, len(catalogue.parts), catalogue.fingerprint) + "\n")
    else:
        following = f"kitwright shelf show {listed[0].part.id if listed else 'PART'}{named(catalogue_folder)}"
        sys.stdout.write(shelf_list_text(listed, len(catalogue.parts), following))
    return exit_codes.ALL_WELL


def show_part(
    part_id: str, catalogue_folder: Path | None, *, draw: Path | None, sketch: bool, force: bool, as_json: bool
) -> int:
    """Do what `shelf show` asks and return its exit code. Raises BadInput where the id is not known."""
    if sketch and as_json:
        return usage("--sketch is for people and --json for programs: leave one of them out")
    if draw is not None:
        refuse_to_overwrite(draw, force=force)
    gc.disable()
    catalogue, tables = load_catalogue(find_catalogue(catalogue_folder))
    part = catalogue.parts.get(part_id)
    if part is None:
        text = f"'{harmless(part_id, 80)}' is not a part of this shelf{nearest(part_id, catalogue.parts)}"
        text += f"; all of them: kitwright shelf list{named(catalogue_folder)}"
        raise BadInput((Problem(COMMAND_LINE, 1, 1, "PART", text),))
    shown = shelf_show(part, catalogue, tables)
    if as_json:
        sys.stdout.write(shelf_show_json(shown, catalogue.fingerprint) + "\n")
    else:
        following = f"kitwright shelf list {shown.kind}{named(catalogue_folder)}"
        sys.stdout.write(shelf_show_text(shown, following))
    if draw is not None or sketch:
        _draw(part, draw, sketch=sketch, force=force)
    return exit_codes.ALL_WELL


def _draw(part: Part, file: Path | None, *, sketch: bool, force: bool) -> None:
    from configurator.presentation.drawing.sketch import sketch_lines
    from configurator.presentation.drawing.svg import drawing_svg
    from configurator.presentation.shelf_drawing import part_facts

    if not isinstance(part, RigidPart):
        sys.stderr.write(f"{part.id} has no box, so nothing was drawn\n")
        return
    facts = part_facts(part)
    if sketch:
        sys.stdout.write("\n" + sketch_lines(facts))
    if file is not None:
        write_whole(file, drawing_svg(facts), force=force)
        sys.stderr.write(f"wrote the drawing of {part.id}: {file}\n")


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
