"""The screens that are kept word for word, and how each is made."""

from __future__ import annotations

import functools
import tempfile
from pathlib import Path

from tests.house.checkout import GUIDE, ROOT, kitwright
from tests.journeys.kitwright import written
from tests.presentation.sheets import shelf

FOLDER = Path(__file__).resolve().parent

SCREENS = {
    "hatch.txt": "suggest examples/hatch.yaml",
    "no-kit.txt": "the hatch with the hardest plausible aim, 45 degC",
    "bad-brief.txt": "suggest bad-brief.yaml",
    "bad-brief.json": "suggest bad-brief.yaml --json",
    "check.txt": "check examples/kits/quick-connect-cap-1.1.yaml",
    "commissioning.txt": "check examples/kits/quick-connect-cap-0.5.yaml --brief examples/road.yaml",
    "why.txt": "why examples/commuter.yaml core-210-short timer-10",
    "no-such-file.txt": "suggest no-such-file.yaml",
}
"""File of this folder, and what it shows."""

DRAWINGS = {"hatch.svg": "suggest examples/hatch.yaml --draw"}
"""Files that the command writes, and how."""

PAGES = {"sheet.html": "sheet of the hatch on a shelf of two kits"}
"""Pages that the command writes on a small shelf, and what each is."""

KEPT = (*SCREENS, *DRAWINGS, *PAGES)

EXAMPLE = GUIDE / "worked-example.md"
README = ROOT / "README.md"
ENDS = "```\n<!-- end -->"


@functools.cache
def made(name: str) -> str:
    """A screen as it is made now: standard output, standard error and the exit code, in that order; or a drawing."""
    if name in DRAWINGS:
        with tempfile.TemporaryDirectory() as folder:
            kitwright(*DRAWINGS[name].split(), str(Path(folder) / name))
            return (Path(folder) / name).read_text(encoding="utf-8")
    if name in PAGES:
        with tempfile.TemporaryDirectory() as folder:
            return _page(Path(folder))
    if name == "no-kit.txt":
        with tempfile.TemporaryDirectory() as folder:
            hard_aim(Path(folder) / "hard-aim.yaml")
            done = kitwright("suggest", "hard-aim.yaml", cwd=Path(folder))
    else:
        done = kitwright(*SCREENS[name].split(), cwd=FOLDER if "bad-brief" in name else ROOT)
    return f"{done.stdout}{done.stderr}[exit code {done.returncode}]\n"


def _page(folder: Path) -> str:
    """The sheet of the hatch, its shelf written anew from the shipped parts."""
    (folder / "parts.yaml").write_text(written(shelf()), encoding="utf-8")
    out = folder / "sheet.html"
    kitwright("sheet", "examples/hatch.yaml", "-o", str(out), "--catalogue", str(folder))
    return out.read_text(encoding="utf-8")


def hard_aim(path: Path) -> None:
    """Write the hatch's brief with an aim that no unchilled kit of the shelf meets."""
    text = (ROOT / "examples" / "hatch.yaml").read_text(encoding="utf-8")
    easy, hard = "charge_air: 80 degC", "charge_air: 45 degC"
    assert text.count(easy) == 1
    path.write_text(text.replace(easy, hard), encoding="utf-8")


def quoted(page: Path, marker: str) -> str:
    """The screen that a page shows behind a marker."""
    return page.read_text(encoding="utf-8").split(_begins(marker), 1)[1].split(ENDS, 1)[0]


def quote(page: Path, marker: str, screen: str) -> None:
    """Write a page anew with another screen behind its marker."""
    before, rest = page.read_text(encoding="utf-8").split(_begins(marker), 1)
    page.write_text(before + _begins(marker) + screen + ENDS + rest.split(ENDS, 1)[1], encoding="utf-8")


def _begins(marker: str) -> str:
    return f"<!-- {marker} -->\n```text\n"


def first_of_no_kit(screen: str) -> str:
    """What an answer without a kit says before its table."""
    return screen.partition("\n\nClosest")[0] + "\n"


def shown(screen: str) -> str:
    """A kept screen without its exit code: what a reader sees."""
    return screen.rsplit("[exit code", 1)[0]
