"""Ways out of what the shelf holds: another coolant, an adapter that it does not have, less ice, no front exchanger.

The coldest night stands, whatever is welcome. Whether a circuit allows a kind nobody but the customer knows.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence

from configurator.brief.request import Brief
from configurator.foundations.coolants import Kind as CoolantKind
from configurator.parts.end_text import ToldEnd, read_end
from configurator.parts.kinds import Adapter
from configurator.parts.shelf import Catalogue, make_catalogue
from configurator.questions.changed_brief import COOLANT_KINDS, Asked, with_changes, with_coolant, without_front
from configurator.questions.few_parts import few, holds_all, warm_kits, with_parts
from configurator.questions.further import Further
from configurator.questions.searches import Searched, cut, kept
from configurator.search.circuit import unwanted
from configurator.search.hosts import hosted
from configurator.search.job import Job
from configurator.search.loosening import Change, Choice

COOLANT, ADAPTER, FRONT = "coolant kinds", "adapter", "front exchanger"

LONG_MM, STANDS_BAR, HOTTEST_C, COLDEST_C = 60, 10, 130, -40
"""What an adapter is tried as, for nobody knows which one is bought; common practice, no source."""

CHARGE_HOTTEST_C = 230
"""... and a coupler of the charge side, which is tried as lined: what silicone stands; common practice, no source."""

ICE_STEPS = 10
"""Of a kilogram of ice."""

_MOST = 4
"""How many adapters, or tanks for ice, are tried, each alone: those that most parts lack."""

_MOST_PARTS = 40
"""How many parts that lack an adapter, or do not hold the coolant, are tried beside those that come near."""

_ROUNDS = 3
"""How often a part whose one end is joined may be found to lack another adapter at the other."""

Ends = tuple[str, str]


def other_coolants(brief: Brief) -> tuple[CoolantKind, ...]:
    """Kinds of coolant that a brief does not welcome; with ice none is in question but water."""
    return () if brief.ice is not None else tuple(kind for kind in COOLANT_KINDS if kind not in brief.coolant.kinds)


def coolant_choice(brief: Brief, kind: CoolantKind) -> Choice:
    """That kind in the place of those that the brief welcomes."""
    return Choice(COOLANT, ", ".join(brief.coolant.kinds), kind)


def coolant_ways(further: Further, found: Sequence[Searched]) -> Iterator[Choice]:
    """Each other kind of coolant with which there is a kit.

    Tried where a part must not hold the coolant, or where it is a glycol and kits are too warm.
    """
    job = further.job
    banned = [out.part for one in found for out in one.exclusions if out.code == "coolant-banned"][:_MOST_PARTS]
    if not banned and (job.conditions.coolant.kind == "water" or not warm_kits(found)):
        return
    shelf = with_parts(job.catalogue, few(job.catalogue, found), banned)
    for kind in other_coolants(job.brief):
        asked = with_coolant(further.asked, kind)
        some = bool(further.any_of(asked, shelf))
        if not some and banned and not holds_all(job.catalogue, shelf) and further.job_of(asked) is not None:
            if further.spent:
                further.not_tried.append(COOLANT)
                return
            whole = further.whole(asked)
            some = bool(kept(whole))
            if not some and cut(whole):
                further.not_tried.append(COOLANT)
        if some:
            yield coolant_choice(job.brief, kind)


def no_front(further: Further, found: Sequence[Searched]) -> Choice | None:
    """No front exchanger, where the brief looks at none of the loops without one, and one of them makes a kit."""
    if not _may_go_without_front(further.job):
        return None
    if further.patience.over():
        further.not_tried.append(FRONT)
        return None
    asked, shelf = without_front(further.asked), further.few(found)
    some = bool(further.any_of(asked, shelf))
    if not some and not holds_all(further.job.catalogue, shelf):
        whole = further.aside(asked)
        some = bool(kept(whole))
        if not some and cut(whole):
            further.not_tried.append(FRONT)
    return Choice(FRONT, "in the loop", "left out") if some else None


def _may_go_without_front(job: Job) -> bool:
    """Whether a layout has a front exchanger and can do without, and nothing holds one in: own, stays or wanted."""
    if job.fitted("exchanger") is not None or job.wanted("exchanger") or "exchanger" in unwanted(job.brief, job.layout):
        return False
    fronts = ([slot for slot in one.layout.slots if slot.kind == "exchanger"] for one in hosted(job))
    return any(slots and all(slot.least == 0 for slot in slots) for slots in fronts)


def less_ice(further: Further, found: Sequence[Searched]) -> Change | None:
    """The most ice with which there is a kit, where the brief's is too much for every tank that takes any."""
    ice = further.job.brief.ice
    if ice is None or any(one.parts.reservoirs for one in found):
        return None
    goes_in = {
        float(out.limit) / float(out.found)
        for one in found
        for out in one.exclusions
        if out.code == "ice-over-tank" and out.limit is not None and out.found is not None
    }
    for share in sorted(goes_in, reverse=True)[:_MOST]:
        most_kg = math.floor(float(ice.mass_kg) * share * ICE_STEPS) / ICE_STEPS
        change = Change("ice", float(ice.mass_kg), most_kg, "kg", written=ice.mass_kg.unit)
        if further.spent:
            further.not_tried.append("ice")
            return None
        if most_kg > 0 and kept(further.whole(with_changes(further.asked, [change]))):
            return change
    return None


