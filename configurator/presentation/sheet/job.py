"""The job as the brief states it, in the customer's own figures, and what was assumed where it is silent."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from configurator.brief.driving import Driving
from configurator.brief.request import Brief, CoolantWish, Limits
from configurator.presentation.bill_words import money
from configurator.presentation.first_sentence import drive_words
from configurator.presentation.sheet.bay_words import bay_rows, own
from configurator.questions.answer import Answer

_MOST_STRETCHES: Final = 6


def stated_rows(brief: Brief, driving: Driving, answer: Answer) -> tuple[tuple[str, str], ...]:
    """What the brief says, in its order."""
    return tuple(_stated(brief, driving, answer))


def assumed_rows(answer: Answer) -> tuple[tuple[str, str], ...]:
    """Every default that the answer leans on, marked as one."""
    return tuple((f"{one.about} (assumed)", one.text) for one in answer.assumed)


def _stated(brief: Brief, driving: Driving, answer: Answer) -> Iterator[tuple[str, str]]:
    engine, site = brief.engine, brief.site
    outlets = "" if engine.charger_outlets == 1 else f"{engine.charger_outlets} × "
    yield "engine", _told(
        (f"{own(engine.power_w)} at the crank, {engine.fuel}, {engine.charger}, "
         f"boost {own(engine.boost_pa_gauge)} at the throttle", True),
        ("charger outlet", f"{outlets}{own(engine.charger_outlet_m)}", engine.charger_outlet_m),
        ("throttle", engine.throttle_m),
        ("displacement", engine.displacement_m3),
        ("up to", engine.rev_limit_per_s),
        ("charger efficiency", engine.charger_efficiency),
        ("air to the charger warmer by", engine.inlet_rise_k),
        ("inlet loses", engine.inlet_loss_pa),
        ("charge pipes lose", engine.loss_to_throttle_pa),
        ("oil mist in the charge", engine.oily or None),
    )  # fmt: skip
    yield "day", _told(
        (f"{own(site.air_k)} outside air", True),
        ("humidity", site.humidity),
        ("altitude", site.altitude_m),
        ("coldest night", site.coldest_k),
    )
    yield "drive", f"{drive_words(answer.driving_name)}: {_stretches(driving)}"
    aim = brief.aim
    yield "aim", _told(
        ("charge out of the core at most", aim.charge_air_k),
        ("charge above the outside air at most", aim.above_air_k),
        ("judged on a restart after standing", aim.after_s),
        ("pump, and fan where there is one, go on for", brief.after_run_s),
        ("charge pressure lost at most", aim.charge_loss_pa),
        ("for the ranking no margin counts beyond", brief.enough_k),
    )
    limits = tuple(_limits(brief.limits, answer.currency))
    if limits:
        yield "limits", ", ".join(limits)
    yield "coolant", _coolant(brief.coolant)
    if brief.ice is not None:
        yield "ice", _told((f"{own(brief.ice.mass_kg)} of {brief.ice.kind} at the start of a pass", True),
                           ("passes", driving.passes if driving.passes > 1 else None))  # fmt: skip
    if brief.bay is None:
        yield "bay", "not measured"
    else:
        yield from bay_rows(brief.bay)
    may_go_in = [held.part.id for held in answer.own if not held.fitted]  # what stays is marked in each kit
    if may_go_in:
        yield "own parts", f"{', '.join(may_go_in)}: go in where they serve"
    wishes = _told(
        ("wanted", ", ".join(brief.wanted) or None),
        ("not wanted", ", ".join(brief.without) or None),
        ("layouts", ", ".join(brief.layouts) or None),
        ("only what is in stock", brief.in_stock or None),
    )
    if wishes:
        yield "wishes", wishes


def _told(*entries: tuple[str, object] | tuple[str, str, object]) -> str:
    """Entries that there are, each a name and its value, or a name, words for its value, and the value."""
    found = []
    for name, *rest in entries:
        value = rest[-1]
        if value is None:
            continue
        words = str(rest[0]) if len(rest) > 1 else "" if value is True else own(value)
        found.append(f"{name} {words}".strip())
    return ", ".join(found)


def _stretches(driving: Driving) -> str:
    rounds = [f"{own(one.lasts_s)} at {own(one.share)} of full power and {own(one.speed_m_per_s)}"
              for one in driving.stretches]  # fmt: skip
    if len(rounds) > _MOST_STRETCHES:
        return f"{len(rounds)} stretches, repeated until {own(driving.total_s)} are over"
    return f"{', then '.join(rounds)}; repeated until {own(driving.total_s)} are over"


def _limits(limits: Limits, currency: str) -> Iterator[str]:
    if limits.price is not None:
        yield f"price {money(round(100 * limits.price), currency)}"
    if limits.mass_dry_kg is not None:
        yield f"dry mass {own(limits.mass_dry_kg)}"
    if limits.current_a is not None:
        yield f"current {own(limits.current_a)}"


def _coolant(wish: CoolantWish) -> str:
    start = wish.start_k if wish.start_k != "soaked" else "soaked"
    return _told(
        (f"welcome: {', '.join(wish.kinds)}", True),
        ("settled share of glycol by volume", wish.glycol_by_volume),
        ("starts at", start),
    )
