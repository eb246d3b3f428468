"""One answer as its words, or a sentence that says what is wrong with it and what would do."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final, get_args

from configurator.brief.bay import RigidKind, Side
from configurator.brief.driving import Driving
from configurator.brief.tables import Tables
from configurator.files.answered_figures import figure_of, offsets_of, price_of, stretches_of
from configurator.files.load_brief import DRY_ICE, is_dry
from configurator.files.part_entries import another_part
from configurator.files.problems import NO_SPOKEN, nearest, not_known
from configurator.files.read_yaml import UNPRINTABLE
from configurator.files.spoken_words import SPOKEN_FUELS, spoken_chargers
from configurator.parts.kinds import PART_KINDS, Part
from configurator.parts.shelf import Catalogue
from configurator.questions.ask import Answers, Asked, asked
from configurator.questions.ask_table import DEFAULT, OWN_PATTERN, SEVERAL, UNMEASURED, Question

MOST_NAMES: Final = 40
LONGEST_NAME: Final = 60
_NOTHING: Final = {"none", "nothing", "no", "no limit"}
_NOT_KNOWN: Final = {"unknown", "not known", "don't know", "?"}
_CALLED: Final = {
    "rigid": "kind of part",
    "sides": "side",
    "airs": "kind of air",
    "obstacles": "kind of obstacle",
    "gaps": "gap",
    "coolants": "coolant",
    "outlets": "number of outlets",
    "answers": "answer",
}


@dataclass(frozen=True)
class Choices:
    """What may be chosen: for each list of the table its words, each with what it means."""

    lists: Mapping[str, Mapping[str, str]]
    burns: Mapping[str, frozenset[str]]
    """For each kind of charger the fuels that it has a consumption for."""
    spoken: Mapping[str, Mapping[str, Sequence[str]]]
    """For some of the lists: words that people say in place of theirs."""
    parts: Mapping[str, Part]


def choices_of(catalogue: Catalogue, tables: Tables) -> Choices:
    """Every list of words that the questions choose from, for one catalogue."""
    lists: dict[str, Mapping[str, str]] = {
        "fuels": {fuel.id: fuel.name for fuel in tables.fuels.values()},
        "chargers": {charger.id: charger.name for charger in tables.chargers.values()},
        "outlets": {"1": "", "2": ""},
        "driving": {
            **{id_: _pattern(pattern) for id_, pattern in tables.driving.items()},
            OWN_PATTERN: "stretches of your own",
        },
        "aims": {"ceiling": "never warmer than", "above-air": "never so much warmer than the outside air"},
        "rigid": dict.fromkeys(get_args(RigidKind), ""),
        "sides": dict.fromkeys(get_args(Side), ""),
        "airs": {
            "ram": "a share of road speed",
            "fan": "what a fan draws",
            "face-speed": "measured before its face",
            "none": "no air of its own",
        },
        "obstacles": {
            "plain": "cold and still",
            "hot": "exhaust, turbine",
            "moving": "belts, linkages",
            "crash": "beams that fold",
        },
        "answers": {"yes": "", "no": ""},
        "coolants": {"water": "", "ethylene glycol": "", "propylene glycol": ""},
        "ice": {kind.id: kind.name for kind in tables.ice.values()},
        "parts": {**dict.fromkeys(PART_KINDS, ""), **{part.id: part.name for part in catalogue.parts.values()}},
    }
    burns = {charger.id: frozenset(charger.consumption) for charger in tables.chargers.values()}
    return Choices(lists, burns, {"fuels": SPOKEN_FUELS, "chargers": spoken_chargers(tables.chargers)}, catalogue.parts)


def _pattern(pattern: Driving) -> str:
    """A pattern's name with its road speeds, by which two of the same seconds are told apart."""
    speeds = sorted(float(stretch.speed_m_per_s) * 3.6 for stretch in pattern.stretches)
    span = " to ".join(dict.fromkeys(f"{speed:.0f}" for speed in (speeds[0], speeds[-1])))
    return f"{pattern.name}, {span} km/h" if pattern.name else f"{span} km/h"


