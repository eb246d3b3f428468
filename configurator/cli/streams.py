"""The three streams of the process where one of them is closed, full, or nobody reads it any more."""

from __future__ import annotations

import codecs
import contextlib
import io
import json
import os
import sys
from collections.abc import Iterator

from configurator.cli import exit_codes


@contextlib.contextmanager
def sound_streams() -> Iterator[None]:
    """Whatever is done below ends with an exit code and at most a sentence, though a stream or a file fails it."""
    _make_ready()
    try:
        try:
            yield
        except SystemExit as stop:
            if isinstance(stop.__context__, BrokenPipeError):  # typer heard of it first, and would call it a no
                raise stop.__context__ from None
            raise
        finally:
            sys.stdout.flush()  # what cannot be written is found out here, not when nobody listens any more
    except BrokenPipeError:  # whoever read has enough
        _write_no_more()
        sys.exit(exit_codes.ALL_WELL)
    except ChildProcessError:
        raise  # a process of ours ended that never should
    except OSError as error:
        named = "" if error.filename is None else f"'{error.filename}': "
        _write_no_more(f"kitwright: stopped: {named}{error.strerror or error}\n")
        sys.exit(exit_codes.BAD_INPUT)


def _make_ready() -> None:
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


def _write_no_more(last_words: str = "") -> None:
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
