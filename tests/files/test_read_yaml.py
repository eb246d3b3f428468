"""YAML as plain data: what is more than text, what is refused, and where each thing stands."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from configurator.files import read_yaml as reader
from configurator.files.read_yaml import Document, read_text, read_yaml
from tests.files.good_files import MARK


def _told(document: Document) -> list[tuple[int, int, str]]:
    return [(problem.line, problem.column, problem.text) for problem in document.problems]


@pytest.mark.parametrize(
    ("written", "value"),
    [
        ("true", True),
        ("False", False),
        ("12", 12),
        ("-3", -3),
        ("+4", 4),
        ("0", 0),
        ("1.5", 1.5),
        (".5", 0.5),
        ("1e3", 1000.0),
        ("2.", 2.0),
        ("-1.5e-3", -0.0015),
        # YAML 1.1 makes these booleans, octal, base sixty or dates (yaml.org/type, 2005); here they stay text
        ("NO", "NO"),
        ("on", "on"),
        ("yes", "yes"),
        ("010", "010"),
        ("12:30:45", "12:30:45"),
        ("2026-01-01", "2026-01-01"),
        ("0x10", "0x10"),
        ("1_000", "1_000"),
        (".nan", ".nan"),
        (".inf", ".inf"),
        ("1e999", "1e999"),
        ("9" * 40, "9" * 40),
        ("'12'", "12"),
        ('"true"', "true"),
        ("620 mm", "620 mm"),
    ],
)
def test_what_is_more_than_text(written: str, value: Any) -> None:
    document = read_text(f"key: {written}\n", "f")
    assert document.problems == []
    assert document.data == {"key": value}
    assert type(document.data["key"]) is type(value)


@pytest.mark.parametrize(
    "written", ["-12", "1/8", "10", "-4", "010", "1.50", "M22x1.5", "19 mm", "1e3", "true "]
)
def test_a_size_keeps_what_was_written(written: str) -> None:
    expected: Any = True if written == "true " else written
    assert read_text(f"size: {written}\n", "f").data == {"size": expected}
    assert read_text(f"{{form: orb, size: {written}, other: 10}}\n", "f").data["other"] == 10


REFUSED = [
    ("a: 1\n»a: 2\n", "key 'a' stands here twice (first in line 1); keep one"),
    ("a: {b: 1, »b: 2}\n", "key 'b' stands here twice (first in line 1); keep one"),
    ("a: »&x 1\n", "'&x' is an anchor; take it out"),
    ("a: »!!str 1\n", "'!!str' is a tag; take it out"),
    ("a: »!python/object 1\n", "'!python/object' is a tag; take it out"),
    ("»<<: {b: 1}\n", "'<<' merges another mapping; write its keys out in full"),
    ("»1: a\n", "a key must be text; put it in quotes"),
    ("»true: a\n", "a key must be text; put it in quotes"),
    ("? »[a, b]\n: c\n", "a key must be text; put it in quotes"),
    ("a: 1\n»---\nb: 2\n", "a second document starts here; one file holds one document"),
    ("a: b»\x07c\n", "the character U+0007 does not belong in a text file; take it out"),
    ("a: b»\x00c\n", "the character U+0000 does not belong in a text file; take it out"),
]


@pytest.mark.parametrize(("text", "sentence"), REFUSED)
def test_what_is_refused_and_where(text: str, sentence: str) -> None:
    before = text[: text.index(MARK)]
    place = (before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1)
    assert _told(read_text(text.replace(MARK, ""), "f")) == [(*place, sentence)]


def test_an_alias_is_refused_at_both_places() -> None:
    document = read_text("a: &x [1]\nb: *x\n", "f")
    assert _told(document) == [
        (1, 4, "'&x' is an anchor; take it out"),
        (2, 4, "'*x' is an alias; write the value out in full"),
    ]
    assert document.data == {"a": [1], "b": None}


def test_an_alias_bomb_and_a_loop_of_aliases_are_cheap() -> None:
    rows = ["a0: &a0 [x]"] + [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 12)]
    assert len(read_text("\n".join(rows) + "\n", "f").problems) == 12 + 11 * 9
    assert read_text("a: &a {b: *a}\n", "f").data == {"a": {"b": None}}


def test_all_faults_of_writing_are_told_at_once() -> None:
    text = "a: 1\na: 2\nb: &x 3\nc: !!int 4\n5: d\n<<: {e: 6}\n"
    assert sorted(line for line, _, _ in _told(read_text(text, "f"))) == [2, 3, 4, 5, 6]


@pytest.mark.parametrize(
    ("text", "line", "column"), [("a: [1, 2\nb: 3\n", 2, 2), ("a: 'open\n", 2, 1), ("a: b: c\n", 1, 5)]
)
def test_broken_writing_has_its_place(text: str, line: int, column: int) -> None:
    (told,) = _told(read_text(text, "f"))
    assert told[:2] == (line, column)
    assert told[2].startswith("this cannot be read as YAML: ")


def test_a_tab_for_an_indent_is_called_so() -> None:
    assert [text for _, _, text in _told(read_text("a:\n\tb: 1\n", "f"))] == [
        "indented with a tab; use spaces"
    ]


def test_deep_nesting_is_refused_without_a_crash() -> None:
    limit = reader.MOST_DEPTH
    assert read_text("[" * limit + "]" * limit, "f").problems == []
    too_deep = f"nested too deeply; at most {limit} levels are read"
    assert [text for _, _, text in _told(read_text("[" * 60 + "]" * 60, "f"))] == [too_deep]
    for text in ("[" * 20_000, "[" * 20_000 + "]" * 20_000, "- " * 20_000, "{a: " * 20_000):
        assert len(read_text(text, "f").problems) == 1


def test_files_that_are_no_text(tmp_path: Path) -> None:
    path = tmp_path / "f.yaml"
    path.write_bytes(b"a: 1\nb: caf\xe9\n")
    assert _told(read_yaml(path)) == [(2, 7, "this byte is not UTF-8; save the file as UTF-8 text")]
    path.write_bytes(b"a" * (1024 * 1024 + 1))
    assert _told(read_yaml(path)) == [(1, 1, "the file is larger than 1 MiB; split it into several")]
    assert _told(read_yaml(tmp_path / "none.yaml")) == [(1, 1, "cannot be read: No such file or directory")]
    assert _told(read_yaml(tmp_path)) == [(1, 1, "cannot be read: Is a directory")]
    path.write_bytes(b"\xef\xbb\xbfa: 1\r\nb: 2\r\n")
    document = read_yaml(path)
    assert (document.data, document.problems) == ({"a": 1, "b": 2}, [])


PLACES = "a: 1\nµß: {x: [10, {y: 2}]}\nlist:\n  - id: one\n    deep:\n      er: 3\n"


@pytest.mark.parametrize(
    ("path", "value", "key"),
    [
        (("a",), (1, 4), (1, 1)),
        (("µß",), (2, 5), (2, 1)),
        (("µß", "x", 1, "y"), (2, 18), (2, 15)),
        (("list", 0, "id"), (4, 9), (4, 5)),
        (("list", 0, "deep", "er"), (6, 11), (6, 7)),
        (("list", 0, "missing"), (4, 5), (4, 5)),
        (("list", 7), (4, 3), (4, 3)),
    ],
)
def test_places_of_values_and_keys(
    path: tuple[str | int, ...], value: tuple[int, int], key: tuple[int, int]
) -> None:
    document = read_text(PLACES, "f")
    assert document.place(path) == value
    assert document.place(path, on_key=True) == key


def test_the_slow_loader_gives_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where PyYAML has no C loader: same data, same places, same refusals."""
    texts = [PLACES, "a: {b: 0,5 bar, size: -12}\n", *(text.replace(MARK, "") for text, _ in REFUSED)]
    fast = [(read_text(text, "f").data, _told(read_text(text, "f"))) for text in texts]
    monkeypatch.setattr(reader, "_Loader", yaml.SafeLoader)
    assert [(read_text(text, "f").data, _told(read_text(text, "f"))) for text in texts] == fast


@given(st.text(max_size=60))
def test_no_text_makes_the_reader_fall(text: str) -> None:
    document = read_text(text, "f")
    assert document.problems or document.root is not None
    for problem in document.problems:
        assert problem.line >= 1 and problem.column >= 1


@given(st.text(alphabet="ab:,{}[]&*!-?|>'\" \n\t#<1", max_size=60))
def test_no_text_of_marks_makes_the_reader_fall(text: str) -> None:
    document = read_text(text, "f")
    assert document.problems or document.root is not None
