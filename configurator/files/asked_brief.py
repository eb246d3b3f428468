"""The brief that answers make: each line with what it means, and what was taken where nobody said anything."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from configurator.files.plain_text import as_yaml, list_as_yaml
from configurator.questions.ask import Answers, Asked, applies, asked, unmeasured
from configurator.questions.ask_table import BY_KEY, OWN_PATTERN, QUESTIONS, Question

HEAD: Final = """\
# What the car is, how it is driven, and what gaps there are. Every figure has its unit: 1.4 bar, 20 psi.
# Lines that begin with # say what is taken where nothing was said.
"""
COMMENT_AT: Final = 31
"""The column of comments, as in the brief to fill in."""


def brief_text(answers: Answers) -> str:
    """A whole brief as YAML; every question that has no default is answered."""
    return HEAD + "".join(f"{line.rstrip()}\n" for line in _lines(answers))


def _lines(answers: Answers) -> Iterator[str]:
    top = ""
    for one in asked(answers):
        question = one.question
        if question.each or not question.path:
            if question.key == "gaps":
                yield from _bay(answers)
            continue
        head, *below = question.path
        if question.key == "driving" and answers.told("driving") == (OWN_PATTERN,):
            yield from _own_driving(answers)
            continue
        if below and head != top and _says(head, answers):
            yield f"{head}:"
        top = head
        yield _line(one, answers, "  " if below and _says(head, answers) else "", dotted=not _says(head, answers))


def _says(head: str, answers: Answers) -> bool:
    """Whether anything below a key of the brief was said, so that the key stands there."""
    below = [question for question in QUESTIONS if question.path[:1] == (head,) and len(question.path) > 1]
    return any(answers.told(question.key) for question in below if applies(question, answers))


def _line(one: Asked, answers: Answers, indent: str, *, dotted: bool = False) -> str:
    """One key with what was said; or, as a comment, what is taken without it."""
    question = one.question
    words = answers.told(question.key, one.item)
    if not words:
        key = ": ".join(question.path) if dotted else question.path[-1]
        return f"{indent}# {key}: not said; taken: {question.default}"
    return _with_note(f"{indent}{question.path[-1]}: {_value(question, words)}", note_of(question))


def note_of(question: Question) -> str:
    """What a line of the brief means: the first words of the explanation, up to its example."""
    first = re.split(r"[:.](?: |$)", question.explains)[0]
    return first[0].lower() + first[1:]


def _with_note(line: str, note: str) -> str:
    return f"{line:<{COMMENT_AT - 1}} # {note}" if note else line


def _value(question: Question, words: tuple[str, ...]) -> str:
    if question.key == "in-stock":
        return "true" if words == ("yes",) else "false"
    if question.reads == "own":
        return f"[{', '.join(_own_part(word) for word in words)}]"
    if question.reads in ("some", "names"):
        return list_as_yaml(words)
    bare = question.reads in ("figure", "standstill", "number") or question.of == "outlets"
    return words[0] if bare else as_yaml(words[0])


def _own_part(word: str) -> str:
    part = word.removesuffix(" fitted")
    return as_yaml(part) if part == word else f"{{id: {as_yaml(part)}, fitted: true}}"


def _own_driving(answers: Answers) -> Iterator[str]:
    yield _with_note("driving:", note_of(BY_KEY["driving"]))
    yield "  stretches:"
    for stretch in answers.told("stretches"):
        lasts, share, speed = stretch.split(", ")
        yield f"    - {{lasts: {lasts}, share: {share}, speed: {speed}}}"
    yield _with_note(f"  total: {answers.told('total')[0]}", note_of(BY_KEY["total"]))


def _bay(answers: Answers) -> Iterator[str]:
    """The gaps as measured; where one size is not known yet, as a remark below `bay: unmeasured`."""
    if not unmeasured(answers):
        yield _with_note("bay:", "free gaps, as measured")
        yield from _zones(answers)
        return
    yield _with_note("bay: unmeasured", "no fit is judged: a size is not measured yet")
    if applies(BY_KEY["gap-takes"], answers, answers.told("gaps")[0]):
        yield "# As far as it is measured; once it all is, write this in place of the line above:"
        yield "# bay:"
        yield from (f"# {line}" for line in _zones(answers))


def _zones(answers: Answers) -> Iterator[str]:
    yield "  zones:"
    for name in answers.told("gaps"):
        yield f"    {as_yaml(name)}:"
        questions = [one for one in asked(answers) if one.question.each == "gaps" and one.item == name]
        for one in questions:
            if len(one.question.path) == 1:
                yield _line(one, answers, "      ")
            elif one.question.key == "gap-air":
                yield _air(name, answers)
        corner = [one for one in questions if one.question.path[:1] == ("at",)]
        told = [
            f"{one.question.path[1]}: {answers.told(one.question.key, name)[0]}"
            for one in corner
            if answers.told(one.question.key, name)
        ]
        if told:
            yield _with_note(f"      at: {{{', '.join(told)}}}", "where its front-left-floor corner lies in the car")
        else:
            yield "      # at: not said; taken: not known"
    if answers.told("obstacles"):
        yield _with_note("  obstacles:", "what must stay clear")
    for name in answers.told("obstacles"):
        said = {key: answers.told(f"obstacle-{key}", name) for key in ("in", "wide", "high", "deep", "kind")}
        off = ", ".join(": ".join(wall.split(" ", 1)) for wall in answers.told("obstacle-from", name))
        sizes = ", ".join(f"{key}: {said[key][0]}" for key in ("wide", "high", "deep"))
        yield (
            f"    - {{name: {as_yaml(name)}, in: {as_yaml(said['in'][0])}, from: {{{off}}}, {sizes}, "
            f"kind: {said['kind'][0]}}}"
        )


def _air(name: str, answers: Answers) -> str:
    kind = answers.told("gap-air", name)
    if not kind:
        return f"      # air: {BY_KEY['gap-air'].default}"
    if kind == ("ram",):
        value = f"{{kind: ram, share: {answers.told('gap-ram-share', name)[0]}}}"
    elif kind == ("face-speed",):
        value = f"{{face_speed: {answers.told('gap-face-speed', name)[0]}}}"
    else:
        value = f"{{kind: {kind[0]}}}"
    return _with_note(f"      air: {value}", "the air that comes to an exchanger there")
