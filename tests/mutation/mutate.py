"""Mutation testing of the rooms that compute: does a test fail when the code has a fault? Run by hand, no test.

    python tests/mutation/mutate.py reach [TESTS ...]
    python tests/mutation/mutate.py run ROOM [--sample 60] [--seed 1] [--most 60] [--again]
    python tests/mutation/mutate.py tell

`reach` runs tests (files or folders) once and keeps which of them reach which line, and what each costs; it is told a
changed or new test file by its name. `run` draws mutants of a room by a seed and gives each of them to the tests that
reach its lines, the file that costs least first, up to `--most` measured seconds, until one fails. What was decided
once is not tried anew, so a run that was ended goes on; `--again` tries the survivors anew. `tell` prints the figures
and the survivors. Everything is kept in one folder (`--work`), with a copy of the checkout for the faults.

Needs group `mutation`; Linux. Each mutant has a process of its own, forked after the libraries are loaded. Its limits
are processor seconds, so that the run may be stopped and continued. A killer is a test that passes without the fault:
all of them are run once more on the clean copy in the end.
"""

from __future__ import annotations

import argparse
import importlib
import json
import os
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import traceback
from collections import defaultdict
from collections.abc import Iterable, Sequence
from functools import cache
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

import pytest  # noqa: E402
from hypothesis import HealthCheck, Phase, settings  # noqa: E402

from tests.mutation.mutants import Mutant, sample  # noqa: E402
from tests.mutation.reach import ALL, ROOMS  # noqa: E402

COPIED = ("configurator", "catalogue", "tests", "examples", "pyproject.toml", "README.md", "DEVELOPERS.md")
LIBRARIES = ("numpy", "pydantic", "yaml", "rich.console", "typer", "constraint", "hypothesis.strategies")
NEARBY = [f"tests/{name}" for name in (*ROOMS, "reference_cases", "properties", "ranking")]
ALLOWED_TIMES, ALLOWED_MORE_S = 3.0, 10.0
"""A test may take so many times its measured processor seconds, and so many seconds more."""
MOST_BYTES = 8 << 30
NOT_THE_COPY = 90

Verdict = dict[str, Any]


