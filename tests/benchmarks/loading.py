"""How long a command takes on a large shelf, afresh and again: python tests/benchmarks/loading.py [PARTS] [ROUNDS]

A shelf of so many invented parts of each kind is written (334: 5,010 in all). Each command is started on it with an
empty cache folder and, in turns, with one that has it; that all runs print the same is asserted before any time is
printed. Times depend on the machine and are never asserted.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from tests.benchmarks.big_shelf import CATALOGUE, write_shelf  # noqa: E402

COMMANDS = (
    ("shelf", "list", "pump"),
    ("shelf", "show", "core-230-short-{}"),
    ("mate", "orb:-10:male", "flare37:-10:female:swivel"),
)


def run(words: list[str], shelf: Path, cache: Path) -> tuple[float, bytes]:
    """Wall-clock time of one process [s], and what it printed."""
    environment = {**os.environ, "XDG_CACHE_HOME": str(cache), "PYTHONPATH": str(ROOT)}
    command = [sys.executable, "-m", "configurator", *words, "--catalogue", str(shelf)]
    started = time.perf_counter()
    done = subprocess.run(command, env=environment, capture_output=True, check=False)
    took = time.perf_counter() - started
    assert done.returncode in (0, 1) and done.stdout, done.stderr.decode()
    return took, done.stdout


def measured(words: list[str], shelf: Path, rounds: int, folder: Path) -> None:
    """One line: the first start and the second, middle of all rounds."""
    again = Path(tempfile.mkdtemp(dir=folder))
    printed = {run(words, shelf, again)[1]}
    first, second = [], []
    for _ in range(rounds):
        for times, cache in ((first, Path(tempfile.mkdtemp(dir=folder))), (second, again)):
            took, out = run(words, shelf, cache)
            times.append(took)
            printed.add(out)
    assert len(printed) == 1, f"{words} did not print the same every time"
    afresh, kept = statistics.median(first), statistics.median(second)
    kept_best, words_told = min(second), " ".join(words[:2])
    print(f"  {words_told:24} {afresh:8.2f} s {kept:8.2f} s {kept_best:8.2f} s {kept / afresh:7.2f}", flush=True)


def main(parts_per_kind: int, rounds: int) -> None:
    """The large shelf, then the shipped one."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        count = write_shelf(folder / "shelf", parts_per_kind, 1)
        own = next(line for line in (folder / "shelf" / "cores-1.yaml").read_text().splitlines() if "230-short" in line)
        number = own.rpartition("-")[2]
        for words, shelf, core in (
            (f"{count:,} parts", folder / "shelf", number),
            ("the shipped shelf", CATALOGUE, ""),
        ):
            print(f"{words:26} {'first':>10} {'again':>10} {'at best':>10} {'ratio':>7}")
            for command in COMMANDS:
                measured([word.format(core).removesuffix("-") for word in command], shelf, rounds, folder)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 334, int(sys.argv[2]) if len(sys.argv) > 2 else 5)
