"""May two ends be joined as they are, do they want an adapter, or must they never be put together?

Three verdicts, each excluding the others: `direct`; `adapter` (they would not be taken for a fit); `refuse`
(they go together and do not hold or seal, or the joint is wrong for what flows in it). The order of the two
ends never matters. Seals and thread tables: SAE J1926-1, J514, ASME B1.20.1, ISO 228-1, ISO 6149-1
(published). Thresholds: see `LIMITS`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from configurator.joining.words import bar_words, end_words
from configurator.parts.ends import End
from configurator.parts.kit import Medium, Need
from configurator.standards.forms import FORMS
from configurator.standards.threads import THREADS, pitch_difference, thread_depth


@dataclass(frozen=True)
class MatingLimits:
    """Where a fit ends. Common practice, no source; G 1/2 in M22x1.5 is a published hazard."""

    hose_slack: float = 0.90
    hose_least: float = 0.98
    hose_most: float = 1.06
    coupler_most: float = 1.03
    sleeve_forced: float = 1.15
    bead_above_pa_gauge: float = 0.5e5
    depth_least: float = 0.10
    depth_most: float = 1.15
    depth_weak: float = 0.60
    pitch_most: float = 0.22


LIMITS: Final = MatingLimits()
SLEEVES: Final = frozenset({"hose", "coupler"})
MatingVerdict = Literal["direct", "adapter", "refuse"]


@dataclass(frozen=True)
class Mating:
    """The verdict on two ends: why, what would happen if it were tried, and what a direct joint needs."""

    verdict: MatingVerdict
    why: str
    hazard: str = ""
    needs: tuple[Need, ...] = ()


def mate(a: End, b: End, *, medium: Medium, boost_pa_gauge: float = 0.0) -> Mating:
    """Judge two ends. `boost_pa_gauge` [Pa gauge] matters to couplers alone. mate(a, b) is mate(b, a)."""
    first, second = sorted((a, b), key=_rank)
    forms = {first.form, second.form}
    if forms <= THREADS.keys():
        return _threads(first, second)
    if len(forms & SLEEVES) == 1 and "spigot" in forms:
        sleeve, spigot = (first, second) if second.form == "spigot" else (second, first)
        return _sleeve_on_spigot(sleeve, spigot, medium, boost_pa_gauge)
    if forms == {"neck"}:
        return _cap_on_neck(first, second)
    return Mating("adapter", f"{_both(first, second)} are made for different joints")


def sleeve_fit(form: str, spigot_od_m: float, sleeve_id_m: float) -> MatingVerdict:
    """Whether a hose or coupler suits a spigot by size alone: spigot outside over sleeve inside."""
    ratio = round(spigot_od_m / sleeve_id_m, 6)
    most = LIMITS.hose_most if form == "hose" else LIMITS.coupler_most
    if LIMITS.hose_least <= ratio <= most:
        return "direct"
    return "refuse" if LIMITS.hose_slack <= ratio <= LIMITS.sleeve_forced else "adapter"


def _rank(end: End) -> tuple[int, str, str, bool, bool]:
    """A fixed order of ends: males before females, so that every sentence names the entering end first."""
    _, size, sex, held, swivel = end.identity
    return (FORMS.index(end.form) + (100 if sex == "female" else 0), size, sex, held, swivel)


def _both(a: End, b: End) -> str:
    return f"{end_words(a)} and {end_words(b)}"


def _threads(a: End, b: End) -> Mating:
    if a.sex == b.sex:
        return Mating("adapter", f"{_both(a, b)}: both ends are {a.sex}")
    if (a.form, a.size) == (b.form, b.size):
        return _same_thread(a)
    forms = frozenset((a.form, b.form))
    if forms == {"npt", "g"}:
        why = f"{_both(a, b)}: 60° against 55° flanks and other crests, which no sealant closes"
        return Mating("refuse", why, "leaks along the thread; tightening against the leak splits the port")
    if forms == {"orb", "flare37"} and a.size == b.size:
        why = f"{_both(a, b)} share a thread but seal apart: O-ring at the mouth against 37° cone"
        return Mating("refuse", why, "feels tight and sprays hot coolant")
    return _look_alike(a, b) or Mating("adapter", f"{_both(a, b)} do not enter each other")


def _same_thread(male: End) -> Mating:
    needs: dict[str, tuple[Need, ...]] = {
        "orb": (Need(f"O-ring {male.size}, EPDM", None, 1, "piece"),),
        "flare37": (),
        "npt": (Need("thread sealant", None, 1, "joint"),),
        "g": (Need(f"bonded washer G {male.size}", None, 1, "piece"),),
        "metric": (Need(f"O-ring {male.size}, EPDM", None, 1, "piece"),),
    }
    return Mating("direct", f"{end_words(male)} into its own female", needs=needs[male.form])


def _look_alike(male: End, female: End) -> Mating | None:
    inner, outer = THREADS[male.form][male.size], THREADS[female.form][female.size]
    caught = [h for h in thread_depth(inner, outer) if LIMITS.depth_least <= h <= LIMITS.depth_most]
    off = pitch_difference(inner, outer)
    if not caught or off > LIMITS.pitch_most:
        return None
    depth = max(caught)
    why = (
        f"{_both(male, female)} screw together on {min(depth, 1.0):.0%} of the thread depth, "
        f"pitches {off:.0%} apart, and do not seal"
    )
    hazards = ["holds on part of the thread depth and can be thrown out"] if depth < LIMITS.depth_weak else []
    if off > 0.005:
        hazards.append("binds after a few turns and crosses the thread")
    if inner.tapered:
        hazards.append("the taper wedges and cracks the port")
    return Mating("refuse", why, "; ".join(hazards) or "feels tight and leaks")


def _sleeve_on_spigot(sleeve: End, spigot: End, medium: Medium, boost_pa_gauge: float) -> Mating:
    assert sleeve.size_m is not None and spigot.size_m is not None
    pair = f"{end_words(sleeve)} on {end_words(spigot)}"
    fit = sleeve_fit(sleeve.form, spigot.size_m, sleeve.size_m)
    if sleeve.form == "hose" and medium == "charge":
        return Mating("refuse", f"{pair}: coolant hose is not made for charge air", "swells and bursts")
    if fit == "adapter":
        return Mating("adapter", f"{pair}: the sizes are too far apart")
    if fit == "refuse":
        if spigot.size_m < sleeve.size_m:
            return Mating("refuse", f"{pair}: too loose", "the clamp pleats it: it leaks and slips off")
        return Mating("refuse", f"{pair}: too tight", "forced on, it splits and the clamp cannot bite")
    held = spigot.bead or spigot.barb
    if sleeve.form == "hose" and not held:
        return Mating("refuse", f"{pair}: the spigot has neither bead nor barb", "the hose slips off")
    if sleeve.form == "coupler" and not held and boost_pa_gauge > LIMITS.bead_above_pa_gauge:
        why = f"{pair}: a plain pipe end at {bar_words(boost_pa_gauge)} of boost; it needs a bead"
        return Mating("refuse", why, "the boost pushes the coupler off")
    clamp = "hose clamp" if sleeve.form == "hose" else "T-bolt clamp"
    return Mating("direct", f"{pair}: the sizes suit", needs=(Need(clamp, None, 1, "piece"),))


def _cap_on_neck(a: End, b: End) -> Mating:
    if a.sex == b.sex:
        return Mating("adapter", f"{_both(a, b)}: both ends are {a.sex}")
    if a.identity[1] != b.identity[1]:
        return Mating("adapter", f"{_both(a, b)}: another mouth")
    return Mating("direct", f"cap on its {end_words(a)}")
