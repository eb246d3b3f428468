"""Problems as lines to print, and what words them: key paths and the nearest allowed word."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Mapping, Sequence
from typing import Any, Final

from configurator.errors import Problem
from configurator.files.spoken_words import SPOKEN_KINDS

KeyPath = tuple[str | int, ...]
"""Where a value stands in a file: keys of mappings and places in lists, from the top."""

WIDEST_LINE = 110
NO_SPOKEN: Final[Mapping[str, Sequence[str]]] = {}


def render(problem: Problem) -> tuple[str, ...]:
    """The lines that tell one problem: `file:line:col: key: text`, then the line of the file with a caret."""
    named = f"{problem.key}: " if problem.key else ""
    head = f"{problem.file}:{problem.line}:{problem.column}: {named}{problem.text}"
    if not problem.source_line:
        return (head,)
    line, column = problem.source_line, problem.column - 1
    if len(line) > WIDEST_LINE:
        start = max(0, min(column - WIDEST_LINE // 2, len(line) - WIDEST_LINE))
        line, column = line[start : start + WIDEST_LINE], column - start
    before = "".join("\t" if letter == "\t" else " " for letter in line[:column])
    return (head, f"    {line}", f"    {before}^")


def key_path(data: Any, path: KeyPath) -> str:
    """A path as people say it: `core-230-short.coolant.ends[0].size`, from the entry's id on."""
    start: str = ""
    rest: Sequence[str | int] = path
    if len(path) >= 2 and isinstance(data, dict) and isinstance(path[1], int):
        entries = data.get(path[0])
        entry = entries[path[1]] if isinstance(entries, list) and path[1] < len(entries) else None
        if isinstance(entry, dict) and isinstance(entry.get("id"), str):
            start, rest = entry["id"], path[2:]
    for element in rest:
        if isinstance(element, int):
            start += f"[{element}]"
        else:
            start += f".{element}" if start else element
    return start


def nearest(word: object, allowed: Iterable[str]) -> str:
    """`; did you mean 'x'?` for the allowed word closest to the one found, else nothing."""
    close = closest(word, allowed)
    return "" if close is None else f"; did you mean '{close}'?"


def closest(word: object, allowed: Iterable[str]) -> str | None:
    """The allowed word that the one found is likely to be meant for."""
    folded = {name.lower(): name for name in allowed}
    spoken = SPOKEN_KINDS.get(str(word).lower())
    if spoken in folded:
        return folded[spoken]
    close = difflib.get_close_matches(str(word).lower(), folded, n=1, cutoff=0.55)
    of_several = [name for name in folded if str(word).lower() in name.split("_")]
    if not close and len(of_several) == 1:
        close = of_several
    return folded[close[0]] if close else None


def not_known(
    what: str, word: object, allowed: Iterable[str], most: int = 12, spoken: Mapping[str, Sequence[str]] = NO_SPOKEN
) -> str:
    """A sentence for a name that is not among the allowed ones, with the nearest and what there is.

    `spoken`: for words that people say in their place, those of the allowed ones that may be meant.
    """
    known = sorted(allowed)
    meant = [name for name in spoken.get(str(word).lower(), ()) if name in known]
    advice = f"; did you mean {_either(meant)}?" if meant else nearest(word, known)
    if not known:
        return f"{what} '{word}' is not known: the catalogue has none"
    shown = ", ".join(known[:most]) + (f" and {len(known) - most} more" if len(known) > most else "")
    return f"{what} '{word}' is not known{advice} (allowed: {shown})"


def _either(names: Sequence[str]) -> str:
    """`'a', 'b' or 'c'`."""
    quoted = [f"'{name}'" for name in names]
    return " or ".join([", ".join(quoted[:-1]), quoted[-1]] if len(quoted) > 1 else quoted)
