"""What fits, in the terminal: slot by slot, the parts that go in with their turn, and by how much the others miss."""

from __future__ import annotations

from collections.abc import Iterator

from configurator.presentation.lines import WIDTH, hung, listed, wrapped
from configurator.questions.fits_only import Fits, ZonedPart, sides_mm
from configurator.reasons.cautions import ALONE_ONLY, STRUCTURE
from configurator.reasons.wording import SIDE_WORDS

MISSES_SHOWN = 6
GAPS_SHOWN = 3

_ROW = "{:<26}  {:<12}  {:>5}  {:>4}  {:>4}  {:>4}  {:>2}  {:>5}"


def fits_text(fits: Fits, next_command: str, *, wide: bool) -> str:
    """The whole screen as text without colour; `wide` tells every part that misses."""
    blocks = [block.rstrip() for block in _blocks(fits, wide) if block.strip()]
    return "\n\n".join([*blocks, f"Next: {next_command}"]) + "\n"


def _blocks(fits: Fits, wide: bool) -> Iterator[str]:
    if not fits.measured:
        yield wrapped(
            f"{fits.brief_name}: the bay is not measured, so nothing can be said to fit. Measure for these sizes "
            "(long, middle and short side of the part's box), smallest and largest of each kind:",
            WIDTH,
        )
        yield from _gaps(fits, wide)
        return
    counts = [
        f"{sum(entry.fits for entry in {e.part.id: e for e in reversed(fits.of(slot))}.values())} of "
        f"{len({entry.part.id for entry in fits.of(slot)})} {slot}s"
        for slot in fits.slots
    ]
    yield wrapped(
            f"{fits.brief_name}: what goes into the bay, each part alone: {', '.join(counts)}. In millimetres: room is "
            "the gap that can be kept all round; deep, wide and high as it then sits, with the faces of its drawing "
            "that look up and to the front.",
            WIDTH,
        )
    for slot in fits.slots:
        yield _slot(fits, slot, wide)
    yield listed("Cautions", (ALONE_ONLY.text, STRUCTURE.text), WIDTH)


def _slot(fits: Fits, slot: str, wide: bool) -> str:
    entries = fits.of(slot)
    goes_in = [entry for entry in entries if entry.fits]
    head = f"{slot.capitalize()}: goes in"
    lines = [_ROW.format(head, "zone", "room", "deep", "wide", "high", "up", "front")] if goes_in else [f"{slot}: none"]
    lines += [_row(entry, fits.tolerance_mm) for entry in goes_in]
    misses = [entry for entry in entries if not entry.fits]
    shown = misses if wide else misses[:MISSES_SHOWN]
    if shown:
        more = f", {len(misses) - len(shown)} more with --wide" if len(misses) > len(shown) else ""
        lines.append(f"  does not{more}:")
        for entry in shown:
            lines += hung(entry.part.id, miss_words(entry), WIDTH)
    return "\n".join(lines)


def _row(entry: ZonedPart, tolerance_mm: float | None) -> str:
    place, room = entry.place, entry.room_mm or 0.0
    assert place is not None
    tight = "  TIGHT" if tolerance_mm is not None and room < tolerance_mm else ""
    return _ROW.format(f"  {entry.part.id}", entry.zone, f"{room:g}", *place.size_mm, place.up, place.front) + tight


def miss_words(entry: ZonedPart) -> str:
    """Why a part does not go into a zone, and by how many millimetres where that is a length."""
    miss = entry.miss
    assert miss is not None
    if miss.cause == "walls":
        return f"{entry.zone}: misses by {miss.miss_mm} mm in {SIDE_WORDS[miss.between[1]]}, best way round"
    if miss.cause == "way in":
        return f"{entry.zone}: misses the way in by {miss.miss_mm} mm, best way round"
    if miss.cause == "ends face":
        return f"{entry.zone}: no turn that it may take lets its {miss.between[1]}"
    return f"{entry.zone}: kept out by {miss.between[1]}"


def _gaps(fits: Fits, wide: bool) -> Iterator[str]:
    for slot in dict.fromkeys(slot for slot, _ in fits.gaps):
        parts = [part for of_slot, part in fits.gaps if of_slot == slot]
        shown = parts if wide or len(parts) <= 2 * GAPS_SHOWN else [*parts[:GAPS_SHOWN], *parts[-GAPS_SHOWN:]]
        lines = [slot.capitalize()]
        for part in shown:
            long, middle, short = sides_mm(part)
            lines += hung(part.id, f"{long} x {middle} x {short} mm", WIDTH)
        yield "\n".join(lines)
