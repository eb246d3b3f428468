"""How long it takes to say why there is no kit, beside the search that found none: python tests/benchmarks/ways_out.py

Examples are asked for more than the shipped shelf has. Each is searched once alone and once with its ways out; that
both find no kit is asserted before any figure is printed. Times depend on the machine and are never asserted.
"""

from __future__ import annotations

import json
import tempfile
import time
from pathlib import Path
from typing import Any

import yaml
from typer.testing import CliRunner

from configurator.cli.main import app

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"

ASKED: tuple[tuple[str, str, dict[str, Any]], ...] = (
    ("ute", "as it is", {}),
    ("hatch", "charge 5 K above the air", {"aim": {"above_air": "5 K"}}),
    ("hatch", "for 300", {"limits": {"price": 300}}),
    ("retro", "at 3 kg, for 400", {"limits": {"price": 400, "mass_dry": "3 kg"}}),
    ("wagon", "charge 8 K above the air", {"aim": {"above_air": "8 K"}}),
)


def timed(brief: Path, *options: str) -> tuple[float, dict[str, Any]]:
    """Seconds of one run [s], and its answer."""
    started = time.perf_counter()
    run = CliRunner().invoke(app, ["suggest", str(brief), "--json", *options])
    took = time.perf_counter() - started
    return took, json.loads(run.stdout)


def main() -> None:
    """One line for each brief."""
    print(f"{'brief':36} {'search':>8} {'with ways':>10} {'ratio':>6}  conflict; ways; not tried")
    for name, words, changes in ASKED:
        with tempfile.TemporaryDirectory() as folder:
            brief = Path(folder) / f"{name}.yaml"
            brief.write_text(yaml.safe_dump({**yaml.safe_load((EXAMPLES / f"{name}.yaml").read_text()), **changes}))
            alone_s, alone = timed(brief, "--no-ways-out")
            both_s, both = timed(brief)
        assert alone["outcome"] == both["outcome"] == "no_kit", (name, words, alone["outcome"], both["outcome"])
        ways = ", ".join(" + ".join(one["change"] for one in (way, *way["and"])) for way in both["nearest"])
        told = f"{', '.join(both['conflict']['rules'])}; {ways}; {', '.join(both['not_tried'])}"
        ratio = (both_s - alone_s) / alone_s
        print(f"{f'{name}, {words}':36} {alone_s:6.1f} s {both_s:8.1f} s {ratio:6.1f}  {told}", flush=True)


if __name__ == "__main__":
    main()
