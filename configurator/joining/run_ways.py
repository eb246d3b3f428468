"""The ways from a part's coolant end into a hose: bare, or through a chain of adapters.

A spigot piece (a reducer or an elbow with a spigot at both ends) does not sit on a spigot: a short stub of
hose joins the two, with a clamp at each of its ends. A way depends on its end and its hose alone.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from itertools import chain as chained
from typing import Final

from configurator.foundations.verdicts import Caution
from configurator.joining.bore_steps import (
    DRILLED_ELBOW_K,
    area_m2,
    bend_per_m4,
    chain_per_m4,
    end_bore_m,
    least_known_m,
)
from configurator.joining.mating_verdict import LIMITS
from configurator.joining.sleeve_mating import sleeve_cautions
from configurator.parts.ends import End
from configurator.parts.kinds import Adapter, Clamp, Hose, Valve, Wye
from configurator.parts.kit import Ahead, Member, Need
from configurator.physics.pipe_flow import pipe_loss
from configurator.standards.hose_classes import SMOOTH_RUBBER_M, class_of

STUB_LENGTH_M: Final = 0.10
"""Length of the stub of hose between a spigot and a spigot piece. Common practice, no source."""

GRIP_M: Final = 0.03
"""Length of hose that sits straight on a spigot with its clamp (common practice, no source: 25 mm and more)."""

REFERENCE_FLOW_M3_PER_S: Final = 20e-3 / 60
REFERENCE_DENSITY: Final = 1000.0
REFERENCE_VISCOSITY: Final = 1e-3
"""Runs are compared at 20 L/min of a liquid like water [m³/s, kg/m³, Pa s]."""

BORE_UNKNOWN: Final = Caution(
    "bore-unknown",
    "An end that is named for its maker states no bore: what it takes from the flow is left out, and whether it "
    "starves the pump was not checked. Measure it and write its bore.",
)


Piece = Hose | Adapter | Wye | Valve
"""What coolant flows through between two parts."""


@dataclass(frozen=True)
class Chain:
    """Adapters stacked on a part's end, from the end outwards; what comes next meets `tip`.

    `ids`: each adapter, followed by the stub that holds it where there is one. Bores run outwards, those of the
    fittings without the stubs between them. `clamped_m`: the outside diameter under each of the clamps; `bare_od_m`:
    one on which no clamp closes.
    """

    tip: End
    adapters: tuple[Adapter, ...]
    stubs: tuple[Hose, ...]
    ids: tuple[str, ...]
    bores_m: tuple[float, ...]
    fitting_bores_m: tuple[float, ...]
    clamps: tuple[Clamp, ...]
    bare_od_m: float | None
    needs: tuple[Need, ...]
    cautions: tuple[Caution, ...] = ()
    clamped_m: tuple[float, ...] = ()

    @cached_property
    def unproven(self) -> bool:
        """Whether a piece has no known rating."""
        pieces: tuple[Adapter | Hose, ...] = (*self.adapters, *self.stubs)
        return any(member_of(part).working_pa_gauge is None for part in pieces)

    @cached_property
    def elbow(self) -> bool:
        """Whether an adapter turns the run, so that the hose need not."""
        return any(adapter.shape == "elbow" for adapter in self.adapters)

    @cached_property
    def out_per_m4(self) -> float:
        """Sum of K / A² [1/m4] of the steps on the way out of the part."""
        return chain_per_m4(self.bores_m)

    @cached_property
    def in_per_m4(self) -> float:
        """Sum of K / A² [1/m4] of the steps on the way into the part."""
        return chain_per_m4(self.bores_m[::-1])

    @cached_property
    def turns_per_m4(self) -> float:
        """Sum of the adapters' own loss factors as K / A² [1/m4]."""
        own = 0.0
        for adapter in self.adapters:
            factor = adapter.loss_factor
            if factor is None:
                factor = DRILLED_ELBOW_K if adapter.shape == "elbow" else 0.0
            bore = adapter_bore_m(adapter)
            own += factor / area_m2(bore) ** 2 if bore > 0.0 else 0.0
        return own

    @cached_property
    def price_cents(self) -> int:
        """Price of adapters, stubs and clamps [1/100]."""
        stubs = sum(round(stub.price_cents * STUB_LENGTH_M) for stub in self.stubs)
        return sum(part.price_cents for part in (*self.adapters, *self.clamps)) + stubs


