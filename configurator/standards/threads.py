"""Threads and bores by size name.

Standing: dash threads published (SAE J1926-1, J514 thread charts; -4 and the shared-thread statement checked,
the rest from memory of the same charts); 45° flare (SAE J512) published for the sizes it shares with 37° and for
-12, from memory for -6; face seal (SAE J1453) from memory, three of its threads seen in an inch chart; pipe
threads published (ASME B1.20.1, ISO 228-1, ISO 7-1); metric ports published (ISO 6149-1 size list). Through-bores
of fittings are from memory of catalogues: a part's own `bore` comes first.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final


@dataclass(frozen=True)
class Thread:
    """Major diameter and pitch [mm], usual through-bore of a fitting of that size [mm], flank angle [deg]."""

    designation: str
    major_mm: float
    pitch_mm: float
    bore_mm: float
    flank_deg: float = 60.0
    tapered: bool = False

    @property
    def minor_mm(self) -> float:
        """Minor diameter [mm] of the basic profile: D - 1.0825 p (60° flanks), D - 1.2808 p (55°)."""
        return self.major_mm - DEPTH_OVER_PITCH[self.flank_deg] * self.pitch_mm


DEPTH_OVER_PITCH: Final = {60.0: 1.0825, 55.0: 1.2808}
"""Twice the basic thread depth over the pitch. Published: ISO 68-1 (60°: 2 × 5/8 H), ISO 228-1 (55°)."""


DASH_THREADS: Final = {
    "-4": Thread("7/16-20 UNF", 11.11, 1.270, 4.4),
    "-5": Thread("1/2-20 UNF", 12.70, 1.270, 5.9),
    "-6": Thread("9/16-18 UNF", 14.29, 1.411, 7.5),
    "-8": Thread("3/4-16 UNF", 19.05, 1.588, 9.9),
    "-10": Thread("7/8-14 UNF", 22.23, 1.814, 12.3),
    "-12": Thread("1-1/16-12 UN", 26.99, 2.117, 15.5),
    "-14": Thread("1-3/16-12 UN", 30.16, 2.117, 18.4),
    "-16": Thread("1-5/16-12 UN", 33.34, 2.117, 21.4),
    "-20": Thread("1-5/8-12 UN", 41.28, 2.117, 27.4),
}
"""O-ring boss and 37° flare share these; the seal, not the thread, tells them apart."""

FLARE45_THREADS: Final = {
    "-4": DASH_THREADS["-4"],
    "-5": DASH_THREADS["-5"],
    "-6": Thread("5/8-18 UNF", 15.88, 1.411, 7.5),
    "-8": DASH_THREADS["-8"],
    "-10": DASH_THREADS["-10"],
    "-12": Thread("1-1/16-14 UN", 26.99, 1.814, 15.5),
}
"""The 45° flare has the 37° flare's thread at -4, -5, -8 and -10 and its own at -6 and -12."""

FACE_SEAL_THREADS: Final = {
    "-4": Thread("9/16-18 UNF", 14.29, 1.411, 4.4),
    "-6": Thread("11/16-16 UN", 17.46, 1.588, 7.5),
    "-8": Thread("13/16-16 UN", 20.64, 1.588, 9.9),
    "-10": Thread("1-14 UNS", 25.40, 1.814, 12.3),
    "-12": Thread("1-3/16-12 UN", 30.16, 2.117, 15.5),
    "-16": Thread("1-7/16-12 UN", 36.51, 2.117, 21.4),
    "-20": Thread("1-11/16-12 UN", 42.86, 2.117, 27.4),
}
"""O-ring face seal: its -4 has the thread of flare -6, its -12 that of flare -14."""

NPT_THREADS: Final = {
    "1/8": Thread("1/8-27 NPT", 10.29, 0.941, 4.8, tapered=True),
    "1/4": Thread("1/4-18 NPT", 13.72, 1.411, 7.1, tapered=True),
    "3/8": Thread("3/8-18 NPT", 17.15, 1.411, 10.3, tapered=True),
    "1/2": Thread("1/2-14 NPT", 21.34, 1.814, 13.5, tapered=True),
    "3/4": Thread("3/4-14 NPT", 26.67, 1.814, 18.3, tapered=True),
    "1": Thread("1-11.5 NPT", 33.40, 2.209, 23.8, tapered=True),
    "1-1/4": Thread("1-1/4-11.5 NPT", 42.16, 2.209, 31.0, tapered=True),
}

