"""Whether the brief that answers make is a good one, and which answer a problem of it comes from."""

from __future__ import annotations

from pydantic import ValidationError

from configurator.brief.driving import Driving
from configurator.brief.tables import Tables
from configurator.errors import BadInput, Problem
from configurator.files.load_brief import brief_of
from configurator.files.read_yaml import read_text
from configurator.parts.shelf import Catalogue
from configurator.questions.ask import Answers, Asked, asked


def brief_problems(text: str, name: str, catalogue: Catalogue, tables: Tables) -> tuple[Problem, ...]:
    """Every problem that the text of a brief has; `name` is what they call its file."""
    try:
        brief_of(read_text(text, name), catalogue, tables)
    except BadInput as error:
        return error.problems
    return ()


def answer_to_blame(problem: Problem, answers: Answers) -> Asked | None:
    """The answer that put what a problem speaks of into the brief; None where it comes from no single one."""
    best: tuple[int, Asked] | None = None
    for one in asked(answers):
        key = _key_in_brief(one, answers)
        if key and (problem.key == key or problem.key.startswith((f"{key}.", f"{key}["))):
            best = max(best or (0, one), (len(key), one), key=lambda found: found[0])
    return None if best is None else best[1]


def _key_in_brief(one: Asked, answers: Answers) -> str:
    question = one.question
    below = ".".join(question.path)
    if question.each == "gaps":
        return f"bay.zones.{one.item}.{below}" if below else ""
    if question.each == "obstacles":
        return f"bay.obstacles[{answers.told('obstacles').index(one.item)}].{below}"
    return {"total": "driving.total", "stretches": "driving.stretches", "gaps": "bay"}.get(question.key, below)


def total_too_short(answers: Answers) -> str:
    """What the pattern has against its total, as a sentence; nothing where all is well, or not all of it is said."""
    stretches, total = answers.told("stretches"), answers.told("total")
    if not stretches or not total:
        return ""
    pieces = [dict(zip(("lasts", "share", "speed"), stretch.split(", "), strict=True)) for stretch in stretches]
    try:
        Driving.model_validate({"stretches": pieces, "total": total[0]})
    except ValidationError as error:
        return error.errors(include_url=False)[0]["msg"]
    return ""
