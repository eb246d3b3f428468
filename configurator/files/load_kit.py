"""A kit file as a box of parts, or every problem it has."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from configurator.errors import BadInput, Problem
from configurator.files.other_file import refuse_a_brief
from configurator.files.part_entries import read_part_entry
from configurator.files.read_record import empty_values, read_record
from configurator.files.read_yaml import Document, read_yaml
from configurator.parts.box import Box
from configurator.parts.kinds import Cap, Part
from configurator.parts.own import OwnPart
from configurator.parts.shelf import Catalogue


@dataclass(frozen=True)
class LoadedBox:
    """A kit file with its parts looked up, in the order they were written; a part that is there twice is twice."""

    box: Box
    parts: tuple[Part, ...]
    fingerprint: str


def load_kit(path: Path, catalogue: Catalogue, own: Sequence[OwnPart] = ()) -> LoadedBox:
    """Read a kit file and look its parts up in a catalogue, or among those that the customer of a brief has.

    Raises BadInput with every problem of the file.
    """
    document = read_yaml(path)
    problems = list(document.problems)
    if document.root is None:
        raise BadInput(tuple(problems))
    if not isinstance(document.data, dict):
        words = "a kit file is keys and values, beginning with 'kit: a name for it', then 'parts:' and a list"
        raise BadInput((*problems, document.problem((), words)))
    refuse_a_brief(document)
    problems += empty_values(document)
    box, found = read_record(Box, document.data, document, ())
    problems += found
    parts, found = _parts(document, {**catalogue.parts, **{held.part.id: held.part for held in own}})
    problems += found
    caps = [part for part in parts if isinstance(part, Cap)]
    if box is not None and box.cap_pa_gauge is not None and caps:
        words = f"'{caps[0].id}' among the parts says what the cap opens at: take this key out"
        problems.append(document.problem(("cap",), words, on_key=True))
    if problems or box is None:
        raise BadInput(tuple(sorted(set(problems))))
    return LoadedBox(box, parts, hashlib.sha256(document.text.encode()).hexdigest()[:16])


def _parts(document: Document, named: Mapping[str, Part]) -> tuple[tuple[Part, ...], list[Problem]]:
    """Every entry under `parts`; a part written in place may be named again by its id, for a second piece of it."""
    items = document.data.get("parts")
    known = dict(named)
    parts: list[Part] = []
    problems: list[Problem] = []
    for index, item in enumerate(items if isinstance(items, list) else ()):
        path = ("parts", index)
        if path in document.blamed:
            continue
        if not isinstance(item, str | dict):
            words = "a part is the id of one in the catalogue, or a whole part with its kind"
            problems.append(document.problem(path, words))
            continue
        name = item.get("id") if isinstance(item, dict) else None
        if isinstance(name, str) and name in known and name not in named:
            words = f"'{name}' is written twice: for a second piece of it name just its id"
            problems.append(document.problem((*path, "id"), words))
            continue
        part, found = read_part_entry(item, path, document, known)
        problems += found
        if part is not None:
            known[part.id] = part
            parts.append(part)
    return tuple(parts), problems
