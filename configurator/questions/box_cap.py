"""The cap of a box's reservoir: whether it goes on and opens in time; where there is none, which of the shelf does."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from configurator.foundations.verdicts import Verdict
from configurator.joining.ratings import cap_short_of_pa_gauge
from configurator.joining.small_joints import cap_rules, goes_on, has_air_space, has_neck
from configurator.joining.words import bar_words, bars_apart, end_words
from configurator.parts.ends import End
from configurator.parts.kinds import Cap, Reservoir
from configurator.parts.shelf import Catalogue
from configurator.questions.box_loop import BoxLoop
from configurator.questions.written_in import WrittenIn


def cap_verdicts(loop: BoxLoop, shelf: Catalogue, written: WrittenIn) -> Iterator[Verdict]:
    """The rules between reservoir and cap that are broken, or that nobody can judge.

    A cap that the box lacks and that the shelf sells is one of the pieces to buy: it is judged as if it were there.
    """
    for reservoir in _reservoirs(loop):
        rules = (*_of_cap(loop, reservoir, shelf, written), has_air_space(reservoir))
        yield from {(rule.rule, rule.subjects): rule for rule in rules if rule.state != "kept"}.values()


def _of_cap(loop: BoxLoop, reservoir: Reservoir, shelf: Catalogue, written: WrittenIn) -> Iterator[Verdict]:
    caps = [part for _, part in loop.of("cap") if isinstance(part, Cap)]
    cap = caps[0] if caps else cap_to_buy(loop)
    asked = _unknown_mouths(reservoir, cap, written)
    yield from asked
    if cap is None and loop.cap_stated:
        yield from _under_stated(loop, reservoir, shelf)
        return
    for rule in cap_rules(reservoir, cap):
        if asked and (cap is None or rule.rule == "ends-do-not-meet"):
            continue  # what is asked decides it
        of_cap = rule.state == "broken" and rule.rule != "no-air-space"
        yield replace(rule, text=rule.text + (_such_as(loop, reservoir, shelf) if of_cap else ""))


def _under_stated(loop: BoxLoop, reservoir: Reservoir, shelf: Catalogue) -> Iterator[Verdict]:
    """The rules of a cap of which nothing but its pressure is known."""
    if not _has_seat(reservoir):
        yield from cap_rules(reservoir, None)
    opens, rated = loop.opens_pa, reservoir.coolant.rating.working_pa_gauge
    subjects = (reservoir.id, "cap")
    if reservoir.vented and opens > 0.0:
        text = f"'{reservoir.id}' is vented: it takes a vented cap, not one of {bar_words(opens)}"
        text += _such_as(loop, reservoir, shelf)
        yield Verdict("vented-under-pressure-cap", "broken", subjects, opens, 0.0, "Pa", text)
    elif rated is not None and opens > rated:
        told, good = bars_apart(opens, rated)
        text = f"the cap opens at {told}, '{reservoir.id}' is good for {good}{_such_as(loop, reservoir, shelf)}"
        yield Verdict("cap-above-rating", "broken", subjects, opens, rated, "Pa", text)


def _unknown_mouths(reservoir: Reservoir, cap: Cap | None, written: WrittenIn) -> list[Verdict]:
    """That nobody knows the mouth of the reservoir's neck, or of its cap, and where to write it."""
    other = "which cap" if cap is None else f"whether '{cap.id}'"
    found: list[tuple[Reservoir | Cap, End, str]] = []
    found += [(reservoir, end, f"{other} goes on it") for end in _unknown_seats(reservoir)[:1]]
    if cap is not None and all(end.form == "unknown" for end in cap.coolant.ends):
        found.append((cap, cap.coolant.ends[0], f"whether it goes on '{reservoir.id}'"))
    verdicts = []
    for part, end, goes in found:
        keys = f"`form: neck`, `size:` and `sex:` of that end in {written.entry(part.id)}"
        text = (
            f"nobody knows what the end '{end.name}' of '{part.id}' is, nor {goes}. Ask the customer how wide its "
            f"mouth is, and write {keys}"
        )
        verdicts.append(Verdict("unknown-end", "not checked", (f"{part.kind}.{end.name}",), text=text))
    return verdicts


def _unknown_seats(reservoir: Reservoir) -> list[End]:
    """Ends of a reservoir without a known neck that may be one, for all that anybody knows."""
    passage = reservoir.coolant
    roles = {"cap", "fill", *(("either",) if passage.one_way else ())}
    return [] if has_neck(reservoir) else [end for end in passage.ends if end.form == "unknown" and end.role in roles]


