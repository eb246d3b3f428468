"""The options of `kitwright ask`: one for each question, from the table of questions, and those of the command."""

from __future__ import annotations

from inspect import Parameter, Signature
from pathlib import Path
from typing import Annotated, Any

import typer

from configurator.questions.ask_table import QUESTIONS, SEVERAL, Question

COMMAND_OPTIONS: dict[str, tuple[Any, Any]] = {
    "output": (
        Annotated[Path, typer.Option("--output", "-o", metavar="FILE", help="The brief to write.")],
        Path("my-car.yaml"),
    ),
    "answers": (
        Annotated[
            Path | None,
            typer.Option(
                metavar="FILE",
                readable=False,
                help="A YAML file of answers, its keys as the options; nothing is asked.",
            ),
        ],
        None,
    ),
    "resume": (Annotated[bool, typer.Option("--resume", help="Go on where the last conversation stopped.")], False),
    "then_suggest": (
        Annotated[bool, typer.Option("--then-suggest", help="Suggest kits for the brief once it is written.")],
        False,
    ),
    "catalogue": (
        Annotated[
            Path | None, typer.Option(metavar="DIR", help="Folder of parts to ask by instead of the shipped one.")
        ],
        None,
    ),
    "force": (
        Annotated[bool, typer.Option("--force", help="Replace a brief that is there, and begin anew beside a draft.")],
        False,
    ),
}


def ask(**given: Any) -> None:
    """Ask for a brief, one question after another, and write it.

    Every question has an option, so that it need not be asked. Those of gaps and obstacles name which one.

    Examples:

      kitwright ask -o my-car.yaml

      kitwright ask -o my-car.yaml --power "230 kW" --boost "20 psi"

      kitwright ask -o my-car.yaml --answers answers.yaml --gap-wide nose="18 in" --then-suggest

      kitwright ask -o my-car.yaml --resume
    """
    from configurator.cli import ask_command

    options = {name: given.pop(name) for name in COMMAND_OPTIONS}
    flags = {name.replace("_", "-"): value for name, value in given.items() if value not in (None, [])}
    raise typer.Exit(ask_command.run(flags, **options))


def _parameter(question: Question) -> Parameter:
    told = question.words if question.default is None else f"{question.words} [{question.default}]"
    name = question.key.replace("-", "_")
    if question.each:
        metavar = "GAP=TEXT" if question.each == "gaps" else "OBSTACLE=TEXT"
        kind: Any = Annotated[list[str] | None, typer.Option(f"--{question.key}", help=told, metavar=metavar)]
    elif question.reads in SEVERAL:
        kind = Annotated[list[str] | None, typer.Option(f"--{question.key}", help=told, metavar="TEXT")]
    else:
        kind = Annotated[str | None, typer.Option(f"--{question.key}", help=told, metavar="TEXT")]
    return Parameter(name, Parameter.KEYWORD_ONLY, default=None, annotation=kind)


def _signature() -> Signature:
    own = [
        Parameter(name, Parameter.KEYWORD_ONLY, default=default, annotation=kind)
        for name, (kind, default) in COMMAND_OPTIONS.items()
    ]
    return Signature([*own, *map(_parameter, QUESTIONS)])


vars(ask)["__signature__"] = _signature()
ask.__annotations__ = {name: one.annotation for name, one in _signature().parameters.items()}
