"""A box of parts in the car of a brief: the retailer's question asked of a shelf that holds nothing else."""

from __future__ import annotations

from collections.abc import Collection, Container, Iterator, Mapping, Sequence

from configurator.brief.request import Brief
from configurator.brief.tables import Tables
from configurator.foundations.verdicts import Verdict
from configurator.joining.words import bar_words
from configurator.parts.kinds import (
    Adapter,
    Cap,
    Clamp,
    Core,
    Exchanger,
    Fuse,
    Hose,
    Part,
    Pump,
    Relay,
    Reservoir,
    Valve,
    Wire,
    Wye,
)
from configurator.parts.own import OwnPart
from configurator.parts.shelf import Catalogue, make_catalogue
from configurator.questions.answer import OfferedKit
from configurator.questions.box_cap import cap_to_buy
from configurator.questions.box_car import Car
from configurator.questions.box_layouts import bypassed, judged_layout, layouts_with_room, makes_none_named
from configurator.questions.box_loop import BoxLoop
from configurator.questions.check_answer import NOT_IN_THIS_CAR, InCar
from configurator.questions.searches import make_job
from configurator.questions.suggest import suggest
from configurator.reasons.ways_out import shortfall_text
from configurator.reasons.wording import exclusion_text
from configurator.search.charge_pipes import arriving_k
from configurator.search.fill import OF_COOLANT
from configurator.search.job import Exclusion, Job
from configurator.search.sieve import every_reason, zones_of

SMALL: tuple[type[Part], ...] = (Adapter, Clamp, Fuse, Hose, Relay, Wire, Wye)
CHOICES = 100
OF_A_PART_ALONE = (
    "too-hot", "too-cold", "coolant-banned", "warms-ice", "not-for-ice", "ice-over-tank", "no-zone-takes-it",
)  # fmt: skip
STATED_CAP = "cap-as-stated"

STATED_CAP_HOLDS = 2.0
"""Rating over opening pressure that is made up for a cap of which nobody says more than where it opens. No source."""


def in_car(
    loop: BoxLoop,
    parts: Sequence[Part],
    car: Car,
    stays: Collection[str],
    catalogue: Catalogue,
    tables: Tables,
    head_m: float | None = None,
) -> InCar:
    """Ask for kits of the box's parts alone, joined and capped by what the shelf has; the kit is that with most of it.

    What the brief does not want or has out of stock is in the box all the same, whatever else it wants, and is paid
    for: a limit on the price does not count. `stays`: ids of parts that are in the car and stay there. `head_m`: the
    liquid above the lowest part, where the kit file states it [m].
    """
    brief, driving = car.brief, car.driving
    stated = _stated_cap(loop)
    mine = {part.id: part for part in (*parts, *stated)}
    small = [part for kind in SMALL for part in catalogue.of(kind)]
    shut_out = bypassed(loop)
    if shut_out and not any(isinstance(part, Valve) for part in loop.small):
        small += catalogue.of(Valve)
    bought = [] if (cap := cap_to_buy(loop)) is None else [cap]
    shelf = make_catalogue([*small, *bought, *mine.values()], catalogue.layouts)
    paid = brief.limits.model_copy(update={"price": None})
    asked = brief.model_copy(update={"wanted": (), "without": (), "in_stock": False, "limits": paid})
    twins = {part.id for _, part in loop.slots if sum(part.id == other.id for _, other in loop.slots) > 1}
    # One piece of an own part is all that a kit may use: of twins there are two.
    had = tuple(OwnPart(part, fitted=part.id in stays) for part in mine.values() if part.id not in twins)
    told = []
    job = make_job(asked, driving, had, shelf, tables, head_m)
    goes_in = [part for part in mine.values() if part.id not in stays]
    alone = () if job is None else tuple(out for part in goes_in for out in _alone(job, part, shut_out=shut_out))
    zones = tuple(_only_zones(loop, brief, job, stays))
    for layouts in _in_turn(loop, catalogue):
        of_these = asked.model_copy(update={"layouts": layouts})
        answer = suggest(
            of_these, driving, had, car.fingerprint, shelf, tables, top=CHOICES, look_further=False, head_m=head_m
        )
        found = () if makes_none_named(loop) else answer.kits or answer.closest
        most = max(found, key=lambda kit: (_used(kit, mine), -kit.rank), default=None)
        told.append(InCar(of_these, answer, most, had, alone, zones, head_m))
        if told[-1].kit is not None:
            return told[-1]
    return told[0]


def reaches_cores_k(loop: BoxLoop, car: Car, catalogue: Catalogue, tables: Tables) -> float | None:
    """How hot the charge of a car is where it reaches a box's core [K]; None of a box without one."""
    job = make_job(car.brief, car.driving, car.own, catalogue, tables)
    cores = [core for _, core in loop.of("core") if isinstance(core, Core)]
    return max(arriving_k(job, core) for core in cores) if job is not None and cores else None


