"""Ends: one connection of a passage. What it is (form, size, sex, seal) and where it sits on the part."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BeforeValidator, Field, model_validator
from pydantic_core import PydanticCustomError

from configurator.foundations.figures import Length, Position
from configurator.foundations.records import Record
from configurator.foundations.units import read_figure
from configurator.standards.forms import FORMS, MEASURED_FORMS, SEXED_FORMS, known_size

Face = Literal["+x", "-x", "+y", "-y", "+z", "-z"]
Role = Literal["in", "out", "either", "bleed", "fill", "drain", "cap"]
Sex = Literal["male", "female"]
Form = Literal[
    "orb", "flare37", "npt", "g", "metric", "hose", "spigot", "coupler", "neck"
]
assert set(Form.__args__) == set(FORMS)  # type: ignore[attr-defined]


def _as_text(value: object) -> object:
    """A size is a name: -12 and 1/8 are read as text."""
    return str(value) if isinstance(value, int | float) and not isinstance(value, bool) else value


class FacePosition(Record):
    """Where an end's axis meets its face: the two coordinates that lie in the face, from the part's low corner."""

    x_m: Position | None = Field(default=None, alias="x")
    y_m: Position | None = Field(default=None, alias="y")
    z_m: Position | None = Field(default=None, alias="z")


class End(Record):
    """One connection: form, size, sex and, on rigid parts, the face it sits on and where."""

    name: str = Field(min_length=1, max_length=40)
    form: Form
    size: Annotated[str, BeforeValidator(_as_text)]
    sex: Sex | None = None
    role_given: Role | None = Field(default=None, alias="role")
    bead: bool = False
    barb: bool = False
    swivel: bool = False
    bore_m: Length | None = Field(default=None, alias="bore")
    face: Face | None = None
    at: FacePosition | None = None

    @property
    def role(self) -> Role:
        """What the end is for: as written, else its name where that is one of the roles, else either."""
        if self.role_given is not None:
            return self.role_given
        named: dict[str, Role] = {
            "in": "in", "out": "out", "bleed": "bleed", "fill": "fill", "drain": "drain", "cap": "cap"
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

    @model_validator(mode="after")
    def _size_suits_form(self) -> End:
        if self.form in MEASURED_FORMS:
            try:
                size = read_figure(self.size, "length")
            except ValueError as error:
                raise PydanticCustomError("size", "size: {text}", {"text": str(error)}) from None
            if not 0.003 <= size <= 0.2:
                text = f"a {self.form} of '{self.size}' is out of range: 3 mm to 200 mm"
                raise PydanticCustomError("size", "size: {text}", {"text": text})
        else:
            advice = known_size(self.form, self.size)
            if advice is not None:
                raise PydanticCustomError("size", "size: {text}", {"text": advice})
        if self.form in SEXED_FORMS and self.sex is None:
            text = f"an end of form '{self.form}' needs its sex: male or female"
            raise PydanticCustomError("sex", "{text}", {"text": text})
        return self
