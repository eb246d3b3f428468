"""Write all kept screens, and what README and guide show of them, anew: python tests/golden/renew.py"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.golden import pictures
from tests.golden.screens import EXAMPLE, FOLDER, KEPT, README, first_of_no_kit, made, quote, shown


def main() -> None:
    """Make every screen, tell which changed, and write them; the README's photographs are renew_pictures.py's."""
    for name in KEPT:
        assert "Traceback" not in made(name), f"{name} is no answer but a fault:\n{made(name)}"
    for name in KEPT:
        kept = FOLDER / name
        before = kept.read_text(encoding="utf-8") if kept.is_file() else ""
        kept.write_text(made(name), encoding="utf-8")
        (FOLDER / name.replace(".", ".new.")).unlink(missing_ok=True)
        print(f"{'as it was' if made(name) == before else 'RENEWED'}  {name}")
    hatch = shown(made("hatch.txt"))
    quote(EXAMPLE, "screen", hatch)
    quote(README, "no-kit", first_of_no_kit(made("no-kit.txt")))
    pictures.SCREEN.write_text(pictures.as_picture(hatch), encoding="utf-8")


if __name__ == "__main__":
    main()
