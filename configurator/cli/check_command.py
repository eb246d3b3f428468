"""`kitwright check`: load, ask, show."""

from __future__ import annotations

import sys
from collections.abc import Mapping
from pathlib import Path

from configurator.cli import exit_codes
from configurator.cli.told import as_word, named, names_of, say, usage
from configurator.files.find_catalogue import find_catalogue
from configurator.files.load_brief import load_brief
from configurator.files.load_catalogue import load_catalogue
from configurator.files.load_kit import load_kit
from configurator.files.write_file import refuse_outputs, write_whole
from configurator.presentation.check_json import check_json
from configurator.presentation.check_text import check_text
from configurator.presentation.commission_html import commission_html
from configurator.presentation.improve_text import improve_blocks
from configurator.questions.box_car import Car
from configurator.questions.check_answer import Checked
from configurator.questions.check_parts import check_parts
from configurator.questions.improve_box import improve_box
from configurator.standards.articles import with_article

CODES = {
    "fits_together": exit_codes.ALL_WELL,
    "does_not": exit_codes.ANSWER_IS_NO,
    "unproven": exit_codes.UNDECIDED,
}


def run(
    kit_file: Path,
    brief_file: Path | None,
    catalogue_folder: Path | None,
    *,
    as_json: bool,
    wide: bool,
    commission: Path | None = None,
    improve: bool = False,
    force: bool = False,
) -> int:
    """Do what the command asks and return its exit code."""
    if commission is not None:
        if brief_file is None:
            return usage("a commissioning sheet is for a car: add --brief BRIEF")
        refuse_outputs((commission,), (kit_file, brief_file), find_catalogue(catalogue_folder), force=force)
    if improve and brief_file is None:
        return usage("what a change buys is told for a car: add --brief BRIEF")
    catalogue, tables = load_catalogue(find_catalogue(catalogue_folder))
    car = None
    if brief_file is not None:
        brief = load_brief(brief_file, catalogue, tables)
        car = Car(brief.brief, brief.driving, brief.own, brief.fingerprint)
    loaded = load_kit(kit_file, catalogue, () if car is None else car.own)
    checked = check_parts(loaded.box, loaded.parts, loaded.fingerprint, catalogue, tables, car)
    own = () if car is None else tuple(held.part for held in car.own)
    names = names_of(catalogue, (*own, *loaded.parts))
    if commission is not None:
        _write_sheet(commission, checked, names, force=force)
    improved = None
    if improve and car is not None:
        improved = improve_box(checked, loaded.parts, car, catalogue, tables)
        if improved is None:
            sys.stderr.write("no kit for this car, so what one change of it buys is not told\n")
    if as_json:
        sys.stdout.write(check_json(checked, improved) + "\n")
    else:
        following = _next(kit_file, brief_file, checked, named(catalogue_folder))
        changes = () if improved is None else improve_blocks(improved, checked.currency, wide=wide)
        say(check_text(checked, names, following, wide=wide, one_change=changes))
    return CODES[checked.outcome]


def _write_sheet(file: Path, checked: Checked, names: Mapping[str, str], *, force: bool) -> None:
    if checked.commissioning is None or checked.in_car is None:
        sys.stderr.write("no kit for this car, so no commissioning sheet was written\n")
        return
    cautions = [caution.text for caution in checked.cautions]
    page = commission_html(checked.name, checked.in_car.answer.brief_name, checked.commissioning, names, cautions)
    write_whole(file, page, force=force)
    sys.stderr.write(f"wrote the commissioning sheet: {file}\n")


def _next(kit_file: Path, brief_file: Path | None, checked: Checked, at: str) -> str:
    car = "" if brief_file is None else f" --brief {as_word(brief_file)}"
    again = f"kitwright check {as_word(kit_file)}{car}{at}"
    if checked.outcome == "does_not":
        return f"mend what speaks against it, then: {again}"
    if checked.missing:
        return f"choose {' and '.join(map(with_article, checked.missing))}, write it among the parts, then: {again}"
    if checked.outcome == "unproven":
        return f"find out what is not known, write it in, then: {again}"
    if brief_file is None:
        return f"kitwright check {as_word(kit_file)} --brief BRIEF{at}"
    return f"kitwright suggest {as_word(brief_file)}{at}"
