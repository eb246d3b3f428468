"""How far the work has come, on the error stream of a person's terminal."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager


def progress(words: str) -> None:
    """Say so on one line that the next words replace; empty words clear it. Nothing where nobody looks."""
    if sys.stderr.isatty():
        sys.stderr.write(f"\r{words:<78}\r")
        sys.stderr.flush()


@contextmanager
def meanwhile(words: str) -> Iterator[None]:
    """Say so as long as what is below takes."""
    progress(words)
    try:
        yield
    finally:
        progress("")
