"""How joints speak of ends, pressures, temperatures and lengths to a customer."""

from __future__ import annotations

from typing import Final

from configurator.parts.ends import End
from configurator.standards.hose_classes import ZERO_CELSIUS_K

FORM_WORDS: Final = {
    "orb": "O-ring boss", "flare37": "37° flare", "npt": "NPT", "g": "G", "metric": "metric O-ring port",
    "hose": "hose", "spigot": "spigot", "coupler": "coupler", "neck": "filler neck",
}


def end_words(end: End) -> str:
    """An end in a customer's words: `O-ring boss -12 female`, `19 mm spigot`."""
    size = end.size_m
    if size is None:
        return f"{FORM_WORDS[end.form]} {end.size} {end.sex}"
    words = f"{size * 1000:g} mm {FORM_WORDS[end.form]}"
    return f"{words} {end.sex}" if end.form == "neck" else words


def bar_words(pressure_pa: float) -> str:
    """A pressure as `1.95 bar`."""
    return f"{pressure_pa / 1e5:.2f} bar"


def celsius_words(temperature_k: float) -> str:
    """A temperature as `125 degC`."""
    return f"{temperature_k - ZERO_CELSIUS_K:.0f} degC"


def mm_words(length_m: float) -> str:
    """A length as `19 mm`."""
    return f"{length_m * 1000:.4g} mm"
