"""A catalogue folder as a shelf of parts and its tables, or every problem of every file."""

from __future__ import annotations

import gc
import re
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field, fields
from pathlib import Path
from types import MappingProxyType
from typing import Any, Final

from configurator.brief.driving import Driving
from configurator.brief.tables import Charger, CoolantKind, Fuel, IceKind, Soak, Tables
from configurator.errors import BadInput, CatalogueMissing, Problem
from configurator.files.find_catalogue import is_folder, shipped_catalogue
from configurator.files.kept_catalogue import keep, kept, name_of
from configurator.files.problems import KeyPath, nearest, not_known
from configurator.files.read_record import empty_values, read_record
from configurator.files.read_yaml import Document, raw_bytes, read_raw, read_yaml
from configurator.files.write_file import LIKE_YAML
from configurator.foundations.records import Record
from configurator.parts.kinds import PART_KINDS, Part
from configurator.parts.layouts import Layout
from configurator.parts.shelf import Catalogue, make_catalogue

PART_SECTIONS: Final[dict[str, type[Record]]] = {
    kind + ("es" if kind.endswith("h") else "s"): record for kind, record in PART_KINDS.items()
}
KIND_OF_SECTION: Final = dict(zip(PART_SECTIONS, PART_KINDS, strict=True))
TABLE_SECTIONS: Final[dict[str, type[Record]]] = {
    "layouts": Layout,
    "fuels": Fuel,
    "chargers": Charger,
    "driving": Driving,
    "coolants": CoolantKind,
    "ice": IceKind,
    "soak": Soak,
}
"""Sections whose entries are records with an id; a user's folder that lacks one takes the shipped one."""

SECTIONS: Final = (*PART_SECTIONS, *TABLE_SECTIONS, "sources", "bounds")


@dataclass
class _Shelf:
    """What has been read so far."""

    records: dict[str, dict[str, Any]] = field(default_factory=lambda: {name: {} for name in SECTIONS})
    first_seen: dict[tuple[str, str], str] = field(default_factory=dict)
    sections: set[str] = field(default_factory=set)
    cited: list[tuple[Document, KeyPath, str]] = field(default_factory=list)
    chargers: list[tuple[Document, KeyPath, Charger]] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)



def load_catalogue(folder: Path) -> tuple[Catalogue, Tables]:
    """Read every *.yaml of a folder, or what was kept of reading the same before.

    Raises BadInput with all problems of all files.
    """
    if not is_folder(folder):
        raise CatalogueMissing(f"'{folder}' is not a folder")
    files = sorted(folder.glob("*.yaml"))
    misnamed = sorted(path for path in folder.iterdir() if path.suffix.lower() in LIKE_YAML and path.suffix != ".yaml")
    if misnamed:
        words = "a file of a catalogue ends in .yaml: rename it, or take it out of the folder"
        raise BadInput(tuple(Problem(str(path), 1, 1, "", words) for path in misnamed))
    if not files:
        raise CatalogueMissing(f"'{folder}' holds no .yaml file")
    shipped = _shipped_files(folder)
    raw = {path: content for path in (*files, *shipped) if (content := _bytes(path)) is not None}
    with _without_collecting():
        name = None
        if len(raw) == len(files) + len(shipped):
            whence = [("own", path) for path in files] + [("shipped", path) for path in shipped]
            name = name_of((f"{folder_of}/{path.name}", raw[path]) for folder_of, path in whence)
        found = None if name is None else kept(name)
        if found is None:
            found = _load(files, shipped, raw)
            if name is not None:
                keep(name, *found)
    return found


def _bytes(path: Path) -> bytes | None:
    """The bytes of a file; None where it cannot be read, which is told as it is read for good."""
    try:
        return raw_bytes(path)
    except OSError:
        return None


def _load(files: list[Path], shipped: list[Path], raw: Mapping[Path, bytes]) -> tuple[Catalogue, Tables]:
    shelf = _Shelf()
    for path in files:
        _read_file(_document(path, raw), shelf, frozenset(SECTIONS))
    if "sources" in shelf.sections:
        _check_sources(shelf)
    _fill_from_shipped(shipped, raw, shelf)
    _check_chargers(shelf)
    if shelf.problems:
        raise BadInput(tuple(sorted(set(shelf.problems))))
    parts: list[Part] = [part for section in PART_SECTIONS for part in shelf.records[section].values()]
    catalogue = make_catalogue(parts, shelf.records["layouts"].values())
    return catalogue, Tables(**{table.name: _by_id(shelf.records[table.name]) for table in fields(Tables)})


