"""`kitwright suggest`: load, ask, show."""

from __future__ import annotations

import gc
import sys
from pathlib import Path

from configurator.cli import exit_codes
from configurator.cli.progress import progress
from configurator.cli.told import names_of, usage
from configurator.files.find_catalogue import find_catalogue
from configurator.files.load_brief import load_brief
from configurator.files.load_catalogue import load_catalogue
from configurator.files.new_brief import write_new_brief
from configurator.files.schemas import write_schemas
from configurator.files.write_file import refuse_to_overwrite, write_whole
from configurator.presentation.answer_json import answer_json
from configurator.presentation.bill_csv import bill_csv
from configurator.presentation.bill_xlsx import bill_xlsx, is_xlsx, refuse_without_library
from configurator.presentation.facts import answer_facts
from configurator.presentation.fits_json import fits_json
from configurator.presentation.fits_text import fits_text
from configurator.presentation.improve_text import improve_blocks
from configurator.presentation.terminal import terminal_lines
from configurator.presentation.trace_csv import trace_csv
from configurator.questions.fits_only import Fits
from configurator.questions.fits_only import fits_only as fits_only_of
from configurator.questions.suggest import suggest
from configurator.questions.trace import trace_of
from configurator.ranking.order import ORDERS

CODES = {
    "kits": exit_codes.ALL_WELL,
    "fits": exit_codes.ALL_WELL,
    "does_not_fit": exit_codes.ANSWER_IS_NO,
    "no_kit": exit_codes.ANSWER_IS_NO,
    "stopped_early": exit_codes.UNDECIDED,
    "not_decided": exit_codes.UNDECIDED,
}


def run(
    brief_file: Path | None,
    catalogue_folder: Path | None,
    order: str,
    top: int,
    *,
    all_variants: bool,
    no_ways_out: bool = False,
    time_limit: float | None = None,
    wide: bool,
    as_json: bool,
    fits_only: bool,
    trace: Path | None,
    new: Path | None,
    schemas: Path | None,
    bill: Path | None = None,
    force: bool = False,
    draw: Path | None = None,
    chart: Path | None = None,
    sketch: bool = False,
    kit: int = 1,
    improve: bool = False,
) -> int:
    """Do what the command asks and return its exit code."""
    if new is not None:
        write_new_brief(new)
        return _said(f"wrote {new}: fill it in, then: kitwright suggest {new}")
    if schemas is not None:
        brief_schema, catalogue_schema = write_schemas(schemas)
        return _said(f"wrote {brief_schema} and {catalogue_schema}")
    if brief_file is None:
        return usage("name a brief, or start one with: kitwright suggest --new my-car.yaml")
    if order not in ORDERS:
        return usage(f"'{order}' is not an order (allowed: {', '.join(ORDERS)})")
    if sketch and as_json:
        return usage("--sketch is for people and --json for programs: leave one of them out")
    if kit > top:
        return usage(f"kit {kit} can be shown only where it is told: add --top {kit}")
    for file in (bill, draw, chart):
        if file is not None:
            refuse_to_overwrite(file, force=force)
    if bill is not None and is_xlsx(bill):
        refuse_without_library()
    gc.disable()
    catalogue, tables = load_catalogue(find_catalogue(catalogue_folder))
    loaded = load_brief(brief_file, catalogue, tables)
    if fits_only:
        return _fits(fits_only_of(loaded.brief, loaded.own, catalogue), brief_file, wide=wide, as_json=as_json)
    answer = suggest(
        loaded.brief,
        loaded.driving,
        loaded.own,
        loaded.fingerprint,
        catalogue,
        tables,
        order=order,
        top=top,
        all_variants=all_variants,
        look_further=not no_ways_out,
        with_closest=wide or as_json,
        time_limit_s=time_limit,
        tell=progress,
    )
    progress("")
    names = names_of(catalogue, [own.part for own in loaded.own])
    if trace is not None and answer.kits:
        course = trace_of(answer.kits[0], loaded.brief, loaded.driving, loaded.own, catalogue, tables)
        trace.write_text(trace_csv(course), encoding="utf-8")
    if bill is not None:
        if answer.kits:
            best = answer.kits[0]
            cautions = (*best.cautions, *answer.cautions)
            as_file = bill_xlsx if is_xlsx(bill) else bill_csv
            write_whole(bill, as_file(best.lines, cautions, names, answer.currency), force=force)
            sys.stderr.write(f"wrote the bill of kit 1: {bill}\n")
        else:
            sys.stderr.write("no kit, so no bill was written\n")
    improved = None
    if improve:
        from configurator.cli import improved_kit

        improved = improved_kit.improved(answer, loaded, catalogue, tables, kit, order, progress)
    if as_json:
        sys.stdout.write(answer_json(answer, names, improved) + "\n")
    else:
        following = (
            f"kitwright suggest {brief_file} --wide" if not wide else f"kitwright suggest {brief_file} --json"
        )
        changes = () if improved is None else improve_blocks(improved, answer.currency, wide=wide)
        sys.stdout.write(terminal_lines(answer_facts(answer, names), following, wide=wide, one_change=changes))
    if draw is not None or sketch:
        from configurator.cli import drawn_kit

        drawn_kit.draw(answer, loaded, catalogue, kit, file=draw, sketch=sketch, force=force)
    if chart is not None:
        from configurator.cli import charted_kit

        charted_kit.chart(answer, loaded, catalogue, tables, kit, chart, force=force)
    return CODES[answer.outcome]


def _fits(fits: Fits, brief_file: Path, *, wide: bool, as_json: bool) -> int:
    outcome = "not_decided" if not fits.measured else "fits" if fits.every_slot_fits else "does_not_fit"
    if as_json:
        sys.stdout.write(fits_json(fits, outcome) + "\n")
    else:
        sys.stdout.write(fits_text(fits, f"kitwright suggest {brief_file}", wide=wide))
    return CODES[outcome]


def _said(words: str) -> int:
    sys.stderr.write(words + "\n")
    return exit_codes.ALL_WELL
