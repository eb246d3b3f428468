"""Field types for the models: figures written with their unit, turned into SI as a model is built."""

from __future__ import annotations

from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from typing import Annotated, Any, Literal

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import PydanticCustomError, core_schema

from configurator.foundations.units import UNITS, Figure, read_figure

Standing = Literal["measured", "published", "common practice", "estimate"]
PIPE_M = (0.003, 0.2)
"""The least and the most that a hose, a pipe or a neck may measure; wider than any that a car has."""

STANDINGS = ("measured", "published", "common practice", "estimate")


class UnitField:
    """Annotation for a field: which kind of quantity, and the bounds it must keep (SI)."""

    def __init__(
        self, kind: str, *, above: float | None = None, least: float | None = None, most: float | None = None
    ):
        self.kind = kind
        self.above = above
        self.least = least
        self.most = most

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> core_schema.CoreSchema:
        return core_schema.no_info_plain_validator_function(
            self._read, serialization=core_schema.plain_serializer_function_ser_schema(float)
        )

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        spellings = ", ".join(UNITS[self.kind])
        text = {"type": "string", "description": f"{self.kind} with its unit: {spellings}"}
        sourced = {
            "type": "object",
            "properties": {
                "value": text,
                "standing": {"enum": list(STANDINGS)},
                "source": {"type": "string"},
            },
            "required": ["value"],
            "additionalProperties": False,
        }
        return {"anyOf": [text, sourced]}

    def _read(self, value: object) -> Figure:
        if isinstance(value, Figure):
            return value
        standing: str | None = None
        source: str | None = None
        if isinstance(value, dict):
            value, standing, source = _sourced(value)
        try:
            figure = read_figure(value, self.kind)
        except ValueError as error:
            raise PydanticCustomError("figure", "{text}", {"text": str(error)}) from None
        self._keep_bounds(figure)
        return Figure(float(figure), figure.text, standing, source)

    def _keep_bounds(self, figure: Figure) -> None:
        for broken, words, bound, rounding in (
            (self.above is not None and figure <= self.above, "more than", self.above, ROUND_CEILING),
            (self.least is not None and figure < _less(self.least), "at least", self.least, ROUND_CEILING),
            (self.most is not None and figure > -_less(-self.most), "at most", self.most, ROUND_FLOOR),
        ):
            if broken and bound is not None:
                shown = self._told(bound, figure.unit, rounding)
                text = f"'{figure.text}' is out of range: it must be {words} {shown}"
                raise PydanticCustomError("figure", "{text}", {"text": text})

    def _told(self, bound: float, written: str, rounding: str) -> str:
        """A bound in the unit that was written, and where that is another in the usual one of its kind: the first, but
        metres for what is metres long.

        Rounded to the side on which it is allowed.
        """
        units = UNITS[self.kind]
        first = "m" if self.kind == "length" and abs(bound) >= 1 else next(iter(units))
        shown, usual = (
            f"{_written_out((bound - units[one][1]) / units[one][0], rounding)} {one}" for one in (written, first)
        )
        return shown if shown == usual or bound == 0 else f"{shown} ({usual})"


class StandstillField(UnitField):
    """A time that a car stands, written `5 min standstill`: a duration and the word."""

    def __init__(self) -> None:
        super().__init__("time", above=0.0, most=24 * 3600.0)

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {"type": "string", "description": "how long the car stands, like 5 min standstill"}

    def _read(self, value: object) -> Figure:
        if isinstance(value, Figure):
            return value
        time, _, word = value.strip().rpartition(" ") if isinstance(value, str) else ("", "", "")
        if word != "standstill" or not time:
            shown = f"'{value}'" if isinstance(value, str) else str(value)
            text = f"{shown} is not a time and what the car does in it: write it like 5 min standstill"
            raise PydanticCustomError("figure", "{text}", {"text": text})
        return super()._read(time)


def _less(bound: float) -> float:
    """A bound less what a unit's factor and offset may add to it as noise."""
    return bound - 1e-9 * max(abs(bound), 1e-3)


