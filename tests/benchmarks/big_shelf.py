"""A large shelf for measuring: parts that are none, made by varying the shipped ones, each kind in files of its own.

Everything is invented. The same numbers give the same files: python tests/benchmarks/big_shelf.py FOLDER [PARTS] [SEED]
"""

from __future__ import annotations

import copy
import random
import re
import sys
from pathlib import Path
from typing import Any

import yaml

CATALOGUE = Path(__file__).resolve().parents[2] / "catalogue"
LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
DUMPER = getattr(yaml, "CSafeDumper", yaml.SafeDumper)
NO_PARTS = {"layouts", "fuels", "chargers", "driving", "coolants", "ice", "soak", "sources", "bounds"}
A_FILE = 400
"""Parts in one file: under the mebibyte that is read of a file."""

FIRST = ("Amber", "Birch", "Cinder", "Dapple", "Ember", "Fallow", "Granite", "Heather", "Isle", "Juniper")
SECOND = ("brook", "field", "gate", "hollow", "ridge", "stone", "thorn", "vale", "water", "wick")


def write_shelf(folder: Path, parts_per_kind: int, seed: int) -> int:
    """Write so many parts of every kind into a folder, which is made; the number of all parts is returned.

    Its parts differ from the shipped ones in price, stock and mass, in the length of a box, and in what is measured.
    Ends, bores and ratings stay, so that they join as those do. Tables and sources are not written: a folder without
    them takes the shipped ones.
    """
    draw = random.Random(seed)
    folder.mkdir(parents=True, exist_ok=True)
    count = 0
    for path in sorted(CATALOGUE.glob("*.yaml")):
        for section, shipped in yaml.load(path.read_text(encoding="utf-8"), Loader=LOADER).items():
            if section in NO_PARTS:
                continue
            made = [_varied(shipped[number % len(shipped)], number, draw) for number in range(parts_per_kind)]
            for start in range(0, len(made), A_FILE):
                text = yaml.dump({section: made[start : start + A_FILE]}, Dumper=DUMPER, sort_keys=False)
                (folder / f"{section}-{start // A_FILE + 1}.yaml").write_text(
                    f"# Invented parts of seed {seed}.\n{text}", encoding="utf-8"
                )
            count += len(made)
    return count


def _varied(part: dict[str, Any], number: int, draw: random.Random) -> dict[str, Any]:
    made = copy.deepcopy(part)
    name = f"{draw.choice(FIRST)}{draw.choice(SECOND)}"
    made["id"] = f"{part['id'][:50]}-{number}"
    made["name"] = f"{name} {number}, after {part['name']}"[:200]
    made["price"] = round(part["price"] * draw.uniform(0.8, 1.25), 2)
    made["stock"] = draw.randrange(10)
    if "mass" in made:
        made["mass"] = _scaled(part["mass"], draw.uniform(0.9, 1.15))
    if "size" in made:
        # longer, never shorter: an end stays on its face
        made["size"] = {**part["size"], "x": _scaled(part["size"]["x"], draw.uniform(1.0, 1.08))}
    if part["id"].startswith("pump"):
        share = draw.uniform(0.85, 1.15)
        made["curve"] = [{**point, "head": _scaled(point["head"], share)} for point in part["curve"]]
    share = draw.uniform(0.93, 1.0)
    for point in made.get("performance", {}).get("measured", ()):
        point["effectiveness"] = _scaled(point["effectiveness"], share)
        point["coolant_loss"] = _scaled(point["coolant_loss"], 2 - share)
    return made


def _scaled(written: Any, factor: float) -> Any:
    """A figure as it is written, with its unit and its standing, made larger or smaller."""
    if isinstance(written, dict):
        return {**written, "value": _scaled(written["value"], factor)}
    number, unit = re.fullmatch(r"([0-9.]+) *(\D.*)", written).groups()  # type: ignore[union-attr]
    return f"{float(number) * factor:.4g} {unit}"


if __name__ == "__main__":
    numbers = [int(word) for word in sys.argv[2:]]
    print(write_shelf(Path(sys.argv[1]), *(numbers or [334]), *([] if len(numbers) > 1 else [1])), "parts")
