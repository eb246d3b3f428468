"""What the brief did not say and was taken instead, and which rules could not be judged without it."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from itertools import pairwise, permutations, product

from configurator.brief.bay import UPSTREAM_PREHEAT_K, Bay, box_in_car_m, shadowed_share
from configurator.fitting.room import corner_mm
from configurator.joining.run_ways import coldest_of_k
from configurator.joining.words import celsius_words
from configurator.parts.kinds import Adapter, Hose
from configurator.prediction.conditions import (
    ICED_START_K,
    INLET_LOSS_PA,
    INLET_RISE_K,
    PIPE_LOSS_PA,
    SOAKED_RISE_K,
)
from configurator.prediction.frost import FROST_FREE_NIGHT_K, frost_of
from configurator.prediction.zone_air import ASSUMED_RAM_SHARE, FAN_FACE_SPEED, front_that_stays, ram_share
from configurator.questions.answer import Assumption, NotChecked
from configurator.search.bill import WIRE_RUN_M
from configurator.search.job import Job
from configurator.search.liquid_height import LiquidHeight
from configurator.search.runs import UNPLACED_M, run_between
from configurator.search.skeletons import HOSE_COLDEST_K
from configurator.search.step_joints import TRUNK_M

CHARGE_PIPES = "joints to the charge pipes"

HOT_BEHIND = Assumption(
    "charge", "couplers behind the core stand charge as hot as before it: an aim after a standstill bounds no drive"
)
"""Where the aim is held against the restart alone."""


def assumptions(job: Job) -> tuple[Assumption, ...]:
    """Every default that this brief leans on, in the order of a brief."""
    return tuple(_assumed(job))


def of_twins(job: Job, layouts: Collection[str]) -> Iterator[Assumption]:
    """What kits with twins lean on besides; `layouts`: the ids of those that are listed."""
    listed = [layout for layout in job.catalogue.layouts if layout.id in layouts]
    if any(len(step) > 1 for layout in listed for step in layout.steps):
        yield Assumption(
            "twins", f"coolant divides evenly between twins side by side, at a wye {TRUNK_M:g} m from the next part"
        )
    if any(layout.count("exchanger") > 1 for layout in listed):
        yield Assumption(
            "air",
            "two exchangers in one zone stand side by side where it has the room, else one behind the other, in the "
            "warm air of the first",
        )
    if any(layout.count("core") > 1 for layout in listed):
        yield Assumption("charge", "half of the charge goes through each of two cores")


def _assumed(job: Job) -> Iterator[Assumption]:
    engine, site, bay = job.brief.engine, job.brief.site, job.brief.bay
    charger = job.tables.chargers[engine.charger]
    if engine.charger_efficiency is None:
        yield Assumption(
            "charger",
            f"charger efficiency {100 * float(charger.efficiency):.0f} %, typical of a {charger.name}",
        )
    if engine.inlet_rise_k is None or engine.inlet_loss_pa is None:
        yield Assumption(
            "inlet",
            f"air reaches the charger {INLET_RISE_K:.0f} K warmer, {INLET_LOSS_PA / 1e3:.0f} kPa lower",
        )
    if engine.loss_to_throttle_pa is None:
        yield Assumption(
            "pipes", f"charge pipes lose {PIPE_LOSS_PA / 1e3:.0f} kPa at full flow beside core and couplers"
        )
    if job.brief.aim.after_s is not None and engine.throttle_m is not None:
        yield HOT_BEHIND
    if engine.charger_outlets > 1:
        yield Assumption("outlets", "half of the charge comes out of each of the charger's two outlets")
    if site.altitude_m is None:
        yield Assumption("altitude", "sea level")
    yield from _of_the_cold(job)
    yield from _of_ice(job)
    yield from _of_standstill(job)
    start = job.brief.coolant.start_k
    if start is None and job.conditions.ice is not None:
        yield Assumption("start", f"everything starts at {celsius_words(ICED_START_K)}, the ice beside")
    elif start is None:
        yield Assumption("start", "everything starts as warm as the outside air")
    elif start == "soaked":
        yield Assumption("start", f"a soaked loop starts {SOAKED_RISE_K:.0f} K above the outside air")
    if job.brief.enough_k is None:
        yield Assumption("enough", "margin counts without end, as the brief names no `enough`")
    if bay is None:
        yield Assumption(
            "air", f"face speed {100 * ASSUMED_RAM_SHARE:.0f} % of road speed, a production grille"
        )
    else:
        yield from _of_air(bay)
        if job.fitted("exchanger") is not None:
            yield _of_front_that_stays(bay)
    runs = sorted(_runs_assumed(job))
    if runs:
        yield Assumption("hoses", "hose runs estimated: " + ", ".join(runs))
    if job.fitted("core") is None:  # of one that stays the liquid over it is told with what a crack of it does
        yield from head_assumed(job.liquid)
    closed = [] if bay is None else [name for name, zone in bay.zones.items() if not zone.open]
    if closed:
        named = ", ".join(f"'{name}'" for name in closed)
        yield Assumption(
            "walls",
            f"no fitting or bend reaches through a wall of {named}, as the brief names none under `open`; how hoses "
            "leave there is not judged",
        )
    if bay is not None:
        yield Assumption("routes", "hoses go along the axes, each by itself; space outside the zones is free for them")
    silent = [part for part in job.catalogue.parts.values() if part.stock is None and not job.is_own(part.id)]
    if job.brief.in_stock and silent:
        yield Assumption("stock", f"{len(silent)} parts of this shelf state no stock: they are taken to be there")
    yield Assumption("wire", f"pump wire {WIRE_RUN_M:.0f} m each way")


def head_assumed(liquid: LiquidHeight) -> Iterator[Assumption]:
    """The liquid above a loop, where not all heights that it follows from are known."""
    if not liquid.known:
        yield Assumption("head", f"{liquid.most_m:.3g} m of liquid stands above the lowest part")


def _of_front_that_stays(bay: Bay) -> Assumption:
    """Whose air the front exchanger gets that the car has already."""
    place = front_that_stays(bay)
    named = [name for name, zone in bay.zones.items() if zone is place]
    if bay.front_in is not None:
        return Assumption("air", f"the front exchanger that stays gets the air of '{bay.front_in}', as `front_in` says")
    if named:
        return Assumption("air", f"the front exchanger that stays gets the air of '{named[0]}', as that takes one")
    share = f"{100 * ASSUMED_RAM_SHARE:.0f} % of road speed, a production grille"
    return Assumption("air", f"the front exchanger that stays gets {share}: no `front_in` names its zone")


def _of_air(bay: Bay) -> Iterator[Assumption]:
    """What the air of the zones that take an exchanger leans on."""
    for name, zone in bay.zones.items():
        if "exchanger" not in zone.takes and name != bay.front_in:
            continue
        air = zone.air
        if air is None or (air.kind == "ram" and air.share is None):
            place = "a production grille"
            if air is not None and air.sealed:
                place = "sealed to the fins (25 to 40 % with a good way out; common practice, no source)"
            elif air is not None and air.behind is not None:
                place = f"stacked behind {air.behind}, not sealed (5 to 12 %; common practice, no source)"
            yield Assumption("air", f"face speed at '{name}' {100 * ram_share(zone):.0f} % of road speed, {place}")
        elif air.kind == "fan":
            fan = "a fan that the car has there, which is not in the kit"
            yield Assumption("air", f"face speed {FAN_FACE_SPEED:.0f} m/s at '{name}' from {fan}")
        if air is None or air.behind is None:
            continue
        before = bay.zones.get(air.behind)
        if before is not None:
            share = shadowed_share(bay, zone, before)
            known = box_in_car_m(zone) is not None and box_in_car_m(before) is not None
            where = "" if known else "; their places are not both known"
            yield Assumption("air", f"{100 * share:.0f} % of the face at '{name}' stands behind '{air.behind}'{where}")
        elif air.preheat_k is None:
            yield Assumption(
                "air",
                f"air at '{name}' comes {UPSTREAM_PREHEAT_K[air.behind]:.0f} K warmer from the {air.behind} before it "
                "(common practice, no source)",
            )
    for rear, front in permutations(bay.zones, 2):
        told, share = bay.zones[rear].air, shadowed_share(bay, bay.zones[rear], bay.zones[front])
        both = all("exchanger" in bay.zones[name].takes for name in (rear, front))
        if both and share > 0.0 and (told is None or told.behind != front):
            text = f"{100 * share:.0f} % of the face at '{rear}' stands behind '{front}', by their places"
            yield Assumption("air", text)


def _of_the_cold(job: Job) -> Iterator[Assumption]:
    """What antifreeze is for, where the brief tells no night, or one that is not the hardest cold."""
    frost, night, day = frost_of(job.brief), job.brief.site.coldest_k, job.conditions.ambient_k
    water = job.conditions.coolant.kind == "water"
    kept = "plain water stays liquid at that" if water else "the antifreeze is for that"
    if night is None and min(day, FROST_FREE_NIGHT_K) == FROST_FREE_NIGHT_K:
        told = celsius_words(FROST_FREE_NIGHT_K)
        yield Assumption("coldest", f"the coldest night is {told}: no antifreeze is asked for")
    elif night is None:
        told = celsius_words(day)
        yield Assumption("coldest", f"the coldest night is {told}{f': {kept}' if frost.when == 'day' else ''}")
    elif frost.when == "day":
        yield Assumption("coldest", f"no night is warmer than the day, {frost.told}: {kept}")
    if frost.when == "start":
        yield Assumption("coldest", f"the coolant starts at {frost.told}: {kept}")
    if night is None and job.brief.coldest_k(HOSE_COLDEST_K) == HOSE_COLDEST_K and any(_frozen_pieces(job)):
        told = celsius_words(HOSE_COLDEST_K)
        yield Assumption("coldest", f"hoses and adapters must stand {told}, as no night is named")


def _frozen_pieces(job: Job) -> Iterator[str]:
    """Hoses and adapters of the coolant that do not stand the night they are held against where none is named."""
    for part in job.catalogue.parts.values():
        of_coolant = "coolant" in part.media if isinstance(part, Hose) else getattr(part, "medium", "") == "coolant"
        if isinstance(part, Hose | Adapter) and of_coolant and (coldest_of_k(part) or 0.0) > HOSE_COLDEST_K:
            yield part.id


def _of_ice(job: Job) -> Iterator[Assumption]:
    """What the ice leans on."""
    ice, told = job.conditions.ice, job.brief.ice
    if ice is None or told is None:
        return
    if told.temperature_k is None:
        yield Assumption("ice", "the ice is at 0 degC when it goes in")
    if told.water_k is None:
        yield Assumption("ice", "the loop is filled with water as warm as the outside air")
    kind = job.tables.ice[told.kind]
    each = f"{ice.stirred:.0f} W/K for each kilogram of whole pieces ({kind.standing})"
    yield Assumption("ice", f"the water gives {ice.name} {each}, less as they shrink")
    if ice.passes > 1:
        yield Assumption("ice", f"each of the {ice.passes} passes starts alike: as cold, with as much ice")


def _of_standstill(job: Job) -> Iterator[Assumption]:
    """What the standstill leans on."""
    standing = job.conditions.standing
    if standing is None:
        return
    soak = job.tables.hot_bay
    yield Assumption(
        "standstill",
        f"{soak.name}: engine off, no wind, the bay {float(soak.above_air_k):.0f} K above the outside air; it gives "
        f"core and hoses {float(soak.surface):.0f} W/K for each square metre ({soak.standing}, good to "
        f"{100 * float(soak.band):.0f} %), reservoir and front exchanger nothing",
    )
    yield Assumption(
        "standstill",
        "the aim is judged as the engine idles again: the first charge through the core as it has stood, let in as "
        "warm as in the drive",
    )
    if job.brief.after_run_s is None and job.fitted("timer") is None:
        yield Assumption("standstill", "pump and fan stop at key-off where the kit has no timer")
    if job.brief.bay is not None and any("fan" in zone.takes for zone in job.brief.bay.zones.values()):
        yield Assumption("fan", "a zone that takes a fan lies right behind the exchanger, and a shroud joins them")


def _runs_assumed(job: Job) -> set[str]:
    """Hose runs between zones that the brief leaves to an estimate, with their lengths."""
    bay = job.brief.bay
    if bay is None:
        return {f"every run {run_between(None, '', '').length_m:.1f} m"}
    found = set()
    kinds = ("reservoir", "pump", "core", "exchanger")
    stay = [kind for kind in kinds if job.fitted(kind) is not None]
    zones = [(name, zone.takes) for name, zone in bay.zones.items()]
    places = {kind: [name for name, takes in zones if kind in takes and kind not in stay] for kind in kinds}
    for first, second in pairwise((*kinds, kinds[0])):
        for a, b in product(places[first], places[second]):
            run = run_between(bay, a, b)
            if not run.given:
                between = f"within {a}" if a == b else "-".join(sorted((a, b)))
                found.add(f"{between} {run.length_m:.1f} m")
    if stay:
        found.add(f"to what stays {UNPLACED_M:.1f} m")
    return found


def not_checked(job: Job) -> tuple[NotChecked, ...]:
    """Rules that this answer does not judge, and what each would need."""
    rules: list[NotChecked] = []
    engine, bay = job.brief.engine, job.brief.bay
    unnamed = [
        key
        for key, bore in (("charger_outlet", engine.charger_outlet_m), ("throttle", engine.throttle_m))
        if bore is None
    ]
    if unnamed and job.fitted("core") is None:
        rules.append(NotChecked(CHARGE_PIPES, f"the bores to join to: {' and '.join(unnamed)} under engine"))
    if (engine.displacement_m3 is None) != (engine.rev_limit_per_s is None):
        other = "displacement" if engine.displacement_m3 is None else "rev_limit"
        rules.append(NotChecked("power against boost", f"`{other}` under engine too"))
    if bay is None:
        rules.append(NotChecked("fit", "the sizes of the bay: wide, high and deep of each gap"))
        rules.append(NotChecked("reach of ends", "the same: room before ends is room in a gap"))
    elif any(zone.at.up_m is None for zone in bay.zones.values()):
        unplaced = ", ".join(name for name, zone in bay.zones.items() if zone.at.up_m is None)
        rules.append(NotChecked("heights from zone to zone", f"how high above the ground these lie: {unplaced}"))
    unplaced_in_car = [] if bay is None else [name for name, zone in bay.zones.items() if corner_mm(zone) is None]
    if bay is not None and len(bay.zones) > 1 and unplaced_in_car:
        needs = f"where in the car these lie: {', '.join(unplaced_in_car)}"
        rules.append(NotChecked("ways of hoses from zone to zone", needs))
    return tuple(rules)
