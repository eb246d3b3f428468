"""Answers in a file of YAML, with the keys of the questions: read with every problem, and written as a draft."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from configurator.errors import Problem
from configurator.files.plain_text import as_yaml, list_as_yaml
from configurator.files.problems import KeyPath, closest, nearest
from configurator.files.read_answer import Choices, read_answer
from configurator.files.read_record import empty_values
from configurator.files.read_yaml import Document, read_yaml
from configurator.questions.ask import Answers, Asked, answered, applies, missing, not_asked, with_defaults
from configurator.questions.ask_table import BY_KEY, QUESTIONS, SEVERAL, Question

AIMS: Final = ("ceiling", "above-air")
DRAFT_HEAD: Final = "# What was said so far. Go on with --resume, or finish it here and give it to --answers.\n"


@dataclass(frozen=True)
class Given:
    """Answers as they were given, a file's and the command line's, and how a problem of one is told with its place."""

    data: Mapping[str, Any]
    problem: Callable[[KeyPath, str], Problem]
    problems: tuple[Problem, ...] = ()
    """What is wrong with the writing of the file itself."""

    readable: bool = True
    """Whether keys and values could be read from it at all."""


def from_file(path: Path) -> Given:
    """The answers of a file, unread; with what is wrong with its writing."""
    document = read_yaml(path)
    problems = list(document.problems)
    data = document.data
    if document.root is not None and not isinstance(data, dict):
        words = "an answers file is keys and values, like 'power: 230 kW'"
        problems.append(document.problem((), words))
    if isinstance(data, dict):
        problems += empty_values(document)
    readable = isinstance(data, dict)
    return Given(data if readable else {}, document.problem, tuple(problems), readable)


def from_flags(flags: Mapping[str, Any], below: Given | None = None) -> Given:
    """The answers of the command line over those of a file: a question answered twice has the flag's answer."""

    def problem(path: KeyPath, text: str) -> Problem:
        if below is not None and (not path or path[0] not in flags):
            return below.problem(path, text)
        return Document("command line", "").problem((), f"--{path[0]}: {text}" if path else text)

    file = {} if below is None else below.data
    data = {**file, **flags}
    for key, value in flags.items():
        if isinstance(value, dict) and isinstance(file.get(key), dict):
            data[key] = {**file[key], **value}
    if below is None:
        return Given(data, problem)
    return Given(data, problem, below.problems, below.readable)


def read_given(given: Given, choices: Choices, *, whole: bool) -> tuple[Answers, tuple[Problem, ...]]:
    """The answers, and every problem that they have. `whole`: nobody will be asked, so that what is missing and has no
    default is a problem as well, and so is an answer that changes nothing.
    """
    problems = list(given.problems)
    blamed: set[tuple[str, str]] = set()
    meant: set[str | None] = set()
    for key in given.data:
        if key not in BY_KEY:
            meant.add(closest(key, BY_KEY))
            text = f"unknown key '{key}'{nearest(key, BY_KEY)} (allowed: {', '.join(BY_KEY)})"
            problems.append(given.problem((key,), text))
    aims = [key for key in AIMS if key in given.data]
    answers = _aim_meant(given.data, aims)
    if whole and len(aims) > 1 and "aim" not in given.data:
        blamed |= {("aim", ""), *((key, "") for key in aims)}
        problems.append(given.problem((aims[1],), f"{aims[0]} is given as well, and a kit has one aim: take one out"))
    for question in QUESTIONS:
        if question.key not in given.data:
            continue
        for item, value, path in _values(question, given, problems):
            try:
                words = read_answer(question, value, choices, answers)
            except ValueError as error:
                blamed.add((question.key, item))
                if value is not None:  # where nothing stands, that is told of the file
                    problems.append(given.problem(path, str(error)))
            else:
                answers = answered(answers, Asked(question, item), words)
    if whole and given.readable:
        absent = [one for one in missing(answers) if (one.question.key, one.item) not in blamed]
        unsure = {key for key, _ in blamed} | {one.question.key for one in absent}
        problems += [
            given.problem((one.key, one.item) if one.item else (one.key,), _in_vain(one.key, one.item, answers))
            for one in not_asked(with_defaults(answers))
            if not unsure & {BY_KEY[one.key].each, *(key for key, _ in BY_KEY[one.key].when)}
        ]
        problems += [given.problem((), _missing_words(one)) for one in absent if one.question.key not in meant]
    return answers, tuple(problems)


def _aim_meant(data: Mapping[str, Any], aims: Sequence[str]) -> Answers:
    """Which aim is meant, where only its figure is given."""
    if "aim" in data or len(aims) != 1:
        return Answers()
    return answered(Answers(), Asked(BY_KEY["aim"]), (aims[0],))


def _values(question: Question, given: Given, problems: list[Problem]) -> list[tuple[str, Any, KeyPath]]:
    """One value, or one for each gap or obstacle, with the place of each."""
    value = given.data[question.key]
    if not question.each:
        return [("", value, (question.key,))]
    if not isinstance(value, dict):
        name = "nose" if question.each == "gaps" else "bracket"
        words = f"this is asked for each of the {question.each}: write {question.key}: {{{name}: ...}}, or "
        problems.append(given.problem((question.key,), f"{words}--{question.key} {name}=..."))
        return []
    return [(str(item), one, (question.key, item)) for item, one in value.items()]


def _in_vain(key: str, item: str, answers: Answers) -> str:
    question = BY_KEY[key]
    names = answers.told(question.each) if question.each else ()
    if item and item not in names:
        return f"there is no '{item}' among the {question.each}{nearest(item, names)} (named: {', '.join(names)})"
    unmet = next((other for other, _ in question.when if not _met(question, other, answers, item)), "")
    return f"this is not asked as '{unmet}' is answered here; take it out, or answer '{unmet}' so that it is"


def _met(question: Question, key: str, answers: Answers, item: str) -> bool:
    alone = Question(question.key, "", "", "", "text", when=tuple(one for one in question.when if one[0] == key))
    return applies(alone, answers, item)


def _missing_words(one: Asked) -> str:
    question, of = one.question, f" of '{one.item}'" if one.item else ""
    flag = f"--{question.key} {one.item}=..." if one.item else f"--{question.key}"
    further = [
        other.key
        for other in QUESTIONS
        if other.default is None and question.key in {key for key, _ in other.when}
    ]
    asks = f" By its answer this is asked too: {', '.join(further)}." if further else ""
    return f"missing key '{question.key}'{of} ({flag}): {question.words} {question.explains}{asks}"


def answers_text(answers: Answers) -> str:
    """The answers as a file that `from_file` reads back as the same ones."""
    lines = [DRAFT_HEAD]
    for question in QUESTIONS:
        said = [one for one in answers.said if one.key == question.key]
        if said and question.each:
            lines.append(f"{question.key}:\n")
        for one in said:
            key = f"  {as_yaml(one.item)}" if question.each else question.key
            lines.append(f"{key}: {_written(question, one.words)}\n")
    return "".join(lines)


def _written(question: Question, words: tuple[str, ...]) -> str:
    passed_by = words == ("default",) and question.default is not None
    if question.reads in SEVERAL and not passed_by and not (question.unmeasured and len(words) == 1):
        return list_as_yaml(words)
    if question.reads == "number" and not passed_by:
        return words[0]
    return as_yaml(words[0])
