"""Cautions of narrow bores: what they take from the coolant's flow and from the boost."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from configurator.foundations.verdicts import Caution
from configurator.joining.words import mm_words


def narrow_bores(
    places: Mapping[tuple[float, float], Sequence[str]], flow_m3_per_s: float, steps_pa: float, share: float
) -> Caution:
    """Runs through bores narrow for their hose, and what the steps to them take [Pa] at the loop's flow [m³/s].

    `places`: the names of the runs by the bores of hose and of its narrowest piece [m]. `share`: of the loop's loss.
    """
    runs = ", ".join(
        f"{mm_words(hose_m)} hose through {mm_words(least_m)} ({', '.join(names)})"
        for (hose_m, least_m), names in places.items()
    )
    return Caution(
        "narrow-bores",
        f"Narrow bores hold the coolant back: {runs}. At {flow_m3_per_s * 60e3:.0f} L/min these steps take "
        f"{steps_pa / 1e3:.1f} kPa, {100 * share:.0f} % of the loop's loss. Parts or adapters with wider bores there "
        "let more coolant flow.",
    )


def narrow_charge(core_m: float, engine_m: float, joints_pa: float) -> Caution:
    """A charge pipe narrower at the core than what charger and throttle have for it [m]; what its joints take [Pa]."""
    return Caution(
        "narrow-charge",
        f"At the core the charge pipe narrows to a bore of {mm_words(core_m)}, where charger and throttle are as wide "
        f"as {mm_words(engine_m)} or more: the joints take {joints_pa / 1e3:.1f} kPa at full power. A core with "
        "wider ends takes less.",
    )