def offered(question: Question, choices: Choices, answers: Answers) -> Mapping[str, str]:
    """The words that this question takes now: some hang on what was said before."""
    if question.key == "obstacle-in":
        return dict.fromkeys(answers.told("gaps"), "")
    words = choices.lists.get(question.of if question.reads in ("one", "some") else "", {})
    if question.key == "charger":
        fuel = {*answers.told("fuel")}
        return {word: name for word, name in words.items() if fuel <= choices.burns[word]}
    return words


def offered_no_more(choices: Choices, answers: Answers) -> tuple[tuple[Asked, str], ...]:
    """Answers that a later one to an earlier question has made impossible, each with why."""
    found = []
    for one in asked(answers):
        told = answers.told(one.question.key, one.item)
        if one.question.reads != "one" or not told:
            continue
        try:
            chosen(one.question, told[0], offered(one.question, choices, answers))
        except ValueError as error:
            found.append((one, str(error)))
    return tuple(found)


def read_answer(question: Question, given: Any, choices: Choices, answers: Answers) -> tuple[str, ...]:
    """The words of an answer: typed as text, or as a scalar or a list of an answers file. Raises ValueError with a
    sentence that says what was found, what is allowed and what is nearest.
    """
    if isinstance(given, list):
        pieces = [_scalar(piece).strip() for piece in given]
        if question.reads not in SEVERAL:
            raise ValueError("one answer is expected here, found a list")
    else:
        pieces = None
    text = "" if pieces is not None else _scalar(given)
    if question.reads != "text":
        text = " ".join(text.split())
    words = offered(question, choices, answers)
    passed_by = pieces is None and _passes_by(question, text, words)
    if passed_by or pieces == []:
        if question.default is None:
            raise ValueError("this has to be answered: there is no usual value for it")
        return (DEFAULT,)
    if question.unmeasured and text.lower() in {UNMEASURED, "unmeasured", "not measured"}:
        return (UNMEASURED,)
    if question.reads in ("text", "figure", "standstill", "number", "one"):
        return (_one(question, text, words, choices.spoken.get(question.of, NO_SPOKEN)),)
    if pieces is None:  # a comma may part two stretches, or the figures of one
        pieces = [text] if question.reads == "stretches" else [piece.strip() for piece in text.split(",")]
    return _several(question, [piece for piece in pieces if piece], words, choices)


