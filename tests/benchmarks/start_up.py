"""How long whole commands take, beside the start-up of their libraries: python tests/benchmarks/start_up.py [ROUNDS]

The processes are timed in turns, so that a busy moment of the machine falls on all of them. Times depend on the machine
and are never asserted; that every run gives the same answer is. `first line` is the time until `suggest` tells a person
at a terminal that it starts.
"""

from __future__ import annotations

import os
import pty
import statistics
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
LIBRARIES = "import numpy, pydantic, yaml, typer, rich"
COMMANDS = {
    "libraries": [sys.executable, "-c", LIBRARIES],
    "suggest": [sys.executable, "-m", "configurator", "suggest", "examples/hatch.yaml"],
    "help": [sys.executable, "-m", "configurator", "--help"],
    "first line": [sys.executable, "-m", "configurator", "suggest", "examples/hatch.yaml"],
    "bare": [sys.executable, "-c", "pass"],
}
MOST_NOW, MOST_IN_THE_END = 20, 6
MOST_MS = {"first line": 500, "help": 200}
ENVIRONMENT = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
"""As a user's: compiled modules are kept from one start to the next."""


def run(command: list[str]) -> tuple[float, bytes]:
    """Wall-clock time of one process [s], and what it printed."""
    started = time.perf_counter()
    done = subprocess.run(command, cwd=ROOT, env=ENVIRONMENT, capture_output=True, check=True)
    return time.perf_counter() - started, done.stdout


def until_first_line(command: list[str]) -> tuple[float, bytes]:
    """Wall-clock time from the start of a process to the first bytes on its terminal [s], and those bytes."""
    ours, theirs = pty.openpty()
    started = time.perf_counter()
    process = subprocess.Popen(command, cwd=ROOT, stdin=theirs, env=ENVIRONMENT, stdout=theirs, stderr=theirs)
    os.close(theirs)
    first = os.read(ours, 4096)
    seconds = time.perf_counter() - started
    process.kill()
    process.wait()
    os.close(ours)
    return seconds, first.strip()


def main(rounds: int) -> None:
    """Time all commands in turns, make sure of their answers, then print medians and ratios."""
    for command in COMMANDS.values():
        run(command)
    times: dict[str, list[float]] = {name: [] for name in COMMANDS}
    answers: dict[str, set[bytes]] = {name: set() for name in COMMANDS}
    for _ in range(rounds):
        for name, command in COMMANDS.items():
            seconds, printed = until_first_line(command) if name == "first line" else run(command)
            times[name].append(seconds)
            answers[name].add(printed)
    for name, printed_by in answers.items():
        assert len(printed_by) == 1, f"{name} did not give the same answer every time"
    assert answers["suggest"].pop().startswith(b"Kit 1, "), "suggest did not find a kit"
    assert answers["first line"] == {b"starting"}
    middle = {name: statistics.median(taken) for name, taken in times.items()}
    for name, seconds in middle.items():
        print(f"{name:<10} {seconds * 1000:8.0f} ms   (median of {rounds}, {min(times[name]) * 1000:.0f} ms at best)")
    ratio = middle["suggest"] / middle["libraries"]
    print(f"suggest / libraries: {ratio:.1f}  (at most {MOST_NOW} now, {MOST_IN_THE_END} in the end)")
    for name, most in MOST_MS.items():
        print(f"{name} / bare: {middle[name] / middle['bare']:.1f}  (itself at most {most} ms)")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 5)