def _written_out(number: float, rounding: str) -> str:
    """A number to six digits without a power of ten; its own noise is rounded away first."""
    exact = Decimal(f"{number:.12g}")
    if exact == 0:
        return "0"
    return f"{exact.quantize(Decimal(1).scaleb(exact.adjusted() - 5), rounding).normalize():f}"


def _sourced(value: dict[Any, Any]) -> tuple[object, str | None, str | None]:
    """Take `{value: 82 %, standing: measured, source: key}` apart."""
    unknown = sorted(set(map(str, value)) - {"value", "standing", "source"})
    if unknown or "value" not in value:
        text = "a figure with its standing is written {value: 82 %, standing: measured, source: key}"
        raise PydanticCustomError("figure", "{text}", {"text": text})
    standing = value.get("standing")
    if standing is not None and standing not in STANDINGS:
        text = f"standing '{standing}' is not known (allowed: {', '.join(STANDINGS)})"
        raise PydanticCustomError("figure", "{text}", {"text": text})
    source = value.get("source")
    return value["value"], standing, None if source is None else str(source)


Length = Annotated[Figure, UnitField("length", above=0.0, most=100.0)]
PipeBore = Annotated[Figure, UnitField("length", least=PIPE_M[0], most=PIPE_M[1])]
ZoneSize = Annotated[Figure, UnitField("length", above=0.0, most=10.0)]
Position = Annotated[Figure, UnitField("length", least=-100.0, most=100.0)]
Back = Annotated[Figure, UnitField("length", least=-3.0, most=30.0)]
Across = Annotated[Figure, UnitField("length", least=-5.0, most=5.0)]
Up = Annotated[Figure, UnitField("length", least=0.0, most=5.0)]
"""Places in a car or lorry and what is carried before it: back of the bumper, right of the middle, up from the road."""

Area = Annotated[Figure, UnitField("area", above=0.0)]
Volume = Annotated[Figure, UnitField("volume", above=0.0, most=10.0)]
Mass = Annotated[Figure, UnitField("mass", above=0.0, most=10_000.0)]
GaugePressure = Annotated[Figure, UnitField("pressure", least=0.0, most=1e8)]
Boost = Annotated[Figure, UnitField("pressure", least=0.0, most=1e6)]
"""No engine of a car or lorry has more (common practice, no source)."""

PressureLoss = Annotated[Figure, UnitField("pressure", least=0.0, most=1e7)]
Temperature = Annotated[Figure, UnitField("temperature", least=150.0, most=1500.0)]
AirTemperature = Annotated[Figure, UnitField("temperature", least=213.15, most=333.15)]
Altitude = Annotated[Figure, UnitField("length", least=-500.0, most=6000.0)]
TemperatureDifference = Annotated[Figure, UnitField("temperature difference")]
Power = Annotated[Figure, UnitField("power", least=100.0, most=1e7)]
"""From less than a moped's engine to more than any lorry's (common practice, no source)."""

VolumeFlow = Annotated[Figure, UnitField("volume flow", least=0.0)]
MassFlow = Annotated[Figure, UnitField("mass flow", above=0.0)]
Speed = Annotated[Figure, UnitField("speed", least=0.0)]
Duration = Annotated[Figure, UnitField("time", above=0.0)]
Standstill = Annotated[Figure, StandstillField()]
Share = Annotated[Figure, UnitField("share", least=0.0, most=1.0)]
Current = Annotated[Figure, UnitField("current", least=0.0)]
RotationalSpeed = Annotated[Figure, UnitField("rotational speed", above=0.0)]
SpecificConsumption = Annotated[Figure, UnitField("specific consumption", above=0.0)]
ConductancePerMass = Annotated[Figure, UnitField("conductance per mass", above=0.0)]
ConductancePerArea = Annotated[Figure, UnitField("conductance per area", above=0.0)]
SpecificHeat = Annotated[Figure, UnitField("specific heat", above=0.0)]
