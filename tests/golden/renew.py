"""Write all kept screens and the README's worked example anew: python tests/golden/renew.py"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.golden.screens import FOLDER, KEPT, made, shown, with_screen
from tests.house.checkout import ROOT


def main() -> None:
    """Make every screen, tell which changed, and write them."""
    for name in KEPT:
        assert "Traceback" not in made(name), f"{name} is no answer but a fault:\n{made(name)}"
    for name in KEPT:
        kept = FOLDER / name
        before = kept.read_text(encoding="utf-8") if kept.is_file() else ""
        kept.write_text(made(name), encoding="utf-8")
        (FOLDER / name.replace(".", ".new.")).unlink(missing_ok=True)
        print(f"{'as it was' if made(name) == before else 'RENEWED'}  {name}")
    readme = ROOT / "README.md"
    readme.write_text(with_screen(readme.read_text(encoding="utf-8"), shown(made("hatch.txt"))), encoding="utf-8")


if __name__ == "__main__":
    main()
