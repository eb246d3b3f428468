"""Where each part and layout of a catalogue folder is written: its file, and the way to its entry."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from configurator.errors import Problem
from configurator.files.load_catalogue import PART_SECTIONS
from configurator.files.problems import KeyPath
from configurator.files.read_yaml import Document, read_yaml


@dataclass(frozen=True)
class PartPlace:
    """One entry of a file."""

    document: Document
    path: KeyPath

    def problem(self, below: KeyPath, text: str) -> Problem:
        """What is to be said of a value of the entry, or of the nearest one above it that is written."""
        return self.document.problem((*self.path, *below), text)


def catalogue_documents(folder: Path) -> tuple[Document, ...]:
    """Every file of a catalogue folder, in the order in which they are loaded."""
    return tuple(read_yaml(path) for path in sorted(folder.glob("*.yaml")))


def part_places(documents: Iterable[Document], *, layouts: bool = False) -> dict[str, PartPlace]:
    """The place of every part by its id, or of every layout; of files that have been loaded without a problem."""
    places: dict[str, PartPlace] = {}
    sections = ("layouts",) if layouts else PART_SECTIONS
    for document in documents:
        data = document.data if isinstance(document.data, dict) else {}
        for section in sections:
            for index, entry in enumerate(data.get(section) or ()):
                places[entry["id"]] = PartPlace(document, (section, index))
    return places
