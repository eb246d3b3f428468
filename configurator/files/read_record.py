"""Plain data as a record of the models, or every problem that it has."""

from __future__ import annotations

import copy
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Literal, TypeVar, get_args, get_origin

from pydantic import ValidationError

from configurator.errors import Problem
from configurator.files.problems import KeyPath, key_path
from configurator.files.read_yaml import Document
from configurator.files.record_shape import keys_of, types_at
from configurator.files.sentences import NO_ZONES, Mistake, mistakes_of
from configurator.foundations.figures import UnitField
from configurator.foundations.records import LEAVE_FAULTS, Fault, Record
from configurator.foundations.units import Figure

R = TypeVar("R", bound=Record)

_MOST_ROUNDS = 6


def read_record(
    model: type[R], data: Any, document: Document, path: KeyPath
) -> tuple[R | None, list[Problem]]:
    """The record that `data`, standing at `path` of the document, describes; or None and its problems."""
    try:
        return model.model_validate(data), []
    except ValidationError as error:
        name = key_path(document.data, path)
        found = _all_mistakes(error, model, data, name, _blamed_below(document, path))
    return None, [document.problem(path + m.path, m.text, on_key=m.on_key) for m in found]


def empty_values(document: Document) -> list[Problem]:
    """A problem for each key or list place with nothing behind it, which is blamed: told once."""
    found = []
    for path in document.empty:
        words = "nothing is written here; write a value, or take it out"
        if path == ("bay", "zones"):
            words = NO_ZONES
        elif isinstance(path[-1], str):
            words = f"nothing is written after '{path[-1]}:'; write a value, or take the key out"
        found.append(document.problem(path, words, on_key=True))
        document.blamed.add(path)
    return found


def _blamed_below(document: Document, path: KeyPath) -> set[KeyPath]:
    return {other[len(path) :] for other in document.blamed if other[: len(path)] == path}


def _all_mistakes(
    error: ValidationError, model: type[Record], data: Any, name: str, blamed: set[KeyPath]
) -> list[Mistake]:
    """Every mistake, also those that others hide.

    A check between fields runs only where every field is good. So each bad value is put right with a stand-in
    (an unknown key goes, a figure becomes NaN, about which no check complains) and the record is read again;
    once it reads, the checks of all its records are asked one by one. What they say of a place already blamed
    is the stand-in's doing and is not told.
    """
    first = mistakes_of(error, model, data, name)
    found: list[Mistake] = []
    guessed: set[KeyPath] = set()
    data = copy.deepcopy(data)
    for _ in range(_MOST_ROUNDS):
        try:
            record = model.model_validate(data, context=LEAVE_FAULTS)
        except ValidationError as bad_fields:
            mistakes = mistakes_of(bad_fields, model, data, name)
            blamed |= _misspelt(mistakes)
            fresh = [mistake for mistake in mistakes if not _told(mistake, blamed)]
            found += fresh
            blamed |= {mistake.path for mistake in fresh}
            changed = [_put_right(data, mistake, model, guessed) for mistake in mistakes]
            if not any(changed):
                return found + [m for m in first if not _told(m, blamed) and m.record not in guessed]
        else:
            faults = [
                Mistake(path + fault.at, fault.text, "fault", record=path)
                for path, fault in _faults_of(record, ())
            ]
            return found + [m for m in faults if not _told(m, blamed) and m.record not in guessed]
    return found


def _faults_of(value: Any, path: KeyPath) -> Iterator[tuple[KeyPath, Fault]]:
    """The faults of a record and of all records in it, each with the path of the record."""
    if isinstance(value, Record):
        for key, (name, _) in keys_of(type(value)).items():
            yield from _faults_of(getattr(value, name), (*path, key))
        for fault in value.faults():
            yield path, fault
    elif isinstance(value, tuple):
        for index, item in enumerate(value):
            yield from _faults_of(item, (*path, index))
    elif isinstance(value, Mapping):
        for key, item in value.items():
            yield from _faults_of(item, (*path, key))


def _misspelt(mistakes: Sequence[Mistake]) -> set[KeyPath]:
    """Missing keys that an unknown one is likely to be meant for: that is told once, of the unknown one."""
    return {mistake.path for mistake in mistakes if mistake.kind == "missing"} & {
        mistake.meant for mistake in mistakes if mistake.meant is not None
    }


def _told(mistake: Mistake, blamed: set[KeyPath]) -> bool:
    if mistake.kind == "missing" and (*mistake.path[:-1], "<<") in blamed:
        return True  # what a refused merge would have brought in
    return any(mistake.path[: len(path)] == path for path in blamed)


def _put_right(data: Any, mistake: Mistake, model: type[Record], guessed: set[KeyPath]) -> bool:
    """Replace one bad value by a stand-in; False where there is none. `guessed`: records with a guess."""
    if not mistake.path or mistake.kind == "fault":
        return False
    *above, last = mistake.path
    for element in above:
        data = data[element]
    if mistake.on_key and isinstance(data, dict):
        del data[last]
        return True
    stand_in = next((good for kind in types_at(model, mistake.path) for good in _stand_ins(kind)), None)
    if stand_in is None:
        return False
    if isinstance(stand_in, str):
        guessed.add(
            tuple(above)
        )  # what a record says of its other figures beside a guessed word means nothing
    data[last] = stand_in
    return True


def _stand_ins(kind: Any) -> tuple[Any, ...]:
    if isinstance(kind, UnitField):
        return (Figure(float("nan"), "?"),)
    if get_origin(kind) is Literal:
        return (get_args(kind)[0],)
    return {str: ("x",), float: (1.0,), int: (1,), bool: (False,)}.get(kind, ())
