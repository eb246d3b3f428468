"""The ways from a part's coolant end into a hose: bare, through a threaded adapter, or by a spigot piece.

A spigot piece (a reducer or an elbow with a spigot at both ends) does not sit on a spigot: a short stub of
hose joins the two, with a clamp at each of its ends. A way depends on its end and its hose alone: it is found
once.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from configurator.joining.bore_steps import (
    DRILLED_ELBOW_K,
    area_m2,
    bend_per_m4,
    chain_per_m4,
    end_bore_m,
)
from configurator.joining.mating import mate
from configurator.joining.sleeve_mating import sleeve_fit
from configurator.parts.ends import End
from configurator.parts.kinds import Adapter, Clamp, Hose
from configurator.parts.kit import Member, Need
from configurator.physics.pipe_flow import pipe_loss
from configurator.standards.hose_classes import SMOOTH_RUBBER_M, class_of

STUB_LENGTH_M: Final = 0.10
"""Length of the stub of hose between a spigot and a spigot piece. Common practice, no source."""

REFERENCE_FLOW_M3_PER_S: Final = 20e-3 / 60
REFERENCE_DENSITY: Final = 1000.0
REFERENCE_VISCOSITY: Final = 1e-3
"""Runs are compared at 20 L/min of a liquid like water [m³/s, kg/m³, Pa s]."""


@dataclass(frozen=True)
class Way:
    """One way from a part's end into a hose. Bores run from the part towards the hose."""

    hose: Hose
    adapter: Adapter | None
    stub: Hose | None
    bores_m: tuple[float, ...]
    fitting_bores_m: tuple[float, ...]
    clamps: tuple[Clamp, ...]
    bare_od_m: float | None
    needs: tuple[Need, ...]

    @cached_property
    def parts(self) -> tuple[Adapter | Hose, ...]:
        """The adapter and the stub, where there are any."""
        return tuple(part for part in (self.adapter, self.stub) if part is not None)

    @cached_property
    def ids(self) -> tuple[str, ...]:
        """Ids of the pieces besides the hose, for a fixed order."""
        return tuple(part.id for part in self.parts)

    @cached_property
    def members(self) -> tuple[Member, ...]:
        """The hose of the run, then the other pieces, as members of the boundary; still without a place."""
        return tuple(member_of(part) for part in (self.hose, *self.parts))

    @cached_property
    def unproven(self) -> bool:
        """Whether a piece or the hose of the run has no known rating."""
        return any(member.working_pa_gauge is None for member in self.members)

    @cached_property
    def rated_pa_gauge(self) -> float:
        """Lowest known rating [Pa gauge] of all pieces with the hose; infinite where none is known."""
        known = [member.working_pa_gauge for member in self.members]
        return min((rating for rating in known if rating is not None), default=math.inf)

    @cached_property
    def hottest_k(self) -> float:
        """Hottest coolant [K] that all pieces with the hose stand."""
        known = [member.hottest_k for member in self.members]
        return min(hottest for hottest in known if hottest is not None)

    @cached_property
    def coldest_k(self) -> float:
        """Coldest coolant [K] that all pieces with the hose stand."""
        known = [coldest_of_k(part) for part in (self.hose, *self.parts)]
        return max(coldest for coldest in known if coldest is not None)

    @cached_property
    def price_cents(self) -> int:
        """Price of the pieces and clamps besides the hose of the run [1/100]."""
        stub = 0 if self.stub is None else round(self.stub.price_cents * STUB_LENGTH_M)
        adapter = 0 if self.adapter is None else self.adapter.price_cents
        return adapter + stub + sum(clamp.price_cents for clamp in self.clamps)

    @cached_property
    def out_per_m4(self) -> float:
        """Sum of K / A² [1/m4] where the flow leaves the part and enters the hose."""
        return chain_per_m4(self.bores_m) + self._turns_per_m4

    @cached_property
    def in_per_m4(self) -> float:
        """Sum of K / A² [1/m4] where the flow leaves the hose and enters the part."""
        return chain_per_m4(self.bores_m[::-1]) + self._turns_per_m4

    @cached_property
    def friction_pa_per_m(self) -> float:
        """What a metre of the hose of the run loses to its wall at the reference flow [Pa/m]."""
        pipe = (1.0, float(self.hose.bore_m), roughness_m(self.hose))
        return float(pipe_loss(REFERENCE_FLOW_M3_PER_S, *pipe, REFERENCE_DENSITY, REFERENCE_VISCOSITY))

    @cached_property
    def _turns_per_m4(self) -> float:
        """One smooth bend of the hose, which an elbow takes the place of; and the adapter's own factor."""
        bend = bend_per_m4(self.bores_m[-1])
        if self.adapter is None:
            return bend
        own = self.adapter.loss_factor
        adapter_area = area_m2(self.fitting_bores_m[-1])
        if self.adapter.shape == "elbow":
            return (DRILLED_ELBOW_K if own is None else own) / adapter_area**2
        return bend + (own or 0.0) / adapter_area**2


def roughness_m(hose: Hose) -> float:
    """Roughness [m] of a hose's wall: its own, else that of smooth rubber."""
    return SMOOTH_RUBBER_M if hose.roughness_m is None else float(hose.roughness_m)


def hose_range_k(hose: Hose) -> tuple[float, float]:
    """Coldest and hottest [K] a hose stands: what it states, within what its class allows."""
    known = class_of(hose.hose_class)
    if known is None:
        return float(hose.coldest_k), float(hose.hottest_k)
    return max(float(hose.coldest_k), known.coldest_k), min(float(hose.hottest_k), known.hottest_k)


