"""The list of a shelf in the terminal: a table for each kind of part, 80 columns wide."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

from configurator.foundations.units import celsius
from configurator.parts.kinds import PART_KINDS
from configurator.presentation.harmless import hanging, harmless
from configurator.presentation.lines import WIDTH, wrapped
from configurator.questions.shelf_list import Listed

Row = Callable[[Listed], str]
_NOT_SAID: Final = "-"
MOST_ID: Final = 32


def shelf_list_text(listed: Sequence[Listed], of: int, next_command: str) -> str:
    """The whole screen; `of`: how many parts the shelf holds."""
    blocks = [_table(kind, rows) for kind in PART_KINDS if (rows := [one for one in listed if one.kind == kind])]
    counted = f"{len(listed)} of the {of} parts of this shelf; '-': not stated."
    told = [counted, *(words for kind, words in _LEGENDS.items() if any(one.kind == kind for one in listed))]
    return "\n\n".join([*blocks, wrapped(" ".join(told), WIDTH), f"Next: {next_command}"]) + "\n"


def _table(kind: str, rows: Sequence[Listed]) -> str:
    columns = _COLUMNS[kind]
    cells = [(kind, "price", "stock", *(title for title, _ in columns))]
    for row in rows:
        stock = _NOT_SAID if row.part.stock is None else str(row.part.stock)
        cells.append((row.part.id, f"{row.part.price:,.2f}", stock, *(cell(row) for _, cell in columns)))
    lines = aligned(cells, right=(1, 2))
    blocks = [lines[0]]
    for row, line in zip(rows, lines[1:], strict=True):
        blocks += [line, *hanging(harmless(row.part.name), WIDTH, "  ", "  ")]
    return "\n".join(blocks)


def figure_cells(one: Listed) -> tuple[tuple[str, str], ...]:
    """The key figures of a part as the list tells them, each with its head."""
    return tuple((title, cell(one)) for title, cell in _COLUMNS[one.kind])


def aligned(rows: Sequence[Sequence[str]], right: Sequence[int] = ()) -> list[str]:
    """Rows in columns, the last column wrapped under itself; a first column that is too wide has a line of its own."""
    last = len(rows[0]) - 1
    wide = [max(len(row[place]) for row in rows) for place in range(last)]
    wide[0] = min(wide[0], MOST_ID)
    indent = sum(wide) + 2 * last
    lines = []
    for row in rows:
        cells = [row[n].rjust(w) if n in right else row[n].ljust(w) for n, w in enumerate(wide)]
        told = hanging(row[last], max(WIDTH - indent, 12))
        first, rest = cells[0], "  ".join((*cells[1:], told[0]))
        line = f"{first}  {rest}" if len(first) <= wide[0] else f"{first}\n{'':<{wide[0]}}  {rest}"
        lines.append("\n".join([line.rstrip(), *(" " * indent + more for more in told[1:])]))
    return lines


def figure(name: str, factor: float = 1.0, decimals: int = 3) -> Row:
    """A figure in another unit, without trailing zeros."""

    def cell(row: Listed) -> str:
        value = row.figure(name)
        return _NOT_SAID if value is None else plain(value * factor, decimals)

    return cell


def plain(value: float, decimals: int = 3) -> str:
    """A number without trailing zeros: `19`, `12.7`."""
    return f"{value:.{decimals}f}".rstrip("0").rstrip(".") if decimals else f"{value:.0f}"


def _joined(name: str, between: str, factor: float = 1e3) -> Row:
    def cell(row: Listed) -> str:
        return between.join(_NOT_SAID if v is None else plain(v * factor, 1) for v in row.figure(name))

    return cell


def _most_flow(row: Listed) -> str:
    above = ">" if row.figure("head_there_pa") > 0 else ""
    return above + plain(row.figure("most_flow_m3_per_s") * 60e3, 1)


def _volume(row: Listed) -> str:
    return plain(row.figure("volume_m3") * 1e3, 2) + (" ice" if row.figure("ice") else "")


def _hottest(row: Listed) -> str:
    return f"{celsius(row.figure('hottest_k')):.0f}"


def _words(name: str) -> Row:
    return lambda row: str(row.figure(name))


def _ends(row: Listed) -> str:
    return harmless(" / ".join(row.figure("ends")))


def _opens(row: Listed) -> str:
    pressure = row.figure("opens_pa_gauge")
    return "vented" if pressure == 0 else plain(pressure / 1e5, 2)


_BOX: Final = ("box mm", _joined("box_m", " x "))
_COLUMNS: Final[dict[str, tuple[tuple[str, Row], ...]]] = {
    "core": (_BOX, ("charge mm", _joined("charge_ends_m", "/"))),
    "exchanger": (_BOX, ("face mm", _joined("face_m", " x "))),
    "pump": (_BOX, ("L/min", _most_flow), ("kPa", figure("dead_head_pa", 1e-3, 1))),
    "reservoir": (_BOX, ("litres", _volume)),
    "cap": (("opens bar", _opens), ("end", _ends)),
    "hose": (("bore mm", figure("bore_m", 1e3)), ("bar", figure("working_pa_gauge", 1e-5, 2)), ("degC", _hottest)),
    "adapter": (("for", _words("medium")), ("ends", _ends)),
    "wye": (("for", _words("medium")), ("ends", _ends)),
    "valve": (("ends", _ends),),
    "clamp": (("style", _words("style")), ("closes on mm", _joined("closes_on_m", " to "))),
    "fan": (_BOX, ("m3/h", figure("most_flow_m3_per_s", 3600, 0)), ("Pa", figure("most_rise_pa", 1, 0))),
    "timer": (("min", figure("runs_s", 1 / 60, 1)),),
    "fuse": (("A", figure("rated_a", 1, 1)),),
    "relay": (("A", figure("rated_a", 1, 1)),),
    "wire": (("mm2", figure("area_m2", 1e6, 2)),),
}


_LEGENDS: Final = {
    "pump": "Pumps: flow at the last point of the curve ('>': it still makes head there), head at no flow.",
    "hose": "Hose: price of one metre.",
    "wire": "Wire: price of one metre.",
    "fan": "Fans: flow at the last point of the curve, pressure rise at its first.",
}
