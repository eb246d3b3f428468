"""Scenes and sheets for the tests of drawings, by hand and from the examples; and what reads a drawing back."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Literal

import yaml

from configurator.brief.bay import Bay
from configurator.fitting.placing import Placement
from configurator.fitting.turns import postures
from configurator.foundations.verdicts import Caution
from configurator.parts.kinds import PART_KINDS, RigidPart
from configurator.presentation.drawing.facts import Row, SheetFacts
from configurator.presentation.drawing.scene import Block, Route, blocks_of
from tests.journeys.kitwright import EXAMPLES, Tree, shipped, shipped_part, small_shelf, suggest
from tests.journeys.kitwright import example as example_brief

SPACE = "{http://www.w3.org/2000/svg}"


@dataclass(frozen=True)
class Drawing:
    """A drawing as text, as a tree, and the kit of the JSON answer that it shows."""

    text: str
    kit: Tree
    brief: Tree

    @property
    def tree(self) -> ET.Element:
        return ET.fromstring(self.text)

    def rects(self, **data: str) -> list[ET.Element]:
        """Rectangles by what they stand for."""
        found = self.tree.iter(f"{SPACE}rect")
        return [r for r in found if all(r.get(f"data-{key}") == value for key, value in data.items())]

    @property
    def mm_per_unit(self) -> float:
        """What one unit of the drawing is in the car, by its scale bar alone."""
        bars = self.rects(unit="mm")
        assert bars
        wide = {(float(b.get("data-to", "")) - float(b.get("data-from", ""))) / float(b.get("width", "")) for b in bars}
        assert max(wide) - min(wide) < 0.02
        return sum(wide) / len(wide)

    @property
    def texts(self) -> list[str]:
        return [element.text or "" for element in self.tree.iter(f"{SPACE}text")]


def edges(rect: ET.Element) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of a rectangle."""
    x, y, wide, high = (float(rect.get(key, "")) for key in ("x", "y", "width", "height"))
    return x, y, x + wide, y + high


@cache
def few_parts() -> Tree:
    """A shelf that answers at once: what the examples' own best kits are made of, and a little more."""
    ids = {
        "cores": ("core-260-short", "core-210-short", "core-160-short", "core-290-flat"),
        "exchangers": (
            "exchanger-350-slim", "exchanger-380-slim", "exchanger-580-low", "exchanger-398-double",
            "exchanger-600-slim", "exchanger-170-tall", "exchanger-458-thick",
        ),
        "pumps": ("pump-46-small", "pump-40-small", "pump-50-medium", "pump-60-medium"),
        "reservoirs": (
            "reservoir-8-cube", "reservoir-6-vented", "reservoir-3-tall", "reservoir-0.7-bottle", "reservoir-12-vented",
        ),
    }  # fmt: skip
    return small_shelf(**{section: [shipped_part(part) for part in parts] for section, parts in ids.items()})


@cache
def example(name: str) -> Drawing:
    """The drawing of kit 1 of an example brief."""
    return drawing(yaml.safe_load((EXAMPLES / f"{name}.yaml").read_text(encoding="utf-8")))


def drawing(brief: Tree, *options: str, kit: int = 1) -> Drawing:
    """The drawing of a kit of a brief, by the command."""
    with TemporaryDirectory() as folder:
        file = Path(folder) / "kit.svg"
        run = suggest(brief, "--json", "--draw", str(file), "--kit", str(kit), *options, shelf=few_parts())
        assert run.code == 0, run.err
        return Drawing(file.read_text(encoding="utf-8"), run.kits[kit - 1], brief)


def inches(**changes: Any) -> Tree:
    """The hatch, its zones measured in inches, with obstacles of all kinds and names that want escaping."""
    zones = {
        'nose <1> & "n"': {"wide": "24 in", "high": "6 in", "deep": "2 1/2 in", "open": ["front", "back"],
                           "at": {"back": "2 in", "right": "-12 in", "up": "12 in"},
                           "air": {"kind": "ram", "share": "25 %"}, "takes": ["exchanger"]},
        "bulkhead": {"wide": "16 in", "high": "9 in", "deep": "20 in", "open": ["front"], "takes": ["core"],
                     "at": {"back": "18 in", "right": "-10 in", "up": "24 in"}},
        "side": {"wide": "10 in", "high": "18 in", "deep": "12 in", "takes": ["reservoir", "pump"]},
    }  # fmt: skip
    places = {
        "plain": ("bulkhead", {"left": "13 in", "front": "14 in", "floor": "3 in"}, ("3 in", "4 in", "5 in")),
        "hot": ("bulkhead", {"left": "0 in", "front": "17 in", "floor": "0 in"}, ("3 in", "6 in", "3 in")),
        "moving": ("bulkhead", {"right": "0 in", "front": "0 in", "floor": "0 in"}, ("2 in", "6 in", "2 in")),
        "crash": ("side", {"left": "0 in", "front": "0 in", "floor": "0 in"}, ("10 in", "1 in", "12 in")),
    }
    obstacles = [
        {"name": f"<{kind} & 'thing'>", "in": zone, "from": off, "wide": size[0], "high": size[1], "deep": size[2],
         "kind": kind}
        for kind, (zone, off, size) in places.items()
    ]  # fmt: skip
    bay = {"zones": zones, "obstacles": obstacles, "tolerance": "10 mm"}
    return example_brief("hatch", bay=bay, limits={}, **changes)


