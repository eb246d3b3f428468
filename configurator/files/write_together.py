"""Several files replaced together: all of them or none, with what they were kept first.

Every new text is written whole beside its file before any file takes its new name. Should a name not be taken, the
files that have theirs already are put back. Should the process be killed in between, each file is whole, old or new,
and the old ones lie in the backup.
"""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path

from configurator.errors import CannotWrite


def write_together(texts: Mapping[Path, tuple[bytes, bytes]], backup_in: Path) -> Path:
    """Replace files, each with its old and new content, and return the folder that holds the old ones.

    Raises CannotWrite, with every file as it was, where a file is not what it was read as or cannot be written.
    """
    with _alone(backup_in):
        return _replaced({path.resolve(): contents for path, contents in texts.items()}, backup_in)


@contextmanager
def _alone(folder: Path) -> Iterator[None]:
    """Whoever else writes into this folder this way waits, where the system has such locks; they end with a process."""
    handle = None
    with suppress(ImportError, OSError):
        import fcntl

        handle = os.open(folder, os.O_RDONLY)
        fcntl.flock(handle, fcntl.LOCK_EX)
    try:
        yield
    finally:
        if handle is not None:
            os.close(handle)


def _replaced(targets: Mapping[Path, tuple[bytes, bytes]], backup_in: Path) -> Path:
    beside: dict[Path, Path] = {}
    done: list[Path] = []
    backup: Path | None = None
    try:
        for path, (old, _) in targets.items():
            if path.read_bytes() != old:
                raise CannotWrite(f"'{path}' was changed while it was being read; nothing was written: start again")
        backup = _backup({path: old for path, (old, _) in targets.items()}, backup_in)
        for path, (_, new) in targets.items():
            beside[path] = _beside(path, new)
        for path in targets:
            beside[path].replace(path)
            done.append(path)
    except BaseException as error:  # stopped by hand as well: nothing may stay half done
        left = [path for path in done if not _put_back(path, targets[path][0])]
        if backup is not None and not left:
            shutil.rmtree(backup, ignore_errors=True)
        if not isinstance(error, OSError):
            raise
        stands = "every file is as it was"
        if left:
            stands = f"{', '.join(map(str, left))} could not be put back: what was in it lies in {backup}"
        raise CannotWrite(f"the catalogue cannot be written: {error.strerror or error}; {stands}") from None
    finally:
        for path, unfinished in beside.items():
            if path not in done:
                unfinished.unlink(missing_ok=True)
    return backup


def _backup(old: Mapping[Path, bytes], folder: Path) -> Path:
    """Keep what the files hold now, in the first folder `backup-1`, `backup-2`, ... that is not there yet."""
    number = 1
    while (folder / f"backup-{number}").exists():
        number += 1
    backup = folder / f"backup-{number}"
    backup.mkdir()
    try:
        for path, content in old.items():
            _written(backup / path.name, content)
    except BaseException:
        shutil.rmtree(backup, ignore_errors=True)  # half a backup is none
        raise
    return backup


def _beside(path: Path, content: bytes) -> Path:
    """The new content in a file beside the old one, with the same permissions."""
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
    os.close(handle)
    beside = Path(name)
    try:
        _written(beside, content)
        shutil.copymode(path, beside)
    except OSError:
        beside.unlink(missing_ok=True)
        raise
    return beside


def _written(path: Path, content: bytes) -> None:
    with path.open("wb") as stream:
        stream.write(content)
        stream.flush()
        os.fsync(stream.fileno())


def _put_back(path: Path, content: bytes) -> bool:
    try:
        _beside(path, content).replace(path)
    except OSError:
        return False
    return True