@dataclass(frozen=True)
class HalfRun:
    """Half of a run, from a part's end into its hose: the chain, the hose on its tip, and the clamp that holds it."""

    chain: Chain
    hose: Hose
    clamp: Clamp | None
    bare_od_m: float | None

    @property
    def ids(self) -> tuple[str, ...]:
        """Ids of the pieces besides the hose, for a fixed order."""
        return self.chain.ids

    @property
    def parts(self) -> tuple[Adapter | Hose, ...]:
        """The adapters and the stubs."""
        return (*self.chain.adapters, *self.chain.stubs)

    @property
    def clamps(self) -> tuple[Clamp, ...]:
        """Every clamp of the way."""
        return self.chain.clamps if self.clamp is None else (*self.chain.clamps, self.clamp)

    @property
    def clamped(self) -> tuple[tuple[str, float], ...]:
        """Every clamp of the way by id, with the outside diameter that it closes on [m]."""
        last = () if self.clamp is None else (fitted_od_m(self.chain.tip, self.hose),)
        ods = (*self.chain.clamped_m, *last)
        return tuple((clamp.id, od) for clamp, od in zip(self.clamps, ods, strict=True))

    @cached_property
    def bores_m(self) -> tuple[float, ...]:
        """Bores [m] from the part to the hose."""
        return (*self.chain.bores_m, float(self.hose.bore_m))

    def cautions(self, *, suction: bool) -> tuple[Caution, ...]:
        """Cautions of every pair of ends, before the pump or not."""
        sleeves = [float(hose.bore_m) for hose in (self.hose, *self.chain.stubs)]
        said = [sleeve_cautions("hose", bore, suction=suction, hottest_k=None) for bore in sleeves]
        unknown = (BORE_UNKNOWN,) if 0.0 in self.bores_m else ()
        return (*self.chain.cautions, *unknown, *chained.from_iterable(said))

    @cached_property
    def members(self) -> tuple[Member, ...]:
        """The hose of the run, then the other pieces, as members of the boundary; still without a place."""
        return tuple(member_of(part) for part in (self.hose, *self.parts))

    @cached_property
    def unproven(self) -> bool:
        """Whether a piece or the hose of the run has no known rating."""
        return self.chain.unproven or self.hose.working_pa_gauge is None

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
        return self.chain.price_cents + (0 if self.clamp is None else self.clamp.price_cents)

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
    def ahead(self) -> Ahead:
        """Room ahead of the part's end until the run has turned away: fitting, grip and bend, or an elbow's leg.

        Bend radii are to the inside of the bend, as rubber hose is measured, and the room is to its outside; of an
        elbow's length half lies on either side of its turn.
        """
        across_m = float(self.hose.bore_m) + 2.0 * float(self.hose.wall_m)
        depth_m = len(self.chain.stubs) * STUB_LENGTH_M
        for adapter in self.chain.adapters:
            if adapter.shape == "elbow":
                turn_m = depth_m + float(adapter.length_m) / 2
                return Ahead(turn_m + across_m / 2, across_m, turn_m, elbow=True)
            depth_m += float(adapter.length_m)
        turn_m = depth_m + GRIP_M + float(self.hose.bend_radius_m) + across_m / 2
        return Ahead(turn_m + across_m / 2, across_m, turn_m)

    @cached_property
    def _turns_per_m4(self) -> float:
        """The adapters' own factors, and one smooth bend of the hose where no elbow takes its place."""
        bend = 0.0 if self.chain.elbow else bend_per_m4(self.bores_m[-1])
        return bend + self.chain.turns_per_m4


def fitted_od_m(spigot: End, hose: Hose) -> float:
    """Outside diameter [m] of a hose on a spigot."""
    return round((spigot.size_m or 0.0) + 2.0 * float(hose.wall_m), 6)


def roughness_m(hose: Hose) -> float:
    """Roughness [m] of a hose's wall: its own, else that of smooth rubber."""
    return SMOOTH_RUBBER_M if hose.roughness_m is None else float(hose.roughness_m)


def hose_range_k(hose: Hose) -> tuple[float, float]:
    """Coldest and hottest [K] a hose stands: what it states, within what its class allows."""
    known = class_of(hose.hose_class)
    if known is None:
        return float(hose.coldest_k), float(hose.hottest_k)
    return max(float(hose.coldest_k), known.coldest_k), min(float(hose.hottest_k), known.hottest_k)


def stands_vacuum(hose: Hose) -> bool | None:
    """Whether a hose may lie before a pump: up to 19 mm any does, wider ones must be wired; None where nobody says.

    Common practice, no source: a plain wide hose is sucked flat.
    """
    return True if float(hose.bore_m) <= LIMITS.unwired_suction_m else hose.vacuum


def coldest_of_k(part: Piece) -> float | None:
    """Coldest coolant [K] a piece stands; None where nothing is said."""
    if isinstance(part, Hose):
        return hose_range_k(part)[0]
    return None if part.through.coldest_k is None else float(part.through.coldest_k)


def member_of(part: Piece) -> Member:
    """A piece as a member of the pressure boundary; its place is put in with the names of the run."""
    if isinstance(part, Hose):
        working = None if part.working_pa_gauge is None else float(part.working_pa_gauge)
        stated_as = "unknown" if working is None else "working"
        return Member(part.id, "", working, stated_as, hose_range_k(part)[1])
    rating = part.through.rating
    hottest = None if part.through.hottest_k is None else float(part.through.hottest_k)
    return Member(part.id, "", rating.working_pa_gauge, rating.stated_as, hottest)


def adapter_bore_m(adapter: Adapter) -> float:
    """Through-bore [m] of an adapter: its own, else the narrowest known of its two ends; 0 where nobody knows."""
    if adapter.through.bore_m is not None:
        return float(adapter.through.bore_m)
    return least_known_m(*(end_bore_m(end) for end in adapter.through.ends))
