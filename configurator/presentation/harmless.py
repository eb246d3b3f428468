"""Text that others wrote, made harmless for a screen: no control, no mark that turns the line round, no end."""

from __future__ import annotations

from typing import Final

from rich.cells import cell_len, chop_cells, set_cell_size

MOST_CELLS: Final = 200


def harmless(text: str, most: int = MOST_CELLS) -> str:
    """The text with `?` for all that neither prints nor is a tab, cut after so many columns with `...`."""
    shown = "".join(letter if letter.isprintable() or letter == "\t" else "?" for letter in text[: 4 * most])
    if len(text) <= 4 * most and cell_len(shown) <= most:
        return shown
    return set_cell_size(shown, most - 3).rstrip() + "..."


def hanging(text: str, width: int, first: str = "", rest: str = "") -> list[str]:
    """Lines of at most so many columns, letters of two columns counted as such: `first` before the first line."""
    lines: list[str] = []
    line, empty = first, True
    for word in text.split():
        for number, piece in enumerate(chop_cells(word, width - max(cell_len(first), cell_len(rest)))):
            between = "" if empty or number else " "
            if cell_len(line + between + piece) > width:
                lines.append(line.rstrip())
                line, between = rest, ""
            line, empty = line + between + piece, False
    return [*lines, line.rstrip()]
