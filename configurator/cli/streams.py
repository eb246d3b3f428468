"""The three streams of the process where one of them is closed, full, or nobody reads it any more."""

from __future__ import annotations

import codecs
import contextlib
import io
import json
import os
import sys


def make_ready() -> None:
    """Whatever is written can be: a stream closed before the start goes nowhere, a letter that the encoding lacks is
    written as its escape, as JSON has it and the error stream does anyway.
    """
    if sys.stdin is None:
        sys.stdin = open(os.devnull, encoding="utf-8")  # noqa: SIM115, PTH123
    for name in ("stdout", "stderr"):
        if getattr(sys, name) is None:
            setattr(sys, name, open(os.devnull, "w", encoding="utf-8"))  # noqa: SIM115, PTH123
    codecs.register_error("as-json", _escaped)
    if isinstance(sys.stdout, io.TextIOWrapper):
        sys.stdout.reconfigure(errors="as-json")


def _escaped(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    return json.dumps(error.object[error.start : error.end])[1:-1], error.end


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
