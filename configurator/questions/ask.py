"""The walk through the questions, as pure functions on what was said: what comes next, and one step back."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from configurator.questions.ask_table import ANY, BY_KEY, DEFAULT, QUESTIONS, UNMEASURED, Question

BACK: Final = "back"


@dataclass(frozen=True)
class Asked:
    """A question as it is put: of which gap or obstacle, where it is asked for each."""

    question: Question
    item: str = ""


@dataclass(frozen=True)
class Said:
    """One answer, as it was read: the key of its question, of which gap or obstacle, and the words of a list or one."""

    key: str
    item: str
    words: tuple[str, ...]


@dataclass(frozen=True)
class Answers:
    """All that was said so far, in the order it was said. At most one answer for a question of a gap."""

    said: tuple[Said, ...] = ()

    def of(self, key: str, item: str = "") -> tuple[str, ...] | None:
        """The words of one answer; None where it was not given."""
        return next((one.words for one in self.said if (one.key, one.item) == (key, item)), None)

    def told(self, key: str, item: str = "") -> tuple[str, ...]:
        """The words of one answer; nothing where its default is taken or it was not given."""
        words = self.of(key, item)
        passed_by = words == (DEFAULT,) and BY_KEY[key].default is not None
        return () if words is None or passed_by else words


def asked(answers: Answers) -> Iterator[Asked]:
    """Every question that these answers lead to, in order: those of a gap or an obstacle together, one gap after
    another. Further ones may follow once more is said.
    """
    for each, block in groupby(QUESTIONS, key=lambda question: question.each):
        questions = tuple(block)
        names = answers.told(each) if each else ("",)
        for name in names:
            yield from (Asked(one, name) for one in questions if applies(one, answers, name))


def applies(question: Question, answers: Answers, item: str = "") -> bool:
    """Whether the answers that a question waits for were given. A gap that is unmeasured is no answer to `*`."""
    for key, words in question.when:
        if BY_KEY[key].each and not item:
            return False
        given = answers.of(key, item if BY_KEY[key].each else "")
        if given is None:
            return False
        if ANY in words and given not in ((DEFAULT,), (UNMEASURED,)):
            continue
        if not {*words} & {*given}:
            return False
    return True


def next_question(answers: Answers) -> Asked | None:
    """The first question without its answer; None where all is said."""
    return next((one for one in asked(answers) if answers.of(one.question.key, one.item) is None), None)


def answered(answers: Answers, ask: Asked, words: tuple[str, ...]) -> Answers:
    """The answers with one more, in place of an older one to the same question."""
    said = Said(ask.question.key, ask.item, words)
    return Answers((*without(answers, ask).said, said))


def without(answers: Answers, ask: Asked) -> Answers:
    """The answers without that to one question."""
    place = (ask.question.key, ask.item)
    return Answers(tuple(one for one in answers.said if (one.key, one.item) != place))


def back(answers: Answers) -> Answers:
    """The answers before the last question that was answered, so that it is asked again; at the start, the same."""
    last = None
    for one in asked(answers):
        if answers.of(one.question.key, one.item) is None:
            break
        last = one
    return answers if last is None else without(answers, last)


def word_back(words: Collection[str]) -> str:
    """What goes one question back, where a question takes these words: `back`, unless that is one of its answers."""
    return "previous" if BACK in words else BACK


def with_defaults(answers: Answers) -> Answers:
    """The answers with every question passed by that has a default and no answer."""
    while True:
        open_ones = [
            one
            for one in asked(answers)
            if one.question.default is not None and answers.of(one.question.key, one.item) is None
        ]
        if not open_ones:
            return answers
        for one in open_ones:
            answers = answered(answers, one, (DEFAULT,))


def missing(answers: Answers) -> tuple[Asked, ...]:
    """The questions that have neither an answer nor a default."""
    full = with_defaults(answers)
    return tuple(one for one in asked(full) if full.of(one.question.key, one.item) is None)


def not_asked(answers: Answers) -> tuple[Said, ...]:
    """Answers to questions that the others do not lead to: they would change nothing."""
    known = {(one.question.key, one.item) for one in asked(answers)}
    return tuple(one for one in answers.said if (one.key, one.item) not in known)


def without_vain(answers: Answers) -> Answers:
    """The answers without those that change nothing, as they are left behind by a step back."""
    vain = not_asked(answers)
    return Answers(tuple(one for one in answers.said if one not in vain))


def unmeasured(answers: Answers) -> bool:
    """Whether a size of the bay is not known yet, so that no fit can be judged."""
    sizes = (one for one in asked(answers) if one.question.unmeasured)
    return any(answers.of(one.question.key, one.item) == (UNMEASURED,) for one in sizes)
