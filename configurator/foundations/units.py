"""Figures as people write them (`620 mm`, `1 1/2 in`, `20 psi`, `35 degC`) and as formulas need them (SI).

Units are read here and written in `presentation`; everything between uses SI floats. Factors are exact by
definition (inch 25.4 mm, pound-force 4.4482216152605 N, US gallon 231 cubic inches, metric horsepower
75 kgf m/s, conventional metre of water 9806.65 Pa, with its inch and foot); published: NIST SP 811 appendix B. The
tests hold every one of them against a units library.
"""

from __future__ import annotations

import difflib
import re
import unicodedata
from typing import Final

_INCH: Final = 0.0254
_POUND: Final = 0.45359237
_PSI: Final = 4.4482216152605 / _INCH**2
_US_GALLON: Final = 231 * _INCH**3
_MECHANICAL_HP: Final = 550 * 0.3048 * 4.4482216152605
STANDARD_GRAVITY: Final = 9.80665
"""[m/s2]; published: ISO 80000-3."""

_METRIC_HP: Final = 75 * STANDARD_GRAVITY
_WATER_M: Final = 1000 * STANDARD_GRAVITY
_HOUR: Final = 3600.0
ZERO_CELSIUS_K: Final = 273.15
_MILE: Final = 1609.344

# kind of quantity -> spelling -> (factor, offset): SI = figure * factor + offset
UNITS: Final[dict[str, dict[str, tuple[float, float]]]] = {
    "length": {
        "mm": (1e-3, 0),
        "cm": (1e-2, 0),
        "m": (1, 0),
        "in": (_INCH, 0),
        "inch": (_INCH, 0),
        "ft": (0.3048, 0),
    },
    "area": {"mm2": (1e-6, 0), "cm2": (1e-4, 0), "m2": (1, 0), "in2": (_INCH**2, 0)},
    "volume": {
        "L": (1e-3, 0),
        "l": (1e-3, 0),
        "litre": (1e-3, 0),
        "litres": (1e-3, 0),
        "ml": (1e-6, 0),
        "mL": (1e-6, 0),
        "cc": (1e-6, 0),
        "cm3": (1e-6, 0),
        "m3": (1, 0),
        "US gal": (_US_GALLON, 0),
        "US qt": (_US_GALLON / 4, 0),
        "in3": (_INCH**3, 0),
    },
    "mass": {"kg": (1, 0), "g": (1e-3, 0), "lb": (_POUND, 0), "oz": (_POUND / 16, 0)},
    "pressure": {
        "bar": (1e5, 0),
        "mbar": (1e2, 0),
        "kPa": (1e3, 0),
        "Pa": (1, 0),
        "psi": (_PSI, 0),
        "MPa": (1e6, 0),
        "mH2O": (_WATER_M, 0),
        "mmH2O": (_WATER_M * 1e-3, 0),
        "inH2O": (_WATER_M * _INCH, 0),
        "ftH2O": (_WATER_M * 0.3048, 0),
    },
    "temperature": {
        "degC": (1, ZERO_CELSIUS_K),
        "°C": (1, ZERO_CELSIUS_K),
        "K": (1, 0),
        "degF": (5 / 9, 459.67 * 5 / 9),
        "°F": (5 / 9, 459.67 * 5 / 9),
    },
    "temperature difference": {"K": (1, 0)},
    "power": {
        "kW": (1e3, 0),
        "W": (1, 0),
        "hp": (_MECHANICAL_HP, 0),
        "bhp": (_MECHANICAL_HP, 0),
        "PS": (_METRIC_HP, 0),
        "metric hp": (_METRIC_HP, 0),
    },
    "volume flow": {
        "L/min": (1e-3 / 60, 0),
        "l/min": (1e-3 / 60, 0),
        "lpm": (1e-3 / 60, 0),
        "L/h": (1e-3 / _HOUR, 0),
        "US gpm": (_US_GALLON / 60, 0),
        "US gal/min": (_US_GALLON / 60, 0),
        "m3/h": (1 / _HOUR, 0),
        "m3/s": (1, 0),
        "cfm": (0.3048**3 / 60, 0),
    },
    "mass flow": {
        "kg/s": (1, 0),
        "kg/min": (1 / 60, 0),
        "kg/h": (1 / _HOUR, 0),
        "lb/min": (_POUND / 60, 0),
        "g/s": (1e-3, 0),
    },
    "speed": {"m/s": (1, 0), "km/h": (1 / 3.6, 0), "mph": (_MILE / _HOUR, 0)},
    "time": {"s": (1, 0), "min": (60, 0), "h": (_HOUR, 0)},
    "share": {"%": (1e-2, 0)},
    "current": {"A": (1, 0), "mA": (1e-3, 0)},
    "rotational speed": {"rpm": (1 / 60, 0), "rev/min": (1 / 60, 0)},
    "specific consumption": {"g/kWh": (1e-3 / 3.6e6, 0), "lb/hp/h": (_POUND / (_MECHANICAL_HP * _HOUR), 0)},
    "heat capacity": {"J/K": (1, 0), "kJ/K": (1e3, 0)},
    "specific heat": {"J/kg/K": (1, 0), "kJ/kg/K": (1e3, 0)},
    "conductance per mass": {"W/K/kg": (1, 0)},
    "conductance per area": {"W/K/m2": (1, 0)},
    "conductivity": {"W/m/K": (1, 0)},
}

