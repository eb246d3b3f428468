"""What the commands say alike: a wrong command line, the catalogue in the next command, parts by their names."""

from __future__ import annotations

import shlex
import sys
from collections.abc import Iterable
from pathlib import Path

from configurator.cli import exit_codes
from configurator.errors import BadInput, Problem
from configurator.files.problems import nearest
from configurator.parts.kinds import Part
from configurator.parts.shelf import Catalogue
from configurator.presentation.harmless import harmless


def named(catalogue_folder: Path | None) -> str:
    """The catalogue as the next command has to name it."""
    return "" if catalogue_folder is None else f" --catalogue {as_word(catalogue_folder)}"


def part_of(part_id: str, catalogue: Catalogue, catalogue_folder: Path | None) -> Part:
    """The part of this id. Raises BadInput where the shelf has none, with the nearest."""
    part = catalogue.parts.get(part_id)
    if part is None:
        text = f"'{harmless(part_id, 80)}' is not a part of this shelf{nearest(part_id, catalogue.parts)}"
        text += f"; all of them: kitwright shelf list{named(catalogue_folder)}"
        raise BadInput((Problem("command line", 1, 1, "PART", text),))
    return part


def no_kit(number: int, listed: int) -> str:
    """That an answer has no kit of this rank, and how many it has."""
    return "no kit" if not listed else f"no kit {number} (there {'is' if listed == 1 else 'are'} {listed})"


def as_word(path: Path | str) -> str:
    """A path as a shell takes it for one word."""
    return shlex.quote(str(path))


def say(text: str) -> None:
    """Print an answer: names that others wrote stand in it, and none of them steers the screen."""
    sys.stdout.write("\n".join(harmless(line, 2000) for line in text.split("\n")))


def usage(words: str) -> int:
    """A mistake of the command line itself."""
    sys.stderr.write(f"kitwright: {harmless(words, 400)}\n")
    return exit_codes.USAGE


def names_of(catalogue: Catalogue, own: Iterable[Part]) -> dict[str, str]:
    """The spoken name of every part of the shelf and of those that the customer has."""
    return {part.id: part.name for part in (*catalogue.parts.values(), *own)}
