"""A hose or a charge coupler on a spigot, and what people push a hose on that is none."""

from __future__ import annotations

from configurator.foundations.verdicts import Caution
from configurator.joining.bore_steps import area_m2
from configurator.joining.mating_verdict import LIMITS, UNWIRED_MOST, Mating, MatingVerdict, adapter, refuse
from configurator.joining.words import bar_words, celsius_words, end_words
from configurator.parts.ends import End
from configurator.parts.kit import Need
from configurator.standards.threads import THREADS


def sleeve_fit(form: str, spigot_od_m: float, sleeve_id_m: float) -> MatingVerdict:
    """Whether a hose or coupler suits a spigot by size alone: spigot outside over sleeve inside."""
    ratio = round(spigot_od_m / sleeve_id_m, 6)
    most = LIMITS.hose_most if form == "hose" else LIMITS.coupler_most
    if LIMITS.hose_least <= ratio <= most:
        return "direct"
    return "refuse" if LIMITS.hose_slack <= ratio <= LIMITS.sleeve_forced else "adapter"


def held_at(spigot: End, boost_pa_gauge: float) -> bool:
    """Whether a coupler stays on a pipe end at a boost [Pa gauge]: held by bead or barb, or low enough."""
    return spigot.bead or spigot.barb or boost_pa_gauge <= LIMITS.bead_above_pa_gauge


def mate_sleeve(
    sleeve: End, spigot: End, boost_pa_gauge: float, *, suction: bool, hottest_k: float | None
) -> Mating:
    """Judge a hose or coupler on a spigot at a boost [Pa gauge], before a pump or throttle or not, up to [K]."""
    assert sleeve.size_m is not None and spigot.size_m is not None
    pair = f"{end_words(sleeve)} on {end_words(spigot)}"
    fit = sleeve_fit(sleeve.form, spigot.size_m, sleeve.size_m)
    if fit == "adapter":
        return adapter("sleeve-size", f"{pair}: the sizes are too far apart")
    if fit == "refuse":
        rule, remedy = "sleeve-near-miss", f"take a {sleeve.form} for {end_words(spigot)}, or a stepped reducer"
        if spigot.size_m < sleeve.size_m:
            return refuse(rule, f"{pair}: too loose", "the clamp pleats it: it leaks and slips off", remedy)
        return refuse(rule, f"{pair}: too tight", "forced on, it splits and the clamp cannot bite", remedy)
    if sleeve.form == "hose" and not (spigot.bead or spigot.barb):
        why = f"{pair}: the spigot has neither bead nor barb"
        return refuse("no-bead", why, "the hose slips off", "have a bead rolled, or take a beaded or barbed spigot")
    if sleeve.form == "coupler" and not held_at(spigot, boost_pa_gauge):
        thrust = boost_pa_gauge * area_m2(spigot.size_m)
        why = (
            f"{pair}: a plain pipe end at {bar_words(boost_pa_gauge)} of boost, which pushes it off with "
            f"{thrust:.0f} N; it needs a bead"
        )
        return refuse("no-bead", why, "the boost pushes the coupler off", "have a bead rolled or welded on")
    clamp = "hose clamp" if sleeve.form == "hose" else "T-bolt clamp"
    cautions = sleeve_cautions(sleeve.form, float(sleeve.size_m), suction=suction, hottest_k=hottest_k)
    return Mating(
        "direct", "sleeve-fits", f"{pair}: the sizes suit", needs=(Need(clamp, None, 1, "piece"),), cautions=cautions
    )


def mate_sleeve_and_thread(sleeve: End, thread: End) -> Mating:
    """Judge a hose or coupler against a threaded end: pushed on a male thread, it is cut."""
    assert sleeve.size_m is not None
    pair = f"{end_words(sleeve)} and {end_words(thread)}"
    major_m = THREADS[thread.form][thread.size].major_mm * 1e-3
    if thread.gender == "male" and sleeve_fit(sleeve.form, major_m, sleeve.size_m) != "adapter":
        why = f"{pair}: it can be pushed on the thread, which has edges and no bead"
        return refuse("hose-on-thread", why, "the thread cuts it, and it blows off")
    return adapter("strangers", f"{pair} are made for different joints")


def sleeve_cautions(
    form: str, sleeve_id_m: float, *, suction: bool, hottest_k: float | None
) -> tuple[Caution, ...]:
    """What must be said of a hose or coupler by its inside diameter [m], its place and the hottest there [K]."""
    said = []
    if suction and form == "coupler":
        text = "A closed throttle pulls about 0.7 bar of vacuum: take a short or wired coupler, a plain one collapses."
        said.append(Caution("vacuum-coupler", text))
    if suction and form == "hose" and sleeve_id_m > LIMITS.unwired_suction_m:
        wired = "must be wired or rated for vacuum: a plain one is sucked flat"
        text = f"Before the pump, hose over {UNWIRED_MOST} {wired}."
        said.append(Caution("suction-hose", text))
    if form == "coupler" and hottest_k is not None and hottest_k > LIMITS.plain_coupler_k:
        limit = celsius_words(LIMITS.plain_coupler_k)
        text = f"Above {limit} plain silicone hardens: the coupler needs a fluorosilicone or FKM lining."
        said.append(Caution("lined-coupler", text))
    return tuple(said)
