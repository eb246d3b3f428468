"""Words of the user as YAML that reads back as the same words, whatever stands in them."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from typing import Final

_PLAIN: Final = re.compile(r"[A-Za-z][A-Za-z0-9-]*(?: [A-Za-z0-9-]+)*")
_NO_TEXT: Final = {"true", "false", "null", "yes", "no", "on", "off", "y", "n"}
_HIDDEN: Final = re.compile("[\x85\u00ad\u061c\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff]")
"""Breaks of a line, and letters that nobody sees or that turn the order of others round: written as their number."""


def as_yaml(text: str) -> str:
    """One word or sentence: as it is where that is safe, else in quotes."""
    if _PLAIN.fullmatch(text) and text.lower() not in _NO_TEXT:
        return text
    quoted = json.dumps(text, ensure_ascii=False)
    return _HIDDEN.sub(lambda found: f"\\u{ord(found.group()):04x}", quoted)


def list_as_yaml(words: Iterable[str]) -> str:
    """Several words in square brackets."""
    return f"[{', '.join(as_yaml(word) for word in words)}]"