@cache
def shelf() -> tuple[RigidPart, ...]:
    """Shipped parts that take room, a few of each kind."""
    found = []
    for kind in ("core", "exchanger", "pump", "reservoir"):
        for written in shipped(f"{kind}s")[:2]:
            part = PART_KINDS[kind].model_validate(written)
            assert isinstance(part, RigidPart)
            found.append(part)
    return tuple(found)


def bay_of(zones: int, deep: float, across: float, *, unit: str = "mm", known: bool = True) -> Bay:
    """So many zones one behind the other, as wide as high [mm], each with an obstacle of another kind."""

    def length(mm: float) -> str:
        return f"{mm:g} mm" if unit == "mm" else f"{mm / 25.4:.3f} in"

    kinds = ("plain", "hot", "moving", "crash")
    written: dict[str, Any] = {
        "zones": {
            f"zone-{n}": {
                "wide": length(across), "high": length(across), "deep": length(deep), "takes": ["core"],
                "open": ["front", "up"][: n % 3],
                "at": {"back": length(40 + n * deep), "right": length(-across), "up": length(200)} if known else {},
            }
            for n in range(zones)
        },
        "obstacles": [
            {"name": f"thing {n}", "in": f"zone-{n}", "from": {"left": "0 mm", "back": "0 mm", "top": "0 mm"},
             "wide": "60 mm", "high": "50 mm", "deep": "40 mm", "kind": kinds[n % 4]}
            for n in range(zones)
        ],
    }  # fmt: skip
    return Bay.model_validate(written)


def by_hand(
    zones: int, parts: int, *, unit: str = "mm", known: bool = True, routes: Sequence[Route] = ()
) -> SheetFacts:
    """A sheet of so many parts, spread over so many zones, each in a row from the front left floor corner."""
    held = {f"part-{n}": shelf()[n % len(shelf())] for n in range(parts)}
    chosen = [min(postures(part), key=lambda posture: posture.size[0]) for part in held.values()]
    across = 60.0 + max(max(posture.size[1:]) for posture in chosen)
    deep = 80.0 + max(sum(p.size[0] + 12.0 for p in chosen[zone::zones]) for zone in range(zones))
    bay = bay_of(zones, deep, across, unit=unit, known=known)
    placements = []
    filled = [10] * zones
    for n, (slot, part) in enumerate(held.items()):
        posture = chosen[n]
        zone = n % zones
        low = (filled[zone], 2 + 3 * n, 2 * n)
        corner = (40 + zone * deep, -across, 200.0) if known else (0.0, 0.0, 0.0)
        at = (low[0] + corner[0], low[1] + corner[1], low[2] + corner[2])
        frame: Literal["car", "zone"] = "car" if known else "zone"
        placements.append(
            Placement(part.id, slot, f"zone-{zone}", at, posture.size, posture.turn.up, posture.turn.front, frame)
        )
        filled[zone] += posture.size[0] + 12
    blocks = blocks_of(bay, placements, held)
    return facts_of(blocks, routes)


def facts_of(blocks: tuple[Block, ...], routes: Sequence[Route] = ()) -> SheetFacts:
    """A sheet of blocks with words of the usual length."""
    bodies = [body for block in blocks for body in block.bodies]
    words = "some-part-of-the-shelf, in a zone; as placed 120 deep, 230 wide, 140 high; its face +z up"
    return SheetFacts(
        brief="A car by hand",
        kit="Kit 1: one of each",
        room=("Room all round: 10 mm, set by this and that.",),
        tight=False,
        blocks=blocks,
        routes=tuple(routes),
        parts=tuple(
            Row(b.key, (f"{b.name}: a part with a name", words), b.up, b.front) for b in bodies if b.kind == "part"
        ),
        obstacles=tuple(Row(b.key, (b.name, "60 mm deep")) for b in bodies if b.kind != "part"),
        notes=("Not drawn: cap.",),
        cautions=tuple(Caution("x", f"Beware of the thing number {n}, it may hurt.").text for n in range(5)),
    )


@dataclass(frozen=True)
class Label:
    """A text of a drawing and the paper it needs, by a narrow guess of its letters [mm]."""

    text: str
    left: float
    top: float
    right: float
    bottom: float


def labels(text: str) -> Iterator[Label]:
    """Every text of an SVG drawing: letters 0.5 em wide, 0.72 em high (figures of a common sans-serif, from memory)."""
    for element in ET.fromstring(text).iter(f"{SPACE}text"):
        style = re.search(r"font-size:([\d.]+)px", element.get("style", ""))
        size = float(style[1]) if style else 3.5
        said = element.text or ""
        length, high = 0.5 * size * len(said), 0.72 * size
        x, y = float(element.get("x", "")), float(element.get("y", ""))
        before = {"middle": length / 2, "end": length}.get(element.get("text-anchor", ""), 0.0)
        if element.get("transform"):
            yield Label(said, x - high, y + before - length, x, y + before)
        else:
            yield Label(said, x - before, y - high, x - before + length, y)
