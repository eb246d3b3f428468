"""The forms of ends as the trade knows them: what each is called, how it seals, what it is made for.

A thread is not an identity: O-ring boss (SAE J1926-1) and 37° flare (SAE J514) share theirs and seal apart. So an
end is form, size, sex and seal, and the form names the seal. `threads.py` says how far each table of threads is to
be trusted. Published scopes: SAE J2044 (quick-connects for liquid fuel and its vapour alone), SAE J3207 (coolant
quick-connects, to 206 kPa and 125 degC), SAE J20 (coolant hose, 175 degC for its hottest class). Common practice,
no source: what EPDM rings and charge couplers stand.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from configurator.standards.hose_classes import ZERO_CELSIUS_K
from configurator.standards.threads import THREADS

_FRACTION: Final = re.compile(r"(?:(\d+)[- ])?(\d+/[1-9]\d*)")
_DASH: Final = re.compile(r"-\d+")
_NUMBER: Final = re.compile(r"\d+(\.\d+)?")
_METRIC: Final = re.compile(r"[mM]\d+(\.\d+)?(\s*[xX×*]\s*\d+(\.\d+)?)?")

EVERY_MEDIUM: Final = frozenset({"coolant", "charge", "fuel"})
COOLANT_ONLY: Final = frozenset({"coolant"})


@dataclass(frozen=True)
class FormFacts:
    """A form of end: its words, how it seals, with a rubber ring or without, what may flow in it and what it stands.

    `hottest_k` [K] and `working_pa_gauge` [Pa gauge] are limits of the form itself; None where it sets none.
    """

    words: str
    seal: str
    ring: bool = False
    media: frozenset[str] = EVERY_MEDIUM
    hottest_k: float | None = None
    working_pa_gauge: float | None = None


def _celsius(temperature_c: float) -> float:
    return temperature_c + ZERO_CELSIUS_K


FORM_FACTS: Final = {
    "orb": FormFacts("O-ring boss", "O-ring in a chamfer at the port mouth", ring=True),
    "flare37": FormFacts("37° flare", "37° metal cone"),
    "npt": FormFacts("NPT", "sealant on a 60° tapered thread"),
    "g": FormFacts("G", "washer or O-ring on the port face", ring=True),
    "metric": FormFacts("metric O-ring port", "O-ring in a chamfer at the port mouth", ring=True),
    "hose": FormFacts("hose", "clamp", media=COOLANT_ONLY, hottest_k=_celsius(175)),
    "spigot": FormFacts("spigot", "clamp"),
    "coupler": FormFacts("coupler", "clamp", media=frozenset({"charge"}), hottest_k=_celsius(225)),
    "neck": FormFacts("filler neck", "seal of the cap", media=COOLANT_ONLY),
    "flare45": FormFacts("45° flare", "45° metal cone"),
    "orfs": FormFacts("O-ring face seal", "O-ring in a flat face", ring=True),
    "r": FormFacts("R", "sealant on a 55° tapered thread"),
    "rc": FormFacts("Rc", "sealant on a 55° tapered thread"),
    "rp": FormFacts("Rp", "sealant on a 55° thread"),
    "metric-flat": FormFacts("metric flat-seal port", "washer or ring on a flat port face", ring=True),
    "qc-coolant": FormFacts("coolant quick-connect", "O-ring on a tube", True, COOLANT_ONLY, _celsius(125), 206e3),
    "qc-fuel": FormFacts("fuel quick-connect", "O-ring on a tube", True, frozenset({"fuel"})),
    "vband": FormFacts("V-band flange", "O-ring or gasket between flanges", ring=True),
    "flange": FormFacts("bolted flange", "O-ring or gasket between flanges", ring=True),
    "unknown": FormFacts("unknown end", "unknown"),
}
FORMS: Final = tuple(FORM_FACTS)

MEASURED_FORMS: Final = frozenset({"hose", "spigot", "coupler", "neck"})
"""Forms whose size is a length: hose and coupler by inside, spigot by outside diameter, neck by mouth."""

PROFILED_FORMS: Final = frozenset({"qc-coolant", "qc-fuel", "vband", "flange"})
"""Forms that differ from maker to maker: the size is a tube diameter or a name, the profile tells makers apart."""

SEXED_FORMS: Final = frozenset(
    {"orb", "flare37", "flare45", "orfs", "npt", "g", "metric", "metric-flat", "neck", "qc-coolant", "qc-fuel"}
)
SEX_OF_FORM: Final = {"r": "male", "rc": "female", "rp": "female"}
"""ISO 7 names the sex with the form."""

SLEEVE_SEX: Final = {"hose": "female", "coupler": "female", "spigot": "male"}
"""What goes over and what goes under; nobody says it, and the opposite is a slip."""

RINGS: Final = {
    "coolant": ("EPDM", _celsius(150)),
    "charge": ("FKM", _celsius(200)),
    "fuel": ("FKM", _celsius(200)),
}
"""Rubber of rings by medium and what it stands [K]: EPDM for glycol, FKM for oil mist and fuel. Common practice."""


def as_typed(size: str) -> str:
    """A measured size as the text of an end has it, its unit close by; a whole inch stays apart from its fraction."""
    return re.sub(r" (?=[a-z])", "", size)


def size_fault(form: str, size: str) -> str | None:
    """None where `size` is a size of `form`; else a sentence with the nearest allowed one."""
    if form not in THREADS:
        return None
    allowed = tuple(THREADS[form])
    if size in allowed:
        return None
    pitches = [name for name in allowed if name.startswith(f"{size}x")]
    if pitches:
        return (
            f"'{size}' names no pitch: ask for it, measured from crest to crest (a port of that size is "
            f"{' or '.join(pitches)})"
        )
    return f"'{size}' is not a size of form '{form}'{_meant(size, allowed)} (allowed: {', '.join(allowed)})"


def _meant(size: str, allowed: Sequence[str]) -> str:
    """The size that is meant: the same written otherwise, the same tube as a dash size or in inches; of a dash size
    that is none those next to it.

    A size of another kind that names no tube of this form gets none: what looks like it is another size.
    """
    plain = re.sub(r"\s*(in|inch|\")$", "", size.strip())
    inches = _FRACTION.fullmatch(plain)
    if inches and allowed[0].startswith("-"):
        dash = f"-{16 * (int(inches[1] or 0) + Fraction(inches[2]))}"
        return f"; dash sizes are a tube's sixteenths of an inch: did you mean '{dash}'?" if dash in allowed else ""
    if _DASH.fullmatch(plain) and "1/2" in allowed:
        tube = Fraction(-int(plain), 16)
        same = [name for name in allowed if sum(map(Fraction, name.split("-"))) == tube]
        return f"; a dash size is a tube's sixteenths of an inch: did you mean '{same[0]}'?" if same else ""
    if _DASH.fullmatch(plain) and allowed[0].startswith("-"):
        off = {name: abs(int(name) - int(plain)) for name in allowed}
        near = [f"'{name}'" for name in allowed if off[name] == min(off.values()) <= 2]
        return f"; did you mean {' or '.join(near)}?" if near else ""
    written = {_bare(name): name for name in allowed}
    found = written.get(_bare(plain)) or written.get(_bare(f"-{plain}"))
    if found is None and not any(kind.fullmatch(plain) for kind in (_FRACTION, _DASH, _NUMBER, _METRIC)):
        found = next(iter(difflib.get_close_matches(size, allowed, n=1, cutoff=0.4)), None)
    return f"; did you mean '{found}'?" if found else ""


def _bare(size: str) -> str:
    """A size in one spelling: capitals, a dash for any space, no space about the X before a pitch."""
    return re.sub(r"[\s-]+", "-", size.strip().upper()).replace("-X-", "X").replace("*", "X")
