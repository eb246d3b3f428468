"""Whatever stands in a file, the readers answer with records or problems; nothing else is ever raised."""

from __future__ import annotations

import copy
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from configurator.brief.tables import Tables
from configurator.errors import BadInput
from configurator.files.load_brief import load_brief
from configurator.files.load_catalogue import load_catalogue
from configurator.parts.shelf import Catalogue
from tests.files.good_files import BRIEF, SHELF, TABLES

OWN = "own: [pump-a, {id: core-a, fitted: true}, {kind: fuse, id: my-fuse, name: F, price: 0, rated: 10 A}]\n"
GOOD_BRIEF = yaml.safe_load(BRIEF.replace("own: []\n", OWN))
GOOD_SHELF = yaml.safe_load(SHELF + TABLES)
JUNK: list[Any] = [
    None,
    True,
    5,
    -1,
    1.5,
    "",
    "x",
    "0 mm",
    "-5 bar",
    "1,5 bar",
    "9" * 70,
    "9" * 50 + " mm",
    [],
    {},
    [[]],
    [{}],
    {"id": 5},
    {"x": {}},
    ["a", 5, None],
    {"value": "5 mm"},
    {"value": "5 mm", "standing": "guess"},
    "unmeasured",
]


def _places(value: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    if path:
        yield path
    items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, item in items:
        yield from _places(item, (*path, key))


def _holds(value: Any, key: Any) -> bool:
    if isinstance(value, dict):
        return key in value
    return isinstance(value, list) and isinstance(key, int) and key < len(value)


def _with(data: Any, path: tuple[Any, ...], change: str, junk: Any) -> Any:
    """A copy with one place replaced, taken out, written under another key, or moved from a list's end."""
    data = copy.deepcopy(data)
    *above, last = path
    inner = data
    for key in above:
        if not _holds(inner, key):
            return data
        inner = inner[key]
    if isinstance(inner, dict):
        if change == "replace":
            inner[last] = junk
        elif last in inner:
            taken = inner.pop(last)
            if change == "rename":
                inner[f"{last}x"] = taken
    elif _holds(inner, last):
        if change == "replace":
            inner[last] = junk
        elif change == "rename":
            inner.append(inner[last])
        else:
            del inner[last]
    return data


def _changes(good: Any) -> st.SearchStrategy[list[tuple[tuple[Any, ...], str, Any]]]:
    one = st.tuples(
        st.sampled_from(list(_places(good))),
        st.sampled_from(["replace", "remove", "rename"]),
        st.sampled_from(JUNK),
    )
    return st.lists(one, min_size=1, max_size=4)


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("hostile")


@pytest.fixture(scope="module")
def good_shelf(home: Path) -> tuple[Catalogue, Tables]:
    folder = home / "good"
    folder.mkdir()
    (folder / "all.yaml").write_text(SHELF + TABLES, encoding="utf-8")
    return load_catalogue(folder)


def _check(refusal: BadInput, lines: int) -> None:
    assert refusal.problems
    for problem in refusal.problems:
        assert 1 <= problem.line <= lines + 1
        assert problem.column >= 1
        assert problem.text
        assert "Input should" not in problem.text
    assert len(set(refusal.problems)) == len(refusal.problems)


@given(_changes(GOOD_BRIEF))
@settings(max_examples=100)
def test_a_spoilt_brief(home: Path, good_shelf: tuple[Catalogue, Tables], changes: list[Any]) -> None:
    data = GOOD_BRIEF
    for path, change, junk in changes:
        data = _with(data, path, change, junk)
    text = yaml.safe_dump(data, sort_keys=False)
    file = home / "brief.yaml"
    file.write_text(text, encoding="utf-8")
    try:
        assert load_brief(file, *good_shelf).brief.brief
    except BadInput as refusal:
        _check(refusal, text.count("\n"))


@given(_changes(GOOD_SHELF))
@settings(max_examples=100)
def test_a_spoilt_shelf(home: Path, changes: list[Any]) -> None:
    data = GOOD_SHELF
    for path, change, junk in changes:
        data = _with(data, path, change, junk)
    text = yaml.safe_dump(data, sort_keys=False)
    folder = home / "spoilt"
    folder.mkdir(exist_ok=True)
    (folder / "all.yaml").write_text(text, encoding="utf-8")
    try:
        assert load_catalogue(folder)[0].fingerprint
    except BadInput as refusal:
        _check(refusal, text.count("\n"))
