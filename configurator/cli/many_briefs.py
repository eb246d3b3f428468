"""Several briefs in one call: each answered as it is alone, on all cores, told in the order they were named in."""

from __future__ import annotations

import contextlib
import gc
import io
import json
import multiprocessing
import os
import signal
import sys
import warnings
from collections.abc import Generator, Iterator, Sequence
from dataclasses import dataclass
from multiprocessing.connection import Connection, wait
from pathlib import Path
from typing import Any, cast

from configurator.brief.tables import Tables
from configurator.cli import exit_codes
from configurator.cli.problems_told import tell_problems
from configurator.cli.progress import progress
from configurator.cli.suggest_command import Asked, suggest_for
from configurator.errors import BadInput, KitwrightError, Problem
from configurator.files.kept_catalogue import as_text, of_text
from configurator.parts.shelf import Catalogue
from configurator.presentation.harmless import harmless
from configurator.presentation.lines import WIDTH, wrapped
from configurator.presentation.problems_json import problems_listed

WORST_FIRST = (exit_codes.BAD_INPUT, exit_codes.UNDECIDED, exit_codes.ANSWER_IS_NO, exit_codes.ALL_WELL)
CAME_TO = {
    exit_codes.ALL_WELL: "with kits",
    exit_codes.ANSWER_IS_NO: "without a kit",
    exit_codes.UNDECIDED: "not decided, or cut short",
    exit_codes.BAD_INPUT: "that cannot be used",
}
Shelf = tuple[Catalogue, Tables]


@dataclass(frozen=True)
class Told:
    """What asking one brief alone prints on both streams, its exit code, and the problems of a brief that is none.

    `refused`: the code and the sentence of any other error that ended it.
    """

    code: int
    out: str
    err: str
    problems: tuple[Problem, ...] = ()
    refused: tuple[str, str] | None = None


def run(briefs: Sequence[Path], asked: Asked, catalogue: Catalogue, tables: Tables) -> int:
    """Print every answer under the name of its brief, or all of them as one list, and return the worst exit code."""
    codes: list[int] = []
    refused: list[Path] = []
    listed: list[dict[str, Any]] = []
    with contextlib.closing(answers(briefs, asked, (catalogue, tables))) as given:
        for brief in briefs:
            progress(f"{len(codes)} of {len(briefs)} briefs answered")
            told = next(given)
            progress("")
            codes.append(told.code)
            if told.problems:
                listed.append({"brief": str(brief), "problems": problems_listed(told.problems)})
            elif told.refused is not None:
                refused.append(brief)
                code, text = told.refused
                listed.append({"brief": str(brief), "error": {"code": code, "text": text}})
            elif asked.as_json:
                listed.append({"brief": str(brief), "answer": json.loads(told.out)})
            if not asked.as_json:
                sys.stdout.write(_under_its_name(brief, told, first=len(codes) == 1))
                sys.stdout.flush()
            sys.stderr.write(told.err)
            if told.problems:
                tell_problems(told.problems, as_json=False, so="this brief has no answer")
            if told.refused is not None:
                sys.stderr.write(f"kitwright: {harmless(str(brief), 200)}: {harmless(told.refused[1], 2000)}\n")
    if not asked.as_json:
        sys.stdout.write(_in_short([*zip(briefs, codes, strict=True)], refused))
    else:
        sys.stdout.write(json.dumps(listed, indent=1, ensure_ascii=False, allow_nan=False) + "\n")
    return next(code for code in WORST_FIRST if code in codes)


def _in_short(answered: Sequence[tuple[Path, int]], refused: Sequence[Path] = ()) -> str:
    """How many briefs came to what; those without a kit by name. `refused`: whose question was, not their file."""
    came = []
    for code, words in (*CAME_TO.items(), (None, "refused")):
        ended = [(brief, None if brief in refused else own) for brief, own in answered]
        those = [harmless(str(brief), 200) for brief, own in ended if own == code]
        if those:
            named = "" if code == exit_codes.ALL_WELL else f": {', '.join(those)}"
            came.append(f"{len(those)} {words}{named}")
    return f"\n=== {len(answered)} briefs ===\n\n" + wrapped("; ".join(came), WIDTH) + ".\n"


