"""A part put into the files of a catalogue behind the others of its kind; everything else stays byte for byte.

The entry is the text of a file of answers, with its comments. It is checked where it stands, then in a copy of the
whole folder, before anything is written.
"""

from __future__ import annotations

import codecs
import textwrap
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from configurator.errors import BadInput, Problem
from configurator.files.edit_in_place import CannotEdit
from configurator.files.load_catalogue import KIND_OF_SECTION, source_not_known, sources_in
from configurator.files.part_places import PartPlace, catalogue_documents, part_places
from configurator.files.read_record import empty_values, read_record
from configurator.files.read_yaml import Document, read_text
from configurator.files.write_file import write_whole
from configurator.files.write_prices import load_again
from configurator.files.write_together import write_together
from configurator.parts.kinds import PART_KINDS, Part


@dataclass(frozen=True)
class Added:
    """Where a part was put: file and line; the folder with what the file was, None where it is new."""

    part: Part
    file: Path
    line: int
    backup: Path | None


def checked_part(
    document: Document, kind: str, places: Mapping[str, PartPlace], sources: Collection[str] | None = None
) -> Part:
    """The part that answers describe; `places`: of all parts of the shelf. Raises BadInput with every problem of it.

    `sources`: those that the catalogue lists; None where any is believed, as by a catalogue without a list.
    """
    made, problems = _read(document, kind, places, sources)
    if problems or made is None:
        raise BadInput(problems)
    return made


def part_problems(document: Document, kind: str, places: Mapping[str, PartPlace]) -> tuple[Problem, ...]:
    """Every problem of the part that answers describe, as `checked_part` finds them where any source is believed."""
    return _read(document, kind, places, None)[1]


def _read(
    document: Document, kind: str, places: Mapping[str, PartPlace], sources: Collection[str] | None
) -> tuple[Part | None, tuple[Problem, ...]]:
    problems = list(document.problems)
    if document.root is None:
        return None, tuple(problems)
    if not isinstance(document.data, dict):
        return None, (*problems, document.problem((), "one part is keys and values, beginning with 'id:'"))
    problems += empty_values(document)
    made, found = read_record(PART_KINDS[kind], document.data, document, ())
    problems += found
    if sources is not None:
        unlisted = [(at, key) for at, key in sources_in(document.data, ()) if key not in sources]
        problems += [document.problem(at, source_not_known(key, sources)) for at, key in unlisted]
    name = document.data.get("id")
    if isinstance(name, str) and name in places:
        there = places[name].problem((), "")
        words = (
            f"id '{name}' is a part of the catalogue already: give the new one another, or change it in "
            f"{there.file}:{there.line} by hand"
        )
        problems.append(document.problem(("id",), words))
    return made, tuple(sorted(set(problems)))


def part_alone(document: Document, kind: str) -> Document:
    """The answers of a file: one part by itself, or the only entry under the section of its kind, as a catalogue has
    it, with the lines and columns that it has there. Raises BadInput where the file has anything else beside it.
    """
    data = document.data if isinstance(document.data, dict) else {}
    headings = [key for key in data if key in KIND_OF_SECTION]
    if document.root is None or not headings:
        return document
    section = section_of(kind)
    pair = document.pair((section,))
    if [*data] != [section] or _dicts(data[section]) != 1 or pair is None or pair[1].flow_style:
        words = f"one {kind} is expected here: its keys, or '{section}:' with it alone, its '- id:' on its own line"
        raise BadInput((document.problem((headings[0],), words, on_key=True),))
    mark = pair[1].value[0].start_mark
    above = document.text[: mark.index].split("\n")[:-1]
    kept = [line if line.lstrip().startswith("#") else "" for line in above]
    text = "\n".join([*kept, " " * mark.column + document.text[mark.index :]])
    return read_text(text, document.file)


def _dicts(entries: Any) -> int:
    """How many entries a section has, where each is keys and values."""
    return len(entries) if isinstance(entries, list) and all(isinstance(one, dict) for one in entries) else 0


def section_of(kind: str) -> str:
    """The section of a catalogue file that parts of this kind stand in."""
    return next(name for name, of in KIND_OF_SECTION.items() if of == kind)


