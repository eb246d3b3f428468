"""Which test reaches which line of the package, and what it costs: a plugin of pytest on top of `coverage`.

    python -m pytest -p tests.mutation.reach --reach FOLDER tests/physics ...

One JSON file for each test file: the processor seconds of each test, and for each module the tests that reach each of
its lines. What a fixture reaches counts for every test of its file, for whichever comes first pays for it.
"""

from __future__ import annotations

import json
import time
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

import coverage
import pytest

ROOT = Path(__file__).resolve().parents[2]
ROOMS = ("physics", "joining", "fitting", "search", "prediction")
ALL = "*"
"""Stands for all tests of a file."""


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--reach", required=True, help="folder that the files are written to")


def pytest_configure(config: pytest.Config) -> None:
    config.pluginmanager.register(Reach(Path(config.getoption("reach"))), "measures the reach")


class Reach:
    """Switches the context of the measurement from test to test, and writes it out after each file."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.seconds: dict[str, float] = defaultdict(float)
        self.cover = coverage.Coverage(data_file=None, source=[str(ROOT / "configurator" / room) for room in ROOMS])
        self.cover.start()

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_setup(self, item: pytest.Item) -> Iterator[None]:
        return (yield from self._counted(item, ALL))

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_call(self, item: pytest.Item) -> Iterator[None]:
        return (yield from self._counted(item, item.nodeid))

    def _counted(self, item: pytest.Item, context: str) -> Iterator[None]:
        began = time.process_time()
        self.cover.switch_context(f"{item.nodeid.split('::')[0]}\n{context}")
        try:
            return (yield)
        finally:
            self.seconds[item.nodeid] += time.process_time() - began

    def pytest_sessionfinish(self) -> None:
        self.cover.stop()
        data = self.cover.get_data()
        lines: dict[str, dict[str, dict[str, set[int]]]] = defaultdict(lambda: defaultdict(lambda: defaultdict(set)))
        for name in data.measured_files():
            module = Path(name).relative_to(ROOT).as_posix()
            for line, contexts in data.contexts_by_lineno(name).items():
                for context in filter(None, contexts):
                    file, test = context.split("\n")
                    lines[file][test][module].add(line)
        self.folder.mkdir(parents=True, exist_ok=True)
        for file, tests in lines.items():
            told = {
                "seconds": {test: round(cost, 3) for test, cost in self.seconds.items() if test.split("::")[0] == file},
                "lines": {test: {m: sorted(of) for m, of in modules.items()} for test, modules in tests.items()},
            }
            (self.folder / (file.replace("/", ".") + ".json")).write_text(json.dumps(told), encoding="utf-8")
