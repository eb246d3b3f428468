"""`kitwright mate`: read two ends, ask, show."""

from __future__ import annotations

import gc
import sys
from pathlib import Path
from typing import Any, cast

from pydantic import TypeAdapter, ValidationError

from configurator.cli import exit_codes
from configurator.errors import BadInput, Problem
from configurator.files.find_catalogue import find_catalogue
from configurator.files.load_catalogue import load_catalogue
from configurator.foundations.figures import GaugePressure, Temperature
from configurator.joining.mating import MEDIUM_WORDS
from configurator.joining.mating_verdict import MatingMedium
from configurator.parts.end_text import ToldEnd, read_end
from configurator.presentation.mate_json import mate_json
from configurator.presentation.mate_text import mate_text
from configurator.questions.mate_ends import CHARGE_FORMS, mate_ends

CODES = {
    "direct": exit_codes.ALL_WELL,
    "adapter": exit_codes.ALL_WELL,
    "refuse": exit_codes.ANSWER_IS_NO,
    "ask": exit_codes.UNDECIDED,
}
COMMAND_LINE = "command line"


def run(
    first: str,
    second: str,
    boost: str | None,
    medium: str | None,
    hottest: str | None,
    pressure: str | None,
    catalogue_folder: Path | None,
    *,
    suction: bool,
    as_json: bool,
) -> int:
    """Do what the command asks and return its exit code. Raises BadInput with every problem of the command line."""
    if medium is not None and medium not in MEDIUM_WORDS:
        sys.stderr.write(f"kitwright: '{medium}' is not a medium (allowed: {', '.join(MEDIUM_WORDS)})\n")
        return exit_codes.USAGE
    unknown = next((text for text in (first, second) if text.startswith("--")), None)
    if unknown is not None:
        sys.stderr.write(f"kitwright: '{unknown}' is not an option; two ends are needed: kitwright mate END END\n")
        return exit_codes.USAGE
    problems: list[Problem] = []
    ends = [_end(name, text, problems) for name, text in (("first end", first), ("second end", second))]
    boost_pa = _figure("--boost", boost, GaugePressure, problems)
    hottest_k = _figure("--hottest", hottest, Temperature, problems)
    pressure_pa = _figure("--pressure", pressure, GaugePressure, problems)
    if boost is not None and medium in ("coolant", "fuel"):
        text = f"boost is the pressure of charge air: say --pressure for the most that the {medium} may reach there"
        problems.append(Problem(COMMAND_LINE, 1, 1, "--boost", text, boost))
    forms = {told.end.form for told in ends if told is not None}
    charge = medium == "charge" or (medium is None and (boost is not None or bool(forms & CHARGE_FORMS)))
    if pressure is not None and charge:
        text = "the pressure of charge air is told as --boost; what a joint must hold follows from it"
        problems.append(Problem(COMMAND_LINE, 1, 1, "--pressure", text, pressure))
    if problems:
        raise BadInput(tuple(problems))
    folder = find_catalogue(catalogue_folder)
    gc.disable()
    answer = mate_ends(
        cast(ToldEnd, ends[0]),
        cast(ToldEnd, ends[1]),
        lambda: load_catalogue(folder)[0],
        medium=cast("MatingMedium | None", medium),
        boost_pa_gauge=boost_pa,
        suction=suction,
        hottest_k=hottest_k,
        pressure_pa_gauge=pressure_pa,
    )
    sys.stdout.write(mate_json(answer) + "\n" if as_json else mate_text(answer))
    return CODES[answer.mating.verdict]


def _end(name: str, text: str, problems: list[Problem]) -> ToldEnd | None:
    read = read_end(text)
    if isinstance(read, ToldEnd):
        return read
    problems.append(Problem(COMMAND_LINE, 1, read.column, name, read.question, read.text))
    return None


def _figure(option: str, text: str | None, kind: Any, problems: list[Problem]) -> float | None:
    """What was typed, as a figure of one of the kinds that files have, within its bounds."""
    if text is None:
        return None
    try:
        return float(TypeAdapter(kind).validate_python(text))
    except ValidationError as error:
        words = str(error.errors()[0]["msg"])
        if kind is not Temperature and "out of range" in words and text.lstrip().startswith("-"):
            words = f"'{text}' is below nothing: pressure is gauge here"
        problems.append(Problem(COMMAND_LINE, 1, 1, option, words, text))
        return None
