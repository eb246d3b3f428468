"""The beginning of whatever a user named as a file, without waiting for what never comes."""

from __future__ import annotations

import os
from pathlib import Path


def first_bytes(path: Path, most: int) -> bytes:
    """So many bytes of a file, or all of fewer. Raises OSError. A pipe that nobody writes into is empty: opening it the
    usual way would wait for a writer.
    """
    with open(path, "rb", opener=_without_waiting) as stream:
        return stream.read(most)


def _without_waiting(path: str, flags: int) -> int:
    if not hasattr(os, "O_NONBLOCK"):
        return os.open(path, flags)
    handle = os.open(path, flags | os.O_NONBLOCK)
    os.set_blocking(handle, True)  # who does write into it is waited for
    return handle