def add_part(folder: Path, kind: str, answers: Document) -> Added:
    """Put a part into the first file that has the section of its kind, else into a new one.

    Raises BadInput with the problems of the answers or of the catalogue with them, CannotWrite where it cannot be
    written: then every file is as it was.
    """
    documents = catalogue_documents(folder)
    part = checked_part(answers, kind, part_places(documents), _listed_sources(documents))
    section = section_of(kind)
    document = next((one for one in documents if section in (one.data or {})), None)
    if document is None:
        path = folder / f"{section}.yaml"
        text = f"{section}:\n" + _entry(answers.text, "  ", "\n")
        load_again(folder, documents, {path: text.encode()})
        write_whole(path, text, force=None)
        return Added(part, path, 2, None)
    path = Path(document.file)
    old = path.read_bytes()
    mark = codecs.BOM_UTF8 if old.startswith(codecs.BOM_UTF8) else b""
    try:
        text = appended(document, section, answers)
        if mark + document.text.encode() != old:
            raise CannotEdit("it was changed while it was being read: start again")
    except CannotEdit as error:
        raise BadInput((document.problem((section,), f"nothing was written into this file: {error}"),)) from None
    new = mark + text.encode()
    load_again(folder, documents, {path: new})
    backup = write_together({path: (old, new)}, folder)
    line, _ = read_text(text, document.file).place((section, len(document.data[section])))
    return Added(part, path, line, backup)


def _listed_sources(documents: Sequence[Document]) -> set[str] | None:
    """The sources that the files of a catalogue list; None where none has such a list."""
    lists = [document.data["sources"] for document in documents if "sources" in (document.data or {})]
    return {key for listed in lists for key in listed} if lists else None


def appended(document: Document, section: str, answers: Document) -> str:
    """The text of a document with one entry more at the end of a section. Raises CannotEdit."""
    pair = document.pair((section,))
    if pair is None or not document.data[section] or pair[1].flow_style:
        raise CannotEdit(f"'{section}' is no list whose entries begin with '- id:' on lines of their own")
    newline = "\r\n" if "\r\n" in document.text else "\n"
    entry = _entry(answers.text, " " * pair[1].start_mark.column, newline)
    end = document.text.find("\n", _last(pair[1]) - 1) + 1
    before, after = (document.text[:end], document.text[end:]) if end else (document.text + newline, "")
    text = before + entry + after
    if read_text(text, document.file).data != {
        **document.data,
        section: [*document.data[section], answers.data],
    }:
        raise CannotEdit("an entry cannot be put behind the others, for one of the two is written in an unusual way")
    return text


def entry_text(place: PartPlace) -> str:
    """The text of one entry with its comments, as if it began at the margin."""
    found = place.document.pair(place.path)
    assert found is not None
    node, text = found[1], place.document.text
    end = text.find("\n", _last(node) - 1)
    lines = text[node.start_mark.index : end if end >= 0 else len(text)].splitlines()
    margin = " " * node.start_mark.column
    return "\n".join(line.removeprefix(margin).rstrip() for line in lines) + "\n"


def _entry(text: str, indent: str, newline: str) -> str:
    """The text of answers as an entry of a list; comments before its first key stand before the dash."""
    lines = text.rstrip().splitlines()
    first = next(number for number, line in enumerate(lines) if line.strip() and not line.lstrip().startswith("#"))
    made = [f"{indent}{line.strip()}" for line in lines[:first] if line.strip()]
    lines[first:] = textwrap.dedent("\n".join(lines[first:])).split("\n")
    made.append(f"{indent}- {lines[first]}")
    made += [f"{indent}  {line}".rstrip() for line in lines[first + 1 :]]
    return newline.join(made) + newline


def _last(node: Any) -> int:
    """Where the last thing written in a node ends; a block's own mark lies behind comments and empty lines."""
    if isinstance(node.value, list) and node.value and not node.flow_style:
        last = node.value[-1]
        return _last(last[1] if isinstance(last, tuple) else last)
    return int(node.end_mark.index)
