"""Before any kit: would a plain air-to-air cooler serve as well, will only ice do, or no liquid loop at all?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from configurator.foundations.freezing import WATER_FREEZES_K
from configurator.parts.layouts import kind_of_slot
from configurator.prediction.air_to_air import air_to_air_worst_k
from configurator.prediction.bench import make_columns
from configurator.questions.answer import Fork, ForkCode, OfferedKit
from configurator.questions.reach import coolest_k
from configurator.questions.searches import Searched
from configurator.search.fill import Candidate
from configurator.search.job import Job
from configurator.search.runs import run_between

SETTLED_K = 2.0
"""A loop whose worst charge is this near to its plateau is warm right through: the drive lasts."""

SHORT_PIPES_M = 2.0
"""So far, each way, are charge pipes to a front cooler still short; common practice, no source."""


def fork(found: Sequence[Searched], told: Sequence[tuple[Candidate, OfferedKit]]) -> Fork | None:
    """What should be said before any kit; `told`: the kits of the answer, or the nearest where there are none."""
    job = found[0].job
    return _out_of_reach(job, found) or _plain_cooler(job, found, told)


def _out_of_reach(job: Job, found: Sequence[Searched]) -> Fork | None:
    """An aim that no loop of this brief reaches, however large its front: with ice, or not even so."""
    now, ceiling_k = job.conditions.coldest_coolant_k, job.conditions.ceiling_k
    loop_k = coolest_k(found, now)
    if loop_k <= ceiling_k or not any(one.parts.cores and one.parts.pumps for one in found):
        return None
    iced_k = coolest_k(found, min(now, WATER_FREEZES_K))
    code: ForkCode = "only-ice" if iced_k <= ceiling_k else "no-loop"
    return Fork(code, loop_k, (iced_k, iced_k))


def _plain_cooler(
    job: Job, found: Sequence[Searched], told: Sequence[tuple[Candidate, OfferedKit]]
) -> Fork | None:
    """A plain air-to-air cooler in place of a front exchanger: where the drive lasts, the pipes would be short, and it
    is likely to be cooler than every loop told, or meets the aim at its warm end."""
    if job.conditions.ice is not None or job.conditions.standing is not None or job.fitted("core") is not None:
        return None
    fronts = [*_with_front(job, told)]
    if not fronts or not _settled(told[0][1]):
        return None
    loop_k = min(kit.thermal.charge_out_worst_k for _, kit in told)
    coolers = [_instead(one, fronts) for one in found if _of_layout(one, fronts)]
    middle_k, cool_k, warm_k, part, zone = min(coolers)
    if middle_k > loop_k and warm_k > job.conditions.ceiling_k:
        return None
    return Fork("air-to-air", loop_k, (cool_k, warm_k), part, zone)


def _settled(kit: OfferedKit) -> bool:
    return kit.thermal.charge_out_worst_k > kit.thermal.charge_out_plateau_k - SETTLED_K


def _with_front(
    job: Job, told: Sequence[tuple[Candidate, OfferedKit]]
) -> Iterator[tuple[Candidate, OfferedKit]]:
    """The kits with exchangers that charge pipes reach from the core's zone."""
    for candidate, kit in told:
        zones = {kind_of_slot(slot): zone for slot, zone in candidate.kit.zones}
        if candidate.loop.exchanger is None or not {"core", "exchanger"} <= zones.keys():
            continue
        if run_between(job.brief.bay, zones["core"], zones["exchanger"]).length_m <= SHORT_PIPES_M:
            yield candidate, kit


def _of_layout(one: Searched, fronts: Sequence[tuple[Candidate, OfferedKit]]) -> list[Candidate]:
    return [kit for kit, _ in fronts if kit.kit.layout == one.job.layout.id]


def _instead(
    one: Searched, fronts: Sequence[tuple[Candidate, OfferedKit]]
) -> tuple[float, float, float, str, str]:
    """The best air-to-air cooler in place of the exchangers: charge at the middle, cool and warm end, part and zone."""
    kits = _of_layout(one, fronts)
    columns = make_columns(one.kits.bench, [kit.loop for kit in kits])
    cool, middle, warm = (air_to_air_worst_k(one.kits.bench, columns, one.job.conditions, end) for end in (1, 0, -1))
    at = int(middle.argmin())
    slot, part = next(entry for entry in kits[at].kit.parts if kind_of_slot(entry[0]) == "exchanger")
    return float(middle[at]), float(cool[at]), float(warm[at]), part, dict(kits[at].kit.zones)[slot]
