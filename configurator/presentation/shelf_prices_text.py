"""What a price list changes, in the terminal: old and new beside each other, then what either side does not know."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from configurator.presentation.harmless import hanging, harmless
from configurator.presentation.lines import WIDTH
from configurator.presentation.shelf_list_text import aligned, plain
from configurator.questions.shelf_prices import PriceChange, PriceChanges

_FEW = 40


def shelf_prices_text(found: PriceChanges, backup: str | None, next_command: str, *, asked_to_write: bool) -> str:
    """The whole screen; `backup`: the folder with what the files were, None where nothing was written."""
    blocks = ["\n".join(hanging(_head(found, backup, asked_to_write=asked_to_write), WIDTH))]
    if found.changes:
        blocks.append("\n".join(_table(found.changes)))
    jumps = [change.part for change in found.changes if change.jumps]
    blocks += [
        _listed("'!': prices that more than double or halve; is the decimal sign of the map that of the list?", jumps),
        _listed("Discontinued by the list; still on the shelf, to be taken out by hand", found.discontinued),
        _listed("In the list, not under numbers: of the map", [*_unmapped(found)]),
        _listed(
            "In the list, not on this shelf",
            [f"{row.named} (line {row.line})" for row in found.unknown if row.part is not None],
        ),
        _listed("On this shelf, not in the list", found.lacking),
    ]
    return "\n\n".join([*(block for block in blocks if block), f"Next: {next_command}"]) + "\n"


def _unmapped(found: PriceChanges) -> Iterator[str]:
    """Numbers that the map has no id for; of one that is an id itself, that it is."""
    for row in found.unknown:
        if row.part is None:
            same = ", an id of this shelf"
            yield f"{row.named} (line {row.line}{same if row.named in found.like_ids else ''})"


def _head(found: PriceChanges, backup: str | None, *, asked_to_write: bool) -> str:
    parts = len({change.part for change in found.changes})
    said = f"{_count(found.rows, 'row')}: {_count(len(found.changes), 'change')} of {_count(parts, 'part')}"
    if backup is not None:
        return f"{said}, written; the files as they were lie in {harmless(backup)}."
    if not found.changes:
        return f"{said}: the shelf has it all already, nothing to write."
    return f"{said}. " + ("Nothing was written." if asked_to_write else "A look only, nothing is written yet.")


def _count(number: int, what: str) -> str:
    return f"{number} {what}" if number == 1 else f"{number} {what}s"


def _table(changes: Sequence[PriceChange]) -> list[str]:
    rows = [("part", "", "old", "new", "")]
    for change in changes:
        rows.append((change.part, change.key, _old(change), _new(change), _step(change)))
    return aligned(rows, right=(2, 3))


def _old(change: PriceChange) -> str:
    if change.old is None:
        return "-"
    return f"{change.old:,.2f}" if change.key == "price" else plain(change.old, 0)


def _new(change: PriceChange) -> str:
    return f"{float(change.new):,.2f}" if change.key == "price" else change.new


def _step(change: PriceChange) -> str:
    if change.key != "price" or not change.old:
        return ""
    return f"{(float(change.new) / change.old - 1) * 100:+.1f} %" + (" !" if change.jumps else "")


def _listed(title: str, entries: Sequence[str]) -> str:
    """Names under a title, so many at most; nothing where there are none."""
    if not entries:
        return ""
    shown = ", ".join(harmless(entry, 80) for entry in entries[:_FEW])
    more = f" and {len(entries) - _FEW} more (--json has all)" if len(entries) > _FEW else ""
    return "\n".join([*hanging(f"{title} ({len(entries)}):", WIDTH), *hanging(shown + more, WIDTH, "  ", "  ")])
