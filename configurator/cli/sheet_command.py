"""`kitwright sheet`: load, ask, write one page."""

from __future__ import annotations

import gc
import sys
from dataclasses import replace
from pathlib import Path

from configurator.brief.tables import Tables
from configurator.cli.improved_kit import improved
from configurator.cli.progress import progress
from configurator.cli.suggest_command import CODES
from configurator.cli.told import names_of, usage
from configurator.files.find_catalogue import find_catalogue
from configurator.files.load_brief import LoadedBrief, load_brief
from configurator.files.load_catalogue import load_catalogue
from configurator.files.write_file import refuse_outputs, write_whole
from configurator.foundations.coolants import Coolant
from configurator.parts.kinds import Cap, Part
from configurator.parts.shelf import Catalogue
from configurator.presentation.bill_csv import bill_csv
from configurator.presentation.draft_mail import draft_mail
from configurator.presentation.facts import answer_facts
from configurator.presentation.improve_text import improve_sentences
from configurator.presentation.sheet.facts import Asked, page_facts, shortened
from configurator.presentation.sheet.page import sheet_html
from configurator.questions.answer import OfferedKit
from configurator.questions.box_assumptions import pipes_unknown
from configurator.questions.commissioning import commissioning
from configurator.questions.loop_points import loop_points
from configurator.questions.suggest import suggest
from configurator.questions.trace import course_of

_TOLD = 5


def run(
    brief_file: Path,
    out: Path,
    catalogue_folder: Path | None,
    *,
    number: int,
    force: bool,
    no_ways_out: bool,
    time_limit: float | None,
    improve: bool,
    mail: Path | None,
) -> int:
    """Do what the command asks and return its exit code."""
    folder = find_catalogue(catalogue_folder)
    refuse_outputs((out, mail), (brief_file,), folder, force=force)
    gc.disable()
    catalogue, tables = load_catalogue(folder)
    loaded = load_brief(brief_file, catalogue, tables)
    answer = suggest(
        loaded.brief,
        loaded.driving,
        loaded.own,
        loaded.fingerprint,
        catalogue,
        tables,
        top=max(_TOLD, number),
        look_further=not no_ways_out,
        with_closest=False,
        time_limit_s=time_limit,
        tell=progress,
    )
    progress("")
    kit = next((kit for kit in answer.kits if kit.rank == number), None)
    if answer.kits and kit is None:
        return usage(f"there is no kit {number}: the answer has {len(answer.kits)}")
    own = [held.part for held in loaded.own]
    names = {part: shortened(name) for part, name in names_of(catalogue, own).items()}
    asked = None
    if kit is not None and answer.coolant is not None:
        progress(f"the course and the first runs of kit {number}")
        asked = _asked(kit, loaded, answer.coolant, catalogue, tables)
    told = answer_facts(answer, names, number)
    progress("the drawings")
    facts = page_facts(answer, told, loaded.brief, loaded.driving, names, kit, asked)
    if improve and (answer.kits or answer.closest):
        gains = improved(answer, loaded, catalogue, tables, number, "default", progress)
        if gains is not None:
            facts = replace(facts, one_change=improve_sentences(gains, answer.currency))
    page = sheet_html(facts)
    progress("")
    write_whole(out, page, force=force)
    what = "the answer, which is no kit" if kit is None else f"kit {number}"
    sys.stderr.write(f"wrote the sheet of {what}: {out}\n")
    if mail is not None:
        bill = ""
        if kit is not None:
            bill = bill_csv(kit.lines, (*kit.cautions, *answer.cautions), names, answer.currency, kit.short)
        write_whole(mail, draft_mail(facts.title, told.sentence, page, bill), force=force)
        sys.stderr.write(f"wrote a draft with sheet and bill, to be sent by you: {mail}\n")
    return CODES[answer.outcome]


def _asked(kit: OfferedKit, loaded: LoadedBrief, coolant: Coolant, catalogue: Catalogue, tables: Tables) -> Asked:
    """What a sheet asks beside the answer: the course of its kit, the points of its loop, its first runs."""
    brief, driving = loaded.brief, loaded.driving
    known: dict[str, Part] = {**catalogue.parts, **{held.part.id: held.part for held in loaded.own}}
    parts = {slot: known[part] for slot, part in kit.parts}
    cap = parts.get("cap")
    opens_pa = float(cap.opens_pa_gauge) if isinstance(cap, Cap) else 0.0
    unknown = pipes_unknown(brief.engine.charger_outlet_m, brief.engine.throttle_m)
    return Asked(
        parts=parts,
        course=course_of(kit, brief, driving, loaded.own, catalogue, tables),
        points=loop_points(kit, brief, driving, parts, coolant, catalogue, tables),
        commissioning=commissioning(kit, brief, driving, known, coolant, catalogue, tables, opens_pa, unknown),
    )
