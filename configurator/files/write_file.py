"""Files that the program writes for the user: whole or not at all, and never over one that is there unasked."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterable
from pathlib import Path
from typing import Final

from configurator.errors import CannotWrite
from configurator.files.find_catalogue import is_folder, shipped_catalogue

LIKE_YAML: Final = (".yaml", ".yml")


def refuse_to_overwrite(path: Path, *, force: bool | None) -> None:
    """Raises CannotWrite where the file is there and nobody said it may be replaced, or where it is none: a folder, a
    pipe, a device, a link to nothing. `force` is None where the command has no such option.
    """
    try:
        path.lstat()
        is_file = path.is_file()
    except FileNotFoundError:
        return
    except OSError as error:
        raise CannotWrite(f"'{path}' cannot be written: {error.strerror or error}") from None
    if not is_file:
        raise CannotWrite(f"'{path}' is there and is no file; nothing was written: choose another name")
    if not force:
        remedy = "choose another name" if force is None else "choose another name, or add --force"
        raise CannotWrite(f"'{path}' is there already; nothing was written: {remedy}")


def refuse_outputs(
    written: Iterable[Path | None], read: Iterable[Path | None], catalogue: Path, *, force: bool | None
) -> None:
    """Raises CannotWrite before anything is computed: for a file that may not be written, one that is asked for twice,
    or one that the command reads, which no `force` replaces: the files of the folder `catalogue` and of the shipped
    one among them, and what the next start would read as such. Those that are None were not asked for.
    """
    shelves = [folder for folder in (catalogue, shipped_catalogue()) if is_folder(folder)]
    files = [file for folder in shelves for file in folder.glob("*.yaml")]
    sources, taken = {os.path.realpath(path) for path in (*read, *files) if path is not None}, set[str]()
    for path in written:
        if path is None:
            continue
        place = os.path.realpath(path)
        if place in taken:
            raise CannotWrite(f"'{path}' is asked for twice; nothing was written: give each a name of its own")
        if place in sources:
            raise CannotWrite(f"'{path}' is what this command reads; nothing was written: choose another name")
        if any(is_read_in(folder, path) for folder in shelves):
            words = "would be read as a file of the catalogue; nothing was written: choose another name"
            raise CannotWrite(f"'{path}' {words}")
        refuse_to_overwrite(path, force=force)
        taken.add(place)


def is_read_in(folder: Path, path: Path) -> bool:
    """Whether a file of this name lies in a catalogue folder and has the ending of its files."""
    return path.suffix.lower() in LIKE_YAML and path.parent.is_dir() and path.parent.samefile(folder)


def write_whole(path: Path, content: str | bytes, *, force: bool | None) -> None:
    """Write text as UTF-8, or bytes, to a file beside it that takes its name once complete. Raises CannotWrite."""
    refuse_to_overwrite(path, force=force)
    path = path.resolve()  # through a link: the file takes new content, the link stays
    beside: Path | None = None
    try:
        with tempfile.NamedTemporaryFile("wb", dir=path.parent, prefix=f".{path.name}.", delete=False) as stream:
            beside = Path(stream.name)
            stream.write(content.encode("utf-8") if isinstance(content, str) else content)
        beside.chmod(0o666 & ~_umask())
        beside.replace(path)
    except OSError as error:
        if beside is not None:
            beside.unlink(missing_ok=True)
        raise CannotWrite(f"'{path}' cannot be written: {error.strerror or error}") from None


def _umask() -> int:
    """The permissions that new files lack; reading it means setting it."""
    now = os.umask(0)
    os.umask(now)
    return now