def _in_turn(loop: BoxLoop, catalogue: Catalogue) -> list[tuple[str, ...]]:
    """Ids of the layouts to ask for: that which the box is judged for; only where it makes no kit, any other."""
    judged, ids = judged_layout(loop, catalogue), tuple(layout.id for layout in layouts_with_room(loop, catalogue))
    if judged is None:
        return [ids or tuple(layout.id for layout in loop.named)]
    return [(judged.id,), others] if (others := tuple(one for one in ids if one != judged.id)) else [(judged.id,)]


def against_the_car(told: InCar, names: Mapping[str, str]) -> list[Verdict]:
    """Why the box makes no kit for the car, or none with its exchanger in circuit: that would warm the car's ice.

    Missing the aim or a limit is told, and is no such reason; coolant too hot for a part, or that boils, is one.
    """
    answer = told.answer
    if answer.blocked is not None:
        return [answer.blocked]
    own = [out for out in answer.exclusions if out.code == "warms-ice" and out.part in names]
    if told.kit is not None and not own:
        hot = [missed for missed in told.kit.shortfalls if missed.rule in OF_COOLANT]
        return [_broken_in(told, shortfall_text(missed, None).partition(": ")[2]) for missed in hot]
    by_itself = [out for out in answer.exclusions if out.code not in ("joins-nothing", "none-left")]
    return _not_in_this_car(told, own or by_itself or answer.exclusions, names)


def alone_against_the_car(told: InCar, names: Mapping[str, str]) -> list[Verdict]:
    """What single parts break in the car, of a box that does not go together as it is, or makes no layout of its brief.

    That no layout is to be had is told of the box.
    """
    if told.answer.blocked is not None and told.answer.blocked.rule != "layout":
        return [told.answer.blocked]
    return _not_in_this_car(told, told.alone, names)


def _not_in_this_car(told: InCar, why: Sequence[Exclusion], names: Mapping[str, str]) -> list[Verdict]:
    return [_broken_in(told, exclusion_text(out, names.get(out.part, out.part))) for out in why]


def _broken_in(told: InCar, text: str) -> Verdict:
    return Verdict(NOT_IN_THIS_CAR, "broken", (told.answer.brief_name,), text=f"in this car: {text}")


def _only_zones(loop: BoxLoop, brief: Brief, job: Job | None, stays: Container[str]) -> Iterator[tuple[str, str]]:
    """Parts that go into the car by slot, with the one zone that holds them, or else that takes their kind."""
    if brief.bay is None:
        return
    for slot, part in loop.flow:
        if part.id in stays:
            continue
        holding = () if job is None else zones_of(job, part)
        taking = tuple(name for name, zone in brief.bay.zones.items() if part.kind in zone.takes)
        for zones in (holding, taking):
            if len(zones) == 1:
                yield slot, zones[0]
                break


def _alone(job: Job, part: Part, *, shut_out: bool) -> Iterator[Exclusion]:
    """What a part of the loop breaks in the car by itself, of heat, coolant, ice and room; of zones the least missed.

    Ratings are told of the box. An exchanger that a valve shuts out (`shut_out`) warms no ice.
    """
    if not isinstance(part, Core | Exchanger | Pump | Reservoir):
        return
    reasons = every_reason(job, part)
    yield from (
        reason
        for reason in reasons
        if reason.code in OF_A_PART_ALONE and not (reason.code == "warms-ice" and shut_out)
    )
    yield from [reason for reason in reasons if reason.zone][:1]


def _used(kit: OfferedKit, mine: dict[str, Part]) -> int:
    return sum(part in mine for _, part in kit.parts)


def _stated_cap(loop: BoxLoop) -> list[Cap]:
    """A cap that the kit file states by its pressure alone, as a part that goes on the reservoir's neck.

    Nobody says what it holds: `STATED_CAP_HOLDS` is made up so that it is never what a kit fails by.
    """
    reservoirs = [part for _, part in loop.of("reservoir") if isinstance(part, Reservoir)]
    if loop.of("cap") or not loop.cap_stated or loop.opens_pa <= 0.0 or not reservoirs:
        return []
    necks = [end for end in reservoirs[0].coolant.ends if end.form == "neck"]
    if not necks:
        return []
    mouth = {"name": "cap", "form": "neck", "size": necks[0].size, "sex": "female"}
    opens = f"{loop.opens_pa / 1e5:.6g} bar"
    written = {
        "id": STATED_CAP, "name": f"Cap as stated, {bar_words(loop.opens_pa)}", "price": 0, "opens": opens,
        "coolant": {"working": f"{STATED_CAP_HOLDS * loop.opens_pa / 1e5:.6g} bar", "ends": [mouth]},
    }  # fmt: skip
    return [Cap.model_validate(written)]
