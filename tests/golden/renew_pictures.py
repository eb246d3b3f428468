"""Make the README's pictures anew, after renew.py: python tests/golden/renew_pictures.py (needs Chromium)."""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.golden import pictures
from tests.golden.screens import FOLDER, shown


def main() -> None:
    """Write all of them, and say how large they are."""
    pictures.FOLDER.mkdir(exist_ok=True)
    kept = shown((FOLDER / "hatch.txt").read_text(encoding="utf-8"))
    pictures.SCREEN.write_text(pictures.as_picture(kept), encoding="utf-8")
    with tempfile.TemporaryDirectory() as folder:
        pictures.photograph(pictures.sheet(Path(folder)), pictures.SHEET, pictures.PAGE, pictures.of_sheet(kept))
    drawing = FOLDER / "hatch.svg"
    of = pictures.of_drawing(drawing.read_text(encoding="utf-8"))
    pictures.photograph(drawing, pictures.BAY, pictures.DRAWING, of)
    for picture in pictures.ALL:
        size = picture.stat().st_size
        assert size < pictures.MOST_BYTES, f"{picture.name} has {size} bytes"
        print(f"{size:>7} bytes  {picture.name}")


if __name__ == "__main__":
    main()