def _scalar(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if value is None:
        return ""
    if isinstance(value, dict | list):
        raise ValueError("one answer or a list is expected here, found keys and values")
    text = str(value)
    bad = UNPRINTABLE.search(text)
    if bad is not None:
        raise ValueError(f"the character U+{ord(bad.group()):04X} cannot be printed; take it out")
    return text


def _passes_by(question: Question, text: str, words: Mapping[str, str]) -> bool:
    low = text.strip().lower()
    if not low:
        return True
    if question.default is None or low in words:
        return False
    if low == DEFAULT:
        return True
    can_be_none = question.default in ("none", "nothing", "no limit", "none is printed", "all sides are closed")
    if low in _NOTHING and (can_be_none or question.reads == "standstill"):
        return True
    return low in _NOT_KNOWN and (question.reads == "figure" or question.key == "gap-air")


def _one(
    question: Question, text: str, words: Mapping[str, str], spoken: Mapping[str, Sequence[str]]
) -> str:
    if question.reads == "text":
        return name_of(text, int(question.of))
    if question.reads == "one":
        return chosen(question, text, words, spoken)
    if question.reads == "number":
        return price_of(text)
    if question.reads == "standstill" and not text.endswith("standstill"):
        text = f"{text} standstill"
    return figure_of(question, text)


def name_of(text: str, longest: int) -> str:
    """A name as it was typed, without the space round it. Raises ValueError where it is too long."""
    text = text.strip()
    if len(text) > longest:
        raise ValueError(f"the text is too long: {len(text)} letters, at most {longest}")
    return text


def chosen(
    question: Question, text: str, words: Mapping[str, str], spoken: Mapping[str, Sequence[str]] = NO_SPOKEN
) -> str:
    """One of the words, however it is capitalised. Raises ValueError with the nearest and what there is."""
    folded = {word.lower(): word for word in words}
    if question.key != "obstacle-in" and text.lower() in folded:
        return folded[text.lower()]
    if text in words:
        return text
    if question.key == "obstacle-in" and not words:
        return _item_name(text)  # the gaps are not named yet
    if question.key == "ice" and is_dry(text):
        raise ValueError(DRY_ICE)
    raise ValueError(not_known(_CALLED.get(question.of, question.key), text, words, spoken=spoken))


def _several(question: Question, pieces: list[str], words: Mapping[str, str], choices: Choices) -> tuple[str, ...]:
    if question.reads in ("some", "own"):
        known = words if question.reads == "some" else _with_fitted(choices.parts)
        pieces = [one for piece in pieces for one in _parted(piece, known)]
    if question.reads == "stretches":
        found = stretches_of(", ".join(pieces))
    elif question.reads == "offsets":
        found = offsets_of(pieces)
    elif question.reads == "names":
        found = [_item_name(piece) for piece in pieces]
    elif question.reads == "own":
        found = [_own(piece, choices.parts) for piece in pieces]
    elif question.key == "without":
        found = [_part_or_kind(piece, words, choices.parts) for piece in pieces]
    else:
        found = [chosen(question, piece, words) for piece in pieces]
    if not found:
        raise ValueError("nothing is named here; name at least one")
    bare = [word.removesuffix(" fitted") for word in found] if question.reads == "own" else found
    twice = [word for index, word in enumerate(bare) if word in bare[:index]]
    if twice and question.reads != "stretches":
        raise ValueError(f"'{twice[0]}' is named twice")
    most = 200 if question.reads == "stretches" else MOST_NAMES
    if len(found) > most:
        raise ValueError(f"too many: at most {most} are allowed here")
    return tuple(found)


def _with_fitted(ids: Iterable[str]) -> list[str]:
    return [word for name in ids for word in (name, f"{name} fitted")]


def _parted(piece: str, words: Iterable[str]) -> list[str]:
    """Several of the words without a comma between, as `front back and left`, each by itself; any other text whole."""
    known = {word.lower() for word in words}
    spoken = [word for word in piece.split(" ") if word not in ("and", "&")]
    found: list[str] = []
    while spoken:
        counts = (count for count in range(len(spoken), 0, -1) if " ".join(spoken[:count]).lower() in known)
        count = next(counts, 0)
        if not count:
            return [piece]
        found.append(" ".join(spoken[:count]))
        del spoken[:count]
    return found or [piece]


def _item_name(text: str) -> str:
    if re.search(r"[,;=\n\r\t\x85\u2028\u2029]", text) or text.lower() == DEFAULT:
        rule = "no comma, semicolon, equals sign or second line in it, and not 'default'"
        raise ValueError(f"'{text}' cannot be a name here: {rule}")
    return name_of(text, LONGEST_NAME)


def _own(text: str, ids: Mapping[str, Part]) -> str:
    word = text.removesuffix(" fitted").strip()
    if word not in ids:
        words = another_part(word, ids) or f"'{word}' is no id of a part of the catalogue{nearest(word, ids)}"
        raise ValueError(f"{words} (a part that is not in it is written into the brief by hand)")
    return f"{word} fitted" if text.endswith(" fitted") else word


def _part_or_kind(text: str, words: Iterable[str], parts: Mapping[str, Part]) -> str:
    if text not in words:
        kinds = ", ".join(PART_KINDS)
        found = f"'{text}' is neither the id of a part nor a kind of part"
        raise ValueError(another_part(text, parts) or f"{found}{nearest(text, words)} (kinds: {kinds})")
    return text
