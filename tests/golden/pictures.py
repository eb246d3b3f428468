"""The README's pictures: the beginning of a kept screen as SVG; the head of a sheet, and a drawing, as PNG."""

from __future__ import annotations

import hashlib
import html
import io
import re
import struct
import subprocess
import tempfile
import zlib
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

_HEAD: Final = 8 + 4 + 4 + 13 + 4
"""Bytes of a PNG before its second chunk: its mark, and its head with width and height."""

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


def photograph(page: Path, picture: Path, size: tuple[int, int], of: str) -> None:
    """Write the head of a page as Chromium shows it, so many pixels wide and high; it remembers what it is `of`."""
    with tempfile.TemporaryDirectory() as profile:
        plain = ("--headless", "--no-sandbox", "--hide-scrollbars", "--disable-gpu", f"--user-data-dir={profile}")
        taken = (f"--window-size={size[0]},{size[1]}", f"--screenshot={picture}", page.resolve().as_uri())
        subprocess.run(["chromium", *plain, *taken], check=True, capture_output=True)
    data = picture.read_bytes()
    words = b"tEXtDescription\0" + of.encode("latin-1")
    chunk = struct.pack(">I", len(words) - 4) + words + struct.pack(">I", zlib.crc32(words))
    picture.write_bytes(data[:_HEAD] + chunk + data[_HEAD:])


def taken_of(picture: Path) -> str:
    """What a photograph remembers that it is of: the first piece of text behind its head (PNG, ISO/IEC 15948)."""
    data = picture.read_bytes()[_HEAD:]
    (length,) = struct.unpack(">I", data[:4])
    assert data[4:8] == b"tEXt", picture.name
    return data[8 : 8 + length].partition(b"\0")[2].decode("latin-1")


def of_sheet(screen: str) -> str:
    """What the photograph of the sheet is of: the first sentence of the answer."""
    return " ".join(screen.partition("\n\n")[0].split())


def of_drawing(svg: str) -> str:
    """What the photograph of the drawing is of: this very drawing."""
    return hashlib.sha256(svg.encode()).hexdigest()
