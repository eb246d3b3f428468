"""A brief where a kit file is expected, or the other way round: told once, in place of every key of it."""

from __future__ import annotations

import shlex

from configurator.errors import BadInput
from configurator.files.read_yaml import Document

_KEYS = {"brief": frozenset({"brief", "engine"}), "kit": frozenset({"kit", "parts"})}
"""Keys that one of the two must have and the other does not know."""


def refuse_a_kit_file(document: Document) -> None:
    """Raises BadInput where the data of a document, a mapping, is a kit file and not a brief."""
    _refuse(document, "kit", "brief", "a kit file", "kitwright check")


def refuse_a_brief(document: Document) -> None:
    """Raises BadInput where the data of a document, a mapping, is a brief and not a kit file."""
    _refuse(document, "brief", "kit", "a brief", "kitwright suggest")


def _refuse(document: Document, found: str, wanted: str, called: str, command: str) -> None:
    keys = set(document.data)
    if found not in keys or keys & _KEYS[wanted]:
        return
    words = f"this is {called}, as it has the key '{found}': {command} {shlex.quote(document.file)}"
    raise BadInput((document.problem((found,), words, on_key=True),))
