"""An end as it is said in one word: `form:size[:sex][:swivel|bead|barb|plain][:profile]`, as in `orb:-12:female`.

What cannot be read without a guess is answered with the question to ask the customer.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, Final

from pydantic import ValidationError

from configurator.parts.ends import End
from configurator.standards.articles import with_article
from configurator.standards.forms import (
    FORMS,
    MEASURED_FORMS,
    PROFILED_FORMS,
    SEX_OF_FORM,
    SEXED_FORMS,
    as_typed,
)
from configurator.standards.threads import METRIC_PORTS, THREADS

SPOKEN_FORMS: Final = {
    "an": "AN is the 37° flare: flare37 (or orb, where an O-ring sits at the root of the thread)",
    "jic": "JIC is the 37° flare: flare37",
    "sae": "SAE names several: an O-ring boss (orb), a 45° flare (flare45) or a 37° flare (flare37)?",
    "bsp": "BSP names several: parallel (g), taper male (r), taper female (rc) or parallel female to ISO 7 (rp)?",
    "bspp": "BSPP is g",
    "bspt": "BSPT is r (male) or rc (female)",
    "nptf": "NPTF goes into NPT, with sealant: npt",
    "barb": "a barb is written spigot:19mm:barb",
    "pipe": "is it a pipe thread (npt, g, r, rc, rp) or a bare pipe end (spigot, by outside diameter)?",
    "tube": "a bare tube end is a spigot, by its outside diameter",
    "quick-connect": "a quick-connect is qc-coolant or qc-fuel, as in qc-coolant:16mm:male",
    "qc": "a quick-connect is qc-coolant or qc-fuel, as in qc-coolant:16mm:male",
    "v-band": "a V-band is vband",
}
"""What people say at a counter, and the form it may be."""

SEXES: Final = ("male", "female")
HOLDS: Final = ("bead", "barb", "plain")
SHORT_SEXES: Final = {"m": "male", "f": "female"}
_PIPE_SIZE = re.compile(r"(\d+[- ])?\d+/\d+|\d+")
_METRIC = re.compile(r"[mM](\d+(?:\.\d+)?)(?:\s*[xX×*]\s*(\d+(?:\.\d+)?))?")
_GLUED = re.compile(r"(npt|rc|rp|r|g)[ -]?((?:\d+-)?\d+(?:/\d+)?)")
_INCH_THREAD = re.compile(r"(\d+-)?(\d+/)?\d+-\d+")
_INCH_THREADS: Final = frozenset({"un", "unf", "unc", "unef", "uns", "unj", "unjf"})
_LENGTH = re.compile(r"[\d./ ]+(mm|cm|m|in|inch|ft|\")")


@dataclass(frozen=True)
class ToldEnd:
    """An end as it was told. `holding_told`: whether a spigot was said to be beaded, barbed or plain."""

    text: str
    end: End
    holding_told: bool


@dataclass(frozen=True)
class EndQuestion:
    """What must be asked before an end can be read, and the column [from 1] where the text leaves it open."""

    text: str
    column: int
    question: str


def read_end(text: str) -> ToldEnd | EndQuestion:
    """The end that a text names, or the question to ask the customer."""
    pieces = [piece.strip() for piece in text.split(":")]
    starts = [len(":".join(text.split(":")[:index])) + (index > 0) + 1 for index in range(len(pieces))]
    form = pieces[0].lower()
    if form not in FORMS:
        return EndQuestion(text, 1, _which_form(pieces[0], pieces[1] if len(pieces) > 1 else ""))
    if form == "unknown":
        pieces = [form, *(pieces[1:] or ["unknown"])]
        starts = [1, *(starts[1:] or [1])]
    if len(pieces) < 2 or not pieces[1]:
        return EndQuestion(text, len(text) + 1, f"which size? An end is written {_example(form)}")
    size, question = _size(form, pieces[1])
    if question:
        return EndQuestion(text, starts[1], question)
    written: dict[str, Any] = {"name": "end", "form": form, "size": size}
    told: set[str] = set()
    for piece, column in zip(pieces[2:], starts[2:], strict=True):
        wrong = _take(form, piece, written, told)
        if wrong:
            return EndQuestion(text, column, wrong)
    if form in SEXED_FORMS and "sex" not in written:
        question = f"is it the male or the female one? It is written {_example(form, size)}"
        return EndQuestion(text, len(text) + 1, question)
    try:
        end = End.model_validate(written)
    except ValidationError as error:
        return EndQuestion(text, starts[1], "; ".join(_sentence(fault["msg"]) for fault in error.errors()))
    return ToldEnd(text, end, form != "spigot" or bool(told & set(HOLDS)))


def _which_form(word: str, size: str) -> str:
    """The question for a text that begins with no known form, before a size or alone."""
    if not word:
        return f"which end? It is written {_example('orb')}"
    lowered = word.lower()
    glued = _GLUED.fullmatch(lowered)
    if glued:
        return f"form and size are parted by a colon: '{word}' is written {glued[1]}:{glued[2]}"
    if lowered in _INCH_THREADS or _INCH_THREAD.fullmatch(word):
        return _which_seal(word, size if lowered in _INCH_THREADS else word)
    if lowered in SPOKEN_FORMS:
        return SPOKEN_FORMS[lowered]
    if re.fullmatch(r"-\d+", word):
        return (
            f"'{word}' is a dash size: of an O-ring boss (orb:{word}), a 37° flare (flare37:{word}), a 45° flare "
            f"(flare45:{word}) or a face seal (orfs:{word})? A hose is told by its inside diameter"
        )
    if _PIPE_SIZE.fullmatch(word):
        return (
            f"'{word}' names no form: is it NPT (npt:{word}), BSP (g:{word} parallel, r, rc or rp), a hose of that "
            f"inside diameter (hose:{word}in) or a tube of that outside diameter (spigot:{word}in)?"
        )
    if _METRIC.fullmatch(word):
        size, pitch = _metric_size(word)
        asked = "" if not pitch else pitch + ". And "
        start = f"{asked}is it" if pitch else f"'{word}' names no seal: is it"
        named = f"{size}x1.5" if pitch else size
        return (
            f"{start} the port with a chamfer for an O-ring, written like metric:{named}:female, or the one that "
            f"seals flat, like metric-flat:{named}:female?"
        )
    if _LENGTH.fullmatch(word):
        return (
            f"'{word}' names no form: the inside of a hose (hose:{word}), the outside of a spigot (spigot:{word}), "
            f"the inside of a charge coupler (coupler:{word}) or a thread that was measured (unknown:{word})?"
        )
    return f"'{word}' is not a form{_nearest(lowered, FORMS)} (allowed: {', '.join(FORMS)})"


def _which_seal(word: str, thread: str) -> str:
    """The question for an inch thread told by diameter and turns, which several forms share."""
    of = [
        f"{form}:{size}"
        for form, sizes in THREADS.items()
        for size, known in sizes.items()
        if thread and known.designation.startswith(f"{thread} UN")
    ]
    if not of and any(digit in thread for digit in "0123456789"):
        return f"'{thread}' is the thread of no end that is known here; measured, it is written {_example('unknown')}"
    which = ", ".join(of) or "an O-ring boss (orb), a 37° flare (flare37), a 45° flare (flare45) or a face seal (orfs)"
    return f"'{word}' names a thread and no seal: where does it seal? It is written by dash size, one of: {which}"


def _size(form: str, text: str) -> tuple[str, str]:
    """A size as the models spell it, and the question that stands in its way, or ''."""
    spaced = re.sub(r"(?<=[0-9])(?=(mm|cm|m|in|inch|ft)$)", " ", text).replace('"', " in")
    if form in MEASURED_FORMS:
        if re.fullmatch(r"-\d+", text):
            what = "outside" if form == "spigot" else "inside"
            of = with_article(form)
            return text, f"'{text}' is a dash size, which is not the {what} of {of}: how many mm is its {what}?"
        if _PIPE_SIZE.fullmatch(text):
            return text, f"'{text}' has no unit: is it mm or in? It is written {form}:{text}mm or {form}:{text}in"
        return spaced, ""
    if form in PROFILED_FORMS or form == "unknown":
        return spaced, ""
    if form in {"metric", "metric-flat"}:
        return _metric_size(text)
    dash = f"-{text.lstrip('#')}"
    if dash in THREADS[form]:
        return text, f"'{text}' is not a dash size; did you mean '{dash}'?"
    return text, ""


def _metric_size(text: str) -> tuple[str, str]:
    match = _METRIC.fullmatch(text)
    if match is None:
        return text, ""
    known = [size for size in METRIC_PORTS if size.startswith(f"M{match[1]}x")]
    if match[2] is None:
        usual = f" (a port of that size is {' or '.join(known)})" if known else ""
        return f"M{match[1]}", f"'{text}' names no pitch: measure it, in mm from crest to crest{usual}"
    size = f"M{float(match[1]):g}x{float(match[2]):g}"
    if size not in METRIC_PORTS and known:
        return text, f"'{text}' is not a size of a metric port; is its pitch that of {' or '.join(known)}? Measure it"
    return size, ""


def _take(form: str, piece: str, written: dict[str, Any], told: set[str]) -> str:
    """Put one of the later pieces where it belongs; else what is wrong with it."""
    word = piece.lower()
    if word in told or (word in SEXES and "sex" in written) or (word in HOLDS and told & set(HOLDS)):
        return f"'{piece}' is said beside '{' and '.join(sorted(told))}': only one can hold"
    if word in SEXES:
        written["sex"] = word
    elif word in HOLDS:
        if form != "spigot":
            return f"only a spigot has a bead or barb or is plain, {with_article(form)} is none"
        if word != "plain":
            written[word] = True
    elif word == "swivel":
        if form not in THREADS:
            return f"only a threaded end has a swivel nut, {with_article(form)} has none"
        written["swivel"] = True
    elif form in PROFILED_FORMS and "profile" not in written and piece:
        written["profile"] = piece
        return ""
    else:
        if word in SHORT_SEXES:
            return f"'{piece}' is not known; did you mean '{SHORT_SEXES[word]}'?"
        allowed = [*SEXES, *(HOLDS if form == "spigot" else ("swivel",) if form in THREADS else ())]
        return f"'{piece}' is not known here{_nearest(word, allowed)} (allowed: {', '.join(allowed)})"
    told.add(word)
    return ""


def _nearest(word: str, allowed: Iterable[str]) -> str:
    close = difflib.get_close_matches(word, list(allowed), n=1, cutoff=0.55)
    return f"; did you mean '{close[0]}'?" if close else ""


def _example(form: str, told: str = "") -> str:
    size = as_typed(told)
    if form in MEASURED_FORMS:
        tail = {"spigot": ":bead", "neck": ":female"}.get(form, "")
        return f"{form}:{size or '19mm'}{tail}"
    if form in PROFILED_FORMS:
        return f"{form}:{size or '16mm'}:male:maker-form"
    if form not in THREADS:
        return f"{form}:{size or '27mm'}"
    usual = {"metric": "M22x1.5", "metric-flat": "M22x1.5"}.get(form, "-12" if "-12" in THREADS[form] else "3/4")
    return f"{form}:{size or usual}" + ("" if form in SEX_OF_FORM else ":female")


def _sentence(message: str) -> str:
    return message.removeprefix("Value error, ")
