"""`kitwright shelf add` by questions: one for each key of a kind of part, its answer checked as soon as it is given."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import count
from pathlib import Path
from typing import Final

import typer

from configurator.errors import Problem
from configurator.files.add_part import part_problems
from configurator.files.part_places import PartPlace
from configurator.files.read_yaml import Document, read_text
from configurator.files.record_shape import example, field_type, keys_of, record_at
from configurator.files.write_file import is_read_in, write_whole
from configurator.parts.kinds import PART_KINDS
from configurator.presentation.harmless import hanging, harmless
from configurator.presentation.lines import WIDTH
from configurator.standards.articles import with_article

OPENING: Final = (
    "Each value as a catalogue file has it; an empty answer leaves a key out where it may be. ? explains, back goes "
    "one question back, stop keeps what was said."
)
ANSWERS: Final = "answers"
MOST_SHOWN: Final = 300
MOST_SAID: Final = 2000
"""The longest example, and the longest line of all, before it is wrapped [columns]."""


class PartQuestions:
    """The questions of one kind, and what was answered to each key."""

    def __init__(self, kind: str, shown: Mapping[str, str], places: Mapping[str, PartPlace]) -> None:
        """`shown`: how a part of the shelf has its keys; `places`: of all parts of the shelf."""
        self._kind = kind
        self._fields = {key: field for key, (_, field) in keys_of(PART_KINDS[kind]).items() if key != "kind"}
        self._shown = shown
        self._places = places
        self._said: dict[str, str] = {}

    def put(self, start: str = "") -> None:
        """Put every question from one key on, each until its answer can be used. Raises typer.Abort."""
        keys = [*self._fields]
        if not start:
            _say(f"{with_article(self._kind).capitalize()}. {OPENING}")
        at = keys.index(start) if start else 0
        while at < len(keys):
            if self._answered(keys[at]):
                at += 1
            elif at:
                at -= 1
            else:
                _say("! this is the first question")

    def document(self) -> Document:
        """What was answered, in the order of the keys."""
        return read_text(self._text(), ANSWERS)

    def to_ask_again(self, problems: Sequence[Problem]) -> str:
        """Tell problems that only the whole part shows. The first key they come from; nothing where one is of none."""
        name = self._said.get("id")
        told = [
            (problem.key if problem.file == ANSWERS else problem.key.removeprefix(f"{name}."), problem.text)
            for problem in problems
        ]
        blamed = {_top(key) for key, _ in told}
        if not blamed <= {*self._fields}:
            return ""
        for key, text in told:
            _say(f"! {key}: {text}")
        return next(key for key in self._fields if key in blamed)

    def keep(self, folder: Path) -> Path | None:
        """Write what was answered into a file of its own, which the catalogue `folder` does not read as its own; None
        where nothing was.
        """
        if not self._said:
            return None
        ending = ".draft" if is_read_in(folder, Path("draft.yaml")) else ".draft.yaml"
        names = (Path(f"{self._kind}{'' if number == 1 else f'-{number}'}{ending}") for number in count(1))
        draft = next(path for path in names if not path.exists())
        write_whole(draft, self._text(), force=None)
        return draft

    def _text(self) -> str:
        return "".join(f"{key}: {self._said[key]}\n" for key in self._fields if key in self._said)

    def _answered(self, key: str) -> bool:
        """Ask for one key until its answer can be used; False where a step back is wanted."""
        needed, said = self._fields[key].is_required(), self._said.get(key)
        shown = self._shown.get(key) or example(key, field_type(self._fields[key])).partition(": ")[2]
        like = f"like {shown}" if said is None else f"Enter keeps {said}{'' if needed else ', - leaves it out'}"
        while True:
            _say(f"{key}{'' if needed else ' (may be left out)'}, {harmless(like, MOST_SHOWN)}")
            answer = typer.prompt(">", default="", show_default=False, prompt_suffix=" ").strip()
            word = answer.lower()
            if word == "stop":
                raise typer.Abort
            if word == "back":
                return False
            if word == "?":
                self._explain(key)
                continue
            if not answer and (said is not None or not needed):
                return True
            if answer == "-" and said is not None and not needed:
                del self._said[key]
                return True
            refusal = self._refusal(key, answer)
            if not refusal:
                self._said[key] = answer
                return True
            _say(f"! {refusal}")

    def _refusal(self, key: str, answer: str) -> str:
        """What is wrong with an answer by itself; what it has against others shows once all are given."""
        if not answer:
            return f"{key} is needed"
        document = read_text(f"{key}: {answer}", ANSWERS)
        if document.problems:
            return document.problems[0].text
        found = part_problems(document, self._kind, self._places)
        mine = [problem for problem in found if _top(problem.key) == key]
        return "; ".join(one.text if one.key == key else f"{one.key}: {one.text}" for one in mine)

    def _explain(self, key: str) -> None:
        field = self._fields[key]
        model = PART_KINDS[self._kind]
        _say(f"Written like {example(key, field_type(field))}", "  ")
        record = record_at(model, (key,)) or record_at(model, (key, 0))
        if record is not None:
            _say(f"Its keys: {', '.join(keys_of(record))}", "  ")
        _say("It has to be answered." if field.is_required() else "Enter leaves it out.", "  ")


def _say(text: str, margin: str = "") -> None:
    """A line of the conversation, as wide as the terminal; what users wrote is made harmless, and cut where long."""
    typer.echo("\n".join(hanging(harmless(text, MOST_SAID), WIDTH, margin, f"{margin}  ")))


def _top(key: str) -> str:
    """The key of the part that a key path begins with."""
    return key.partition(".")[0].partition("[")[0]
