"""One entry of a list of parts in a user's file: the id of a known part, or a whole part written in place."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from configurator.errors import Problem
from configurator.files.problems import KeyPath, closest, not_known
from configurator.files.read_record import read_record
from configurator.files.read_yaml import Document
from configurator.parts.kinds import PART_KINDS, Part


def read_part_entry(
    item: str | dict[str, Any], path: KeyPath, document: Document, known: Mapping[str, Part]
) -> tuple[Part | None, list[Problem]]:
    """The part that an entry names or describes, or None and what is wrong with it."""
    at = path if isinstance(item, str) else (*path, "id")
    entry = {"id": item} if isinstance(item, str) else item
    if set(entry) == {"id"}:
        part = known.get(str(entry["id"]))
        if part is not None:
            return part, []
        words = another_part(str(entry["id"]), known) or not_known("part", entry["id"], known, most=5)
        return None, [document.problem(at, words + "; or write the whole part here, with its kind")]
    kind = entry.get("kind")
    if kind is None:
        return None, [document.problem(path, "a whole part says its kind, like 'kind: core'")]
    if not isinstance(kind, str) or kind not in PART_KINDS:
        return None, [document.problem((*path, "kind"), not_known("kind", kind, PART_KINDS))]
    made, problems = read_record(PART_KINDS[kind], entry, document, path)
    if made is not None and made.id in known:
        words = f"id '{made.id}' is a part of the catalogue: write just the id, or give your part another one"
        problems.append(document.problem((*path, "id"), words))
    return made, problems


def another_part(word: str, known: Mapping[str, Part], most: int = 40) -> str:
    """A sentence for an id whose nearest has other figures; nothing where a letter may be mistyped.

    Who followed a hint from one size to another would say that another part is in the car.
    """
    close = closest(word, known)
    figures = re.findall(r"[0-9.]*[0-9]", word)
    if close is None or not figures or figures == re.findall(r"[0-9.]*[0-9]", close):
        return ""
    kind = known[close].kind
    ids = sorted(name for name, part in known.items() if part.kind == kind)
    more = f" and {len(ids) - most} more" if len(ids) > most else ""
    return f"the shelf has no '{word}' (of its kind {kind}: {', '.join(ids[:most])}{more})"
