"""`kitwright shelf add`: from a file of answers, or by questions; or a file to fill in."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import typer
import yaml

from configurator.cli import exit_codes
from configurator.cli.told import as_word, named, usage
from configurator.files.add_part import add_part, entry_text
from configurator.files.find_catalogue import ENVIRONMENT_VARIABLE, find_catalogue
from configurator.files.load_catalogue import KIND_OF_SECTION, load_catalogue
from configurator.files.part_places import PartPlace, catalogue_documents, part_places
from configurator.files.problems import nearest, not_known
from configurator.files.read_yaml import Document, read_text, read_yaml
from configurator.files.record_shape import example, field_type, keys_of
from configurator.files.write_file import write_whole
from configurator.parts.kinds import PART_KINDS, Part
from configurator.parts.shelf import Catalogue
from configurator.presentation.harmless import harmless
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
        return _to_fill_in(kind, new, pattern, named(catalogue_folder))
    try:
        document = read_yaml(answers) if answers is not None else _asked(kind, pattern)
    except typer.Abort:
        to_fill_in = f"kitwright shelf add {kind} --new part.yaml{named(catalogue_folder)}"
        sys.stderr.write(f"\nStopped before the last question: nothing was written. A file to fill in: {to_fill_in}\n")
        return exit_codes.UNDECIDED
    return _add(folder, kind, document, catalogue, named(catalogue_folder))


def _add(folder: Path, kind: str, document: Document, catalogue: Catalogue, at: str) -> int:
    added = add_part(folder, kind, document)
    kept = f"; the file as it was lies in {added.backup}" if added.backup is not None else ""
    sys.stdout.write(f"added {added.part.id} at {added.file}:{added.line}{kept}\n")
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
    sys.stderr.write(
        f"wrote {new}, {with_article(kind)} as the shelf has one: change its id and every line that is not so, then: "
        f"{following}\n"
    )
    return exit_codes.ALL_WELL


def _asked(kind: str, pattern: PartPlace | None) -> Document:
    """The answers to a question for each key of the kind, as a document."""
    written = {} if pattern is None else _data(pattern)
    explained = "Each value as a catalogue file has it; an empty answer leaves a key out where it may be."
    typer.echo(f"{with_article(kind).capitalize()}. {explained}")
    lines = []
    for key, (_, field) in keys_of(PART_KINDS[kind]).items():
        if key == "kind":
            continue
        shown = _flow(written[key]) if key in written else example(key, field_type(field)).partition(": ")[2]
        lines += _answer(key, harmless(shown, 300), needed=field.is_required())
    return read_text("".join(f"{line}\n" for line in lines), "answers")


def _answer(key: str, shown: str, *, needed: bool) -> list[str]:
    while True:
        typer.echo(f"{key}{'' if needed else ' (may be left out)'}, like {shown}")
        answer = typer.prompt(">", default="", show_default=False, prompt_suffix=" ").strip()
        if not answer and not needed:
            return []
        line = f"{key}: {answer}"
        problems = read_text(line, key).problems
        if answer and not problems:
            return [line]
        typer.echo(problems[0].text if problems else f"{key} is needed")


def _data(place: PartPlace) -> dict[str, object]:
    section, index = place.path
    entry: dict[str, object] = place.document.data[section][index]
    return entry


def _flow(value: object) -> str:
    text = yaml.safe_dump(value, default_flow_style=True, width=10_000, allow_unicode=True, sort_keys=False)
    return text.removesuffix("\n").removesuffix("...").strip()
