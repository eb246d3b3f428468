"""What the two sides of a kit hold, in words: the weakest member, and what states no rating."""

from __future__ import annotations

from collections.abc import Mapping

from configurator.joining.words import bar_words, celsius_words
from configurator.parts.kit import Member, open_charge_sides
from configurator.parts.passages import BURST_OVER_WORKING, PROOF_OVER_WORKING
from configurator.questions.answer import OfferedKit, Pressure

_STATED = {
    "working": "stated working pressure",
    "proof": f"proof pressure / {PROOF_OVER_WORKING:g}",
    "burst": f"burst pressure / {BURST_OVER_WORKING:g}",
}

def side_words(side: Pressure, names: Mapping[str, str], made_of: str = "") -> str:
    """What one side holds, what it has to (`made_of` what, in brackets), and its weakest member."""
    lowest = side.lowest
    if lowest is None or lowest.member is None or lowest.member.working_pa_gauge is None:
        return f"unproven; it has to hold {bar_words(side.design_pa_gauge)}"
    member = lowest.member
    return (
        f"has to hold {bar_words(lowest.design_pa_gauge)}{made_of}; least to spare: "
        f"{names.get(member.part, member.part)} ({member.place}), good for {_rating_words(member)}"
        + (f"; unproven: {', '.join(names.get(part, part) for part in lowest.unproven)}" if lowest.unproven else "")
    )


def charge_side_words(kit: OfferedKit, names: Mapping[str, str]) -> str:
    """The charge side of a kit, and which of its joints nobody judged: the brief tells no bore, or the core stays."""
    sides = open_charge_sides(kit.joints)
    words = side_words(kit.charge_pressure, names)
    if not sides:
        return words
    if any(slot.startswith("core") for slot in kit.stays):
        return f"{words}; couplers as fitted, not judged"
    return f"{words}; couplers {' and '.join(sides)} the core not judged: bores not told"


def _rating_words(member: Member) -> str:
    """What a member may work at, cold too where heat takes some of it, and what that follows from."""
    text = bar_words(member.working_pa_gauge or 0.0)
    if member.cold_pa_gauge is not None and member.derated_at_k is not None:
        text += f" at {celsius_words(member.derated_at_k)}, {bar_words(member.cold_pa_gauge)} cold"
    return f"{text} ({_STATED[member.stated_as]})"


def unproven_words(kit: OfferedKit) -> tuple[str, ...]:
    """Of how many things in a kit nobody states what pressure they hold; nothing where all do."""
    silent = {*kit.charge_pressure.unproven, *kit.coolant_pressure.unproven}
    if not silent:
        return ()
    return (f"UNPROVEN: {len(silent)} {'thing states' if len(silent) == 1 else 'things state'} no pressure rating",)


def doubts(kit: OfferedKit) -> tuple[str, ...]:
    """In a word each, what of a kit is not known: whether it holds, whether it fits."""
    return (*(("unproven",) if unproven_words(kit) else ()), *(() if kit.fit.decided else ("fit not decided",)))
