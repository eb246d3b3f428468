"""Options and arguments that several commands have alike. Imports nothing heavy: help answers at once."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

# `readable=False`: typer leaves it to the readers to say what cannot be read, with the exit code of bad input.
BriefFile = Annotated[Path, typer.Argument(metavar="BRIEF", readable=False, help="The customer's brief, a YAML file.")]
Folder = Annotated[
    Path | None,
    typer.Option("--catalogue", metavar="DIR", readable=False, help="Folder of parts instead of the shipped one."),
]
Json = Annotated[bool, typer.Option("--json", help="One JSON document for other programs.")]
NoWaysOut = Annotated[
    bool, typer.Option("--no-ways-out", help="Where there is no kit: do not search for what would give one.")
]
TimeLimit = Annotated[
    float | None,
    typer.Option(metavar="SECONDS", min=0.1, help="Stop after about so many seconds; the best so far is told."),
]
