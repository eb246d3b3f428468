"""Runs the command line on briefs and shelves made in a test. Answers are kept: the same question is asked once.

Nothing of the program is imported by name here: a run is either a process of its own, or the same entry called in
this process, which spares the start.
"""

from __future__ import annotations

import contextlib
import copy
import csv
import gc
import hashlib
import importlib
import io
import itertools
import json
import os
import re
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import SimpleNamespace
from typing import Any, Literal
from unittest.mock import patch

import yaml

CHECKOUT = Path(__file__).resolve().parents[2]
EXAMPLES = CHECKOUT / "examples"
CATALOGUE = CHECKOUT / "catalogue"
SMALL_PARTS = ("adapters", "caps", "clamps", "fuses", "hoses", "relays", "wires")
LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
DUMPER = getattr(yaml, "CSafeDumper", yaml.SafeDumper)

Tree = dict[str, Any]
How = Literal["here", "apart", "by looks"]
"""In this process, in one of its own, or in this one with a clock that goes on as often as the search looks at it: so
that a time limit ends it at the same place on every machine."""


@dataclass(frozen=True)
class Run:
    """What one run of the command came back with."""

    code: int
    out: str
    err: str
    trace: tuple[Mapping[str, float], ...]

    @property
    def answer(self) -> Tree:
        """The JSON document."""
        document: Tree = json.loads(self.out)
        return document

    @property
    def kits(self) -> list[Tree]:
        """The kits of the JSON document, best first."""
        return list(self.answer["kits"])


def read(path: Path) -> Any:
    """A YAML file as plain data."""
    return yaml.load(path.read_text(encoding="utf-8"), Loader=LOADER)


def written(data: Any) -> str:
    """Plain data as YAML text."""
    return str(yaml.dump(data, Dumper=DUMPER, sort_keys=False, allow_unicode=True))


@cache
def example_text(name: str) -> str:
    """An example brief as it is written."""
    return (EXAMPLES / f"{name}.yaml").read_text(encoding="utf-8")


def example(name: str, **changes: Any) -> Tree:
    """An example brief as plain data; `engine__boost="1.7 bar"` changes a key below another, None takes it away."""
    data: Tree = yaml.load(example_text(name), Loader=LOADER)
    for path, value in changes.items():
        *above, last = path.split("__")
        inner = data
        for key in above:
            inner = inner.setdefault(key, {})
        if value is None:
            inner.pop(last, None)
        else:
            inner[last] = copy.deepcopy(value)
    return data


def opened(brief: Tree) -> Tree:
    """The brief with no wall in the way of a hose: for what is asked of heat, joints and prices, not of room."""
    for zone in brief["bay"]["zones"].values():
        zone["open"] = ["up", "down", "front", "back", "left", "right"]
    return brief


@cache
def _shipped(section: str) -> Any:
    return read(CATALOGUE / f"{section}.yaml")[section]


def shipped(section: str) -> list[Tree]:
    """One section of the shipped catalogue as plain data."""
    return copy.deepcopy(_shipped(section))  # type: ignore[no-any-return]


@cache
def _shelf() -> Mapping[str, Tree]:
    sections = ("cores", "exchangers", "pumps", "reservoirs", "wyes", "valves", *SMALL_PARTS)
    return {part["id"]: part for section in sections for part in _shipped(section)}


def shelf_part(part_id: str) -> Tree:
    """One shipped part, to be read and not changed."""
    return _shelf()[part_id]


def shipped_part(part_id: str, **changes: Any) -> Tree:
    """A copy of one shipped part, changed as `example` changes a brief."""
    made = copy.deepcopy(_shelf()[part_id])
    for path, value in changes.items():
        *above, last = path.split("__")
        inner = made
        for key in above:
            inner = inner.setdefault(key, {})
        inner[last] = value
    return made


@cache
def _small_parts() -> Tree:
    small = {section: _shipped(section) for section in SMALL_PARTS}
    plain = re.compile(r"(barb|elbow)-(orb|npt|m22|g)|coupler-((lined|aramid)-)?[4-8]|elbow-(\d|charge)")
    return {**small, "adapters": [part for part in small["adapters"] if plain.match(part["id"])]}


def small_shelf(*, elbows: bool = True, **sections: list[Tree]) -> Tree:
    """A shelf of the parts given, with small parts of the shipped one: adapters, elbows, hoses, clamps, wiring."""
    small = dict(_small_parts())
    if not elbows:
        small["adapters"] = [part for part in small["adapters"] if not part["id"].startswith("elbow")]
    return {**small, **sections}


