"""Ends: one connection of a passage. What it is (form, size, sex, seal) and where it sits on the part."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import lru_cache
from math import isnan
from typing import Annotated, Final, Literal

from pydantic import BeforeValidator, Field, WithJsonSchema

from configurator.foundations.figures import PIPE_M, Length, Position
from configurator.foundations.records import Fault, Flag, Record
from configurator.foundations.units import read_figure
from configurator.standards.articles import with_article
from configurator.standards.forms import (
    FORM_FACTS,
    FORMS,
    MEASURED_FORMS,
    PROFILED_FORMS,
    SEX_OF_FORM,
    SEXED_FORMS,
    SLEEVE_SEX,
    size_fault,
)
from configurator.standards.threads import THREADS

Face = Literal["+x", "-x", "+y", "-y", "+z", "-z"]
OPPOSITE: Mapping[Face, Face] = {"+x": "-x", "-x": "+x", "+y": "-y", "-y": "+y", "+z": "-z", "-z": "+z"}
Role = Literal["in", "out", "either", "bleed", "fill", "drain", "cap"]
_NAMED: Final[dict[str, Role]] = {
    "in": "in", "out": "out", "bleed": "bleed", "fill": "fill", "drain": "drain", "cap": "cap",
    "inlet": "in", "outlet": "out",
}  # fmt: skip
"""Names of ends that say their role."""

Sex = Literal["male", "female"]
Form = Literal[
    "orb", "flare37", "npt", "g", "metric", "hose", "spigot", "coupler", "neck", "flare45", "orfs", "r", "rc", "rp",
    "metric-flat", "qc-coolant", "qc-fuel", "vband", "flange", "unknown",
]  # fmt: skip
assert set(Form.__args__) == set(FORMS)  # type: ignore[attr-defined]


def _as_text(value: object) -> object:
    """A size is a name: -12 and 1/8 are read as text."""
    return str(value) if isinstance(value, int | float) and not isinstance(value, bool) else value


EndSize = Annotated[str, BeforeValidator(_as_text), WithJsonSchema({"type": ["string", "number"]})]


_DASH = re.compile(r"-\d+")
_FRACTION = re.compile(r"(\d+[- ])?\d+/\d+")
_BEGINS_AS_A_FIGURE = re.compile(r"\s*[-+.]*\s*\d(?!\d*-[a-zA-Z])")
"""A figure, not a name with a number before its dash, as in 4-bolt."""


class FacePosition(Record):
    """Where an end's axis meets its face: two coordinates in the face, from the part's low corner."""

    x_m: Position | None = Field(default=None, alias="x")
    y_m: Position | None = Field(default=None, alias="y")
    z_m: Position | None = Field(default=None, alias="z")


class End(Record):
    """One connection: form, size, sex and, on rigid parts, the face it sits on and where."""

    name: str = Field(min_length=1, max_length=40)
    form: Form
    size: EndSize
    sex: Sex | None = None
    role_given: Role | None = Field(default=None, alias="role")
    bead: Flag = False
    barb: Flag = False
    swivel: Flag = False
    profile: str | None = Field(default=None, min_length=1, max_length=40)
    bore_m: Length | None = Field(default=None, alias="bore")
    face: Face | None = None
    at: FacePosition | None = None

    @property
    def role(self) -> Role:
        """What the end is for: as written, else as its name says; a filler neck is the seat of a cap; else either."""
        if self.role_given is not None:
            return self.role_given
        return _NAMED.get(self.name, "cap" if self.form == "neck" else "either")

    @property
    def size_m(self) -> float | None:
        """The measured size of a hose, spigot, coupler or neck [m]; None where the size is a name."""
        return _metres(self.size) if self.form in MEASURED_FORMS else None

    @property
    def tube_m(self) -> float | None:
        """The tube [m] of a quick-connect, flange or unknown end; None where its size is a name."""
        if self.form not in PROFILED_FORMS and self.form != "unknown":
            return None
        try:
            return float(read_figure(self.size, "length"))
        except ValueError:
            return None

    @property
    def _outside_m(self) -> float | None:
        """What no bore of a sound end can exceed [m]: measure, tube or thread; None where its size is a name."""
        thread = THREADS.get(self.form, {}).get(self.size)
        return self.size_m or self.tube_m if thread is None else thread.major_mm * 1e-3

    @property
    def profile_id(self) -> str | None:
        """Whose quick-connect or flange it is: the profile, else the size where that is a maker's name."""
        named_by_size = self.form in PROFILED_FORMS and self.tube_m is None
        return self.profile if self.profile is not None or not named_by_size else self.size

    @property
    def sound(self) -> bool:
        """Whether all that joining looks at can be read: what is wrong with a size or a bore is told of these alone."""
        return not any(self.faults()) and (self.bore_m is None or not isnan(self.bore_m))

    @property
    def gender(self) -> str:
        """Male or female as written or as the form says it (R, Rc, Rp); none where the form has no sex."""
        return "none" if self.form in SLEEVE_SEX else self.sex or SEX_OF_FORM.get(self.form, "none")

    @property
    def identity(self) -> tuple[str, str, str, bool, bool, str]:
        """All that joining looks at: form (which names the seal), size, sex, held by bead or barb, swivel, profile."""
        length = self.size_m if self.form in MEASURED_FORMS else self.tube_m
        size = self.size if length is None else f"{length * 1000:.2f}"
        return (self.form, size, self.gender, self.bead or self.barb, self.swivel, self.profile_id or "")

    def faults(self) -> Iterator[Fault]:
        """A size its form does not know, a sex missing or wrong, a role mistyped as a name, a profile out of place."""
        if self.form in MEASURED_FORMS:
            advice = _bad_length(self.form, self.size)
        elif self.form in PROFILED_FORMS or self.form == "unknown":
            advice = _bad_tube(self.form, self.size)
        else:
            advice = size_fault(self.form, self.size)
        if advice is not None:
            yield Fault(advice, ("size",))
        elif self.bore_m is not None and (wide := self._outside_m) is not None and self.bore_m > wide + 1e-9:
            yield Fault(f"a bore of {self.bore_m.text} is wider than its end: {wide * 1000:.4g} mm", ("bore",))
        if self.form in SEXED_FORMS and self.sex is None:
            yield Fault(f"an end of form '{self.form}' needs its sex: male or female", ("sex",))
        of_form = SEX_OF_FORM.get(self.form, SLEEVE_SEX.get(self.form))
        if of_form is not None and self.sex not in (None, of_form):
            yield Fault(f"an end of form '{self.form}' is always {of_form}", ("sex",))
        meant = next((word for word in _NAMED if self.role_given is None and _mistyped(self.name, word)), None)
        if meant is not None and self.name not in _NAMED:
            text = f"'{self.name}' is none of {', '.join(_NAMED)}; did you mean '{meant}'? Another name needs its role"
            yield Fault(f"{text}, like role: either", ("name",))
        if self.profile is not None and self.form not in PROFILED_FORMS:
            text = f"an end of form '{self.form}' has no profile (these do: {', '.join(sorted(PROFILED_FORMS))})"
            yield Fault(text, ("profile",))


