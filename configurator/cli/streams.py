"""The three streams of the process where one of them is closed, full, or nobody reads it any more."""

from __future__ import annotations

import contextlib
import os
import sys


def open_what_is_closed() -> None:
    """A stream that was closed before the start is none at all: what is written there goes nowhere."""
    if sys.stdin is None:
        sys.stdin = open(os.devnull, encoding="utf-8")  # noqa: SIM115, PTH123
    for name in ("stdout", "stderr"):
        if getattr(sys, name) is None:
            setattr(sys, name, open(os.devnull, "w", encoding="utf-8"))  # noqa: SIM115, PTH123


def write_no_more(last_words: str = "") -> None:
    """Say why, where that can be said still, and let the last flush of a stream that takes nothing go nowhere: else the
    end of the process would complain.
    """
    with contextlib.suppress(OSError):
        sys.stderr.write(last_words)
    nowhere = os.open(os.devnull, os.O_WRONLY)
    for stream in (sys.stdout, sys.stderr):
        with contextlib.suppress(OSError, ValueError):
            stream.flush()
            continue
        with contextlib.suppress(OSError, ValueError):
            os.dup2(nowhere, stream.fileno())