def coldest_of_k(part: Hose | Adapter) -> float | None:
    """Coldest coolant [K] a piece stands; None where nothing is said."""
    if isinstance(part, Hose):
        return hose_range_k(part)[0]
    return None if part.through.coldest_k is None else float(part.through.coldest_k)


def member_of(part: Hose | Adapter) -> Member:
    """A piece as a member of the pressure boundary; its place is put in with the names of the run."""
    if isinstance(part, Hose):
        working = None if part.working_pa_gauge is None else float(part.working_pa_gauge)
        stated_as = "unknown" if working is None else "working"
        return Member(part.id, "", working, stated_as, hose_range_k(part)[1])
    rating = part.through.rating
    hottest = None if part.through.hottest_k is None else float(part.through.hottest_k)
    return Member(part.id, "", rating.working_pa_gauge, rating.stated_as, hottest)


def adapter_bore_m(adapter: Adapter) -> float:
    """Through-bore [m] of an adapter: its own, else the narrower of its two ends."""
    if adapter.through.bore_m is not None:
        return float(adapter.through.bore_m)
    return min(end_bore_m(end) for end in adapter.through.ends)


class WayFinder:
    """Finds all ways of an end into each hose of a shelf."""

    def __init__(self, hoses: Iterable[Hose], adapters: Iterable[Adapter], clamps: Iterable[Clamp]) -> None:
        """Only what is made for coolant counts."""
        self._hoses = tuple(hose for hose in hoses if "coolant" in hose.media)
        fit = [clamp for clamp in clamps if "coolant" in clamp.media]
        self._clamps = sorted(fit, key=lambda clamp: (clamp.price_cents, clamp.id))
        self._held: dict[object, tuple[Hose, ...]] = {}
        self._pieces = tuple(
            (part, near, far)
            for part in adapters
            if part.medium == "coolant"
            for near, far in _both_ways(part.through.ends)
            if far.form == "spigot"
        )

    def ways(self, end: End) -> tuple[Way, ...]:
        """Every way from this end into a hose, clamps or not: a missing clamp is told by `bare_od_m`."""
        bare_hoses = self._hoses_on(end)
        found = [self._way(end, hose, None, None, (end,), ()) for hose in bare_hoses]
        for adapter, near, far in self._pieces:
            if end.form == near.form == "spigot":
                stubs = [hose for hose in self._hoses_on(near) if hose in bare_hoses]
                found += [
                    self._way(end, hose, adapter, stub, (end, near, far), ())
                    for stub in stubs
                    for hose in self._hoses_on(far)
                ]
                continue
            mating = mate(end, near, medium="coolant")
            if mating.verdict == "direct":
                hoses = self._hoses_on(far)
                found += [self._way(end, hose, adapter, None, (far,), mating.needs) for hose in hoses]
        return tuple(found)

    def look_alikes(self, end: End) -> tuple[tuple[Adapter, str], ...]:
        """Adapters that go into this end and must not: with the hazard."""
        matings = ((part, mate(end, near, medium="coolant")) for part, near, _ in self._pieces)
        return tuple((part, mating.hazard) for part, mating in matings if mating.verdict == "refuse")

    def _hoses_on(self, spigot: End) -> tuple[Hose, ...]:
        """The hoses that hold on a spigot: the size suits and there is a bead or barb."""
        if spigot.form != "spigot" or not (spigot.bead or spigot.barb):
            return ()
        if spigot.identity not in self._held:
            size = spigot.size_m or 0.0
            self._held[spigot.identity] = tuple(
                hose for hose in self._hoses if sleeve_fit("hose", size, float(hose.bore_m)) == "direct"
            )
        return self._held[spigot.identity]

    def _way(
        self,
        end: End,
        hose: Hose,
        adapter: Adapter | None,
        stub: Hose | None,
        spigots: Sequence[End],
        needs: tuple[Need, ...],
    ) -> Way:
        fittings = (end_bore_m(end),) + (() if adapter is None else (adapter_bore_m(adapter),))
        bores = fittings if stub is None else (fittings[0], float(stub.bore_m), fittings[1])
        sleeves = [hose] if stub is None else [stub, stub, hose]
        wanted = [
            (spigot.size_m or 0.0) + 2.0 * float(sleeve.wall_m)
            for spigot, sleeve in zip(spigots, sleeves, strict=True)
        ]
        clamps = [self._clamp_for(od) for od in wanted]
        bare = next((od for od, clamp in zip(wanted, clamps, strict=True) if clamp is None), None)
        chosen = tuple(clamp for clamp in clamps if clamp is not None)
        return Way(hose, adapter, stub, (*bores, float(hose.bore_m)), fittings, chosen, bare, needs)

    def _clamp_for(self, fitted_od_m: float) -> Clamp | None:
        """The cheapest coolant clamp whose range holds the outside diameter [m] of the hose as fitted."""
        od = round(fitted_od_m, 6)
        return next((clamp for clamp in self._clamps if clamp.least_m <= od <= clamp.most_m), None)


def _both_ways(ends: tuple[End, ...]) -> tuple[tuple[End, End], ...]:
    """The two ways round of a piece with two ends; once where the ends are alike."""
    a, b = ends
    return ((a, b),) if a.identity == b.identity else ((a, b), (b, a))
