"""A conversation in words: how a question is put and explained, what was taken, and whether the engine is plausible."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import Final

from configurator.presentation.harmless import hanging, harmless
from configurator.questions.ask import BACK, Asked, Said, word_back
from configurator.questions.ask_air import USUAL_AIR, AirCheck
from configurator.questions.ask_coolant import Frozen
from configurator.questions.ask_table import DEFAULT

WIDTH: Final = 80
MOST: Final = 600
"""The longest sentence [columns]."""
OPENING: Final = (
    "One question after another, as a counter asks. Enter takes what stands in brackets; ? explains; back goes one "
    "question back; stop (or Ctrl-C) keeps what was said for --resume. Figures have their unit: 1.4 bar, 20 psi."
)
PICTURE: Final = """\
        ______________
       /             /|     wide: from the car's left to its right
      /  top        / |     high: from the floor to the top
     /_____________/  |     deep: from the front to the back
     |             |  |
high |    front    |  /      Measure each at the narrowest place, clear of all
     |             | / deep  that stays. A part has to get in there as well.
     |_____________|/
          wide
"""
LONG_LIST: Final = 12
"""Longer lists of words are not printed: the ids of a catalogue."""


def opening() -> str:
    """What is said before the first question."""
    return _filled(OPENING)


def heading(topic: str) -> str:
    """The line above the questions of one topic."""
    return f"\n{topic[0].upper()}{topic[1:]}\n"


def put(ask: Asked, words: Mapping[str, str], *, picture: bool) -> str:
    """A question, with the words that it takes and what Enter takes; with a picture of how to measure a gap."""
    question = ask.question
    where = f"{ask.item}: " if ask.item else ""
    text = _filled(f"{where}{question.words}")
    if picture:
        text += PICTURE
    if any(words.values()) and (question.reads == "one" or len(words) <= LONG_LIST):
        text += "".join(_choice(word, name) for word, name in words.items())
    elif 0 < len(words) <= LONG_LIST:
        text += _filled(", ".join(words), "  ")
    if question.default is not None:
        text += _filled(f"[{question.default}]", "  ")
    return text + _way_back(words)


def explained(ask: Asked, words: Collection[str]) -> str:
    """What a question is about, and how its answer is written."""
    question = ask.question
    text = _filled(question.explains, "  ") + _way_back(words)
    if is_size(ask):
        text += PICTURE
    if question.default is None:
        return text + _filled("It has to be answered.", "  ")
    return text + _filled(f"Enter takes: {question.default}.", "  ")


def is_size(ask: Asked) -> bool:
    """Whether a question is for the size of a gap."""
    return ask.question.each == "gaps" and ask.question.unmeasured


def refused(reason: str) -> str:
    """Why an answer cannot be used; the question follows again."""
    return _filled(f"! {reason}", "  ")


def taken(ask: Asked, words: tuple[str, ...]) -> str:
    """What is taken where a question was passed by; nothing where it was answered."""
    if words != (DEFAULT,) or ask.question.default is None:
        return ""
    return _filled(f"Taken, and marked in the brief: {ask.question.default}.", "  ")


def unused(said: Sequence[Said]) -> str:
    """Answers that the others make needless, as they come from the options of the command."""
    names = [f"{one.key} of {one.item}" if one.item else one.key for one in said]
    return _filled(f"Not used, as other answers leave no question for it: {', '.join(names)}.") if names else ""


def plausibility(check: AirCheck) -> str:
    """One line: air by power, air by displacement, and whether they go together."""
    start = f"{check.power} at {check.boost}"
    if check.by_displacement is None:
        words = "displacement and rev limit would show whether that goes together"
        return _filled(f"{start} needs about {check.by_power:.2f} kg/s of air; {words}.")
    both = (
        f"{start} on {check.displacement} needs about {check.by_power:.2f} kg/s of air, displacement and revs give "
        f"{check.by_displacement:.2f}"
    )
    if check.plausible:
        return _filled(f"{both}: plausible ({USUAL_AIR}, sea level).")
    apart = abs(check.by_power - check.by_displacement) / max(check.by_power, check.by_displacement)
    advice = "look at power, boost, displacement and rev limit again; back goes there"
    return _filled(f"{both}: {100 * apart:.0f} % apart, not plausible ({USUAL_AIR}, sea level); {advice}.")


def freezing(found: Frozen) -> str:
    """That nothing which is welcome survives night or day, what would help, and how to stay with the answer."""
    where = "the outside air" if found.by_day else "the coldest night"
    return _filled(f"{frozen(found, f'go back to {where}')}; the same answer again is taken as it is.", "  ")


def frozen(found: Frozen, warmer: str = "") -> str:
    """That nothing which is welcome survives night or day, and what would help; `warmer`: how that is told anew."""
    met = "day" if found.by_day else "night"
    warmer = warmer or f"change '{'air' if found.by_day else 'coldest'}'"
    if found.with_ice:
        start = "Ice goes with plain water alone, which freezes"
        advice = f"leave the ice out, or {warmer}"
    else:
        one = len(found.kinds) == 1
        start = f"{found.kinds[0]} freezes" if one else f"{' and '.join(found.kinds)} freeze, however mixed,"
        advice = "name a glycol as well" if found.kinds == ("water",) else warmer
    return f"{start} in a {met} of {found.cold}: no kit will be found; {advice}"


def _way_back(words: Collection[str]) -> str:
    """What goes a question back, where that is not the word that the opening tells."""
    word = word_back(words)
    return "" if word == BACK else _filled(f"({BACK} is an answer here; {word} goes one question back)", "  ")


def _choice(word: str, name: str) -> str:
    return _filled(name, f"  {harmless(word, 40):<16} ", " " * 19)


def _filled(text: str, first: str = "", rest: str | None = None) -> str:
    """Lines of a screen; what users wrote is made harmless, and cut where it is very long."""
    return "".join(f"{line}\n" for line in hanging(harmless(text, MOST), WIDTH, first, first if rest is None else rest))
