"""The README's pictures are there, small, fetch nothing, and the screen's says what the kept screen says."""

from __future__ import annotations

import re
import struct

from tests.golden import pictures
from tests.golden.screens import FOLDER, README, shown

KEPT = shown((FOLDER / "hatch.txt").read_text(encoding="utf-8"))
PICTURE = pictures.SCREEN.read_text(encoding="utf-8")


def test_the_picture_says_what_the_screen_says() -> None:
    """Read by where each line stands; tests/golden/renew.py makes it anew."""
    said = pictures.said_by(PICTURE)
    assert said == pictures.pictured(KEPT) == KEPT.splitlines()[: len(said)] and len(said) > 30
    assert said[0].startswith("Kit 1, ") and said[-1].strip()


def test_a_picture_of_another_screen_reads_otherwise() -> None:
    other = KEPT.replace("65 degC", "66 degC")
    assert pictures.said_by(pictures.as_picture(other)) == pictures.pictured(other) != pictures.pictured(KEPT)


def test_it_stays_inside_its_frame_and_fetches_nothing() -> None:
    wide, high = (float(size) for size in re.findall(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', PICTURE)[0])
    left, top = (float(size) for size in re.findall(r'<g transform="translate\(([\d.]+), ([\d.]+)\)">', PICTURE)[0])
    rows = re.findall(r'x="([\d.]+)" y="([\d.]+)" textLength="([\d.]+)"', PICTURE)
    assert rows and all(left + float(x) + float(length) <= wide and top + float(y) < high for x, y, length in rows)
    assert set(re.findall(r"\w+:/+[^\s\"]*", PICTURE)) == {"http://www.w3.org/2000/svg"}
    assert set(re.findall(r"url\(([^)]*)", PICTURE)) <= set(re.findall(r"url\((#screen-line-\d+)", PICTURE))


def test_each_is_shown_by_the_readme_and_small() -> None:
    there = {path.name for path in pictures.FOLDER.iterdir()}
    told = set(re.findall(r"examples/pictures/([\w.-]+)", README.read_text(encoding="utf-8")))
    assert there == told == {path.name for path in pictures.ALL}
    assert all(2_000 < path.stat().st_size < pictures.MOST_BYTES for path in pictures.ALL)


def test_a_photograph_has_the_size_of_its_page() -> None:
    """PNG, ISO/IEC 15948: eight bytes, then the head with width and height."""
    for path, size in ((pictures.SHEET, pictures.PAGE), (pictures.BAY, pictures.DRAWING)):
        head = path.read_bytes()[:24]
        assert head[:8] == b"\x89PNG\r\n\x1a\n" and struct.unpack(">II", head[16:]) == size


def test_a_photograph_is_of_the_answer_that_is_kept() -> None:
    """Where this fails: python tests/golden/renew_pictures.py, and a look at both."""
    assert pictures.taken_of(pictures.SHEET) == pictures.of_sheet(KEPT)
    assert pictures.taken_of(pictures.BAY) == pictures.of_drawing((FOLDER / "hatch.svg").read_text(encoding="utf-8"))
