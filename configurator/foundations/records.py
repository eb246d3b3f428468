"""The base of every model that a file is read into: frozen, and closed against unknown keys."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated, Any, Self

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, Strict, ValidationInfo, model_validator
from pydantic_core import PydanticCustomError


def _whole_cents(price: float) -> float:
    """Raises where a price has parts of a cent: rounded before it is multiplied, it would give another sum."""
    if (exact := Decimal(repr(price))) % Decimal("0.01"):
        raise PydanticCustomError("price", "{text}", {"text": f"{exact:f} is not a price: two decimals at most"})
    return price


Number = Annotated[float, Strict()]
Count = Annotated[int, Strict()]
Flag = Annotated[bool, Strict()]
Price = Annotated[float, Strict(), Field(ge=0, le=1e6, allow_inf_nan=False), AfterValidator(_whole_cents)]
"""A bare number, a whole number, true or false: nothing else is taken for one. A price is a number of whole cents."""


LEAVE_FAULTS = "leave faults"
"""Context of a reading that looks at fields alone: the reader then gathers the faults of all records."""


@dataclass(frozen=True)
class Fault:
    """Something that the fields of a record do not show one by one: a sentence, and where below it."""

    text: str
    at: tuple[str | int, ...] = ()


class Record(BaseModel):
    """A frozen record read from a file. Fields carry the unit in their name; their alias is the key."""

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        populate_by_name=False,
        hide_input_in_errors=True,
        defer_build=True,  # a model that nothing is read into costs no start-up
    )

    def faults(self) -> Iterable[Fault]:
        """What is wrong between the fields; records add their own. A comparison with NaN finds nothing."""
        return ()

    @model_validator(mode="after")
    def _no_faults(self, info: ValidationInfo) -> Self:
        found = () if info.context == LEAVE_FAULTS else tuple(self.faults())
        if found:
            context: dict[str, Any] = {"text": "; ".join(fault.text for fault in found), "faults": found}
            raise PydanticCustomError("faults", "{text}", context)
        return self
