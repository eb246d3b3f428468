"""Where a start begins, and the one place where errors become messages. Tells a person that it starts before any
library is loaded.
"""

from __future__ import annotations

import gc
import sys
from typing import TYPE_CHECKING

from configurator.cli import exit_codes
from configurator.cli.progress import progress
from configurator.cli.streams import sound_streams

if TYPE_CHECKING:
    from typer import Typer

HELP = ("-h", "--help")
TAKES_TIME = ("suggest", "check", "why", "sheet")
"""The commands that load the whole tool: each clears the words once it is there (`cli/main.py`)."""


def _help_alone(app: Typer, words: list[str]) -> None:
    """Answer `COMMAND --help` at once: on the usual way the group above first reads options of its own, slowly."""
    from typing import Any

    from typer.main import get_command

    *names, last = words or [""]
    if last not in HELP:
        return
    command: Any = get_command(app)
    for name in names:
        command = getattr(command, "commands", {}).get(name)
        if command is None:
            return
    command.main(args=[last], prog_name=" ".join(("kitwright", *names)), help_option_names=list(HELP))


def run() -> None:
    """Run the command line; turn errors into messages and exit codes, never a traceback for a user's mistake."""
    with sound_streams():
        try:
            _started(sys.argv[1:])
        except KeyboardInterrupt:  # before typer is there to hear of it
            sys.exit(exit_codes.INTERRUPTED)


def _started(words: list[str]) -> None:
    gc.disable()  # one process gives one answer: what it would collect is little, and looking for it takes long
    if words and words[0] in TAKES_TIME and not set(HELP) & set(words):
        progress("starting")
    from configurator.cli.main import app
    from configurator.errors import BadInput, KitwrightError

    try:
        _help_alone(app, words)
        app(prog_name="kitwright")
    except BadInput as error:
        from configurator.cli.problems_told import tell_problems

        tell_problems(error.problems, as_json="--json" in words)
        sys.exit(exit_codes.BAD_INPUT)
    except KitwrightError as error:
        from configurator.presentation.harmless import harmless

        sys.stderr.write(f"kitwright: {harmless(str(error), 2000)}\n")
        sys.exit(exit_codes.BAD_INPUT)
