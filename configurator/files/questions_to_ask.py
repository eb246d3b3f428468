"""What to ask the customer where a file leaves open what only they know: which end, which pressure."""

from __future__ import annotations

import re
from typing import Any, Final

from configurator.foundations.records import Record
from configurator.foundations.units import read_figure
from configurator.parts.end_text import SHORT_SEXES, SPOKEN_FORMS
from configurator.parts.ends import End
from configurator.parts.kinds import Hose
from configurator.parts.passages import Passage

FORMS_IN_A_FILE: Final = {
    "barb": "a barb is a spigot with barb: true",
    "quick-connect": "a quick-connect is qc-coolant or qc-fuel",
    "qc": "a quick-connect is qc-coolant or qc-fuel",
}
"""What people say of which the command line's way of writing does not hold in a file."""

_PRESSURE_WORDS: Final = re.compile(r"press|rat(ed|ing)|max|test|limit|withstand", re.IGNORECASE)
_FRACTION: Final = re.compile(r"(\d+[- ])?\d+/\d+")


def question_for_key(key: str, record: type[Record] | None, value: Any) -> str:
    """A pressure under a name that does not say which one it is; nothing for other keys."""
    holds_pressure = record is not None and issubclass(record, Passage | Hose)
    if not holds_pressure or not (_PRESSURE_WORDS.search(key) and _is_pressure(value)):
        return ""
    if record is Hose:
        return f": ask whether the hose may work at {value}; then write it as 'working: {value}'"
    return (
        f": ask whether the part may work at {value} (working:), was tested at it (proof:) or burst at it (burst:), "
        "and write exactly one of the three; where nobody knows, 'working: unknown'"
    )


def question_for_missing(key: str, record: type[Record] | None, entry: Any) -> str:
    """An end that has a size and no form: which of the many ends of that size is it?"""
    if record is not End or key != "form" or not isinstance(entry, dict) or "size" not in entry:
        return ""
    size = str(entry["size"])
    if _FRACTION.fullmatch(size):
        ends = "NPT (form: npt), BSP (g, r, rc or rp), a hose of that inside or a spigot of that outside diameter"
    elif size.startswith("-"):
        ends = "an O-ring boss (form: orb), a 37° flare (flare37), a 45° flare (flare45) or a face seal (orfs)"
    elif size.upper().startswith("M"):
        ends = "a port with a chamfer for an O-ring (form: metric) or one that seals flat (metric-flat)"
    else:
        ends = "a hose (inside diameter), a spigot (outside diameter), a coupler or a neck"
    return f": ask what '{size}' is the size of: {ends}"


def question_for_value(key: str, record: type[Record] | None, value: Any, kind: str) -> str:
    """A form that the table does not know: ask how the end seals, or say that it is not known."""
    if record is not End or key != "form" or kind != "literal_error":
        return ""
    return (
        f"; ask how '{value}' seals (O-ring, cone, taper, clamp) and by which standard; where nobody knows, write "
        "'form: unknown', which joins nothing"
    )


def spoken_word(key: str, record: type[Record] | None, value: Any) -> str:
    """What is meant by a word for a form or a sex that people say and the table does not have; nothing for others."""
    if record is not End or not isinstance(value, str):
        return ""
    word = value.lower()
    if key == "sex" and word in SHORT_SEXES:
        return f"did you mean '{SHORT_SEXES[word]}'?"
    return FORMS_IN_A_FILE.get(word) or SPOKEN_FORMS.get(word, "") if key == "form" else ""


def _is_pressure(value: Any) -> bool:
    try:
        read_figure(value, "pressure")
    except (ValueError, TypeError):
        return False
    return True