def _has_seat(reservoir: Reservoir) -> bool:
    """Whether a cap goes on a reservoir, or may."""
    return has_neck(reservoir) or bool(_unknown_seats(reservoir))


def with_cap_to_fit(loop: BoxLoop, shelf: Catalogue) -> BoxLoop:
    """The loop with the cap off the shelf that an open neck or a sealed reservoir wants: the lowest that suits, if any.

    The pressure of all parts is that under this cap.
    """
    if loop.of("cap") or loop.cap_stated:
        return loop
    for reservoir in _reservoirs(loop):
        if any(rule.state == "broken" for rule in cap_rules(reservoir, None)):
            cap = _lowest_that_suits(reservoir, shelf)
            return loop if cap is None else _under(loop, cap)
    return loop


def cap_to_buy(loop: BoxLoop) -> Cap | None:
    """The cap that the loop is judged with for want of one, where its parts hold it."""
    cap = loop.cap_to_fit
    return cap if cap is not None and _holds(loop, cap) else None


def cap_to_bring(loop: BoxLoop) -> str | None:
    """In words, the cap of which the box says the pressure and that does not lie in it; none where it is refused."""
    tanks = _reservoirs(loop)
    of_no_use = any((tank.vented and loop.opens_pa > 0.0) or not _has_seat(tank) for tank in tanks)
    if loop.of("cap") or not loop.cap_stated or of_no_use:
        return None
    return f"cap that opens at {bar_words(loop.opens_pa)}" if loop.opens_pa > 0.0 else "vented cap"


def _under(loop: BoxLoop, cap: Cap) -> BoxLoop:
    return replace(loop, cap_to_fit=cap, opens_pa=float(cap.opens_pa_gauge))


def _holds(loop: BoxLoop, cap: Cap) -> bool:
    """Whether no part of a loop is rated under what it may see with a cap; a vented one adds nothing."""
    under = _under(loop, cap)
    rated = [
        (coolant.rating.working_pa_gauge, under.design_pa(part.kind))
        for _, part in loop.flow
        if (coolant := part.passages().get("coolant")) is not None
    ]
    return under.opens_pa == 0.0 or all(rating is None or rating >= sees for rating, sees in rated)


def _such_as(loop: BoxLoop, reservoir: Reservoir, shelf: Catalogue) -> str:
    """Which cap of the shelf to fit, or why there is none; nothing where no neck is known that it would go on."""
    if not has_neck(reservoir):
        return ""
    cap = _lowest_that_suits(reservoir, shelf)
    if cap is None:
        return f"; {_none_suits(reservoir, shelf)}"
    opens = float(cap.opens_pa_gauge)
    named = f"'{cap.id}' ({bar_words(opens) if opens > 0.0 else 'vented'})"
    if not _holds(loop, cap):
        return f"; the lowest on the shelf that goes on it, {named}, is more than these parts hold"
    return f"; fit one such as {named}"


def _none_suits(reservoir: Reservoir, shelf: Catalogue) -> str:
    neck = next(end for end in reservoir.coolant.ends if end.form == "neck")
    if not any(goes_on(cap, reservoir) for cap in shelf.of(Cap)):
        return f"no cap on the shelf goes on its {end_words(neck)}"
    if reservoir.vented:
        return f"of the caps on the shelf that go on its {end_words(neck)} none is vented"
    rated = reservoir.coolant.rating.working_pa_gauge
    most = "" if rated is None else f" of at most the {bar_words(rated)} that it is good for"
    return f"of the caps on the shelf that go on its {end_words(neck)} none is a pressure cap{most} that holds its own"


def _lowest_that_suits(reservoir: Reservoir, shelf: Catalogue) -> Cap | None:
    """The cap that opens at the least of those that nothing speaks against; what a tank lacks itself does not count."""
    fit = [
        cap
        for cap in shelf.of(Cap)
        if (float(cap.opens_pa_gauge) > 0.0) != reservoir.vented
        and cap_short_of_pa_gauge(cap) is None
        and not any(rule.state == "broken" and rule.rule != "no-air-space" for rule in cap_rules(reservoir, cap))
    ]
    return min(fit, key=lambda cap: (float(cap.opens_pa_gauge), cap.price_cents, cap.id), default=None)


def _reservoirs(loop: BoxLoop) -> list[Reservoir]:
    return [part for _, part in loop.of("reservoir") if isinstance(part, Reservoir)]