def _document(path: Path, raw: Mapping[Path, bytes]) -> Document:
    return read_raw(raw[path], str(path)) if path in raw else read_yaml(path)


def load_parts(path: Path, catalogue: Catalogue) -> tuple[Part, ...]:
    """The parts of one file, written as a catalogue writes them and none of them on its shelf, in the order written.

    Raises BadInput with every problem of the file.
    """
    shelf = _Shelf()
    document = read_yaml(path)
    _read_file(document, shelf, frozenset(PART_SECTIONS))
    data = document.data if isinstance(document.data, dict) else {}
    for section in data:
        if section in SECTIONS and section not in PART_SECTIONS:
            words = f"parts are expected here, not '{section}' (allowed: {', '.join(PART_SECTIONS)})"
            shelf.problems.append(document.problem((section,), words, on_key=True))
    parts: list[Part] = []
    for section in PART_SECTIONS:
        entries = data.get(section)
        for index, entry in enumerate(entries if isinstance(entries, list) else ()):
            name = entry.get("id") if isinstance(entry, dict) else None
            if isinstance(name, str) and name in catalogue.parts:
                words = f"id '{name}' is a part of the catalogue already: give the new one another"
                shelf.problems.append(document.problem((section, index, "id"), words))
        parts += shelf.records[section].values()
    if not parts and not shelf.problems:
        shelf.problems.append(document.problem((), "no part is written here: a section like 'pumps:' is expected"))
    if shelf.problems:
        raise BadInput(tuple(sorted(set(shelf.problems))))
    return tuple(parts)