_AT_THE_WHEELS: Final = frozenset({"whp", "rwhp", "fwhp", "awhp", "wheel hp", "hp at the wheels", "wkw", "rwkw", "wps"})
"""Power after gearbox and axles. The air of the engine follows from that at its crank, which is more."""

_MILES_AN_HOUR: Final = frozenset({"mi/h", "mi/hr", "mi/hour", "mile/h", "miles/h", "mi per h", "miles per hour"})

_FAR_M: Final = {
    **dict.fromkeys(("mi", "mile", "miles"), _MILE),
    "km": 1000.0,
    **dict.fromkeys(("yd", "yard", "yards"), 0.9144),
}
"""Lengths that no part or gap is told in, for what to write in their place."""

_MARKS: Final = {'"': "in", "\u2033": "in", "\u201d": "in", "''": "in", "'": "ft", "\u2032": "ft", "\u2019": "ft"}

_FRACTION_SIGN = re.compile("[\u00bc-\u00be\u2150-\u215e]")
_NUMBER = re.compile(
    r"""^\s*(?P<sign>[-+]?)\s*(?:
        (?P<whole>[0-9]+)[ ]+(?P<num2>[0-9]+)/(?P<den2>[0-9]+)      # 1 1/2
      | (?P<num>[0-9]+)/(?P<den>[0-9]+)                           # 3/4
      | (?P<decimal>[0-9]+(?:\.[0-9]+)?|\.[0-9]+)                    # 620 or 2.5
    )\s*(?P<unit>[^0-9\s./+-].*?)\s*$""",
    re.VERBOSE,
)


class Figure(float):
    """A figure in SI that remembers how its user wrote it and where the value comes from."""

    text: str
    standing: str | None
    source: str | None

    def __new__(
        cls, si: float, text: str = "", standing: str | None = None, source: str | None = None
    ) -> Figure:
        """`si` in the SI unit of its kind; `text` as typed; `standing` and `source` where they were given."""
        figure = super().__new__(cls, si)
        figure.text = text
        figure.standing = standing
        figure.source = source
        return figure

    @property
    def unit(self) -> str:
        """The unit that its user wrote; nothing where nobody wrote the figure."""
        match = _NUMBER.match(self.text)
        return "" if match is None else " ".join(match["unit"].split())

    def __reduce__(self) -> tuple[type[Figure], tuple[float, str, str | None, str | None]]:
        return (Figure, (float(self), self.text, self.standing, self.source))


def read_figure(text: object, kind: str) -> Figure:
    """The figure that a user wrote, in SI.

    `text` is what stands in the file; `kind` a key of `UNITS`. Raises ValueError with a sentence that says
    what was found, what is allowed and the nearest allowed spelling.
    """
    allowed = UNITS[kind]
    example = f"write it like '12 {next(iter(allowed))}'"
    one = f"{'an' if kind[0] in 'aeiou' else 'a'} {kind}"
    if isinstance(text, bool) or not isinstance(text, str | int | float):
        raise ValueError(f"{one} is expected here, {example}")
    if isinstance(text, int | float):
        raise ValueError(_no_unit(text, kind))
    if len(text) > 60:
        raise ValueError(f"too long for {one}; {example}")
    if re.search(r"[0-9],[0-9]", text):
        raise ValueError(comma_words(text))
    if re.search(r"[0-9][eE][-+]?[0-9]", text):
        raise ValueError(f"'{text}' has a power of ten; write the number out, as '1500' for 1.5e3")
    if fraction := _FRACTION_SIGN.search(text):
        sign = unicodedata.normalize("NFKC", fraction[0]).replace("\u2044", "/")
        meant = f"{text[: fraction.start()].rstrip()} {sign}{text[fraction.end() :]}".strip()
        raise ValueError(f"'{text}' has a fraction of one letter; write '{meant}'")
    if dashed := re.fullmatch(r"\s*([0-9]+)\s*-\s*([0-9]+/[0-9]+.*)", text):
        raise ValueError(f"'{text}' has a dash between inch and fraction; write '{dashed[1]} {dashed[2].rstrip()}'")
    match = _NUMBER.match(text)
    if match is None:
        if re.fullmatch(r"\s*[-+]?[0-9./ ]+\s*", text):
            raise ValueError(_no_unit(text.strip(), kind))
        raise ValueError(f"'{text}' is not {one}; {example}")
    unit = " ".join(match["unit"].split())
    if unit not in allowed:
        advice = _advice(unit, kind)
        if kind == "temperature difference" and unit in UNITS["temperature"]:
            advice += f"; '{text.strip()}' as a rise is '{_magnitude(match) * UNITS['temperature'][unit][0]:.4g} K'"
        if kind == "length" and unit in _FAR_M:
            advice = f"; '{text.strip()}' is '{_magnitude(match) * _FAR_M[unit]:.6g} m'"
        raise ValueError(f"'{unit}' is not a unit of {kind}{advice} (allowed: {', '.join(allowed)})")
    factor, offset = allowed[unit]
    si = _magnitude(match) * factor + offset
    if kind == "temperature" and si < 0:
        raise ValueError(f"'{text}' is below absolute zero")
    return Figure(si, text.strip())


