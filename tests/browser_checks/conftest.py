"""One Chromium, one copy of axe-core and one set of pages for all checks of a run."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from tests.browser_checks.axe import fetched
from tests.browser_checks.browser import Browser
from tests.house.checkout import ROOT, kitwright
from tests.presentation.sheets import hostile, no_kit, plain, twins

SMALL = {"plain": plain, "hostile": hostile, "no kit": no_kit, "twins": twins}
EXAMPLES = tuple(sorted(file.stem for file in (ROOT / "examples").glob("*.yaml")))
PAGES = (*SMALL, *EXAMPLES)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    one = Browser()
    yield one
    one.close()


@pytest.fixture(scope="session")
def axe(tmp_path_factory: pytest.TempPathFactory) -> str:
    return fetched(tmp_path_factory.mktemp("axe"))


@pytest.fixture(scope="session")
def pages(tmp_path_factory: pytest.TempPathFactory) -> Mapping[str, Path]:
    """Sheets of small shelves, and those of all examples by the command as a shop runs it, two at a time."""
    folder = tmp_path_factory.mktemp("pages")
    pages = {name: folder / f"{name.replace(' ', '-')}.html" for name in PAGES}

    def write(name: str) -> None:
        told = kitwright("sheet", str(ROOT / "examples" / f"{name}.yaml"), "-o", str(pages[name]))
        assert pages[name].is_file(), told.stderr

    with ThreadPoolExecutor(max_workers=2) as two:
        written = [two.submit(write, name) for name in EXAMPLES]
        for one in written:
            one.result()
    for name, made in SMALL.items():
        pages[name].write_text(made().page, encoding="utf-8")
    return pages
