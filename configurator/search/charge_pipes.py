"""The charge side of a kit: core to charger outlet, core to throttle, with the couplers of the shelf."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from configurator.foundations.verdicts import Verdict
from configurator.joining.charge_joint import ChargeConditions, ChargeJoiner
from configurator.joining.ratings import charge_design_pa_gauge
from configurator.parts.ends import End
from configurator.parts.kinds import Adapter, Clamp, Core
from configurator.parts.kit import Joint
from configurator.prediction.surfaces import core_surface
from configurator.search.job import Job
from configurator.search.sieve import charge_of_core

HOT_STEP_K = 5.0
"""Couplers are chosen for the charge temperature rounded up to this, so that cores alike share their joints."""


class ChargePipes:
    """Joins any core of one job to the engine. Needs neither end where the brief does not name its bore."""

    def __init__(self, job: Job, adapters: Iterable[Adapter], clamps: Iterable[Clamp]) -> None:
        """Adapters of the charge side and clamps, off the shelf."""
        self._job = job
        self._joiner = ChargeJoiner(adapters, clamps)

    def around(self, core: Core, slots: Sequence[str] = ("core",)) -> tuple[Joint, ...] | str:
        """The joints before and after a core in flow order; where one cannot be made, why.

        Of twins every joint there is is made for each of their `slots`: all before them, then all behind them.
        """
        job = self._job
        if job.fitted("core") is not None:
            return ()
        arrives_k, _ = charge_of_core(job, core_surface(core))
        hot = -(-arrives_k // HOT_STEP_K) * HOT_STEP_K
        inlet, outlet = core.charge.ends_for("in"), core.charge.ends_for("out")
        if not inlet or not outlet:
            return "its charge side needs an end of role in and one of role out"
        joints: list[Joint] = []
        outlet_pipe = pipe_end("charger outlet", job.brief.engine.charger_outlet_m)
        throttle = pipe_end("throttle", job.brief.engine.throttle_m)
        for start, finish, hottest_k in (
            *((outlet_pipe, (slot, inlet[0]), hot) for slot in slots),
            *(((slot, outlet[-1]), throttle, job.conditions.ceiling_k) for slot in slots),
        ):
            if start is None or finish is None:
                continue
            design = charge_design_pa_gauge(job.conditions.boost_pa)
            made = self._joiner.join(
                start,
                finish,
                ChargeConditions(hottest_k, design, job.conditions.boost_pa, job.brief.engine.oily),
            )
            if isinstance(made, Verdict):
                return made.text
            joints.append(made)
        return tuple(joints)


def pipe_end(name: str, bore_m: float | None) -> tuple[str, End] | None:
    """The engine's own pipe end: a beaded spigot of the bore that the brief names."""
    if bore_m is None:
        return None
    end = End.model_validate(
        {"name": name, "form": "spigot", "size": f"{float(bore_m) * 1000:g} mm", "bead": True}
    )
    return ("engine", end)
