"""Why parts are in or out, in the terminal: a sentence, then what it rests on, then what would change it."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from configurator.joining.words import END_UNKNOWN
from configurator.parts.kinds import IN_LOOP
from configurator.parts.layouts import kind_of_slot
from configurator.presentation.bill_words import money
from configurator.presentation.first_text import behind_words
from configurator.presentation.joint_words import joint_words
from configurator.presentation.lines import WIDTH, hung, listed, wrapped
from configurator.questions.why_answer import Beside, BestKit, PartStory, Whys
from configurator.reasons.cautions import NO_LICENCE, STRUCTURE
from configurator.reasons.ways_out import shortfall_text, way_out_of, way_out_of_ends, way_out_of_ratings, ways_out
from configurator.reasons.wording import cause_text, exclusion_text
from configurator.search.pairings import Pairing

CAUTIONS: Final = (STRUCTURE, NO_LICENCE)
SHOWN: Final = 4
"""How many of the parts that something goes with are named."""

_ALIKE: Final = ("place-taken", "not-asked-for", "all-stopped")
"""Causes that say the same of every part: in the list of all one sentence stands for the ids."""

_HELD_BY: Final = "its pressure is held by"
_RULES: Final = {"joint": "can be joined to", "cap": "its neck suits", "rating": "holds the pressure with"}
_OF_A_CAP: Final = {"cap": "goes on", "rating": _HELD_BY}


def why_text(whys: Whys, names: Mapping[str, str], next_command: str) -> str:
    """The whole screen as text without colour; `names` are the spoken names of parts."""
    blocks = [] if whys.beside is None else [wrapped(_beside(whys.beside), WIDTH)]
    blocks += _every_part(whys) if whys.every_part else [_story(story, whys, names) for story in whys.stories]
    blocks += [listed("Cautions", [caution.text for caution in CAUTIONS], WIDTH), f"Next: {next_command}"]
    return "\n\n".join(block.rstrip() for block in blocks if block.strip()) + "\n"


def part_way_out(story: PartStory, whys: Whys) -> str:
    """What would have to change so that a part is in; empty for one that is."""
    if story.best is not None and story.best.shortfalls:
        fewer = () if story.fewer is None else story.fewer.shortfalls
        first = way_out_of(story.best.shortfalls, whys.rises_from_k)
        return f"{first} The other: {way_out_of(fewer, whys.rises_from_k)}" if fewer else first
    apart = [pairing.kind for pairing in story.pairings if pairing.refused and pairing.rule == "joint"]
    weak = [pairing.kind for pairing in story.pairings if pairing.refused and pairing.rule == "rating"]
    if any(reason.cause == END_UNKNOWN for reason in story.reasons):
        return ways_out(story.reasons)
    if weak:
        return way_out_of_ratings(*weak)
    if apart:
        return way_out_of_ends(*apart)
    return ways_out(story.reasons)


def _beside(beside: Beside) -> str:
    """What of a large shelf was looked at."""
    stopped = " Time ended a search for the best kits: a better one may be left." if beside.stopped else ""
    return (
        f"This shelf has {beside.choices:,} choices of core, exchanger, pump and reservoir, too many to look at every "
        f"kit. Looked at are the {beside.parts:,} parts of the best kits with each part asked for and of the best of "
        f"all: kits and parts are counted among these.{stopped}"
    )


def _every_part(whys: Whys) -> Iterator[str]:
    """Parts that fill a place of the loop, cause by cause; then pieces of joints and wiring, by id alone."""
    main = [story for story in whys.out if story.kind in IN_LOOP]
    pieces = [story for story in whys.out if story.kind not in IN_LOOP]
    kits = f"in none of the {whys.kits:,} kits for this brief" if whys.kits else "out, for this brief has no kit"
    yield wrapped(f"{whys.brief_name}: {len(main)} parts of the loop are {kits}. Commonest cause first:", WIDTH)
    for code, stories in _by_cause(main):
        if code in _ALIKE:
            yield _by_id(code, stories, "")
            continue
        lines = [_head(code, stories, "")]
        for story in stories:
            lines += hung(story.part, exclusion_text(story.reasons[0], story.name), WIDTH)
        yield "\n".join(lines)
    for code, stories in _by_cause(pieces):
        yield _by_id(code, stories, "pieces of joints and wiring: ")


def _head(code: str, stories: Sequence[PartStory], what: str) -> str:
    return wrapped(f"{len(stories)} × {what}{cause_text(code)}", WIDTH)


def _by_id(code: str, stories: Sequence[PartStory], what: str) -> str:
    ids, margin = ", ".join(story.part for story in stories), " " * 26
    lines = textwrap.wrap(ids, WIDTH, initial_indent=margin, subsequent_indent=margin, break_on_hyphens=False)
    return "\n".join([_head(code, stories, what), *lines])


def _by_cause(stories: Sequence[PartStory]) -> list[tuple[str, list[PartStory]]]:
    causes: dict[str, list[PartStory]] = {}
    for story in stories:
        causes.setdefault(story.reasons[0].code, []).append(story)
    return sorted(causes.items(), key=lambda entry: (-len(entry[1]), entry[0]))


def _story(story: PartStory, whys: Whys, names: Mapping[str, str]) -> str:
    lines = textwrap.wrap(_verdict(story, whys), WIDTH, break_on_hyphens=False)
    lines.append("")
    for reason in story.reasons:
        lines += hung("why", exclusion_text(reason, story.name), WIDTH)
    if story.zones and story.pairings:
        lines += hung("fits alone in", ", ".join(story.zones), WIDTH)
    for pairing in story.pairings:
        lines += hung(*_pairing_words(pairing, story.kind), WIDTH)
    if story.crowd is not None:
        zone, others = story.crowd
        beside = f"beside {', '.join(others)}, for one" if others else "alone there"
        lines += hung("tried", f"in {zone} {beside}; no other kit that it joins goes in either", WIDTH)
    if story.best is not None:
        for label, words in _best_rows(story, story.best, whys, names):
            lines += hung(label, words, WIDTH)
    if story.fewer is not None:
        lines += hung("or with less to change", _fewer_words(story, story.fewer, whys), WIDTH)
    change = part_way_out(story, whys)
    if change:
        lines += hung("what would change it", change, WIDTH)
    return "\n".join(lines)


def _verdict(story: PartStory, whys: Whys) -> str:
    named = f"{story.name} [{story.part}]"
    if story.is_in:
        holds = "holds" if story.kits == 1 else "hold"
        undecided = "" if story.is_proven else "; none of them is proven to fit and to hold"
        return f"{named} is IN for {whys.brief_name}: {story.kits:,} of {whys.kits:,} kits {holds} it{undecided}."
    if story.alone:
        rules = "a rule" if len(story.reasons) == 1 else f"{len(story.reasons)} rules"
        return f"{named} is OUT for {whys.brief_name}: it breaks {rules} by itself, whatever stands beside it."
    if story.best is not None:
        return f"{named} is OUT for {whys.brief_name}: it joins and fits, and every kit with it misses something."
    if story.pairings:
        return f"{named} is OUT for {whys.brief_name}: it breaks no rule alone, but no kit can be made with it."
    return f"{named} is OUT for {whys.brief_name}."


def _pairing_words(pairing: Pairing, kind: str) -> tuple[str, str]:
    label = (_OF_A_CAP if kind == "cap" else _RULES)[pairing.rule]
    if kind == "pump" and pairing.rule == "rating" and pairing.kind != "cap":
        label = _HELD_BY
    named = ", ".join(pairing.goes[:SHOWN])
    more = f" and {len(pairing.goes) - SHOWN} more" if len(pairing.goes) > SHOWN else ""
    if pairing.of == 0:
        return label, f"no {pairing.kind}: none is left, ask why of each"
    if not pairing.goes:
        why = f": {pairing.refused}" if pairing.refused else ""
        return label, f"none of {pairing.of} {pairing.kind}s in question{why}"
    of = f"{len(pairing.goes)} of {pairing.of} {pairing.kind}s in question"
    return label, f"{of}: {named}{more}"


def _best_rows(
    story: PartStory, best: BestKit, whys: Whys, names: Mapping[str, str]
) -> Iterator[tuple[str, str]]:
    label = "best kit with it" if best.rank is not None else "nearest kit with it"
    yield label, _rank_words(best) if best.rank is not None else _miss_words(best)
    for shortfall in best.shortfalls:
        yield "it misses", shortfall_text(shortfall, whys.rises_from_k)
    zones = dict(best.zones)
    slots = [slot for slot, part in best.parts if part == story.part and slot in zones]
    if slots:
        both = " (two of it)" if len(slots) > 1 else ""
        yield "sits in", ", ".join(dict.fromkeys(zones[slot] for slot in slots)) + both
    beside = [f"{kind_of_slot(slot)} {part}" for slot, part in best.parts if part != story.part]
    yield "with", ", ".join(beside)
    yield "price of that kit", money(best.price_cents, whys.currency)
    for joint in best.joints[:SHOWN]:
        yield "joined", joint_words(joint, names)
    if len(best.joints) > SHOWN:
        yield "", f"and {len(best.joints) - SHOWN} more joints"
    if best.behind is not None:
        yield "why kit 1 is before it", behind_words(best.behind, whys.currency)


def _miss_words(best: BestKit) -> str:
    things = "one thing" if len(best.shortfalls) == 1 else f"{len(best.shortfalls)} things"
    return f"misses {things}"


def _fewer_words(story: PartStory, fewer: BestKit, whys: Whys) -> str:
    beside = [f"{kind_of_slot(slot)} {part}" for slot, part in fewer.parts if part != story.part]
    missed = "; ".join(shortfall_text(shortfall, whys.rises_from_k) for shortfall in fewer.shortfalls)
    return f"another kit, at {money(fewer.price_cents, whys.currency)} with {', '.join(beside)}: {missed}"


def _rank_words(best: BestKit) -> str:
    if best.rank == 1:
        return "kit 1: no kit stands before it"
    place = f"number {best.rank:,} of {best.of:,}"
    if best.stands:
        return f"kit {best.listed} of the short list ({place} kits in all)"
    return f"{place} kits; on the short list kit {best.listed} stands for its core + exchanger"
