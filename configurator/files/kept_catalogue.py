"""Catalogues that were read and found good before, kept in the user's cache folder, so that a start reads no YAML.

One is found again by a hash of every file that it was read from (name and bytes), of this program's own sources and
of the versions under it: a changed part or a changed model is another one. What is kept is JSON, behind a hash of
itself, so that half a file is none. Nothing here is ever an error: what cannot be read or written is read from YAML.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import sys
import tempfile
from collections.abc import Iterable
from dataclasses import fields
from pathlib import Path
from types import MappingProxyType
from typing import Any, Final

import pydantic

from configurator import __version__
from configurator.brief.tables import Tables
from configurator.files.plain_records import read_plainly, written_plainly
from configurator.parts.shelf import Catalogue

MOST_KEPT: Final = 8
_PACKAGE: Final = Path(__file__).resolve().parent.parent
_ROOMS: Final = ("foundations", "standards", "parts", "brief", "files")
"""All that reading a catalogue leans on, as the floors have it."""

Written = tuple[str, bytes]
"""A file: what it is called, and its bytes."""


def name_of(files: Iterable[Written]) -> str | None:
    """Under which name a catalogue of these files is kept; None where the program has no sources to be told by."""
    sources = sorted(path for room in _ROOMS for path in (_PACKAGE / room).glob("*.*") if path.is_file())
    if not any(path.suffix == ".py" for path in sources):
        return None
    versions = f"{__version__} {pydantic.VERSION} {sys.version}"
    whole = hashlib.sha256(versions.encode())
    try:
        own = [(path.name, path.read_bytes()) for path in sources]
    except OSError:
        return None
    for name, content in (*own, *files):
        whole.update(f"\0{name}\0{len(content)}\0".encode(errors="surrogateescape"))
        whole.update(content)
    return whole.hexdigest()


def kept(name: str) -> tuple[Catalogue, Tables] | None:
    """The catalogue kept under a name; None where there is none, or it is not whole."""
    folder = cache_folder()
    if folder is None:
        return None
    path = folder / f"{name}.json"
    try:
        check, _, content = path.read_bytes().partition(b"\n")
    except OSError:
        return None
    if hashlib.sha256(content).hexdigest().encode() != check:
        return None
    with contextlib.suppress(OSError):
        os.utime(path)  # asked for last, so it goes last
    return of_text(content)


def keep(name: str, catalogue: Catalogue, tables: Tables) -> None:
    """Keep a catalogue under its name, whole or not at all, and let go of the oldest beyond the most."""
    folder = cache_folder()
    if folder is None:
        return
    content = as_text(catalogue, tables).encode()
    beside: Path | None = None
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        with tempfile.NamedTemporaryFile(dir=folder, prefix=f"{name}.", suffix=".part", delete=False) as stream:
            beside = Path(stream.name)
            stream.write(hashlib.sha256(content).hexdigest().encode() + b"\n" + content)
        beside.replace(folder / f"{name}.json")
        for old in sorted(folder.iterdir(), key=lambda path: path.stat().st_mtime_ns)[:-MOST_KEPT]:
            old.unlink(missing_ok=True)
    except OSError:  # no room, no right to write, no folder: then the next start reads YAML again
        if beside is not None:
            with contextlib.suppress(OSError):
                beside.unlink(missing_ok=True)


def cache_folder() -> Path | None:
    """Below XDG_CACHE_HOME, else where this system keeps what can be made again; None where there is no such place."""
    named = os.environ.get("XDG_CACHE_HOME", "")
    try:
        if Path(named).is_absolute():
            place = Path(named)
        elif sys.platform == "win32":
            place = Path(os.environ.get("LOCALAPPDATA") or Path.home() / "AppData" / "Local")
        else:
            place = Path.home() / ("Library/Caches" if sys.platform == "darwin" else ".cache")
    except RuntimeError:
        return None
    return place / "kitwright" / "catalogues"


_TABLES: Final = tuple(table.name for table in fields(Tables))


def as_text(catalogue: Catalogue, tables: Tables) -> str:
    """A catalogue as JSON that gives it back whole: to be kept, or handed to another process."""
    by_name = {name: dict(getattr(tables, name)) for name in _TABLES}
    shelf = {"parts": tuple(catalogue.parts.values()), "layouts": catalogue.layouts}
    return written_plainly({**shelf, "fingerprint": catalogue.fingerprint, "tables": by_name})


def of_text(content: str | bytes) -> tuple[Catalogue, Tables]:
    """The catalogue that `as_text` was given."""
    plain: dict[str, Any] = read_plainly(content)
    parts = MappingProxyType({part.id: part for part in plain["parts"]})
    tables = Tables(**{name: MappingProxyType(plain["tables"][name]) for name in _TABLES})
    return Catalogue(parts, plain["layouts"], plain["fingerprint"]), tables
