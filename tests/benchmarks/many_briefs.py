"""How long all examples take as one call, beside one call for each: python tests/benchmarks/many_briefs.py [BRIEF ...]

That both give the same answers is asserted before any time is printed. Times depend on the machine and are never
asserted; what can be gained at most is the number of cores.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]


def suggest(*briefs: str) -> tuple[float, Any]:
    """Wall-clock time of one process [s], and what it answered."""
    command = [sys.executable, "-m", "configurator", "suggest", *briefs, "--json", "--no-ways-out"]
    started = time.perf_counter()
    done = subprocess.run(command, cwd=ROOT, capture_output=True, check=False)
    took = time.perf_counter() - started
    assert done.returncode in (0, 1, 4), done.stderr.decode()
    return took, json.loads(done.stdout)


def main(briefs: list[str]) -> None:
    """One line for each brief alone, then all of them together."""
    suggest(briefs[0])  # the catalogue is kept from here on
    alone = [suggest(brief) for brief in briefs]
    together_s, listed = suggest(*briefs)
    assert [entry["brief"] for entry in listed] == briefs
    assert [entry["answer"] for entry in listed] == [answer for _, answer in alone], "answers differ"
    for brief, (seconds, answer) in zip(briefs, alone, strict=True):
        print(f"{brief:28} {seconds:7.1f} s   {answer['outcome']}")
    alone_s = sum(seconds for seconds, _ in alone)
    ratio = f"{together_s / alone_s:.2f} of it"
    print(f"one by one {alone_s:.1f} s, as one call {together_s:.1f} s: {ratio}, on {os.cpu_count()} cores")


if __name__ == "__main__":
    main(sys.argv[1:] or [str(path.relative_to(ROOT)) for path in sorted((ROOT / "examples").glob("*.yaml"))])
