"""How the search for the best kits alone grows with the shelf: python tests/benchmarks/best_first.py [SEEDS] [LIMIT]

Shelves of 30, 100, 300 and 1,000 parts of each kind (`many_parts.py`), asked for the hatch of the examples in the
ordinary order, evaluation as in the product; each search in a process of its own, ended after LIMIT seconds (60).
Before that three opponents, set once: python-constraint over whole kits, calling the same evaluation for each;
everything joined, placed and predicted, as small shelves are; and CP-SAT, which counts the ways to put a loop together.
All must give the same before a time is printed; where the first cannot end, it is told how far it came. Times depend on
the machine and are never asserted.
"""

from __future__ import annotations

import gc
import json
import resource
import statistics
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

from constraint import Problem

from configurator.files.load_brief import load_brief
from configurator.files.load_catalogue import load_catalogue
from configurator.parts.kinds import Part
from configurator.parts.layouts import kind_of_slot
from configurator.prediction.bench import make_bench
from configurator.questions.best_alone import asked_for
from configurator.questions.searches import charge_pipes, hose_joiner, kept, make_job, search
from configurator.ranking.order import ranked
from configurator.ranking.short_list import one_per_choice
from configurator.search.fill import Candidate, predicted
from configurator.search.hosts import hosted
from configurator.search.job import Job
from configurator.search.patience import Patience
from configurator.search.pressures import NO_CAP
from configurator.search.prices import Prices
from configurator.search.rows import RowMaker
from configurator.search.sieve import sieve
from configurator.search.skeletons import SkeletonMaker
from tests.benchmarks.many_parts import MOODS, ROOT, many_parts

SIZES = (30, 100, 300, 1000)
GROWTH_MOODS = MOODS[:2]
TOP = 5


def job_of(per_kind: int, seed: int, mood: str) -> Job:
    """The hatch of the examples and a shelf."""
    catalogue, tables = load_catalogue(ROOT / "catalogue")
    loaded = load_brief(ROOT / "examples" / "hatch.yaml", catalogue, tables)
    job = make_job(loaded.brief, loaded.driving, loaded.own, many_parts(per_kind, seed, mood), tables)
    assert job is not None
    return job


def maker_of(job: Job) -> SkeletonMaker:
    """What makes the skeletons of a job of one layout."""
    (one,) = hosted(job)
    return SkeletonMaker(one, sieve(one), hose_joiner(one))


def told(job: Job, kits: list[Candidate]) -> list[tuple[str, ...]]:
    """The short list by ids."""
    return [kit.ids for kit in one_per_choice(ranked(kits, "default", job.conditions.enough_k))[:TOP]]


def best_first(job: Job, limit_s: float | None = None) -> dict[str, Any]:
    """One search for the best alone."""
    started = time.perf_counter()
    best = asked_for(job, "default", TOP, all_variants=False)
    found = search(job, lambda words: None, best=best, patience=Patience.of(limit_s))
    seconds = time.perf_counter() - started
    proofs = [one.kits.proof for one in found]
    return {
        "told": told(job, kept(found)),
        "seconds": seconds,
        "choices": sum(proof.choices for proof in proofs),
        "predicted": sum(proof.predicted for proof in proofs),
        "ended": not any(one.kits.cut for one in found),
        "megabytes": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024,
    }


def everything(job: Job) -> tuple[list[tuple[str, ...]], float]:
    """The same by looking at every kit, as on a small shelf."""
    started = time.perf_counter()
    kits = kept(search(job, lambda words: None))
    return told(job, kits), time.perf_counter() - started


def naive(job: Job, limit_s: float) -> tuple[list[tuple[str, ...]], float, float]:
    """python-constraint over whole kits: the short list, seconds, and the share of assignments that it got through."""
    started = time.perf_counter()
    (one,) = hosted(job)
    parts = sieve(one)
    maker = SkeletonMaker(one, parts, hose_joiner(one))
    rows = RowMaker(one, parts, charge_pipes(one))
    bench = make_bench(parts.cores, parts.exchangers, parts.pumps, parts.reservoirs)
    prices, tables = Prices(one), maker.tables()
    class_of = {
        part.id: name for known in (*maker.classes.values(), maker.caps) for name, of in known.items()
        for part in of.members
    }  # fmt: skip
    by_id: dict[str, Part | None] = {
        part.id: part for kind in ("core", "exchanger", "pump", "reservoir", "cap") for part in parts.of(kind)
    }
    variables = [*maker.slots, *(f"zone of {slot}" for slot in maker.slots), "cap"]
    domains = [
        [part.id for part in parts.of(kind_of_slot(name))] if name in maker.slots
        else [NO_CAP, *(cap.id for cap in parts.caps)] if name == "cap"
        else sorted({zone for part in parts.of(kind_of_slot(name[8:])) for zone in parts.zones[part.id]})
        for name in variables
    ]  # fmt: skip
    assignments, looked, kits = 1, 0, []
    for domain in domains:
        assignments *= len(domain)

    class Enough(Exception):
        pass

    def is_a_kit(*values: str) -> bool:
        nonlocal looked
        looked += 1
        if time.perf_counter() - started > limit_s:
            raise Enough
        found = dict(zip(variables, (class_of.get(value, value) for value in values), strict=True))
        if not all(table.keeps(*(found[variable] for variable in table.variables)) for table in tables):
            return False
        chosen = dict(zip(variables, values, strict=True))
        skeleton = maker.skeleton(found)
        of_kind = {kind_of_slot(slot): by_id[chosen[slot]] for slot in maker.slots}
        made = list(rows.rows_with(skeleton, of_kind, (by_id.get(chosen["cap"]),)))  # type: ignore[arg-type]
        here = [kit for kit in predicted(one, bench, prices, made) if not kit.missed] if made else []
        kits.extend(here)
        return bool(here)

    problem = Problem()
    for variable, domain in zip(variables, domains, strict=True):
        problem.addVariable(variable, domain)
    problem.addConstraint(is_a_kit, variables)
    try:
        problem.getSolutions()
    except Enough:
        return [], time.perf_counter() - started, looked / assignments
    return told(job, kits), time.perf_counter() - started, 1.0


