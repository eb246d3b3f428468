"""New prices, stocks and lead times put into the files of a catalogue; read again before anything is replaced."""

from __future__ import annotations

import codecs
import tempfile
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from configurator.errors import BadInput, Problem
from configurator.files.edit_in_place import CannotEdit, Edit, edited
from configurator.files.load_catalogue import load_catalogue
from configurator.files.part_places import catalogue_documents, part_places
from configurator.files.read_yaml import Document
from configurator.files.write_together import write_together
from configurator.questions.shelf_prices import Change


def write_prices(folder: Path, changes: Sequence[Change]) -> Path | None:
    """Write changes and return the folder with what the files were; None where there is nothing to change.

    Raises BadInput where a value cannot be changed in place or the changed catalogue would not be valid, CannotWrite
    where it cannot be written: then every file is as it was.
    """
    documents = catalogue_documents(folder)
    texts = {path: text for path, text in _edited(documents, changes).items() if text[0] != text[1]}
    if not texts:
        return None
    load_again(folder, documents, {path: new for path, (_, new) in texts.items()})
    return write_together(texts, folder)


def _edited(documents: Sequence[Document], changes: Sequence[Change]) -> dict[Path, tuple[bytes, bytes]]:
    """Old and new content of each file that changes."""
    places = part_places(documents)
    values: dict[str, dict[str, str]] = {}
    for change in changes:
        values.setdefault(change.part, {})[change.key] = change.new
    texts: dict[Path, tuple[bytes, bytes]] = {}
    problems: list[Problem] = []
    for document in documents:
        here = {name: place.path for name, place in places.items() if place.document is document}
        edits = [Edit(here[name], values[name], "price") for name in here.keys() & values.keys()]
        if not edits:
            continue
        path = Path(document.file)
        old = path.read_bytes()
        mark = codecs.BOM_UTF8 if old.startswith(codecs.BOM_UTF8) else b""
        try:
            if mark + document.text.encode() != old:
                raise CannotEdit("it was changed while it was being read: start again")
            texts[path] = (old, mark + edited(document, edits).encode())
        except CannotEdit as error:
            problems.append(document.problem_at(1, 1, f"nothing was written into this file: {error}"))
    if problems:
        raise BadInput(tuple(problems))
    return texts


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
