"""Large shelves in memory: the shipped one with its cores, exchangers, pumps and reservoirs varied. All is invented.

The same mood, number and seed give the same shelf. Moods: how price and what a part can do hang together.
"""

from __future__ import annotations

import copy
import random
from pathlib import Path
from typing import Any

import yaml

from configurator.files.find_catalogue import find_catalogue
from configurator.files.load_catalogue import load_catalogue
from configurator.parts.kinds import PART_KINDS, Part
from configurator.parts.shelf import Catalogue, make_catalogue

ROOT = Path(__file__).resolve().parents[2]
KINDS = {"cores": "core", "exchangers": "exchanger", "pumps": "pump", "reservoirs": "reservoir"}
MOODS = ("typical", "hostile", "tied")
"""What is better costs more, roughly; what is better costs less and strong pumps draw much; prices in steps of 50."""


def many_parts(per_kind: int, seed: int, mood: str = "typical") -> Catalogue:
    """The shipped shelf with so many parts of each kind that fills a slot, in place of its own."""
    shipped, _ = load_catalogue(find_catalogue(ROOT / "catalogue"))
    draw = random.Random(f"{mood} {seed}")
    parts: list[Part] = [part for part in shipped.parts.values() if part.kind not in KINDS.values()]
    for section, kind in KINDS.items():
        written = yaml.safe_load((ROOT / "catalogue" / f"{section}.yaml").read_text(encoding="utf-8"))[section]
        for number in range(per_kind):
            made = _varied(written[number % len(written)], number, draw, mood)
            parts.append(PART_KINDS[kind].model_validate(made))
    return make_catalogue(parts, shipped.layouts)


def _varied(part: dict[str, Any], number: int, draw: random.Random, mood: str) -> dict[str, Any]:
    made = copy.deepcopy(part)
    made["id"], made["name"] = f"{part['id']}-{number}", f"{part['name']}, {number}"
    better = draw.uniform(-1.0, 1.0)
    """How much better than the shipped part: longer fins, a stronger motor, a larger tank."""
    if "size" in made:
        made["size"]["x"] = _times(part["size"]["x"], 1.04 + 0.04 * better)
    for point in made.get("curve", ()):
        point["head"] = _times(point["head"], 1 + 0.15 * better)
    for point in made.get("performance", {}).get("measured", ()):
        point["effectiveness"] = _times(point["effectiveness"], 0.95 + 0.05 * better)
    follows = {"typical": 0.15, "hostile": -0.25, "tied": 0.1}[mood]
    price = part["price"] * (1 + follows * better) * draw.uniform(0.9, 1.15)
    made["price"] = max(50, round(price / 50) * 50) if mood == "tied" else round(price, 2)
    made["stock"] = draw.randrange(1, 10)
    return made


def _times(written: Any, factor: float) -> Any:
    """A figure as it is written, with its unit and its standing, times a number."""
    if isinstance(written, dict):
        return {**written, "value": _times(written["value"], factor)}
    number, unit = str(written).split(" ", 1)
    return f"{float(number) * factor:.4g} {unit}"
