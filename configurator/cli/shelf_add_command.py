"""`kitwright shelf add`: from a file of answers, or by questions; or a file to fill in."""

from __future__ import annotations

import os
import sys
from dataclasses import replace
from pathlib import Path

import typer
import yaml

from configurator.cli import exit_codes
from configurator.cli.part_questions import ANSWERS, PartQuestions
from configurator.cli.told import as_word, named, usage
from configurator.errors import BadInput, CannotWrite
from configurator.files.add_part import Added, add_part, entry_text, part_alone
from configurator.files.find_catalogue import ENVIRONMENT_VARIABLE, find_catalogue
from configurator.files.load_catalogue import KIND_OF_SECTION, load_catalogue
from configurator.files.part_places import PartPlace, catalogue_documents, part_places
from configurator.files.problems import nearest, not_known
from configurator.files.read_yaml import read_yaml
from configurator.files.write_file import refuse_outputs, write_whole
from configurator.parts.kinds import PART_KINDS, Part
from configurator.presentation.harmless import hanging
from configurator.presentation.lines import WIDTH
from configurator.standards.articles import with_article


def run(kind: str, answers: Path | None, new: Path | None, like: str | None, catalogue_folder: Path | None) -> int:
    """Do what the command asks and return its exit code. Raises BadInput with every problem of the answers."""
    kind = KIND_OF_SECTION.get(kind, kind)
    if kind not in PART_KINDS:
        return usage(not_known("kind", kind, PART_KINDS, most=len(PART_KINDS)))
    if answers is not None and new is not None:
        return usage("--new writes a file to fill in and --from reads one: leave one of them out")
    if new is None and catalogue_folder is None and not os.environ.get(ENVIRONMENT_VARIABLE):
        return usage("a part is added to a folder of yours: name it with --catalogue DIR")
    folder = find_catalogue(catalogue_folder)
    catalogue, _ = load_catalogue(folder)
    alike = [part.id for part in catalogue.of(PART_KINDS[kind])]
    if like is not None and like not in alike:
        return usage(f"'{like}' is not {with_article(kind)} of this shelf{nearest(like, alike)}")
    places = part_places(catalogue_documents(folder))
    pattern = places[like or alike[0]] if alike else None
    if new is not None:
        refuse_outputs((new,), (), folder, force=None)
        return _to_fill_in(kind, new, pattern, named(catalogue_folder))
    if answers is not None:
        return _told(folder, add_part(folder, kind, part_alone(read_yaml(answers), kind)), named(catalogue_folder))
    shown = {} if pattern is None else {key: _flow(value) for key, value in _data(pattern).items()}
    return _by_questions(folder, kind, PartQuestions(kind, shown, places), named(catalogue_folder))


def _by_questions(folder: Path, kind: str, questions: PartQuestions, at: str) -> int:
    """Ask until the answers make a part that the shelf can hold. What was typed is kept, however it ends."""
    start = ""
    try:
        while True:
            questions.put(start)
            try:
                added = add_part(folder, kind, questions.document())
            except BadInput as error:
                start = questions.to_ask_again(error.problems)
                if not start:
                    raise
            else:
                return _told(folder, added, at)
    except typer.Abort:
        sys.stderr.write("\nStopped before the last question: nothing was written into the catalogue.\n")
        _keep(folder, kind, questions, at)
        sys.stderr.write(f"A file to fill in:\n  kitwright shelf add {kind} --new part.yaml{at}\n")
        return exit_codes.UNDECIDED
    except BadInput as error:
        draft = _keep(folder, kind, questions, at)
        raise BadInput(
            tuple(replace(one, file=str(draft)) if one.file == ANSWERS else one for one in error.problems)
        ) from None
    except CannotWrite:
        _keep(folder, kind, questions, at)
        raise


def _keep(folder: Path, kind: str, questions: PartQuestions, at: str) -> Path | None:
    """The draft of what was typed, with the way to go on; None where nothing was typed."""
    draft = questions.keep(folder)
    if draft is not None:
        further = f"kitwright shelf add {kind} --from {as_word(draft)}{at}"
        sys.stderr.write(f"What was said is kept in {draft}; finish it there, then:\n  {further}\n")
    return draft


def _told(folder: Path, added: Added, at: str) -> int:
    sys.stdout.write(f"added {added.part.id} at {added.file}:{added.line}\n")
    if added.backup is not None:
        sys.stdout.write(f"the file as it was lies in {added.backup}\n")
    _tell(folder, added.part)
    sys.stdout.write(f"\nNext: kitwright shelf show {added.part.id}{at}\n")
    return exit_codes.ALL_WELL


def _tell(folder: Path, part: Part) -> None:
    """What is taken for the keys that its file leaves out, and what `shelf check` says of it."""
    from configurator.cli.shelf_check_command import placed_findings
    from configurator.files.load_bounds import load_bounds
    from configurator.presentation.shelf_check_text import placed
    from configurator.presentation.taken_words import taken_lines
    from configurator.questions.shelf_check import shelf_check

    blocks = [taken_lines(part)]
    found = placed_findings(folder, shelf_check(load_catalogue(folder)[0], load_bounds(), part))
    if found:
        blocks.append(["What `shelf check` says of it:", *(line for _, problem in found for line in placed(problem))])
    sys.stdout.write("".join("\n" + "\n".join(block) + "\n" for block in blocks if block))


def _to_fill_in(kind: str, new: Path, pattern: PartPlace | None, at: str) -> int:
    if pattern is None:
        return usage(f"this shelf has no {kind} to go by: name one that has, like --catalogue of the shipped shelf")
    write_whole(new, entry_text(pattern), force=None)
    following = f"kitwright shelf add {kind} --from {as_word(new)}{at or ' --catalogue DIR'}"
    words = f"wrote {new}, {with_article(kind)} as the shelf has one: change its id and every line that is not so"
    sys.stderr.write("\n".join([*hanging(f"{words}, then:", WIDTH), f"  {following}\n"]))
    return exit_codes.ALL_WELL


def _data(place: PartPlace) -> dict[str, object]:
    section, index = place.path
    entry: dict[str, object] = place.document.data[section][index]
    return entry


def _flow(value: object) -> str:
    text = yaml.safe_dump(value, default_flow_style=True, width=10_000, allow_unicode=True, sort_keys=False)
    return text.removesuffix("\n").removesuffix("...").strip()