G_THREADS: Final = {
    "1/8": Thread("G 1/8-28", 9.728, 0.907, 4.8, flank_deg=55.0),
    "1/4": Thread("G 1/4-19", 13.157, 1.337, 7.1, flank_deg=55.0),
    "3/8": Thread("G 3/8-19", 16.662, 1.337, 10.3, flank_deg=55.0),
    "1/2": Thread("G 1/2-14", 20.955, 1.814, 13.5, flank_deg=55.0),
    "3/4": Thread("G 3/4-14", 26.441, 1.814, 18.3, flank_deg=55.0),
    "1": Thread("G 1-11", 33.249, 2.309, 23.8, flank_deg=55.0),
    "1-1/4": Thread("G 1-1/4-11", 41.910, 2.309, 31.0, flank_deg=55.0),
}

R_THREADS: Final = {
    size: replace(thread, designation=f"R {size}", tapered=True) for size, thread in G_THREADS.items()
}
RC_THREADS: Final = {size: replace(thread, designation=f"Rc {size}") for size, thread in R_THREADS.items()}
RP_THREADS: Final = {size: replace(thread, designation=f"Rp {size}") for size, thread in G_THREADS.items()}
"""ISO 7 seals on the thread of ISO 228's profile: R tapered male, Rc tapered and Rp parallel female."""

METRIC_PORTS: Final = {
    "M8x1": Thread("M8x1", 8.0, 1.0, 3.5),
    "M10x1": Thread("M10x1", 10.0, 1.0, 4.5),
    "M12x1.5": Thread("M12x1.5", 12.0, 1.5, 6.0),
    "M14x1.5": Thread("M14x1.5", 14.0, 1.5, 7.5),
    "M16x1.5": Thread("M16x1.5", 16.0, 1.5, 9.0),
    "M18x1.5": Thread("M18x1.5", 18.0, 1.5, 11.0),
    "M22x1.5": Thread("M22x1.5", 22.0, 1.5, 14.0),
    "M27x2": Thread("M27x2", 27.0, 2.0, 18.0),
    "M33x2": Thread("M33x2", 33.0, 2.0, 23.0),
    "M42x2": Thread("M42x2", 42.0, 2.0, 30.0),
    "M48x2": Thread("M48x2", 48.0, 2.0, 36.0),
    "M60x2": Thread("M60x2", 60.0, 2.0, 46.0),
}


THREADS: Final = {
    "orb": DASH_THREADS,
    "flare37": DASH_THREADS,
    "flare45": FLARE45_THREADS,
    "orfs": FACE_SEAL_THREADS,
    "npt": NPT_THREADS,
    "g": G_THREADS,
    "r": R_THREADS,
    "rc": RC_THREADS,
    "rp": RP_THREADS,
    "metric": METRIC_PORTS,
    "metric-flat": METRIC_PORTS,
}
"""Threads by form, then by size name."""


def bore_of(form: str, size: str) -> float | None:
    """The usual through-bore [m] of a fitting of a thread form and size name; None for other forms."""
    return THREADS[form][size].bore_mm * 1e-3 if form in THREADS else None


TAPER_ACROSS_M: Final = 1e-3
"""How much thinner the small end of a tapered male thread is than its big end. Common practice, no source."""


def thread_depth(male: Thread, female: Thread) -> tuple[float, ...]:
    """How deep a male thread engages a female one, as a share of the female's thread depth.

    h = (d - D1) / (D - D1): d the male's major, D the female's major, D1 its minor diameter [mm]. 1 is a full
    thread, 0 or less goes in without touching. A tapered male gives two figures, at its big and at its small
    end. Nominal sizes without tolerance: a screen, not a gauge. Common practice, no source.
    """
    engaged = male.major_mm - female.minor_mm
    depth = female.major_mm - female.minor_mm
    if male.tapered:
        return (engaged / depth, (engaged - TAPER_ACROSS_M * 1e3) / depth)
    return (engaged / depth,)


def pitch_difference(male: Thread, female: Thread) -> float:
    """Difference of the pitches as a share of the female's pitch [-]."""
    return abs(male.pitch_mm - female.pitch_mm) / female.pitch_mm


def threads_near(major_mm: float, within_mm: float = 0.8) -> tuple[str, ...]:
    """Names of the threads whose outside diameter lies near one that was measured [mm], nearest first."""
    near = {
        thread.designation: abs(thread.major_mm - major_mm)
        for sizes in THREADS.values()
        for thread in sizes.values()
        if abs(thread.major_mm - major_mm) <= within_mm
    }
    return tuple(sorted(near, key=lambda name: (near[name], name)))
