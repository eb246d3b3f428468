"""`kitwright shelf show`: load, ask, show, draw."""

from __future__ import annotations

import gc
import sys
from pathlib import Path

from configurator.cli import exit_codes
from configurator.cli.told import named, part_of, usage
from configurator.files.find_catalogue import find_catalogue
from configurator.files.load_catalogue import load_catalogue
from configurator.files.write_file import refuse_outputs, write_whole
from configurator.parts.kinds import Part, RigidPart
from configurator.presentation.shelf_show_json import shelf_show_json
from configurator.presentation.shelf_show_text import shelf_show_text
from configurator.questions.shelf_show import shelf_show


def show_part(
    part_id: str, catalogue_folder: Path | None, *, draw: Path | None, sketch: bool, force: bool, as_json: bool
) -> int:
    """Do what `shelf show` asks and return its exit code. Raises BadInput where the id is not known."""
    if sketch and as_json:
        return usage("--sketch is for people and --json for programs: leave one of them out")
    folder = find_catalogue(catalogue_folder)
    refuse_outputs((draw,), (), folder, force=force)
    gc.disable()
    catalogue, tables = load_catalogue(folder)
    part = part_of(part_id, catalogue, catalogue_folder)
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
