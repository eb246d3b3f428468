"""What may follow an end: each adapter of a shelf that mates with it, and each hose that holds on it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from configurator.foundations.verdicts import Caution
from configurator.joining.mating import SLEEVES, mate
from configurator.joining.run_ways import adapter_bore_m, fitted_od_m, member_of
from configurator.joining.sleeve_mating import sleeve_fit
from configurator.parts.ends import End
from configurator.parts.kinds import Adapter, Clamp, Hose
from configurator.parts.kit import Need


@dataclass(frozen=True)
class Link:
    """One adapter that may follow an end: the stub between them if both are spigots, and its far end.

    `od_m`: outside diameters of the stub as fitted, `clamps` those that close on them, None where none does.
    """

    adapter: Adapter
    far: End
    bore_m: float
    stub: Hose | None
    od_m: tuple[float, ...]
    clamps: tuple[Clamp | None, ...]
    needs: tuple[Need, ...]
    unproven: bool
    cautions: tuple[Caution, ...] = ()

    @property
    def pieces(self) -> int:
        """How many pieces it adds: the adapter, and the stub if there is one."""
        return 1 if self.stub is None else 2


class Links:
    """The links of one shelf, each found once. Only what is made for coolant counts."""

    def __init__(self, hoses: Iterable[Hose], adapters: Iterable[Adapter], clamps: Iterable[Clamp]) -> None:
        self.hoses = tuple(hose for hose in hoses if "coolant" in hose.media)
        fit = [clamp for clamp in clamps if "coolant" in clamp.media]
        self._clamps = sorted(fit, key=lambda clamp: (clamp.price_cents, clamp.id))
        self._closing: dict[float, Clamp | None] = {}
        self.adapters = tuple(part for part in adapters if part.medium == "coolant")
        self._sides = [
            (part, near, far, adapter_bore_m(part), member_of(part).working_pa_gauge is None)
            for part in self.adapters
            for near, far in _both_ways(part.through.ends)
        ]
        self._held: dict[object, tuple[Hose, ...]] = {}
        self._after: dict[object, tuple[Link, ...]] = {}

    def after(self, tip: End) -> tuple[Link, ...]:
        """Every link that may follow an end."""
        if tip.identity not in self._after:
            found: list[Link] = []
            on_tip = {hose.id for hose in self.hoses_on(tip)}
            for part, near, far, bore, unproven in self._sides:
                if tip.form == near.form == "spigot":
                    for stub in self.hoses_on(near):
                        if stub.id in on_tip:
                            fitted = [self.clamp_for(spigot, stub) for spigot in (tip, near)]
                            ods, clamps = tuple(od for od, _ in fitted), tuple(clamp for _, clamp in fitted)
                            unknown = unproven or stub.working_pa_gauge is None
                            found.append(Link(part, far, bore, stub, ods, clamps, (), unknown))
                    continue
                if "spigot" in (tip.form, near.form) and SLEEVES.isdisjoint((tip.form, near.form)):
                    continue
                mating = mate(tip, near, medium="coolant")
                if mating.verdict == "direct":
                    found.append(Link(part, far, bore, None, (), (), mating.needs, unproven, mating.cautions))
            self._after[tip.identity] = tuple(found)
        return self._after[tip.identity]

    def look_alikes(self, end: End) -> tuple[tuple[Adapter, str], ...]:
        """Adapters that go into this end and must not: with the hazard."""
        matings = ((part, mate(end, near, medium="coolant")) for part, near, *_ in self._sides)
        return tuple((part, mating.hazard) for part, mating in matings if mating.verdict == "refuse")

    def hoses_on(self, spigot: End) -> tuple[Hose, ...]:
        """The hoses that hold on a spigot: the size suits and there is a bead or barb."""
        if spigot.form != "spigot" or not (spigot.bead or spigot.barb):
            return ()
        if spigot.identity not in self._held:
            size = spigot.size_m or 0.0
            self._held[spigot.identity] = tuple(
                hose for hose in self.hoses if sleeve_fit("hose", size, float(hose.bore_m)) == "direct"
            )
        return self._held[spigot.identity]

    def clamp_for(self, spigot: End, hose: Hose) -> tuple[float, Clamp | None]:
        """Outside diameter [m] of a hose as fitted, and the cheapest coolant clamp whose range holds it."""
        od = fitted_od_m(spigot, hose)
        if od not in self._closing:
            self._closing[od] = next((clamp for clamp in self._clamps if clamp.closes_on(od)), None)
        return od, self._closing[od]


def _both_ways(ends: Sequence[End]) -> tuple[tuple[End, End], ...]:
    """The two ways round of a piece with two ends; once where the ends are alike."""
    a, b = ends
    return ((a, b),) if a.identity == b.identity else ((a, b), (b, a))
