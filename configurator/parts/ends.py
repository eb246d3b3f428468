"""Ends: one connection of a passage. What it is (form, size, sex, seal) and where it sits on the part."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic import BeforeValidator, Field, WithJsonSchema

from configurator.foundations.figures import Length, Position
from configurator.foundations.records import Fault, Flag, Record
from configurator.foundations.units import read_figure
from configurator.standards.forms import FORMS, MEASURED_FORMS, SEXED_FORMS, known_size

Face = Literal["+x", "-x", "+y", "-y", "+z", "-z"]
Role = Literal["in", "out", "either", "bleed", "fill", "drain", "cap"]
Sex = Literal["male", "female"]
Form = Literal["orb", "flare37", "npt", "g", "metric", "hose", "spigot", "coupler", "neck"]
assert set(Form.__args__) == set(FORMS)  # type: ignore[attr-defined]


def _as_text(value: object) -> object:
    """A size is a name: -12 and 1/8 are read as text."""
    return str(value) if isinstance(value, int | float) and not isinstance(value, bool) else value


EndSize = Annotated[str, BeforeValidator(_as_text), WithJsonSchema({"type": ["string", "number"]})]


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
    bore_m: Length | None = Field(default=None, alias="bore")
    face: Face | None = None
    at: FacePosition | None = None

    @property
    def role(self) -> Role:
        """What the end is for: as written, else its name where that is one of the roles, else either."""
        if self.role_given is not None:
            return self.role_given
        named: dict[str, Role] = {
            "in": "in",
            "out": "out",
            "bleed": "bleed",
            "fill": "fill",
            "drain": "drain",
            "cap": "cap",
        }
        return named.get(self.name, "either")

    @property
    def size_m(self) -> float | None:
        """The measured size of a hose, spigot, coupler or neck [m]; None where the size is a name."""
        return float(read_figure(self.size, "length")) if self.form in MEASURED_FORMS else None

    @property
    def identity(self) -> tuple[str, str, str, bool, bool]:
        """All that joining looks at: form, size, sex, held by a bead or barb, swivel."""
        size = f"{(self.size_m or 0.0) * 1000:.2f}" if self.form in MEASURED_FORMS else self.size
        return (self.form, size, self.sex or "none", self.bead or self.barb, self.swivel)

    def faults(self) -> Iterator[Fault]:
        """A size that its form does not know, a thread without its sex."""
        advice = (
            _bad_length(self.form, self.size)
            if self.form in MEASURED_FORMS
            else known_size(self.form, self.size)
        )
        if advice is not None:
            yield Fault(advice, ("size",))
        if self.form in SEXED_FORMS and self.sex is None:
            yield Fault(f"an end of form '{self.form}' needs its sex: male or female", ("sex",))


def _bad_length(form: str, size: str) -> str | None:
    try:
        length = read_figure(size, "length")
    except ValueError as error:
        return str(error)
    if not 0.003 <= length <= 0.2:
        return f"a {form} of '{size}' is out of range: 3 mm to 200 mm"
    return None
