"""Values of a YAML file changed where they stand: everything else of the file stays byte for byte as it was.

Each value is replaced between the marks that its reading left. A key that an entry lacks is put on a line of its own
behind another key of the entry, with that key's indent; inside braces, behind that key's value. The changed text is
read again and has to say what was asked and nothing else.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from configurator.files.problems import KeyPath
from configurator.files.read_yaml import Document, read_text


class CannotEdit(Exception):
    """A file is not written in a way that lets this value be changed in place."""


@dataclass(frozen=True)
class Edit:
    """New values of one entry, by key and as YAML text; keys that it lacks are put behind `behind`."""

    entry: KeyPath
    values: Mapping[str, str]
    behind: str


@dataclass(frozen=True)
class _Piece:
    """Text that takes the place of what stands between two marks."""

    start: int
    end: int
    text: str


def edited(document: Document, edits: Sequence[Edit]) -> Document:
    """A document with some values changed, its new text read again. Raises CannotEdit."""
    pieces = [piece for edit in edits for piece in _pieces(document, edit)]
    kept: list[str] = []
    done = 0
    for piece in sorted(pieces, key=lambda piece: (piece.start, piece.end)):
        kept += (document.text[done : piece.start], piece.text)
        done = piece.end
    new = read_text("".join([*kept, document.text[done:]]), document.file)
    if new.data != _wanted(document.data, edits):
        raise CannotEdit("its values cannot be changed in place, for it is written in an unusual way")
    return new


def _pieces(document: Document, edit: Edit) -> list[_Piece]:
    found = []
    lacking = []
    for key, text in edit.values.items():
        pair = document.pair((*edit.entry, key))
        if pair is None:
            lacking.append(f"{key}: {text}")
        else:
            found.append(_Piece(pair[1].start_mark.index, pair[1].end_mark.index, text))
    return [*found, _behind(document, edit, lacking)] if lacking else found


def _behind(document: Document, edit: Edit, lacking: list[str]) -> _Piece:
    entry, pair = document.pair(edit.entry), document.pair((*edit.entry, edit.behind))
    if entry is None or pair is None:
        raise CannotEdit(f"it has no '{edit.behind}' to put {' and '.join(lacking)} behind")
    key, value = pair
    if entry[1].flow_style:
        at = value.end_mark.index
        return _Piece(at, at, "".join(f", {words}" for words in lacking))
    indent = " " * key.start_mark.column
    end = document.text.find("\n", value.end_mark.index)
    if end < 0:
        at, newline = len(document.text), "\r\n" if "\r\n" in document.text else "\n"
        return _Piece(at, at, "".join(f"{newline}{indent}{words}" for words in lacking))
    newline = "\r\n" if document.text[end - 1] == "\r" else "\n"
    return _Piece(end + 1, end + 1, "".join(f"{indent}{words}{newline}" for words in lacking))


def _wanted(data: Any, edits: Sequence[Edit]) -> Any:
    """The data that the changed text has to give; what no edit touches is that of the old."""
    wanted = data
    for edit, values in zip(edits, _read(edits), strict=True):
        wanted = _with(wanted, edit.entry, values)
    return wanted


def _with(data: Any, path: KeyPath, values: Mapping[str, Any]) -> Any:
    """Data with new values in the entry at a path: a copy of what lies on the way there alone."""
    if not path:
        return {**data, **values}
    copied = data.copy()
    copied[path[0]] = _with(data[path[0]], path[1:], values)
    return copied


def _read(edits: Sequence[Edit]) -> list[dict[str, Any]]:
    """What the new values of each edit say, read as one text: reading each by itself takes many times as long."""
    entries = ["\n  ".join(f"{key}: {text}" for key, text in edit.values.items()) for edit in edits]
    told: list[dict[str, Any]] = read_text("\n".join(f"- {entry}" for entry in entries), "").data
    return told