@contextmanager
def _without_collecting() -> Iterator[None]:
    """Reading makes very many small objects and no garbage: collecting would double its time."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def _by_id(records: dict[str, Any]) -> Mapping[str, Any]:
    return MappingProxyType(dict(sorted(records.items())))


def _read_file(document: Document, shelf: _Shelf, wanted: frozenset[str]) -> None:
    shelf.problems += document.problems
    if document.root is None:
        return
    if not isinstance(document.data, dict):
        words = "a catalogue file names its sections, like 'pumps:' with a list of pumps below"
        shelf.problems.append(document.problem((), words))
        return
    document.empty = [path for path in document.empty if path[0] in wanted - {"bounds"}]
    shelf.problems += empty_values(document)
    for section, content in document.data.items():
        if section not in SECTIONS:
            words = (
                f"unknown section '{section}'{nearest(section, SECTIONS)} (allowed: {', '.join(SECTIONS)})"
            )
            shelf.problems.append(document.problem((section,), words, on_key=True))
        elif section in wanted:
            shelf.sections.add(section)
            _read_section(section, content, document, shelf)


def _read_section(section: str, content: Any, document: Document, shelf: _Shelf) -> None:
    if section == "bounds" or (section,) in document.blamed:
        return
    if section == "sources":
        _read_sources(content, document, shelf)
        return
    if not isinstance(content, list):
        words = f"a list is expected under '{section}', each entry beginning with '- id:'"
        shelf.problems.append(document.problem((section,), words))
        return
    model = PART_SECTIONS.get(section) or TABLE_SECTIONS[section]
    for index, entry in enumerate(content):
        path: KeyPath = (section, index)
        if path in document.blamed:
            continue
        if not isinstance(entry, dict):
            shelf.problems.append(
                document.problem(path, "keys and values are expected here, beginning with 'id:'")
            )
            continue
        record, problems = read_record(model, entry, document, path)
        shelf.problems += problems
        if isinstance(record, Charger):
            shelf.chargers.append((document, path, record))
        _take(section, entry.get("id"), record, document, path, shelf)
        shelf.cited += [(document, path + below, key) for below, key in sources_in(entry, ())]


def _take(section: str, name: Any, record: Any, document: Document, path: KeyPath, shelf: _Shelf) -> None:
    """Put a record on the shelf under its id; a second one of that id is a problem that names both places."""
    if name is None and section == "driving" and record is not None:
        words = f"missing key 'id' in {section}[{path[1]}] (write it like: id: hill-climb)"
        shelf.problems.append(document.problem((*path, "id"), words))
    if not isinstance(name, str):
        return
    drawer = "parts" if section in PART_SECTIONS else section
    first = shelf.first_seen.get((drawer, name))
    if first is not None:
        words = f"id '{name}' is given twice, first at {first}; every id is given once"
        shelf.problems.append(document.problem((*path, "id"), words))
        return
    line, column = document.place((*path, "id"))
    shelf.first_seen[drawer, name] = f"{document.file}:{line}:{column}"
    shelf.records[section][name] = record


def _read_sources(content: Any, document: Document, shelf: _Shelf) -> None:
    if not isinstance(content, dict):
        words = "sources are keys with their text, like 'rig: measured on our own bench'"
        shelf.problems.append(document.problem(("sources",), words))
        return
    for name, text in content.items():
        if ("sources", name) in document.blamed:
            continue
        if not isinstance(text, str):
            words = "text is expected here: what the source is and where it can be found"
            shelf.problems.append(document.problem(("sources", name), words))
            continue
        if name in shelf.records["sources"]:
            words = f"source '{name}' is given twice, first at {shelf.first_seen['sources', name]}"
            shelf.problems.append(document.problem(("sources", name), words, on_key=True))
            continue
        line, column = document.place(("sources", name), on_key=True)
        shelf.first_seen["sources", name] = f"{document.file}:{line}:{column}"
        shelf.records["sources"][name] = text


def sources_in(value: Any, path: KeyPath) -> Iterator[tuple[KeyPath, str]]:
    """Every source key cited below a value."""
    if isinstance(value, dict):
        for key, item in value.items():
            if key == "source" and isinstance(item, str):
                yield (*path, key), item
            elif isinstance(item, dict | list):
                yield from sources_in(item, (*path, key))
    elif isinstance(value, list):
        for index, item in enumerate(value):
            if isinstance(item, dict | list):
                yield from sources_in(item, (*path, index))


def _check_sources(shelf: _Shelf) -> None:
    known = shelf.records["sources"]
    for document, path, key in shelf.cited:
        if key not in known:
            shelf.problems.append(document.problem(path, source_not_known(key, known)))


def source_not_known(key: str, known: Iterable[str]) -> str:
    """The sentence for a source that a catalogue cites and does not list."""
    words = not_known("source", key, known)
    return f"{words}; sources are listed under 'sources:', as in sources.yaml: add yours"


def _check_chargers(shelf: _Shelf) -> None:
    """A charger's consumption is given by fuel: those fuels must exist."""
    fuels = shelf.records["fuels"]
    for document, path, charger in shelf.chargers:
        for fuel in charger.consumption:
            if fuel not in fuels:
                words = not_known("fuel", fuel, fuels)
                shelf.problems.append(document.problem((*path, "consumption", fuel), words, on_key=True))


def _shipped_files(folder: Path) -> list[Path]:
    """The files of the shipped catalogue, where that is another one than this folder."""
    try:
        shipped = shipped_catalogue()
    except CatalogueMissing:
        return []
    return [] if shipped.resolve() == folder.resolve() else sorted(shipped.glob("*.yaml"))


def _fill_from_shipped(shipped: list[Path], raw: Mapping[Path, bytes], shelf: _Shelf) -> None:
    """Tables that a folder lacks come from the shipped catalogue, with their sources; parts never do."""
    lacking = frozenset(TABLE_SECTIONS) - shelf.sections
    if not lacking or not shipped:
        return
    wanted = lacking | {"sources"}
    heading = re.compile(rf"^(?:{'|'.join(sorted(wanted))}):".encode(), re.MULTILINE)
    filled = _Shelf()
    for path in shipped:
        if path not in raw or heading.search(raw[path]):
            _read_file(_document(path, raw), filled, wanted)
    shelf.problems += filled.problems
    for section in lacking:
        shelf.records[section] = filled.records[section]
    shelf.records["sources"] = {**filled.records["sources"], **shelf.records["sources"]}