def suggest(
    brief: Tree | str, *options: str, shelf: Tree | None = None, trace: bool = False, how: How = "here"
) -> Run:
    """Run `kitwright suggest` on a brief, as plain data or the name of an example, and on a shelf made in the test."""
    text = example_text(brief) if isinstance(brief, str) else written(brief)
    return _kept(text, options, None if shelf is None else written(shelf), trace, how)


def suggest_text(text: str, *options: str, shelf: Tree | None = None) -> Run:
    """Run `kitwright suggest` on a brief as it is written."""
    return _kept(text, options, None if shelf is None else written(shelf), False, "here")


def all_kits(brief: Tree | str, *options: str, shelf: Tree | None = None) -> list[Tree]:
    """Every kit there is, best first."""
    run = suggest(brief, "--json", "--all-variants", "--top", "1000", *options, shelf=shelf)
    assert run.code == 0, run.err or run.out[:2000]
    return run.kits


def ids(kit: Tree) -> tuple[str, ...]:
    """The parts of a kit, slot by slot."""
    return tuple(part for _, parts in sorted(kit["parts"].items()) for part in parts)


@cache
def _kept(text: str, options: tuple[str, ...], shelf: str | None, trace: bool, how: How) -> Run:
    """The answer of this run of the tests, whichever worker asked first."""
    question = repr((text, options, shelf, trace, how))
    kept = Path(os.environ["KITWRIGHT_TEST_ANSWERS"]) / hashlib.sha256(question.encode()).hexdigest()
    if kept.is_file():
        return Run(*json.loads(kept.read_text(encoding="utf-8")))
    run = _asked(text, options, shelf, trace, how)
    unfinished = kept.with_suffix(f".{os.getpid()}")
    unfinished.write_text(json.dumps([run.code, run.out, run.err, run.trace]), encoding="utf-8")
    unfinished.replace(kept)
    return run


def _asked(text: str, options: tuple[str, ...], shelf: str | None, trace: bool, how: How) -> Run:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "brief.yaml").write_text(text, encoding="utf-8")
        words = ["suggest", str(folder / "brief.yaml"), *options]
        if shelf is not None:
            (folder / "shelf").mkdir()
            (folder / "shelf" / "parts.yaml").write_text(shelf, encoding="utf-8")
            words += ["--catalogue", str(folder / "shelf")]
        if trace:
            words += ["--trace", str(folder / "trace.csv")]
        with _by_looks() if how == "by looks" else contextlib.nullcontext():
            code, out, err = _apart(words) if how == "apart" else _here(words)
        rows: tuple[Mapping[str, float], ...] = ()
        if trace and (folder / "trace.csv").is_file():
            with (folder / "trace.csv").open(encoding="utf-8") as lines:
                rows = tuple({key: float(value) for key, value in row.items()} for row in csv.DictReader(lines))
    return Run(code, out, err, rows)


def command(*words: str | Path) -> Run:
    """Run any command in this process; its answer is not kept."""
    return Run(*_here([str(word) for word in words]), ())


def _apart(words: list[str]) -> tuple[int, str, str]:
    known = {**os.environ, "PYTHONPATH": str(CHECKOUT), "NO_COLOR": "1"}
    done = subprocess.run(
        [sys.executable, "-m", "configurator", *words], capture_output=True, text=True, env=known, check=False
    )
    return done.returncode, done.stdout, done.stderr


def _here(words: list[str]) -> tuple[int, str, str]:
    run = importlib.import_module("configurator.cli.start").run
    out, err = io.StringIO(), io.StringIO()
    code = 0
    with (
        _collecting(),
        patch.object(sys, "argv", ["kitwright", *words]),
        contextlib.redirect_stdout(out),
        contextlib.redirect_stderr(err),
    ):
        try:
            run()
        except SystemExit as stop:
            code = int(stop.code or 0)
    return code, out.getvalue(), err.getvalue()


@contextlib.contextmanager
def _by_looks() -> Iterator[None]:
    """A second goes by whenever the search looks at its clock, and at no other time."""
    with patch("configurator.search.patience.time", SimpleNamespace(monotonic=itertools.count().__next__)):
        yield


@contextlib.contextmanager
def _collecting() -> Iterator[None]:
    """The command switches the collector off for its short life: here life goes on."""
    try:
        yield
    finally:
        gc.enable()
