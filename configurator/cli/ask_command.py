"""`kitwright ask`: put the questions to a person, or read their answers, and write the brief."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from configurator.brief.tables import Tables
from configurator.cli import exit_codes
from configurator.cli.problems_told import tell_problems
from configurator.cli.told import as_word, named, usage
from configurator.errors import BadInput, CannotWrite, Problem
from configurator.files.answers_file import answers_text, from_file, from_flags, read_given
from configurator.files.asked_brief import brief_text
from configurator.files.check_asked import answer_to_blame, brief_problems, total_too_short
from configurator.files.find_catalogue import find_catalogue
from configurator.files.load_catalogue import load_catalogue
from configurator.files.read_answer import Choices, choices_of, offered, offered_no_more, read_answer
from configurator.files.write_file import refuse_outputs, write_whole
from configurator.parts.shelf import Catalogue
from configurator.presentation.ask_words import (
    explained,
    freezing,
    frozen,
    heading,
    is_size,
    opening,
    plausibility,
    put,
    refused,
    taken,
    unused,
)
from configurator.questions.ask import (
    Answers,
    answered,
    back,
    next_question,
    not_asked,
    with_defaults,
    without,
    without_vain,
    word_back,
)
from configurator.questions.ask_air import air_check
from configurator.questions.ask_coolant import FREEZING, frozen_by
from configurator.questions.ask_table import BY_KEY, SEVERAL


class Stopped(Exception):
    """The person has had enough for now."""


@dataclass(frozen=True)
class Counter:
    """What a conversation is held by: the catalogue, its tables, and the words that may be chosen."""

    catalogue: Catalogue
    tables: Tables
    choices: Choices


def run(
    flags: Mapping[str, Any],
    *,
    output: Path,
    answers: Path | None,
    resume: bool,
    then_suggest: bool,
    catalogue: Path | None,
    force: bool,
) -> int:
    """Do what the command asks and return its exit code."""
    if resume and answers is not None:
        return usage("--resume goes on with a draft, --answers asks nothing: leave one of them out")
    person = sys.stdin.isatty() and sys.stdout.isatty() and answers is None
    folder = find_catalogue(catalogue)
    refuse_outputs((output,), (answers,), folder, force=force)
    draft = output.with_name(f"{output.stem}.draft.yaml")
    refuse_early(output, draft, resume=resume or not person, force=force)
    shelf, tables = load_catalogue(folder)
    counter = Counter(shelf, tables, choices_of(shelf, tables))
    file, again = draft if resume else answers, f"kitwright ask -o {as_word(output)} --resume{named(catalogue)}"
    given = from_flags(_by_item(flags), None if file is None else from_file(file))
    said, problems = read_given(given, counter.choices, whole=not person)
    if problems:
        short = total_too_short(said)
        problems += (given.problem(("total",), short),) if short else ()
        found = tuple(sorted(problems, key=lambda one: (one.line, one.column)))
        if not resume or not draft.exists():
            raise BadInput(found)
        tell_problems(found, as_json=False, so=f"{draft} stays as it is, and nothing that was said is lost")
        sys.stderr.write(f"Then go on: {again}\n")
        return exit_codes.BAD_INPUT
    if person:
        done = _converse(said, counter, output, draft, again)
        if done is None:
            return exit_codes.UNDECIDED
        sys.stdout.write(unused(not_asked(done)))
        said = without_vain(done)
    else:
        said = with_defaults(said)
        _all_well(said, given.problem, output, counter)
    text = brief_text(said)
    write_whole(output, text, force=force)
    if resume or person:
        draft.unlink(missing_ok=True)
    sys.stdout.write(f"\n{text}\nWrote {output}.\nNext: kitwright suggest {as_word(output)}{named(catalogue)}\n")
    if not then_suggest and not (person and _wants_kits()):
        return exit_codes.ALL_WELL
    return _suggest(output, catalogue)


def refuse_early(output: Path, draft: Path, *, resume: bool, force: bool) -> None:
    """Before a long conversation: whether its end could be written at all."""
    if not output.parent.is_dir():
        raise CannotWrite(f"'{output}' cannot be written: there is no folder '{output.parent}'")
    if not os.access(output.parent, os.W_OK):
        raise CannotWrite(f"'{output}' cannot be written: nobody may write into its folder")
    if draft.exists() and not (resume or force):
        raise CannotWrite(f"'{draft}' holds what was said before: go on with --resume, or begin anew with --force")


def _by_item(flags: Mapping[str, Any]) -> dict[str, Any]:
    """`nose=460 mm` of an option that is asked for each gap or obstacle, by its name; a list that was given in pieces
    is one list.
    """
    given: dict[str, Any] = {}
    problems = []
    for key, value in flags.items():
        question = BY_KEY[key]
        if not question.each:
            given[key] = ", ".join(value) if question.reads in SEVERAL else value
            continue
        told: dict[str, str] = {}
        for item, sign, text in (one.partition("=") for one in value):
            name = item.strip()
            if not sign:
                words = f"'{item}' does not say which of the {question.each}: write NAME=..."
                problems.append(Problem("command line", 1, 1, "", f"--{key}: {words}"))
            elif name in told and question.reads not in SEVERAL:
                words = f"'{name}' is told twice, '{told[name]}' and '{text}'; leave one of them out"
                problems.append(Problem("command line", 1, 1, "", f"--{key}: {words}"))
            told[name] = f"{told[name]}, {text}" if name in told else text
        given[key] = told
    if problems:
        raise BadInput(tuple(problems))
    return given


def _all_well(said: Answers, problem: Any, output: Path, counter: Counter) -> None:
    """Raises BadInput with what keeps the whole brief from being one, at the answers that it comes from."""
    found = brief_problems(brief_text(said), str(output), counter.catalogue, counter.tables)
    told = []
    for one in found:
        blamed = answer_to_blame(one, said)
        place = () if blamed is None else (blamed.question.key, *((blamed.item,) if blamed.item else ()))
        told.append(problem(place, one.text))
    for key in FREEZING if not told else ():
        freezes = frozen_by(said, key, counter.tables)
        if freezes is not None:
            cold = "air" if freezes.by_day else "coldest"
            told.append(problem((key if said.told(key) else cold,), frozen(freezes)))
    if told:
        raise BadInput(tuple(told))


@dataclass
class Conversation:
    """What was said up to now: kept whenever it ends."""

    said: Answers
    topic: str = ""


def _converse(said: Answers, counter: Counter, output: Path, draft: Path, again: str) -> Answers | None:
    """The answers of a person; None where they stopped. A draft keeps what was said from one answer to the next."""
    talk = Conversation(said)
    finished = False
    try:
        sys.stdout.write(opening())
        while not finished:
            _ask_next(talk, counter)
            _keep(talk.said, draft)
            finished = next_question(talk.said) is None and _is_good(talk, counter, output)
    except (Stopped, KeyboardInterrupt):
        return None
    finally:
        if not finished and talk.said.said:
            _keep(talk.said, draft)
            sys.stdout.write(f"\nKept in {draft}. To go on: {again}\n")
    return talk.said


def _keep(said: Answers, draft: Path) -> None:
    """Write the draft, or take it away where nothing is said."""
    if said.said:
        write_whole(draft, answers_text(said), force=True)
    else:
        draft.unlink(missing_ok=True)


def _ask_next(talk: Conversation, counter: Counter) -> None:
    """Put one question until it is answered, or a step back is taken."""
    ask = next_question(talk.said)
    if ask is None:
        return
    if ask.question.topic != talk.topic:
        if ask.question.topic == "driving":
            check = air_check(talk.said, counter.tables)
            sys.stdout.write("" if check is None else "\n" + plausibility(check))
        talk.topic = ask.question.topic
        sys.stdout.write(heading(talk.topic))
    picture = is_size(ask) and not any(one.key == "gap-wide" for one in talk.said.said)
    allowed = offered(ask.question, counter.choices, talk.said)
    sys.stdout.write(put(ask, allowed, picture=picture))
    insisted: tuple[str, ...] = ()
    while True:
        line = _hear()
        word = line.strip().lower()
        if word == "stop":
            raise Stopped
        if word == word_back(allowed):
            before = back(talk.said)
            if before == talk.said:
                sys.stdout.write(refused("this is the first question"))
                continue
            talk.said = before
            return
        if word == "?":
            sys.stdout.write(explained(ask, allowed))
            continue
        try:
            words = read_answer(ask.question, line, counter.choices, talk.said)
        except ValueError as error:
            sys.stdout.write(refused(str(error)))
            continue
        said = answered(talk.said, ask, words)
        short = total_too_short(said) if ask.question.key == "total" else ""
        if short:
            sys.stdout.write(refused(short))
            continue
        frozen = frozen_by(said, ask.question.key, counter.tables)
        if frozen is not None and words != insisted:
            sys.stdout.write(freezing(frozen))
            insisted = words
            continue
        sys.stdout.write(taken(ask, words))
        talk.said = said
        for gone, why in offered_no_more(counter.choices, talk.said):
            sys.stdout.write(refused(why))
            talk.said = without(talk.said, gone)
        return


def _is_good(talk: Conversation, counter: Counter, output: Path) -> bool:
    """Whether the whole brief is one; else what is wrong is told, and the answers that it comes from are taken back."""
    found = brief_problems(brief_text(talk.said), str(output), counter.catalogue, counter.tables)
    blamed = [answer_to_blame(problem, talk.said) for problem in found]
    if found and None in blamed:
        raise BadInput(found)
    for problem, ask in zip(found, blamed, strict=True):
        sys.stdout.write(refused(problem.text))
        talk.said = talk.said if ask is None else without(talk.said, ask)
    return not found


def _hear() -> str:
    """One line of the person."""
    while True:
        try:
            return input("> ")
        except UnicodeDecodeError:
            sys.stdout.write(refused("these letters are not UTF-8 and cannot be read"))
        except (EOFError, KeyboardInterrupt, OSError):
            raise Stopped from None


def _wants_kits() -> bool:
    """Whether the person wants the next command run."""
    sys.stdout.write("Look for kits now? yes or no [no]\n")
    while True:
        try:
            word = _hear().strip().lower()
        except Stopped:
            return False
        if word in ("yes", "y", "no", "n", "", "stop"):
            return word in ("yes", "y")
        sys.stdout.write(refused(f"'{word}' is neither yes nor no"))


def _suggest(output: Path, catalogue: Path | None) -> int:
    """The next command, as it is run by hand."""
    from configurator.cli import suggest_command

    return suggest_command.run([output], suggest_command.Asked(catalogue=catalogue))
