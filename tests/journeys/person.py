"""A person at a terminal: the command in a pseudo-terminal of 80 columns, answered line by line as it asks."""

from __future__ import annotations

import os
import pty
import select
import subprocess
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

CHECKOUT = Path(__file__).resolve().parents[2]
CTRL_C, CTRL_D = "\x03", "\x04"
PATIENCE_S = 60.0
"""Far more than any question takes: what is late by so much does not come."""
LAUNCHER = """
import fcntl, sys, termios
fcntl.ioctl(0, termios.TIOCSCTTY, 0)
from configurator.cli.start import run
sys.argv = ["kitwright", *sys.argv[1:]]
run()
"""
"""The terminal becomes the process's own, so that Ctrl-C typed there reaches it."""


@dataclass(frozen=True)
class Talk:
    """What a conversation came to."""

    code: int
    screen: str
    asked: int
    """How many answers were typed before it ended."""


def talk(folder: Path, words: Sequence[str], replies: Sequence[str]) -> Talk:
    """Run `kitwright` in a folder and type one reply at each prompt."""
    ours, theirs = pty.openpty()
    environment = {**os.environ, "PYTHONPATH": str(CHECKOUT), "COLUMNS": "80", "NO_COLOR": "1", "PYTHONUTF8": "1"}
    process = subprocess.Popen(
        [sys.executable, "-c", LAUNCHER, *words],
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        cwd=folder,
        env=environment,
        start_new_session=True,
    )
    os.close(theirs)
    screen, typed = b"", 0
    try:
        for reply in replies:
            more, prompted = _until_prompt(ours)
            screen += more
            if not prompted:
                break
            os.write(ours, reply.encode() if reply in (CTRL_C, CTRL_D) else reply.encode() + b"\n")
            typed += 1
            if reply == CTRL_C:
                screen += _pressed_until_it_ends(ours)
        screen += _until_prompt(ours)[0]
        code = process.wait(PATIENCE_S)
    finally:
        process.kill()
        process.wait()
        os.close(ours)
    return Talk(code, screen.decode(errors="replace").replace("\r\n", "\n"), typed)


def _pressed_until_it_ends(terminal: int) -> bytes:
    """What comes after Ctrl-C, pressed again each second: one that falls between a prompt and the reading of its line
    is seen only once the line ends.
    """
    came, late = b"", time.monotonic() + PATIENCE_S
    while time.monotonic() < late:
        if not select.select([terminal], [], [], 1.0)[0]:
            os.write(terminal, CTRL_C.encode())
            continue
        try:
            piece = os.read(terminal, 65536)
        except OSError:
            break
        if not piece:
            break
        came += piece
    return came


def _until_prompt(terminal: int) -> tuple[bytes, bool]:
    """What comes until the next prompt, or until the end."""
    came, late = b"", time.monotonic() + PATIENCE_S
    while not came.endswith(b"\n> ") and time.monotonic() < late:
        if not select.select([terminal], [], [], 0.5)[0]:
            continue
        try:
            piece = os.read(terminal, 65536)
        except OSError:  # the other side has closed the terminal
            return came, False
        if not piece:
            return came, False
        came += piece
    return came, came.endswith(b"\n> ")
