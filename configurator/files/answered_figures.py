"""Figures as answers, each read and kept in its bounds as the key of the brief is that it goes to."""

from __future__ import annotations

import re
from typing import Annotated, Final

from pydantic import TypeAdapter, ValidationError

from configurator.brief.request import Brief
from configurator.files.problems import KeyPath, not_known
from configurator.files.record_shape import types_at
from configurator.foundations.figures import UnitField
from configurator.foundations.units import Figure, comma_words
from configurator.questions.ask_table import Question

WALLS: Final = (("left", "right"), ("front", "back"), ("floor", "top"))
PARTS_OF_A_STRETCH: Final = 3
_ABOVE: Final[dict[str, KeyPath]] = {"": (), "gaps": ("bay", "zones", "one"), "obstacles": ("bay", "obstacles", 0)}
"""Where in a brief the keys of a question's path begin; of a gap or an obstacle, those of any."""

_TOTAL: Final = ("driving", "total")
_STRETCH: Final = ("driving", "stretches", 0)
_OFF: Final = (*_ABOVE["obstacles"], "from")
_FIGURE: Final = re.compile(r"[0-9.]+(?: [0-9]+/[0-9]+)? *[^0-9\s,.]+")
MOST_DIGITS: Final = 9
DECIMALS: Final = 2
_PRICE: Final = re.compile(rf"(?:0|[1-9][0-9]{{,{MOST_DIGITS - 1}}})(\.[0-9]{{1,{DECIMALS}}})?")


def figure_of(question: Question, text: str) -> str:
    """A figure as it was typed, once the brief has read it. Raises ValueError with what is wrong with it."""
    return _figure_at(_TOTAL if question.key == "total" else (*_ABOVE[question.each], *question.path), text)


def _figure_at(path: KeyPath, text: str) -> str:
    (field,) = (kind for kind in types_at(Brief, path) if isinstance(kind, UnitField))
    try:
        TypeAdapter(Annotated[Figure, field]).validate_python(text)
    except ValidationError as error:
        raise ValueError(error.errors(include_url=False)[0]["msg"]) from None
    return text


def price_of(text: str) -> str:
    """A price as it was typed. Raises ValueError with what is wrong with it."""
    if _PRICE.fullmatch(text) is None or float(text) <= 0:
        meant = _bare_price(text)
        number = re.fullmatch(r"0*([0-9]+)(?:\.([0-9]+))?", text)
        if number is not None and len(number[1]) > MOST_DIGITS:
            raise ValueError(f"'{text}' is out of range: it must be at most {'9' * MOST_DIGITS}.99")
        if number is not None and len(number[2] or "") > DECIMALS and (meant is None or float(text) < 1):
            raise ValueError(f"'{text}' has {len(number[2])} decimals; a price has {DECIMALS} at most, as in '1400.50'")
        advice = "" if meant is None else f"; write '{meant}'"
        raise ValueError(f"a bare number over 0 is expected here, without a unit, found '{text}'{advice}")
    return text


def _bare_price(text: str) -> str | None:
    """What to type for a price with the sign of a currency or with marks in it; None where that is not plain.

    Money has two decimals at most, so three digits behind a mark are thousands.
    """
    written = re.fullmatch(r"[^-0-9.,]*([0-9][0-9.,' ]*?)[^-0-9.,]*", text)
    if written is None:
        return None
    parted = re.fullmatch(r"([0-9]{1,3}(?:([.,' ])[0-9]{3})(?:\2[0-9]{3})*|[0-9]+)(?:([.,])([0-9]{1,2}))?", written[1])
    if parted is None or parted[3] == parted[2] is not None:
        return None
    meant = (re.sub(r"[^0-9]", "", parted[1]).lstrip("0") or "0") + (f".{parted[4]}" if parted[4] else "")
    return meant if _PRICE.fullmatch(meant) and float(meant) > 0 else None


def stretches_of(text: str) -> list[str]:
    """Stretches with commas or semicolons between them, each in canonical spelling: `20 s, 80 %, 65 km/h`. Raises
    ValueError with what is wrong with one of them.
    """
    comma = re.search(r"[0-9.]*[0-9],[0-9][^,;]*?(?= [0-9]|[,;]|$)", text)
    if comma is not None:
        raise ValueError(comma_words(comma[0]))
    found = []
    for part in text.split(";"):
        pieces: list[str] = []
        for piece in part.split(","):
            pieces += [piece.strip()] if piece.strip() else []
            if len(_FIGURE.findall(" ".join(pieces))) >= PARTS_OF_A_STRETCH:
                found.append(_stretch(", ".join(pieces)))
                pieces = []
        if pieces:
            found.append(_stretch(", ".join(pieces)))
    return found


def _stretch(text: str) -> str:
    plain = text.replace(" at ", " ")
    pieces = _FIGURE.findall(plain)
    if len(pieces) != PARTS_OF_A_STRETCH or re.sub(r"[\s,]", "", plain) != re.sub(r"\s", "", "".join(pieces)):
        raise ValueError(
            f"'{text}' is not a time, a share of full power and a road speed: write 20 s 80 % 65 km/h, and the next "
            "stretch after a comma or a semicolon: 20 s 80 % 65 km/h, 20 s 20 % 45 km/h"
        )
    keys = ("lasts", "share", "speed")
    return ", ".join(_figure_at((*_STRETCH, key), piece) for key, piece in zip(keys, pieces, strict=True))


def offsets_of(pieces: list[str]) -> list[str]:
    """`left 180 mm`, `front 200 mm`, `floor 80 mm`: one of each pair of walls."""
    told: dict[str, str] = {}
    walls = [wall for pair in WALLS for wall in pair]
    before_a_wall = rf"\s+(?:and\s+)?(?=(?:{'|'.join(walls)})\b)"  # where a comma is left out
    for told_off in (one for piece in pieces for one in re.split(before_a_wall, piece)):
        wall, _, figure = told_off.partition(" ")
        if wall.rstrip(":") not in walls:
            raise ValueError(not_known("wall", wall, walls))
        told[wall.rstrip(":")] = _figure_at((*_OFF, wall.rstrip(":")), figure.strip())
    for low, high in WALLS:
        if (low in told) == (high in told):
            raise ValueError(f"give its distance from the {low} or the {high} of its gap, one of the two")
    return [f"{wall} {told[wall]}" for wall in walls if wall in told]