def main(seeds: int, limit_s: float) -> None:
    """Opponents first, then the growth."""
    from tests.benchmarks.cp_sat import count_ways  # not with each search: it weighs some 100 MB

    gc.disable()
    for size in (8, 16):
        job = job_of(size, 0, "typical")
        ours, (theirs, whole_s) = best_first(job), everything(job)
        assert ours["told"] == theirs, "the best first and everything looked at do not agree"
        kits, naive_s, share = naive(job, limit_s)
        assert share < 1.0 or kits == theirs, "python-constraint over whole kits does not agree"
        far = "" if share == 1.0 else f" for {share:.2%}, so some {naive_s / share:,.0f} s"
        print(
            f"{size} parts a kind: best first {ours['seconds']:.2f} s, everything {whole_s:.2f} s, whole kits by "
            f"python-constraint {naive_s:.1f} s{far}: {naive_s / share / ours['seconds']:,.0f} times"
        )
    job = job_of(30, 0, "typical")
    ours = best_first(job)
    _, naive_s, share = naive(job, limit_s)
    print(
        f"30 parts a kind: best first {ours['seconds']:.2f} s; whole kits by python-constraint {naive_s:.0f} s for "
        f"{share:.3%}, so some {naive_s / share:,.0f} s: {naive_s / share / ours['seconds']:,.0f} times"
    )
    maker = maker_of(job)
    maker.tables()
    started = time.perf_counter()
    ways = sum(1 for _ in maker.assignments())
    solver_s = time.perf_counter() - started
    theirs = count_ways(maker)
    assert ways == theirs.ways, "CP-SAT counts other ways"
    print(
        f"30 parts a kind: {ways:,} ways to put a loop together, python-constraint {solver_s:.2f} s, "
        f"CP-SAT {theirs.build_s:.2f} s to build and {theirs.solve_s:.2f} s to solve"
    )
    rows = []
    for size in SIZES:
        for mood in GROWTH_MOODS:
            runs = [_alone(size, seed, mood, limit_s) for seed in range(seeds)]
            middle, worst = (of([run["seconds"] for run in runs]) for of in (statistics.median, max))
            predicted_ = statistics.median(run["predicted"] for run in runs)
            rows.append((f"{size} {mood}", middle))
            most = max(run["megabytes"] for run in runs)
            proved, with_kits = (sum(bool(run[what]) for run in runs) for what in ("ended", "told"))
            print(
                f"{size:>5} {mood:<8} {runs[0]['choices']:>16,} choices, {predicted_:>9,.0f} loops predicted, "
                f"{middle / max(predicted_, 1) * 1e6:>8,.0f} us each, {middle:>6.1f} s (worst {worst:.1f}), "
                f"{most:.0f} MB, proved in {proved} and kits told in {with_kits} of {seeds}"
            )
    print("\nSeconds, each mark a doubling from 0.5 s on:")
    for name, seconds in rows:
        print(f"{name:>14} {'#' * max(1, round(1 + max(seconds / 0.5, 1.0)).bit_length())} {seconds:.1f}")


def _alone(size: int, seed: int, mood: str, limit_s: float) -> dict[str, Any]:
    words = [sys.executable, __file__, "--one", str(size), str(seed), mood, str(limit_s)]
    done = subprocess.run(words, capture_output=True, check=True, text=True, cwd=Path(ROOT))
    return dict(json.loads(done.stdout))


if __name__ == "__main__":
    if sys.argv[1:2] == ["--one"]:
        gc.disable()
        print(json.dumps(best_first(job_of(int(sys.argv[2]), int(sys.argv[3]), sys.argv[4]), float(sys.argv[5]))))
    else:
        numbers = [float(word) for word in sys.argv[1:]]
        main(int(numbers[0]) if numbers else 5, numbers[1] if len(numbers) > 1 else 60.0)
