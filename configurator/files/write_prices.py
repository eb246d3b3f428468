"""New prices, stocks and lead times put into the files of a catalogue; read again before anything is replaced.

What no change touches is the data that was there (`edit_in_place` makes sure of it), so of a catalogue that has been
loaded only the values that may change are judged again.
"""

from __future__ import annotations

import codecs
import tempfile
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Final

from configurator.errors import BadInput, Problem
from configurator.files.edit_in_place import CannotEdit, Edit, edited
from configurator.files.load_catalogue import load_catalogue
from configurator.files.part_places import catalogue_documents, part_places
from configurator.files.problems import KeyPath
from configurator.files.read_record import read_record
from configurator.files.read_yaml import MOST_BYTES, Document
from configurator.files.write_together import write_together
from configurator.parts.part import Part
from configurator.questions.shelf_prices import KEYS, PriceChange

_EVERY_PARTS: Final = ("id", "name", *KEYS)


def write_prices(folder: Path, changes: Sequence[PriceChange]) -> Path | None:
    """Write changes into a catalogue that has been loaded and return the folder with what its files were.

    None where there is nothing to change. Raises BadInput where a value cannot be changed in place or an entry would
    not be valid with it, CannotWrite where it cannot be written: then every file is as it was.
    """
    texts = {path: text for path, text in _edited(catalogue_documents(folder), changes).items() if text[0] != text[1]}
    return write_together(texts, folder) if texts else None


def _edited(documents: Sequence[Document], changes: Sequence[PriceChange]) -> dict[Path, tuple[bytes, bytes]]:
    """Old and new content of each file that changes."""
    places: dict[str, dict[str, KeyPath]] = {}
    for name, place in part_places(documents).items():
        places.setdefault(place.document.file, {})[name] = place.path
    values: dict[str, dict[str, str]] = {}
    for change in changes:
        values.setdefault(change.part, {})[change.key] = change.new
    texts: dict[Path, tuple[bytes, bytes]] = {}
    problems: list[Problem] = []
    for document in documents:
        here = places.get(document.file, {})
        edits = [Edit(here[name], values[name], "price") for name in here.keys() & values.keys()]
        if not edits:
            continue
        path = Path(document.file)
        old = path.read_bytes()
        mark = codecs.BOM_UTF8 if old.startswith(codecs.BOM_UTF8) else b""
        try:
            if mark + document.text.encode() != old:
                raise CannotEdit("it was changed while it was being read: start again")
            new = edited(document, edits)
            problems += [problem for edit in edits for problem in _not_valid(new, edit.entry)]
            texts[path] = (old, mark + new.text.encode())
            if len(texts[path][1]) > MOST_BYTES:
                raise CannotEdit(f"with the new values it would be larger than {MOST_BYTES >> 20} MiB; split it first")
        except CannotEdit as error:
            problems.append(document.problem_at(1, 1, f"nothing was written into this file: {error}"))
    if problems:
        raise BadInput(tuple(sorted(set(problems))))
    return texts


def _not_valid(document: Document, entry: KeyPath) -> list[Problem]:
    """What is wrong with the values that a list changes; they are every part's, whatever its kind."""
    section, index = entry
    told = document.data[section][index]
    return read_record(Part, {key: told[key] for key in _EVERY_PARTS if key in told}, document, entry)[1]


def load_again(folder: Path, documents: Sequence[Document], new: dict[Path, bytes]) -> None:
    """Load a copy of the folder with the new contents. Raises BadInput with its problems, where they would be."""
    with tempfile.TemporaryDirectory(prefix="kitwright-") as name:
        copied = Path(name)
        paths = {Path(document.file) for document in documents}
        for path in sorted(paths | new.keys()):
            (copied / path.name).write_bytes(new[path] if path in new else path.read_bytes())
        try:
            load_catalogue(copied)
        except BadInput as error:
            raise BadInput(
                tuple(replace(problem, file=str(folder / Path(problem.file).name)) for problem in error.problems)
            ) from None
