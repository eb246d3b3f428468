"""How far the work has come, on the error stream of a person's terminal."""

from __future__ import annotations

import sys


def progress(words: str) -> None:
    """Say so on one line that the next words replace; empty words clear it. Nothing where nobody looks."""
    if sys.stderr.isatty():
        sys.stderr.write(f"\r{words:<78}\r")
        sys.stderr.flush()