def celsius(kelvin: float) -> float:
    """Temperature in degrees Celsius [°C] of any `kelvin` [K]."""
    return kelvin - ZERO_CELSIUS_K


def in_unit(value: float, unit: str, other: str, kind: str) -> float:
    """How many [-] of the `other` unit are as much as a `value` [-] of one `unit` of a `kind`.

    Any finite value; both units are keys of `UNITS[kind]`.
    """
    factor, offset = UNITS[kind][unit]
    to_factor, to_offset = UNITS[kind][other]
    return (value * factor + offset - to_offset) / to_factor


def comma_words(text: str) -> str:
    """The sentence for a `text` with a comma, which may part decimals or thousands: only its writer knows."""
    point, thousands = text.strip().replace(",", "."), re.fullmatch(r"[^,]*[0-9],[0-9]{3}(?![0-9])[^,]*", text)
    shown = point if point.count(".") == 1 else "1.5"
    other = f", or '{text.strip().replace(',', '')}' where the comma parts thousands" if thousands else ""
    return f"'{text}' has a decimal comma; write a decimal point, as in '{shown}'{other}"


def _no_unit(number: float | str, kind: str) -> str:
    """A share below one that a file holds as a number is a part of one; of one that was typed only its writer knows."""
    spellings = list(UNITS[kind])
    part = float(number) if kind == "share" and re.fullmatch(r"0?\.[0-9]+", str(number)) else 0.0
    like = f"write it like '{f'{100 * part:g}' if part else number} {spellings[0]}'"
    if part and isinstance(number, str):
        like = f"say '{number} %' or '{100 * part:g} %'"
    return f"'{number}' has no unit; {like} (allowed: {', '.join(spellings)})"


def _magnitude(match: re.Match[str]) -> float:
    sign = -1.0 if match["sign"] == "-" else 1.0
    if match["decimal"] is not None:
        return sign * float(match["decimal"])
    whole, numerator, denominator = (
        match["whole"] or "0",
        match["num2"] or match["num"],
        match["den2"] or match["den"],
    )
    if int(denominator) == 0:
        raise ValueError(f"'{match.string.strip()}' divides by zero")
    return sign * (int(whole) + int(numerator) / int(denominator))


def _advice(unit: str, kind: str) -> str:
    if unit in {"gpm", "gal", "gal/min", "qt", "gallon", "gallons"}:
        return f"; say which gallon: 'US {unit}' if it is the US one"
    if unit in {"psig", "barg", "psia", "bara"}:
        return "; pressures here are gauge already: write 'psi' or 'bar' with the gauge figure"
    if kind == "power" and unit.lower() in _AT_THE_WHEELS:
        return (
            "; power at the crank is wanted, measured or as stated by the maker: power at the wheels lacks what the "
            "drivetrain takes"
        )
    if kind == "speed" and unit.lower() in _MILES_AN_HOUR:
        return "; did you mean 'mph'?"
    if kind == "length" and unit in _MARKS:
        return f"; did you mean '{_MARKS[unit]}'?"
    if kind == "pressure" and unit == "m":
        return ", it is one of length; for metres of head of water write 'mH2O'"
    for other, spellings in UNITS.items():
        if other != kind and unit in spellings:
            return f", it is one of {other}"
    folded = {spelling.lower().replace("°", "deg"): spelling for spelling in UNITS[kind]}
    if kind == "temperature" and unit.lower() in {"c", "f"}:
        return f"; did you mean 'deg{unit.upper()}'?"
    if kind == "temperature" and unit.lower() in {"deg", "degree", "degrees"}:
        return "; say of which scale: 'degC' or 'degF'"
    if unit.lower() in folded:
        return f"; did you mean '{folded[unit.lower()]}'?"
    # one wrong letter of two: to leave it out would be nearer by count
    letter = [name for name in UNITS[kind] if len(name) == len(unit) == 2 and name[0] == unit[0]]
    close = letter or difflib.get_close_matches(unit, UNITS[kind], n=1, cutoff=0.5)
    return f"; did you mean '{close[0]}'?" if close else ""
