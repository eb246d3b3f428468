"""Narrow bores of a kit that are worth a word: in its coolant runs, and where its charge meets the core."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from configurator.brief.request import Engine
from configurator.foundations.coolants import Coolant, properties
from configurator.foundations.verdicts import Caution
from configurator.joining.bore_steps import area_m2, area_ratio, pipe_bore_m
from configurator.joining.hose_joint import run_place
from configurator.parts.kit import Joint
from configurator.prediction.report import Thermal
from configurator.prediction.stages import Piping
from configurator.reasons.bore_cautions import narrow_bores, narrow_charge
from configurator.reasons.thresholds import MOST_STEPS_SHARE, NARROW_AREA, NARROW_CHARGE_AREA
from configurator.search.charge_pipes import charger_outlets, throttle


def of_bores(
    joints: Sequence[Joint], lie: Piping, thermal: Thermal, coolant: Coolant, engine: Engine
) -> Iterator[Caution]:
    """The cautions of both sides. `lie`: how the coolant runs of the kit lie, in the order of its joints."""
    runs = [joint for joint in joints if joint.medium == "coolant"]
    yield from _of_coolant(runs, lie, thermal, coolant)
    yield from _of_charge([joint for joint in joints if joint.medium == "charge"], thermal, engine)


def _of_coolant(runs: Sequence[Joint], lie: Piping, thermal: Thermal, coolant: Coolant) -> Iterator[Caution]:
    """Where hose runs through bores so narrow for it that their steps take a share of the loop's loss worth a word."""
    flow, density = thermal.coolant_flow_m3_per_s, float(properties(coolant, thermal.properties_at_k).density)
    narrow = [area_ratio(run.hose_bore_m, run.bore_m) < NARROW_AREA for run in runs]
    steps_pa = [
        density * (flow * share) ** 2 / 2 * run.steps_per_m4 if so else 0.0
        for run, share, so in zip(runs, lie.shares, narrow, strict=True)
    ]
    lost_pa = sum(steps_pa[run] for run in lie.trunk)
    lost_pa += sum(max(sum(steps_pa[run] for run in branch) for branch in pair) for pair in lie.branches)
    if lost_pa <= MOST_STEPS_SHARE * thermal.loop_loss_pa:
        return
    places: dict[tuple[float, float], list[str]] = {}
    for run, share, so in zip(runs, lie.shares, narrow, strict=True):
        if so and share > 0.0:
            places.setdefault((run.hose_bore_m, run.bore_m), []).append(run_place(*run.slots))
    yield narrow_bores(places, flow, lost_pa, lost_pa / thermal.loop_loss_pa)


def _of_charge(joints: Sequence[Joint], thermal: Thermal, engine: Engine) -> Iterator[Caution]:
    """Where the charge meets the core in a bore narrower than the smaller of charger outlet and throttle.

    Of two pipes side by side each has its share of that area, and is told beside one pipe as wide as its share.
    """
    outlets = [pipe_bore_m(end) for _, end in charger_outlets(engine.charger_outlet_m, engine.charger_outlets)]
    throttles = [pipe_bore_m(end) for _, end in throttle(engine.throttle_m)]
    if not outlets or not throttles:
        return
    engine_m2 = min(sum(area_m2(bore) for bore in bores) for bores in (outlets, throttles))
    shares = [(area_m2(joint.bore_m) / (joint.share * engine_m2), joint) for joint in joints]
    least, narrowest = min(shares, key=lambda one: one[0], default=(1.0, None))
    if narrowest is not None and least < NARROW_CHARGE_AREA:
        engine_m = narrowest.bore_m / math.sqrt(least)
        yield narrow_charge(narrowest.bore_m, engine_m, thermal.charge_before_pa + thermal.charge_after_pa)