def adapter_ways(further: Further, found: Sequence[Searched], asked: Asked) -> tuple[tuple[Choice, ...], ...]:
    """Each adapter that alone, were it on the shelf, would give a kit; where none does, the fewest that do together.

    `found` is a search that found none; `asked` the brief, perhaps without limits.
    """
    wanted = [*_missing(found), *_missing_couplers(found)]
    out = [out.part for one in found for out in one.exclusions if out.code == "ends-do-not-meet"]
    lacking = out[:_MOST_PARTS]
    shelf = with_parts(further.job.catalogue, few(further.job.catalogue, found), lacking)

    def some_kit(ends: Sequence[Ends]) -> bool:
        return bool(further.any_of(asked, with_adapters(shelf, ends)))

    alone = [one for one in wanted[:_MOST] if some_kit([one])]
    if alone or not wanted:
        return tuple((Choice(ADAPTER, *ends),) for ends in alone)
    together = list[Ends]()
    for _ in range(_ROUNDS):
        more = [ends for ends in wanted if ends not in together][:_MOST]
        if not more:
            return ()
        together += more
        searched = further.of_few(asked, with_adapters(shelf, together))
        if kept(searched):
            for ends in tuple(together):
                fewer = [one for one in together if one != ends]
                together = fewer if some_kit(fewer) else together
            return (tuple(Choice(ADAPTER, *ends) for ends in together),)
        wanted = [*_missing(searched), *_missing_couplers(searched)]
    return ()


def with_adapters(shelf: Catalogue, of: Sequence[Ends]) -> Catalogue:
    """A shelf with adapters by their ends, as they are tried: without a price and a mass, which nobody knows."""
    return make_catalogue((*shelf.parts.values(), *map(_adapter, of)), shelf.layouts)


def _adapter(ends: Ends) -> Adapter:
    told = [end for end in map(read_end, ends) if isinstance(end, ToldEnd)]
    written = [one.end.model_dump(by_alias=True, exclude_defaults=True) for one in told]
    of_charge = all(one.end.form == "coupler" for one in told)
    return Adapter.model_validate(
        {
            "id": "-".join(("to-buy", *ends)).replace(":", "-").replace("/", "-").lower(),
            "name": "adapter to buy",
            "price": 0,
            "mass": "1 g",
            "shape": "reducer" if of_charge else "adapter",
            "medium": "charge" if of_charge else "coolant",
            "lined": of_charge,
            "length": f"{LONG_MM} mm",
            "through": {
                "working": f"{STANDS_BAR} bar",
                "hottest": f"{CHARGE_HOTTEST_C if of_charge else HOTTEST_C} degC",
                "coldest": f"{COLDEST_C} degC",
                "ends": [{**end, "name": name} for name, end in zip("ab", written, strict=True)],
            },
        }
    )


def _missing(found: Sequence[Searched]) -> list[Ends]:
    """The ends of adapters that parts are out for, those that most parts lack first."""
    lacks = Counter(
        (min(str(out.found), str(out.limit)), max(str(out.found), str(out.limit)))
        for one in found
        for out in one.exclusions
        if out.code == "ends-do-not-meet" and out.found is not None
    )
    known = [ends for ends in lacks if all(isinstance(read_end(end), ToldEnd) for end in ends)]
    return sorted(known, key=lambda ends: (-lacks[ends], ends))


def _missing_couplers(found: Sequence[Searched]) -> list[Ends]:
    """The ends of couplers from the engine's pipes to cores that are not joined to it, of which the shelf has none."""
    lacks: Counter[Ends] = Counter()
    for one in found:
        engine = one.job.brief.engine
        sold = {tuple(sorted(end.size_m or 0.0 for end in of.through.ends)) for of in one.job.serving(Adapter)}
        for core in (core for core in one.parts.cores if core.id in one.kits.unjoined_charge):
            for pipe_m, role in ((engine.charger_outlet_m, "in"), (engine.throttle_m, "out")):
                end = core.charge.end_for(role)
                if pipe_m is None or end is None or end.size_m is None:
                    continue
                sizes = tuple(sorted((float(pipe_m), end.size_m)))
                if sizes not in sold:
                    small, large = (f"coupler:{size * 1e3:g}mm" for size in sizes)
                    lacks[small, large] += 1
    return sorted(lacks, key=lambda ends: (-lacks[ends], ends))
