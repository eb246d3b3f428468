"""Files that the program writes for the user: whole or not at all, and never over one that is there unasked."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from configurator.errors import CannotWrite


def refuse_to_overwrite(path: Path, *, force: bool) -> None:
    """Raises CannotWrite where the file is there and nobody said it may be replaced."""
    if path.exists() and not force:
        raise CannotWrite(f"'{path}' is there already; nothing was written: choose another name, or add --force")


def write_whole(path: Path, content: str | bytes, *, force: bool) -> None:
    """Write text as UTF-8, or bytes, to a file beside it that takes its name once complete. Raises CannotWrite."""
    refuse_to_overwrite(path, force=force)
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