def _mistyped(name: str, word: str) -> bool:
    """Whether a name is a word with one letter too many, too few, wrong or changed with the next, or in capitals."""
    typed = name.lower()
    if typed == word or min(len(typed), len(word)) < 2:
        return typed == word != name
    if len(typed) != len(word):
        longer, shorter = sorted((typed, word), key=len, reverse=True)
        return any(longer[:k] + longer[k + 1 :] == shorter for k in range(len(longer)))
    wrong = [k for k, (a, b) in enumerate(zip(typed, word, strict=True)) if a != b]
    swapped = len(wrong) == 2 and typed[wrong[0]] == word[wrong[1]] and typed[wrong[1]] == word[wrong[0]]
    return len(wrong) == 1 or (swapped and wrong[1] == wrong[0] + 1)


@lru_cache(maxsize=4096)
def _metres(size: str) -> float:
    """A length as it is written [m]: asked for again and again."""
    return float(read_figure(size, "length"))


def _bad_length(form: str, size: str) -> str | None:
    where = "outside" if form == "spigot" else "inside"
    if _DASH.fullmatch(size):
        return (
            f"'{size}' is a dash size: it names the tube of a fitting, not the {where} of {with_article(form)}; "
            f"ask how many mm its {where} is, or whether it is a thread (form: orb, flare37)"
        )
    if _FRACTION.fullmatch(size):
        return (
            f"'{size}' has no unit: ask whether it is the {where} of the {form} in inches, written '{size} in', or a "
            "pipe thread (form: npt, g, r, rc or rp)"
        )
    return _out_of_range(form, size)


def _bad_tube(form: str, size: str) -> str | None:
    """What is wrong with a size that is the measure of a tube, or a name: of a name nothing."""
    if not _BEGINS_AS_A_FIGURE.match(size):
        return None
    if _DASH.fullmatch(size):
        return f"'{size}' is a dash size: ask how many mm the tube of {_a(form)} measures, or write its maker's name"
    if _FRACTION.fullmatch(size):
        return f"'{size}' has no unit: ask whether the tube of {_a(form)} is that in inches, written '{size} in'"
    return _out_of_range(form, size)


def _a(form: str) -> str:
    """A form as one of its kind: `a coolant quick-connect`."""
    return with_article(FORM_FACTS[form].words)


def _out_of_range(form: str, size: str) -> str | None:
    try:
        length = read_figure(size, "length")
    except ValueError as error:
        return str(error)
    if not PIPE_M[0] <= length <= PIPE_M[1]:
        words = with_article(form) if form in MEASURED_FORMS else _a(form)
        return f"{words} of '{size}' is out of range: 3 mm to 200 mm"
    return None