def _under_its_name(brief: Path, told: Told, *, first: bool) -> str:
    words = told.out
    if told.problems:
        count = len(told.problems)
        words = f"No answer: {count} {'problem' if count == 1 else 'problems'} to mend in this file.\n"
    elif told.refused is not None:
        words = f"{told.out}No answer: the question was refused, the error stream says why.\n"
    return f"{'' if first else chr(10)}=== {harmless(str(brief), 200)} ===\n\n{words}"


def answers(
    briefs: Sequence[Path], asked: Asked, shelf: Shelf, *, method: str | None = None, workers: int | None = None
) -> Generator[Told]:
    """The answer to each brief, in the order given, each as soon as it and all before it are there.

    `method`: how a process is started, as `multiprocessing` calls it; `workers`: how many, else one for each core.
    Whatever ends this early (an interrupt, too) ends the workers.
    """
    method = method or _usual_method()
    context = multiprocessing.get_context(method)
    # a forked process has the shelf already; any other is sent it as text
    handed = shelf if method == "fork" else as_text(*shelf)
    processes: list[Any] = []
    asks: dict[Connection, int] = {}
    done: dict[int, Told] = {}
    left = iter(range(len(briefs)))
    try:
        with _interrupts_ignored():
            for number in range(min(workers or _cores(), len(briefs))):
                here, there = context.Pipe()
                process = cast(Any, context).Process(
                    target=_work, args=(there, here, briefs, asked, handed), name=f"briefs {number}", daemon=True
                )
                with warnings.catch_warnings():  # of threads, which no worker of ours needs
                    warnings.simplefilter("ignore", DeprecationWarning)
                    process.start()
                there.close()
                processes.append(process)
                asks[here] = next(left)
        for worker, at in asks.items():
            worker.send(at)
        for at in range(len(briefs)):
            while at not in done:
                for worker in cast(list[Connection], wait(list(asks))):
                    asked_last = asks.pop(worker)
                    following = None
                    try:
                        done[asked_last] = worker.recv()
                        following = next(left, None)
                        if following is not None:
                            worker.send(following)
                            asks[worker] = following
                    except (EOFError, ConnectionResetError, BrokenPipeError):
                        without = briefs[asked_last if following is None else following]
                        raise ChildProcessError(f"no answer came for {without}") from None
            yield done.pop(at)
    finally:
        for process in processes:
            process.terminate()
        for process in processes:
            process.join()


def _work(there: Connection, here: Connection, briefs: Sequence[Path], asked: Asked, handed: Shelf | str) -> None:
    """Answer what is asked for by its place until nobody asks any more. It is the parent that hears an interrupt."""
    here.close()
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    gc.disable()
    shelf = of_text(handed) if isinstance(handed, str) else handed
    gc.freeze()
    with contextlib.suppress(EOFError, BrokenPipeError):
        while True:
            there.send(_told(briefs[there.recv()], asked, *shelf))
            gc.collect()


def _told(brief: Path, asked: Asked, catalogue: Catalogue, tables: Tables) -> Told:
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        try:
            code = suggest_for(brief, asked, catalogue, tables)
        except BadInput as error:
            return Told(exit_codes.BAD_INPUT, "", err.getvalue(), error.problems)
        except KitwrightError as error:
            return Told(exit_codes.BAD_INPUT, out.getvalue(), err.getvalue(), refused=(error.code, str(error)))
    return Told(code, out.getvalue(), err.getvalue())


@contextlib.contextmanager
def _interrupts_ignored() -> Iterator[None]:
    """Processes that are started meanwhile ignore Ctrl-C for good, from their first moment."""
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


def _usual_method() -> str:
    return "fork" if sys.platform.startswith("linux") else "spawn"


def _cores() -> int:
    """The cores that this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1
