"""The forms of ends that can be joined, and which sizes each knows.

Threads: unified inch threads of the O-ring boss (SAE J1926-1) and the 37° flare (SAE J514) by dash size, pipe
threads NPT (ASME B1.20.1) and G (ISO 228-1) by pipe size, metric O-ring ports (ISO 6149-1). `threads.py` says
how far each table is to be trusted.
"""

from __future__ import annotations

import difflib
from typing import Final

from configurator.standards.threads import THREADS

FORMS: Final = ("orb", "flare37", "npt", "g", "metric", "hose", "spigot", "coupler", "neck")
"""O-ring boss, 37° flare, NPT, G (parallel pipe), metric O-ring port, hose, spigot, coupler, filler neck."""

MEASURED_FORMS: Final = frozenset({"hose", "spigot", "coupler", "neck"})
"""Forms whose size is a length: hose and coupler by inside, spigot by outside diameter, neck by mouth."""

SEXED_FORMS: Final = frozenset({"orb", "flare37", "npt", "g", "metric", "neck"})

def known_size(form: str, size: str) -> str | None:
    """None where `size` is a size of the thread form `form`; else a sentence with the nearest allowed one."""
    allowed = tuple(THREADS[form])
    if size in allowed:
        return None
    close = difflib.get_close_matches(size, allowed, n=1, cutoff=0.4)
    nearest = f"; did you mean '{close[0]}'?" if close else ""
    return f"'{size}' is not a size of form '{form}'{nearest} (allowed: {', '.join(allowed)})"
