"""`kitwright suggest`: load, ask, show."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from configurator.brief.tables import Tables
from configurator.cli import exit_codes
from configurator.cli.progress import progress
from configurator.cli.told import as_word, named, names_of, no_kit, say, usage
from configurator.files.find_catalogue import find_catalogue
from configurator.files.load_brief import load_brief
from configurator.files.load_catalogue import load_catalogue
from configurator.files.new_brief import write_new_brief
from configurator.files.schemas import write_schemas
from configurator.files.write_file import refuse_outputs, write_whole
from configurator.parts.shelf import Catalogue
from configurator.presentation.bill_csv import bill_csv
from configurator.presentation.bill_xlsx import bill_xlsx, is_bill, is_xlsx, refuse_without_library
from configurator.presentation.counted import proof_told
from configurator.presentation.facts import answer_facts
from configurator.presentation.fits_json import fits_json
from configurator.presentation.fits_text import fits_text
from configurator.presentation.fork_facts import more_time
from configurator.presentation.terminal import terminal_lines
from configurator.presentation.trace_csv import trace_csv
from configurator.questions.answer import Answer
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


@dataclass(frozen=True)
class Asked:
    """What is asked of every brief: the options of the command, by their names."""

    catalogue: Path | None = None
    order: str = "default"
    top: int = 5
    all_variants: bool = False
    no_ways_out: bool = False
    time_limit: float | None = None
    proof: bool = False
    front: bool = False
    wide: bool = False
    as_json: bool = False
    fits_only: bool = False
    trace: Path | None = None
    bill: Path | None = None
    draw: Path | None = None
    chart: Path | None = None
    force: bool = False
    sketch: bool = False
    improve: bool = False
    kit: int = 1


def run(
    briefs: Sequence[Path],
    asked: Asked,
    *,
    new: Path | None = None,
    schemas: Path | None = None,
) -> int:
    """Do what the command asks and return its exit code."""
    if new is not None:
        refuse_outputs((new,), (), find_catalogue(asked.catalogue), force=None)
        write_new_brief(new)
        return _said(f"wrote {new}: fill it in, then: kitwright suggest {as_word(new)}{named(asked.catalogue)}")
    if schemas is not None:
        brief_schema, catalogue_schema = write_schemas(schemas, force=asked.force)
        return _said(f"wrote {brief_schema} and {catalogue_schema}")
    if not briefs:
        return usage("name a brief, or start one with: kitwright suggest --new my-car.yaml")
    if asked.order not in ORDERS:
        return usage(f"'{asked.order}' is not an order (allowed: {', '.join(ORDERS)})")
    if asked.front and (asked.proof or asked.all_variants):
        return usage("--front looks at every kit and lists some of them: leave --proof and --all-variants out")
    if asked.sketch and asked.as_json:
        return usage("--sketch is for people and --json for programs: leave one of them out")
    if asked.kit > asked.top:
        return usage(f"kit {asked.kit} can be shown only where it is told: add --top {asked.kit}")
    files = {"--bill": asked.bill, "--draw": asked.draw, "--chart": asked.chart, "--trace": asked.trace}
    written = [option for option, file in files.items() if file is not None]
    if written and len(briefs) > 1:
        one = " and ".join(written)
        return usage(f"{one} would write one file for {len(briefs)} briefs: name one brief at a time with it")
    of_kits = {
        "--sketch": asked.sketch,
        "--improve": asked.improve,
        "--front": asked.front,
        "--proof": asked.proof,
        "--all-variants": asked.all_variants,
        "--kit": asked.kit != 1,
    }
    others = [*written, *(option for option, chosen in of_kits.items() if chosen)]
    if asked.fits_only and others:
        return usage(f"--fits-only tries parts one by one and makes no kit: leave {' and '.join(others)} out")
    folder = find_catalogue(asked.catalogue)
    refuse_outputs((asked.bill, asked.draw, asked.chart, asked.trace), briefs, folder, force=asked.force)
    if asked.bill is not None and not is_bill(asked.bill):
        return usage(f"a bill that ends in {asked.bill.suffix} cannot be written: use .csv or .xlsx")
    if asked.bill is not None and is_xlsx(asked.bill):
        refuse_without_library()
    catalogue, tables = load_catalogue(folder)
    if len(briefs) > 1:
        from configurator.cli import many_briefs

        return many_briefs.run(briefs, asked, catalogue, tables)
    return suggest_for(briefs[0], asked, catalogue, tables)


def suggest_for(brief_file: Path, asked: Asked, catalogue: Catalogue, tables: Tables) -> int:
    """Print the answer to one brief, write the files that go with it, and return its exit code.

    Raises BadInput with every problem of the brief.
    """
    loaded = load_brief(brief_file, catalogue, tables)
    if asked.fits_only:
        fits = fits_only_of(loaded.brief, loaded.own, catalogue)
        return _fits(fits, _again(brief_file, asked), wide=asked.wide, as_json=asked.as_json)
    answer = suggest(
        loaded.brief,
        loaded.driving,
        loaded.own,
        loaded.fingerprint,
        catalogue,
        tables,
        order=asked.order,
        top=asked.top,
        all_variants=asked.all_variants,
        look_further=not asked.no_ways_out,
        with_closest=asked.wide or asked.as_json,
        time_limit_s=asked.time_limit,
        prove=asked.proof,
        front_alone=asked.front,
        tell=progress,
    )
    progress("")
    names = names_of(catalogue, [own.part for own in loaded.own])
    kit = next((kit for kit in answer.kits if kit.rank == asked.kit), None)
    none = no_kit(asked.kit, len(answer.kits))
    if asked.trace is not None and kit is None:
        sys.stderr.write(f"{none}, so no course was written\n")
    elif asked.trace is not None and kit is not None:
        course = trace_of(kit, loaded.brief, loaded.driving, loaded.own, catalogue, tables)
        write_whole(asked.trace, trace_csv(course), force=asked.force)
    if asked.bill is not None:
        if kit is not None:
            cautions = (*kit.cautions, *answer.cautions)
            as_file = bill_xlsx if is_xlsx(asked.bill) else bill_csv
            write_whole(asked.bill, as_file(kit.lines, cautions, names, answer.currency, kit.short), force=asked.force)
            sys.stderr.write(f"wrote the bill of kit {kit.rank}: {asked.bill}\n")
        else:
            sys.stderr.write(f"{none}, so no bill was written\n")
    improved = None
    if asked.improve:
        from configurator.cli import improved_kit

        improved = improved_kit.improved(answer, loaded, catalogue, tables, asked.kit, asked.order, progress)
    if asked.as_json:
        from configurator.presentation.answer_json import answer_json

        sys.stdout.write(answer_json(answer, names, improved) + "\n")
    else:
        following = _following(brief_file, asked, answer)
        changes: tuple[str, ...] = ()
        if improved is not None:
            from configurator.presentation.improve_text import improve_blocks

            changes = improve_blocks(improved, answer.currency, wide=asked.wide)
        proof = proof_told(answer) if asked.proof else ("", ())
        facts = answer_facts(answer, names, asked.kit)
        screen = terminal_lines(facts, following, wide=asked.wide, kit=asked.kit, one_change=changes, proof=proof)
        sys.stdout.write(screen)
        if kit is None and answer.kits:
            sys.stderr.write(f"{none}, so its parts and figures are not told\n")
    if asked.draw is not None or asked.sketch:
        from configurator.cli import drawn_kit

        drawn_kit.draw(answer, loaded, catalogue, asked.kit, file=asked.draw, sketch=asked.sketch, force=asked.force)
    if asked.chart is not None:
        from configurator.cli import charted_kit

        charted_kit.chart(answer, loaded, catalogue, tables, asked.kit, asked.chart, force=asked.force)
    return CODES[answer.outcome]


def _following(brief_file: Path, asked: Asked, answer: Answer) -> str:
    """The command to go on with: the whole search where time ended it, else the same answer told in full.

    Where a part that is wanted is in no kit, it asks why.
    """
    out = next((one.part for one in answer.exclusions if one.part in answer.wanted), None)
    if out is not None and answer.best_alone is None:
        return f"kitwright why {as_word(brief_file)} {out}{named(asked.catalogue)}"
    order = "" if asked.order == "default" else f" --order {asked.order}"
    if answer.stopped is not None:
        return f"{_again(brief_file, asked)}{order}{more_time(answer)}"
    if asked.wide:
        return f"{_again(brief_file, asked)}{order} --json"
    kit = "" if asked.kit == 1 else f" --kit {asked.kit}"
    listed = f" --top {asked.top}" if asked.kit > Asked.top else ""
    return f"{_again(brief_file, asked)}{order}{listed}{kit} --wide"


def _again(brief_file: Path, asked: Asked) -> str:
    """The command that looks for kits in the same catalogue."""
    return f"kitwright suggest {as_word(brief_file)}{named(asked.catalogue)}"


def _fits(fits: Fits, following: str, *, wide: bool, as_json: bool) -> int:
    outcome = "not_decided" if not fits.measured else "fits" if fits.every_slot_fits else "does_not_fit"
    if as_json:
        sys.stdout.write(fits_json(fits, outcome) + "\n")
    else:
        say(fits_text(fits, following, wide=wide))
    return CODES[outcome]


def _said(words: str) -> int:
    sys.stderr.write(words + "\n")
    return exit_codes.ALL_WELL