def copied(work: Path) -> Path:
    """A fresh private copy of the checkout: no fault is ever written anywhere else."""
    tree = work / "tree"
    shutil.rmtree(tree, ignore_errors=True)
    tree.mkdir(parents=True)
    for name in COPIED:
        if (ROOT / name).is_dir():
            shutil.copytree(ROOT / name, tree / name, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            shutil.copy2(ROOT / name, tree / name)
    return tree


@cache
def reached(folder: Path) -> dict[str, dict[str, Any]]:
    """What `reach` has kept, by test file."""
    kept = [json.loads(path.read_text(encoding="utf-8")) for path in sorted(folder.glob("*.json"))]
    return {file: told for told in kept for file in {test.split("::")[0] for test in told["seconds"]}}


def tests_for(mutant: Mutant, folder: Path, most_s: float) -> tuple[list[str], dict[str, float]]:
    """The tests that reach a mutant, cheapest file first, up to `most_s`, and what each may cost [s].

    What is computed at import is reached by every test that reaches its module.
    """
    first, last = mutant.lines
    files: list[tuple[float, list[str]]] = []
    allowed: dict[str, float] = {}
    for told in reached(folder).values():
        found = {
            test
            for test, modules in told["lines"].items()
            if mutant.path in modules and (mutant.at_import or any(first <= n <= last for n in modules[mutant.path]))
        }
        seconds: dict[str, float] = told["seconds"]
        tests = sorted(seconds if ALL in found else found, key=lambda test: (seconds[test], test))
        if tests:
            files.append((sum(seconds[test] for test in tests), tests))
            shared = max(seconds.values())  # whichever test comes first pays for what they share
            allowed |= {test: ALLOWED_MORE_S + ALLOWED_TIMES * (seconds[test] + shared) for test in tests}
    chosen: list[str] = []
    spent = 0.0
    for cost, tests in sorted(files):
        if not chosen or spent + cost <= most_s:
            chosen += tests
            spent += cost
    return chosen, allowed


class Judge:
    """The part of a mutant's own process that lets pytest run the chosen tests in their order, and says who failed."""

    def __init__(self, tree: Path, tests: Sequence[str], allowed: dict[str, float], told: Path) -> None:
        self.tree, self.allowed, self.told = tree, allowed, told
        self.rank = {test: number for number, test in enumerate(tests)}
        self.failed: list[str] = []

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        items[:] = sorted((i for i in items if i.nodeid in self.rank), key=lambda item: self.rank[item.nodeid])

    def pytest_runtest_setup(self, item: pytest.Item) -> None:
        """Beyond its processor seconds a test is ended by the system, with its process."""
        self.told.write_text(item.nodeid, encoding="utf-8")
        signal.setitimer(signal.ITIMER_PROF, self.allowed.get(item.nodeid, 600.0))

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed:
            self.failed.append(report.nodeid)

    def pytest_collectreport(self, report: pytest.CollectReport) -> None:
        if report.failed:
            self.failed.append("import")

    def pytest_sessionfinish(self) -> None:
        self.told.write_text("\n".join(self.failed), encoding="utf-8")
        package = sys.modules.get("configurator")
        if package is not None and not str(package.__file__).startswith(str(self.tree)):
            os._exit(NOT_THE_COPY)


def _in_own_process(tree: Path, tests: Sequence[str], allowed: dict[str, float], told: Path, first: bool) -> None:
    """Never returns: ends with pytest's exit code."""
    code = NOT_THE_COPY
    try:
        with (told.parent / "output.txt").open("w", encoding="utf-8") as output:
            os.dup2(output.fileno(), 1)
            os.dup2(output.fileno(), 2)
        resource.setrlimit(resource.RLIMIT_AS, (MOST_BYTES, MOST_BYTES))
        limit = int(sum(allowed.get(test, 600.0) for test in tests)) + 60
        resource.setrlimit(resource.RLIMIT_CPU, (limit, limit))
        for name in [name for name in sys.modules if name.split(".")[0] == "tests"]:
            del sys.modules[name]
        sys.path[:] = [str(tree), *(path for path in sys.path if not Path(path).is_relative_to(ROOT))]
        os.chdir(tree)
        os.environ["PYTHONPATH"] = str(tree)
        files = list(dict.fromkeys(test.split("::")[0] for test in tests))
        options = ["-n", "0", "-p", "no:cacheprovider", "--tb=short", "--hypothesis-profile=first failure"]
        options += ["-W", "ignore::pytest.PytestAssertRewriteWarning"]  # libraries are there already
        options += ["-W", "ignore:mypy_extensions:DeprecationWarning"]  # hypothesis imports it to tell a failure
        judge = Judge(tree, tests, allowed, told)
        code = int(pytest.main([*options, *(["-x"] if first else []), *files], plugins=[judge]))
    except BaseException:
        traceback.print_exc()
    finally:
        os._exit(code)


def judged(tree: Path, tests: Sequence[str], allowed: dict[str, float], first: bool = True) -> Verdict:
    """Run tests on the copy in a process of their own: what came of it, the tests that failed, processor seconds."""
    told = tree.parent / "failed.txt"
    told.write_text("", encoding="utf-8")
    child = os.fork()
    if not child:
        _in_own_process(tree, tests, allowed, told, first)
    _, status, usage = os.wait4(child, 0)
    failed = told.read_text(encoding="utf-8").splitlines()
    cost = {"seconds": round(usage.ru_utime + usage.ru_stime, 2)}
    if os.WIFSIGNALED(status):
        if os.WTERMSIG(status) in (signal.SIGPROF, signal.SIGXCPU):
            return {"fate": "timed out", "by": failed} | cost
        return {"fate": "killed", "by": [*failed, signal.Signals(os.WTERMSIG(status)).name]} | cost
    code = os.waitstatus_to_exitcode(status)
    if code not in (0, 1, 2) or (code and not failed):
        raise RuntimeError(f"the tests did not run (code {code}): see {told.parent / 'output.txt'}")
    return {"fate": "killed" if code else "survived", "by": failed} | cost


def tried(mutant: Mutant, tree: Path, folder: Path, most_s: float) -> Verdict:
    """One mutant written into the copy, judged, and taken out again. No bytecode of its module is left behind."""
    tests, allowed = tests_for(mutant, folder, most_s)
    if not tests:
        return {"fate": "survived", "by": ["no test reaches it"], "seconds": 0.0}
    path = tree / mutant.path
    sound, bytecode = path.read_bytes(), f"{path.stem}.*.pyc"
    for stale in (path.parent / "__pycache__").glob(bytecode):
        stale.unlink()
    path.write_bytes(mutant.text(ROOT))
    try:
        return judged(tree, tests, allowed)
    finally:
        path.write_bytes(sound)
        for stale in (path.parent / "__pycache__").glob(bytecode):
            stale.unlink()


def kept(work: Path, room: str, seed: int) -> list[Verdict]:
    """The verdicts of a room so far, oldest first; the first line says how many mutants there are in all."""
    path = work / f"{room}-{seed}.jsonl"
    return [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()] if path.is_file() else []


def run(work: Path, room: str, count: int, seed: int, most_s: float, again: bool) -> None:
    """Judge a room's sample, and add each verdict to what is kept as soon as it is there."""
    for library in LIBRARIES:
        importlib.import_module(library)
    settings.register_profile(
        "first failure",
        derandomize=True,
        deadline=None,
        phases=[Phase.explicit, Phase.generate],
        suppress_health_check=[HealthCheck.too_slow],
    )
    tree = copied(work)
    drawn, of = sample(ROOT, room, count, seed)
    fates = {verdict["name"]: verdict["fate"] for verdict in kept(work, room, seed)}
    todo = [m for m in drawn if (fates.get(m.name) == "survived" if again else m.name not in fates)]
    print(f"{room}: {len(todo)} of {of} mutants, seed {seed}", flush=True)
    killers: dict[str, float] = {}
    with (work / f"{room}-{seed}.jsonl").open("a", encoding="utf-8") as output:
        for mutant in todo:
            verdict = tried(mutant, tree, work / "reach", most_s)
            killers |= {test: 600.0 for test in verdict["by"] if verdict["fate"] == "killed" and "::" in test}
            output.write(json.dumps({"name": mutant.name, "of": of, **verdict}) + "\n")
            output.flush()
            print(f"{verdict['fate']:9} {verdict['seconds']:6} s  {mutant.name}", flush=True)
    if killers and (unsound := judged(tree, sorted(killers), killers, first=False))["fate"] != "survived":
        raise RuntimeError(f"these fail without any fault, so what they killed is not killed: {unsound['by']}")
    tell(work, [room], seed)


def tell(work: Path, rooms: Iterable[str], seed: int) -> None:
    """Print for each room how many were tried, killed and timed out, at first and in the end, and the survivors."""
    for room in rooms:
        by_name: dict[str, list[Verdict]] = defaultdict(list)
        for verdict in kept(work, room, seed):
            by_name[verdict["name"]].append(verdict)
        if not by_name:
            continue
        for when, index in (("at first", 0), ("now", -1)):
            fates = [verdicts[index]["fate"] for verdicts in by_name.values()]
            lived, late = fates.count("survived"), fates.count("timed out")
            score = 100.0 * (len(fates) - lived) / len(fates)
            words = f"{len(fates) - lived - late} killed, {late} timed out, {lived} survived: {score:.1f} %"
            print(f"{room} {when}: {len(fates)} of {next(iter(by_name.values()))[0]['of']} mutants, {words}")
        spent = sum(verdict["seconds"] for verdicts in by_name.values() for verdict in verdicts)
        print(f"{room}: {spent:.0f} processor seconds, seed {seed}")
        for name, verdicts in by_name.items():
            if verdicts[-1]["fate"] == "survived":
                print(f"  {name} {' '.join(verdicts[-1]['by'])}")


def main() -> None:
    parser = argparse.ArgumentParser(description="Mutation testing of the rooms that compute.")
    parser.add_argument("--work", type=Path, default=Path(tempfile.gettempdir()) / "kitwright-mutation")
    parser.add_argument("--seed", type=int, default=1)
    what = parser.add_subparsers(dest="what", required=True)
    what.add_parser("reach").add_argument("tests", nargs="*", default=NEARBY)
    one = what.add_parser("run")
    one.add_argument("room", choices=ROOMS)
    one.add_argument("--sample", type=int, default=60)
    one.add_argument("--most", type=float, default=60.0)
    one.add_argument("--again", action="store_true")
    what.add_parser("tell")
    asked = parser.parse_args()
    work = asked.work.resolve()
    work.mkdir(parents=True, exist_ok=True)
    if asked.what == "reach":
        command = [sys.executable, "-m", "pytest", "-n", "0", "-p", "no:cacheprovider", "-p", "tests.mutation.reach"]
        known = os.environ | {"PYTHONPATH": str(ROOT)}
        command += ["--reach", str(work / "reach"), *asked.tests]
        sys.exit(subprocess.run(command, cwd=ROOT, env=known).returncode)
    elif asked.what == "run":
        run(work, asked.room, asked.sample, asked.seed, asked.most, asked.again)
    else:
        tell(work, ROOMS, asked.seed)


if __name__ == "__main__":
    main()
