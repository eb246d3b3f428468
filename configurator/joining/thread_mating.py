"""Two threads: one kind that seals, look-alikes that screw together and do not, or strangers.

Seals and threads: SAE J1926-1, J514, J512, J1453, ASME B1.20.1, ISO 228-1, ISO 7-1, ISO 6149-1, ISO 9974-1
(published; the standing of each table stands in `standards.threads`). Published: a G 1/2 stud enters an M22x1.5 port
and can be thrown out under pressure (commentary on EN ISO 4413). Other hazards: common practice, no source.
"""

from __future__ import annotations

from typing import Final

from configurator.foundations.verdicts import Caution
from configurator.joining.mating_verdict import LIMITS, Mating, MatingMedium, adapter, refuse, ring_caution
from configurator.joining.words import end_words
from configurator.parts.ends import End
from configurator.parts.kit import Need
from configurator.standards.forms import FORM_FACTS, RINGS
from configurator.standards.threads import THREADS, pitch_difference, thread_depth

ISO_7: Final = frozenset({"r", "rc", "rp"})
SAME_THREAD_HAZARDS: Final = {
    frozenset({"flare37", "flare45"}): "8° between the seats: it leaks on a line and cracks the flare",
    frozenset({"metric", "metric-flat"}): "the ring has no seat: it leaks",
}
OUTSIDE_ISO_228: Final = Caution(
    "outside-iso-228",
    "A taper R thread in a parallel G port is outside ISO 228: common in practice in a fixed port, with sealant, "
    "and too much torque splits the port.",
)

TAPER_THREAD: Final = Caution(
    "taper-thread",
    "A taper thread with sealant is a wedge: in a plastic part or a thin boss too much torque splits it.",
)


def mate_threads(a: End, b: End, medium: MatingMedium) -> Mating:
    """Judge two threaded ends; where the sexes differ, `a` is the male one."""
    pair = f"{end_words(a)} and {end_words(b)}"
    if a.gender == b.gender:
        return adapter("sexes-alike", f"{pair}: both ends are {a.gender}")
    if a.size == b.size and (a.form == b.form or (a.form == "r" and b.form in {"rc", "rp"})):
        return _own_kind(a, b, medium)
    if a.size == b.size and a.form == "r" and b.form == "g":
        return _taper_in_parallel(a, b, pair)
    forms = {a.form, b.form}
    if "npt" in forms and forms & {"g", *ISO_7}:
        why = f"{pair}: NPT has flanks of 60°, the other of 55°, and their crests differ, which no sealant closes"
        return refuse("npt-against-bsp", why, "leaks along the thread; tightening against the leak splits the port")
    if a.size == b.size and a.form == "g" and b.form == "rc":
        why = f"{pair}: a parallel thread in a tapered port, with no face to seal on"
        return refuse("parallel-in-taper", why, "jams or bottoms, and leaks")
    refused = _same_thread(a, b, pair) or _look_alike(a, b, pair)
    return refused or adapter("strangers", f"{pair} do not enter each other")


def _own_kind(male: End, female: End, medium: MatingMedium) -> Mating:
    rubber, _ = RINGS[medium]
    rings = (Need(f"O-ring {male.size}, {rubber}", None, 1, "piece"),)
    sealant = (Need("thread sealant", None, 1, "joint"),)
    needs: dict[str, tuple[Need, ...]] = {
        "orb": rings,
        "orfs": (Need(f"face O-ring {male.size}, {rubber}", None, 1, "piece"),),
        "flare37": (),
        "flare45": (),
        "npt": sealant,
        "r": sealant,
        "g": (Need(f"bonded washer G {male.size}", None, 1, "piece"),),
        "metric": rings,
        "metric-flat": (Need(f"sealing washer {male.size}", None, 1, "piece"),),
    }
    why = f"{end_words(male)} into {'its own female' if male.form == female.form else end_words(female)}"
    said = {"npt": TAPER_THREAD, "r": TAPER_THREAD}.get(male.form)
    if FORM_FACTS[male.form].ring:
        said = ring_caution(medium)
    return Mating("direct", "own-kind", why, needs=needs[male.form], cautions=() if said is None else (said,))


def _taper_in_parallel(male: End, female: End, pair: str) -> Mating:
    if female.swivel:
        why = f"{pair}: the swivel nut seals on a cone or face that a taper thread does not have"
        return refuse("taper-in-swivel", why, "jams in the nut and leaks")
    needs = (Need("thread sealant", None, 1, "joint"),)
    why = f"{end_words(male)} into the fixed port {end_words(female)}"
    return Mating("direct", "taper-in-parallel", why, needs=needs, cautions=(OUTSIDE_ISO_228,))


def _same_thread(male: End, female: End, pair: str) -> Mating | None:
    """One thread, two seals: the pair that feels right and is not."""
    inner, outer = THREADS[male.form][male.size], THREADS[female.form][female.size]
    same = (inner.major_mm, inner.pitch_mm, inner.flank_deg) == (outer.major_mm, outer.pitch_mm, outer.flank_deg)
    if not same or inner.tapered or "rc" in (male.form, female.form):
        return None
    seals = f"{FORM_FACTS[male.form].seal} against {FORM_FACTS[female.form].seal}"
    hazard = SAME_THREAD_HAZARDS.get(frozenset({male.form, female.form}))
    if hazard is None:
        hazard = "it leaks" if male.form == "g" else "feels tight and sprays hot coolant"
    return refuse("same-thread-other-seal", f"{pair} share a thread but seal apart: {seals}", hazard)


def _look_alike(male: End, female: End, pair: str) -> Mating | None:
    inner, outer = THREADS[male.form][male.size], THREADS[female.form][female.size]
    caught = [h for h in thread_depth(inner, outer) if LIMITS.depth_least <= h <= LIMITS.depth_most]
    off = pitch_difference(inner, outer)
    if not caught or off > LIMITS.pitch_most:
        return None
    depth = max(caught)
    why = (
        f"{pair} screw together ({_pitch_words(off)}) on {min(depth, 1.0):.0%} of the thread depth "
        "and do not seal"
    )
    hazards = ["holds on part of the thread depth and can be thrown out"] if depth < LIMITS.depth_weak else []
    if off > LIMITS.pitch_alike:
        hazards.append("binds after a few turns and crosses the thread")
    if inner.tapered:
        hazards.append("the taper wedges and cracks the port")
    return refuse("look-alike-thread", why, "; ".join(hazards) or "feels tight and leaks")


def _pitch_words(off: float) -> str:
    """How far two pitches are apart, as a share of one of them."""
    return "same pitch" if off < 0.005 else f"pitches {off:.0%} apart"
