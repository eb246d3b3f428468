"""Which layouts a box of parts makes, of those on file or that its brief names; and the one it is judged for."""

from __future__ import annotations

from collections.abc import Iterator

from configurator.foundations.verdicts import Verdict
from configurator.parts.kinds import Valve
from configurator.parts.layouts import Layout
from configurator.parts.shelf import Catalogue
from configurator.questions.box_loop import BoxLoop

PAIRS = {"core": "cores", "exchanger": "front exchangers"}
ONE = {"core": "core", "exchanger": "front exchanger"}


def bypassed(loop: BoxLoop) -> bool:
    """Whether a valve lies before the exchanger of a box: there is one exchanger behind one core, and a valve in the
    box, or the brief names no layout without one that these make."""
    if not len(loop.of("exchanger")) == len(loop.of("core")) == 1:
        return False
    held = any(isinstance(part, Valve) for part in loop.small)
    if not loop.named:
        return held
    with_valve = {layout.bypass is not None for layout in loop.named if not any(_short(loop, layout).values())}
    return True in with_valve and (held or False not in with_valve)


def in_series(loop: BoxLoop, kind: str) -> bool:
    """Whether a pair of a box lies one after the other: the brief names such a layout, and none side by side."""
    judged = _of_pair(_with_room(loop, loop.named))
    return judged is not None and (kind, "series") in judged.twins


def layouts_for(loop: BoxLoop, shelf: Catalogue) -> tuple[str, ...]:
    """Names of the layouts that have a place for every core and exchanger of the box; only told of pairs."""
    if all(len(loop.of(kind)) < 2 for kind in PAIRS):
        return ()
    return tuple(layout.name for layout in layouts_with_room(loop, shelf))


def judged_layout(loop: BoxLoop, shelf: Catalogue) -> Layout | None:
    """The layout that a box is joined, rated and billed for: with a pair the one where it lies side by side, else the
    one that the brief names."""
    if bypassed(loop):
        return next(iter(layouts_with_room(loop, shelf)), None)
    if all(len(loop.of(kind)) < 2 for kind in PAIRS):
        return None
    judged = _of_pair(layouts_with_room(loop, shelf))
    return judged if loop.named or (judged is not None and _side_by_side(judged)) else None


def layouts_with_room(loop: BoxLoop, shelf: Catalogue) -> tuple[Layout, ...]:
    """The layouts in question that have a place for just the cores and exchangers of the box; their pairs are twins.

    In question are those that the brief names, else those on file.
    """
    return _with_room(loop, loop.named or shelf.layouts)


def makes_none_named(loop: BoxLoop) -> bool:
    """Whether the brief names layouts, and the parts of a box make none of them."""
    return bool(loop.named) and not _with_room(loop, loop.named)


def no_layout(loop: BoxLoop, shelf: Catalogue) -> Iterator[Verdict]:
    """That no layout in question has places for the parts of a box: which they lack, or have too many of."""
    if layouts_with_room(loop, shelf):
        return
    pairs = [kind for kind in PAIRS if len(loop.of(kind)) > 1]
    has_places = any(not any(_short(loop, layout).values()) for layout in loop.named)
    if loop.named and not has_places and (pairs or loop.of("core")):
        yield _none_named(loop)
    elif pairs:
        yield _none_on_file(loop, pairs)


def _none_named(loop: BoxLoop) -> Verdict:
    """What parts want to make the nearest layout that the brief names: one more may be chosen, one too many is a no."""
    named = [(list(_short(loop, layout).items()), layout) for layout in loop.named]
    short, nearest = min(named, key=lambda one: (min(n for _, n in one[0]) < 0, sum(abs(n) for _, n in one[0])))
    wants = {kind: count for kind, count in short if count}
    told = [_words(kind, count, len(loop.of(kind))) for kind, count in wants.items()]
    only = "layout that the brief names" if len(loop.named) == 1 else "nearest of the layouts that the brief names"
    text = f"the {only}, {nearest.name}, is not what these parts make: {' and '.join(told)}"
    if min(wants.values()) < 0:
        return Verdict("no-layout", "broken", tuple(wants), text=text)
    return Verdict("part-missing", "not checked", tuple(wants), text=text)


def _words(kind: str, count: int, held: int) -> str:
    if count < 0:
        return f"it has no place for {-count} of the {held} {PAIRS[kind]}"
    if count > 1:
        return f"it wants {count} {PAIRS[kind]}"
    return f"it wants {'one more' if held else 'a'} {ONE[kind]}"


def _none_on_file(loop: BoxLoop, kinds: list[str]) -> Verdict:
    """That no layout has places for these parts: one pair, or both together."""
    told = []
    for members, words in ((loop.of(kind), PAIRS[kind]) for kind in kinds):
        differ = len({part.id for _, part in members}) > 1
        which = " that differ" if differ else " at once" if len(kinds) == 1 else ""
        told.append(f"{len(members)} {words}{which}")
    whole = f"a place for {told[0]}" if len(told) == 1 else f"places for {' and '.join(told)} together"
    slots = tuple(slot for kind in kinds for slot, _ in loop.of(kind))
    text = f"no layout on file has {whole}: how flow and heat divide is not known"
    return Verdict("no-layout", "not checked", slots, text=text)


def _with_room(loop: BoxLoop, layouts: tuple[Layout, ...]) -> tuple[Layout, ...]:
    if any(len({part.id for _, part in loop.of(kind)}) > 1 for kind in PAIRS):
        return ()
    valve = bypassed(loop)
    fitting = (layout for layout in layouts if not any(_short(loop, layout).values()))
    return tuple(layout for layout in fitting if (layout.bypass is not None) == valve)


def _short(loop: BoxLoop, layout: Layout) -> dict[str, int]:
    """How many parts of a kind a layout wants more than the box has; below zero how many it has no place for."""
    found = {}
    for kind in PAIRS:
        slots, held = [slot for slot in layout.slots if slot.kind == kind], len(loop.of(kind))
        least, most = sum(slot.least for slot in slots), sum(slot.most for slot in slots)
        found[kind] = max(least - held, 0) + min(most - held, 0)
    return found


def _of_pair(layouts: tuple[Layout, ...]) -> Layout | None:
    """The first where a pair lies side by side, else the first."""
    return min(layouts, key=lambda layout: not _side_by_side(layout), default=None)


def _side_by_side(layout: Layout) -> bool:
    return any(len(step) > 1 for step in layout.steps)
