"""The charge side of a kit: cores to charger outlets, cores to throttle, with the couplers and wyes of the shelf."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from configurator.foundations.verdicts import Verdict
from configurator.joining.charge_joint import ChargeConditions, ChargeJoiner
from configurator.joining.charge_side import ChargeSideJoiner, Place
from configurator.joining.ratings import charge_design_pa_gauge
from configurator.parts.ends import End
from configurator.parts.kinds import Adapter, Clamp, Core, Wye
from configurator.parts.kit import WYE_BEFORE, WYE_BEHIND, Joint
from configurator.prediction.surfaces import core_surface
from configurator.search.job import Job
from configurator.search.sieve import charge_of_core

HOT_STEP_K = 5.0
"""Couplers are chosen for the charge temperature rounded up to this, so that cores alike share their joints."""

_Side = tuple[list[Place], list[Place], ChargeConditions, str]


class ChargePipes:
    """Joins any core of one job to the engine. Needs neither end where the brief does not name its bore."""

    def __init__(self, job: Job, adapters: Iterable[Adapter], wyes: Iterable[Wye], clamps: Iterable[Clamp]) -> None:
        """Adapters, wyes and clamps off the shelf; only those of the charge side count."""
        self._job = job
        self._couplers = ChargeJoiner(adapters, clamps)
        self._joiner = ChargeSideJoiner([self._couplers], wyes)
        self._kept_sides: dict[object, list[_Side]] = {}

    def around(self, core: Core, slots: Sequence[str] = ("core",)) -> tuple[Joint, ...] | Verdict:
        """The joints before and after a core in flow order; where one cannot be made, why.

        Twins have a name in `slots` each: all joints before them come first, then all behind them.
        """
        if self._job.fitted("core") is not None:
            return ()
        joints: list[Joint] = []
        for starts, finishes, conditions, wye_slot in self._sides(core, slots):
            for made in self._joiner.join(starts, finishes, conditions, wye_slot):
                if isinstance(made, Verdict):
                    return made
                joints.append(made)
        return tuple(joints)

    def judged(self, piece: Adapter | Wye, core: Core, slots: Sequence[str] = ("core",)) -> tuple[Verdict, ...]:
        """A coupler in each joint of a core without a wye into which it goes, a wye on each side that takes one: kept,
        or the demand that it breaks.
        """
        sides = self._sides(core, slots)
        if isinstance(piece, Wye):
            found = [self._joiner.judged(piece, *side) for side in sides]
        else:
            found = [
                self._couplers.judged(piece, start, finish, conditions)
                for starts, finishes, conditions, _ in sides
                if len(starts) == len(finishes)
                for start, finish in zip(starts, finishes, strict=True)
            ]
        return tuple(verdict for verdict in found if verdict is not None)

    def _sides(self, core: Core, slots: Sequence[str]) -> list[_Side]:
        key = (core.id, *slots)
        if key not in self._kept_sides:
            self._kept_sides[key] = list(self._made_sides(core, slots))
        return self._kept_sides[key]

    def _made_sides(self, core: Core, slots: Sequence[str]) -> Iterator[_Side]:
        """Both sides of a core, where the engine's end is known."""
        job, engine = self._job, self._job.brief.engine
        inlet, outlet = core.charge.end_for("in"), core.charge.end_for("out")
        assert inlet is not None and outlet is not None, "no core without them is read"
        design = charge_design_pa_gauge(job.conditions.boost_pa)
        for starts, finishes, hottest_k, wye_slot in (
            (
                charger_outlets(engine.charger_outlet_m, engine.charger_outlets),
                [(slot, inlet) for slot in slots],
                arriving_k(job, core),
                WYE_BEFORE,
            ),
            ([(slot, outlet) for slot in slots], throttle(engine.throttle_m), leaving_k(job, core), WYE_BEHIND),
        ):
            if starts and finishes:
                step_k = 0.0 if hottest_k == job.conditions.ceiling_k else HOT_STEP_K
                conditions = ChargeConditions(hottest_k, design, job.conditions.boost_pa, engine.oily, step_k)
                yield starts, finishes, conditions, wye_slot


def arriving_k(job: Job, core: Core) -> float:
    """How hot the charge that reaches a core is taken to be where couplers are chosen [K]."""
    arrives_k, _ = charge_of_core(job, core_surface(core))
    return -(-arrives_k // HOT_STEP_K) * HOT_STEP_K


def leaving_k(job: Job, core: Core) -> float:
    """How hot the charge behind a core is taken to be where couplers are chosen [K]: as hot as the aim lets it be.

    As hot as it arrives where the aim is held against the restart after a standstill: nothing bounds the drive then.
    """
    ceiling_k = job.conditions.ceiling_k
    return ceiling_k if job.brief.aim.after_s is None else max(ceiling_k, arriving_k(job, core))


def charger_outlets(bore_m: float | None, count: int) -> list[Place]:
    """The charger's outlets, numbered where there are two; none where their bore is not known."""
    names = ["charger outlet"] if count == 1 else [f"charger outlet {number}" for number in range(1, count + 1)]
    return [] if bore_m is None else [_pipe_end(name, bore_m) for name in names]


def throttle(bore_m: float | None) -> list[Place]:
    """The throttle; none where its bore is not known."""
    return [] if bore_m is None else [_pipe_end("throttle", bore_m)]


def _pipe_end(name: str, bore_m: float) -> Place:
    """The engine's own pipe end: a beaded spigot of the bore that the brief names."""
    size = f"{float(bore_m) * 1000:g} mm"
    return ("engine", End.model_validate({"name": name, "form": "spigot", "size": size, "bead": True}))
