"""One YAML file as plain data, with the place of every key and value, and every fault of its writing.

A strict part of YAML: no aliases, merges, tags or second documents, no key twice, and only `true`, `false`,
`null` and plain decimal numbers are more than text. `NO`, `010`, `12:30:45` and dates stay what was written.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final

import yaml

from configurator.errors import Problem
from configurator.files.first_bytes import first_bytes
from configurator.files.problems import KeyPath, key_path

MOST_BYTES: Final = 1024 * 1024
MOST_DEPTH: Final = 40
TOO_DEEP: Final = f"nested too deeply; at most {MOST_DEPTH} levels are read"

_Fastest: Final[Any] = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_INTEGER: Final = re.compile(r"[-+]?(?:0|[1-9][0-9]{0,14})")
_DECIMAL: Final = re.compile(
    r"[-+]?(?:(?:0|[1-9][0-9]{0,14})(?:\.[0-9]{0,20})?|\.[0-9]{1,20})(?:[eE][-+]?[0-9]{1,2})?"
)
_WORDS: Final = {
    "true": True,
    "True": True,
    "TRUE": True,
    "false": False,
    "False": False,
    "FALSE": False,
    "null": None,
    "Null": None,
    "NULL": None,
    "~": None,
    "": None,
}
UNPRINTABLE: Final = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\ud800-\udfff\ufffe\uffff]")
RAW_KEYS: Final = frozenset({"size"})
"""Keys whose plain value is a name even where it looks like a number: `-12`, `1/8`, `10`."""


class _Loader(_Fastest):  # type: ignore[misc]
    """Nodes without the tags that YAML would find for them: `_scalar` says what a scalar is."""

    def resolve(self, kind: Any, value: Any, implicit: Any) -> str:
        """No tag: looking for one for every scalar takes a good part of the time of reading."""
        return ""


@dataclass
class Document:
    """A file that has been read: its data, its node graph for places, and what is wrong with its writing."""

    file: str
    text: str = ""
    data: Any = None
    root: Any = None
    problems: list[Problem] = field(default_factory=list)
    blamed: set[KeyPath] = field(default_factory=set)
    empty: list[KeyPath] = field(default_factory=list)

    def place(self, path: KeyPath, *, on_key: bool = False) -> tuple[int, int]:
        """Line and column, from 1, of the value at `path` or of its key; of its parent if there is none."""
        node = self.root
        if node is None:
            return 1, 1
        mark = node.start_mark
        for step, element in enumerate(path):
            pair = _child(node, element)
            if pair is None:
                break
            key, node = pair
            last = step == len(path) - 1
            mark = key.start_mark if last and on_key and key is not None else node.start_mark
        return mark.line + 1, mark.column + 1

    def pair(self, path: KeyPath) -> tuple[Any, Any] | None:
        """The nodes of the key (None in lists) and of the value at `path`; None where nothing is written there."""
        found: tuple[Any, Any] | None = (None, self.root)
        for element in path:
            found = None if found is None else _child(found[1], element)
        return found

    def problem(self, path: KeyPath, text: str, *, on_key: bool = False) -> Problem:
        """A problem at `path`, with its place, its key path and the line of the file."""
        line, column = self.place(path, on_key=on_key)
        return self.problem_at(line, column, text, key_path(self.data, path))

    def problem_at(self, line: int, column: int, text: str, key: str = "") -> Problem:
        """A problem at a line and column, both from 1."""
        lines = self.text.split("\n")
        source = lines[line - 1].rstrip("\r") if 0 < line <= len(lines) else ""
        return Problem(self.file, line, column, key, text, source)


def read_yaml(path: Path) -> Document:
    """Read a file. Never raises for what stands in it: see `problems` of the document."""
    try:
        raw = raw_bytes(path)
    except OSError as error:
        document = Document(str(path))
        document.problems.append(document.problem_at(1, 1, f"cannot be read: {error.strerror or error}"))
        return document
    return read_raw(raw, str(path))


def raw_bytes(path: Path) -> bytes:
    """The bytes of a file, of one that is too large only so many as show it. Raises OSError."""
    return first_bytes(path, MOST_BYTES + 1)


def read_raw(raw: bytes, file: str) -> Document:
    """Read the bytes of a file; `file` is what problems call it."""
    document = Document(file)
    if len(raw) > MOST_BYTES:
        document.problems.append(
            document.problem_at(1, 1, "the file is larger than 1 MiB; split it into several")
        )
        return document
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        column = error.start - (raw.rfind(b"\n", 0, error.start) + 1) + 1
        words = "this byte is not UTF-8; save the file as UTF-8 text"
        document.problems.append(document.problem_at(line, column, words))
        return document
    return read_text(text, file)


def read_text(text: str, file: str) -> Document:
    """Read the text of a file; `file` is what problems call it."""
    document = Document(file, text)
    control = UNPRINTABLE.search(text)
    if control is not None:
        line = text.count("\n", 0, control.start()) + 1
        column = control.start() - text.rfind("\n", 0, control.start())
        words = f"the character U+{ord(control.group()):04X} does not belong in a text file; take it out"
        document.problems.append(document.problem_at(line, column, words))
        return document
    try:
        if re.search(r"[&*!]", text):
            _refuse_marks(document)
        loader = _Loader(text)
        try:
            document.root = loader.get_single_node()
        finally:
            loader.dispose()
    except yaml.MarkedYAMLError as error:
        document.problems.append(_syntax(document, error))
        return document
    except (yaml.YAMLError, RecursionError):
        document.problems.append(document.problem_at(1, 1, TOO_DEEP))
        return document
    if document.root is None:
        document.problems.append(document.problem_at(1, 1, "the file is empty"))
        return document
    builder = _Builder(document)
    document.data = builder.build(document.root, (), raw=False)
    for path, words, on_key in builder.faults:
        document.problems.append(document.problem(path, words, on_key=on_key))
    for mark, words, path in builder.placed:
        name = key_path(document.data, path)
        document.problems.append(document.problem_at(mark.line + 1, mark.column + 1, words, name))
    return document


def _refuse_marks(document: Document) -> None:
    """Anchors, aliases and explicit tags, which only the stream of events still shows."""
    loader = _Loader(document.text)
    try:
        while loader.check_event():
            event = loader.get_event()
            mark = event.start_mark
            words = None
            if isinstance(event, yaml.AliasEvent):
                words = f"'*{event.anchor}' is an alias; write the value out in full"
            elif getattr(event, "anchor", None) is not None:
                words = f"'&{event.anchor}' is an anchor; take it out"
            elif getattr(event, "tag", None) is not None:
                words = f"'{event.tag.replace('tag:yaml.org,2002:', '!!')}' is a tag; take it out"
            if words is not None:
                document.problems.append(document.problem_at(mark.line + 1, mark.column + 1, words))
    except yaml.YAMLError:
        return  # told once, by the reading proper
    finally:
        loader.dispose()


def _syntax(document: Document, error: yaml.MarkedYAMLError) -> Problem:
    mark = error.problem_mark or error.context_mark
    line, column = (mark.line + 1, mark.column + 1) if mark is not None else (1, 1)
    lines = document.text.split("\n")
    source = lines[line - 1] if line <= len(lines) else ""
    if "single document" in (error.context or "") or "document start" in (error.problem or ""):
        words = "a second document starts here; one file holds one document"
    elif "undefined alias" in (error.problem or ""):
        words = "an alias of nothing; write the value out in full"
    elif "\t" in source[: len(source) - len(source.lstrip())]:
        words = "indented with a tab; use spaces"
    elif "nesting depth" in (error.problem or ""):
        words = TOO_DEEP
    else:
        words = f"this cannot be read as YAML: {error.problem or 'unexpected text'}"
        words += "; look here and in the line before for a missing colon, quote, comma or bracket, or a wrong indent"
    return document.problem_at(line, column, words)


class _Builder:
    """Walks the node graph once."""

    def __init__(self, document: Document) -> None:
        self.document = document
        self.faults: list[tuple[KeyPath, str, bool]] = []
        self.placed: list[tuple[Any, str, KeyPath]] = []
        self.seen: set[int] = set()

    def build(self, node: Any, path: KeyPath, *, raw: bool) -> Any:
        if isinstance(node, yaml.ScalarNode):
            return _scalar(node, raw=raw)
        if id(node) in self.seen:
            self.document.blamed.add(path)  # an alias, refused with its place already
            return None
        self.seen.add(id(node))
        if len(path) > MOST_DEPTH:
            self.faults.append((path, TOO_DEEP, False))
            self.document.blamed.add(path)
            return None
        if isinstance(node, yaml.SequenceNode):
            return [self._child(item, path, index, raw=raw) for index, item in enumerate(node.value)]
        return self._mapping(node, path)

    def _child(self, node: Any, path: KeyPath, element: str | int, *, raw: bool) -> Any:
        if isinstance(node, yaml.ScalarNode):
            value = _scalar(node, raw=raw)
            if value is None:
                self.document.empty.append((*path, element))
            return value
        return self.build(node, (*path, element), raw=False)

    def _mapping(self, node: Any, path: KeyPath) -> dict[str, Any]:
        data: dict[str, Any] = {}
        before = None
        for key_node, value_node in node.value:
            if before is not None and _split_by_decimal_comma(node, before, key_node, value_node):
                # `{boost: 1,4 bar}` is cut at the comma: joined again, so that the comma is what is told
                key = before[0].value
                data[key] = f"{before[1].value},{key_node.value}"
                continue
            if not isinstance(key_node, yaml.ScalarNode) or not _is_text(key_node):
                words = "a key must be text; put it in quotes"
            elif key_node.value == "<<" and not key_node.style:
                words = "'<<' merges another mapping; write its keys out in full"
                self.document.blamed.add((*path, "<<"))
            elif key_node.value in data:
                first = self.document.place((*path, key_node.value), on_key=True)
                words = f"key '{key_node.value}' stands here twice (first in line {first[0]}); keep one"
            else:
                key = key_node.value
                data[key] = self._child(value_node, path, key, raw=key in RAW_KEYS)
                before = (key_node, value_node)
                continue
            self.placed.append((key_node.start_mark, words, path))
        return data


def _split_by_decimal_comma(node: Any, before: tuple[Any, Any], key: Any, value: Any) -> bool:
    """Whether a flow mapping was cut inside a number written with a comma: `{boost: 1,4 bar}`."""
    return (
        bool(node.flow_style)
        and isinstance(key, yaml.ScalarNode)
        and isinstance(value, yaml.ScalarNode)
        and isinstance(before[1], yaml.ScalarNode)
        and value.value == ""
        and not value.style
        and key.value[:1].isdigit()
        and before[1].value[-1:].isdigit()
        and key.start_mark.line == before[1].end_mark.line
        and key.start_mark.column == before[1].end_mark.column + 1
    )


def _is_text(node: Any) -> bool:
    """Whether a key is text: quoted, or plain and neither a number nor one of the words."""
    return bool(node.style) or isinstance(_scalar(node, raw=False), str)


def _scalar(node: Any, *, raw: bool) -> Any:
    """A scalar by the core rules; quoted and block text stays text, and so does a number under a raw key."""
    text: str = node.value
    if node.style:
        return text
    if text in _WORDS:
        return _WORDS[text]
    if raw:
        return text
    if _INTEGER.fullmatch(text):
        return int(text)
    if _DECIMAL.fullmatch(text):
        return float(text)
    return text


def _child(node: Any, element: str | int) -> tuple[Any, Any] | None:
    """Key node (None in lists) and value node of one step down."""
    if isinstance(node, yaml.MappingNode):
        for key, value in node.value:
            if key.value == element:
                return key, value
    elif isinstance(node, yaml.SequenceNode) and isinstance(element, int) and element < len(node.value):
        return None, node.value[element]
    return None
