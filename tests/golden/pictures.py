"""The README's pictures: the beginning of a kept screen as SVG; the head of a sheet, and a drawing, as PNG."""

from __future__ import annotations

import html
import io
import re
import subprocess
import tempfile
from pathlib import Path
from typing import Final

from rich.console import Console
from rich.terminal_theme import TerminalTheme
from rich.text import Text

from tests.house.checkout import ROOT, kitwright

FOLDER: Final = ROOT / "examples" / "pictures"
SCREEN: Final = FOLDER / "suggest.svg"
SHEET: Final = FOLDER / "sheet.png"
BAY: Final = FOLDER / "bay.png"
ALL: Final = (SCREEN, SHEET, BAY)
MOST_BYTES: Final = 300_000

ENDS_BEFORE: Final = "  half the air speed"
"""The first line of the screen that its picture leaves out."""

PAGE: Final = (900, 1270)
"""Pixels, wide and high: as a page of A4 is held."""

DRAWING: Final = (1588, 1123)
"""Pixels: the first A3 sheet of a drawing, 96 to the inch."""

INK, GROUND = (34, 40, 49), (251, 250, 246)
THEME: Final = TerminalTheme(GROUND, INK, [INK] * 8)
TEMPLATE: Final = """<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" role="img">
<title>kitwright suggest examples/hatch.yaml</title>
<style>
text {{ font-family: monospace; font-size: {char_height}px; }}
.typed {{ fill: #8a3b12; font-weight: bold; }}
{styles}
</style>
<defs>{lines}</defs>
<rect width="{width}" height="{height}" fill="#fbfaf6"/>
<rect width="5" height="{height}" fill="#8a3b12"/>
<text class="typed" x="{terminal_x}" y="27">kitwright suggest examples/hatch.yaml</text>
<g transform="translate({terminal_x}, {terminal_y})">{matrix}</g>
</svg>
"""


def pictured(screen: str) -> list[str]:
    """The lines of a screen that its picture shows."""
    lines = screen.splitlines()
    return lines[: next(number for number, line in enumerate(lines) if line.startswith(ENDS_BEFORE))]


def as_picture(screen: str) -> str:
    """The beginning of a screen as SVG that fetches nothing, with the command above it."""
    console = Console(record=True, width=80, file=io.StringIO(), highlight=False, markup=False)
    console.print(Text("\n".join(pictured(screen))))
    svg = console.export_svg(theme=THEME, code_format=TEMPLATE, unique_id="screen", font_aspect_ratio=0.6)
    rows = re.sub(r"<text [^>]*>\n</text>", "", svg).replace("</text><text", "</text>\n<text")
    return "\n".join(line.rstrip() for line in rows.splitlines()) + "\n"


def said_by(picture: str) -> list[str]:
    """The lines that a picture of a screen shows, read back by where they stand; empty ones too."""
    rows = re.findall(r'<text class="screen-r\d+"[^>]* y="([\d.]+)"[^>]*>([^<]*)</text>', picture)
    at = {round((float(y) - 20) / 24.4): html.unescape(text).replace("\xa0", " ").rstrip() for y, text in rows}
    return [at.get(number, "") for number in range(max(at) + 1)]


def sheet(folder: Path) -> Path:
    """The hatch's sheet as the command writes it."""
    page = folder / "sheet.html"
    kitwright("sheet", "examples/hatch.yaml", "-o", str(page))
    return page


def photograph(page: Path, picture: Path, wide: int, high: int) -> None:
    """Write the head of a page as Chromium shows it, so many pixels wide and high."""
    with tempfile.TemporaryDirectory() as profile:
        plain = ("--headless", "--no-sandbox", "--hide-scrollbars", "--disable-gpu", f"--user-data-dir={profile}")
        taken = (f"--window-size={wide},{high}", f"--screenshot={picture}", page.resolve().as_uri())
        subprocess.run(["chromium", *plain, *taken], check=True, capture_output=True)
