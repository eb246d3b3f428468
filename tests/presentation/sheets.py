"""Sheets made by the command on small shelves, each once in a run, with the answer that they tell of."""

from __future__ import annotations

import copy
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.journeys.checks import run
from tests.journeys.kitwright import Tree, example, shipped, shipped_part, small_shelf, suggest, written

HOSTILE = '<script>alert(1)</script> ]]> & "q" \u202e\u200f[x] --> '
"""A tag, the end of a CDATA section and of a comment, quotes, brackets, and marks that turn letters about."""
KINDS = {
    "cores": ("core-260-short",),
    "exchangers": ("exchanger-350-slim", "exchanger-380-slim"),
    "pumps": ("pump-40-small",),
    "reservoirs": ("reservoir-8-cube",),
}


@dataclass(frozen=True)
class Sheet:
    """A page, what the command said, and the JSON answer of the same brief and shelf."""

    page: str
    code: int
    err: str
    answer: Tree


def shelf(name: str = "") -> Tree:
    """The parts of two kits of the hatch; with a name, every part's."""
    changes = {"name": name} if name else {}
    return small_shelf(**{kind: [shipped_part(part, **changes) for part in parts] for kind, parts in KINDS.items()})


def sheet(brief: Tree, parts: Tree, *options: str) -> Sheet:
    """Run `kitwright sheet` on a brief and a shelf, both plain data."""
    shared = [option for option in options if option == "--no-ways-out"]
    answer = suggest(brief, "--json", *shared, shelf=parts).answer
    with TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "brief.yaml").write_text(written(brief), encoding="utf-8")
        (folder / "shelf").mkdir()
        (folder / "shelf" / "parts.yaml").write_text(written(parts), encoding="utf-8")
        out = folder / "sheet.html"
        told = run("sheet", str(folder / "brief.yaml"), "-o", str(out), "--catalogue", str(folder / "shelf"), *options)
        return Sheet(out.read_text(encoding="utf-8") if out.is_file() else "", told.code, told.err, answer)


@cache
def plain() -> Sheet:
    """The hatch on a shelf of two kits."""
    return sheet(example("hatch"), shelf())


@cache
def second() -> Sheet:
    """Kit 2 of the same, with what one change of it buys."""
    return sheet(example("hatch"), shelf(), "--kit", "2", "--improve")


def _two_banks() -> Tree:
    """The hatch with a charger, a core and a zone for each of two banks."""
    brief = example(
        "hatch", engine__charger_outlet="57 mm", engine__charger_outlets=2, engine__throttle="76 mm",
        engine__boost="1.1 bar",
        aim={"charge_air": "95 degC"}, limits=None, layouts=["twin-cores-parallel"],
    )  # fmt: skip
    bank = {"wide": "240 mm", "high": "190 mm", "deep": "300 mm", "takes": ["core"],
            "open": ["front", "back", "left", "right", "up"]}  # fmt: skip
    places = {"left bank": {"back": "500 mm", "right": "-500 mm", "up": "560 mm"},
              "right bank": {"back": "500 mm", "right": "200 mm", "up": "560 mm"}}  # fmt: skip
    grille = {"wide": "660 mm", "high": "210 mm", "deep": "70 mm", "open": ["front", "back", "left", "right"],
              "at": {"back": "60 mm", "right": "-330 mm", "up": "440 mm"}, "takes": ["exchanger"],
              "air": {"kind": "ram", "share": "22 %"}}  # fmt: skip
    wing = {"wide": "240 mm", "high": "380 mm", "deep": "260 mm", "open": ["front", "back", "left", "up"],
            "at": {"back": "500 mm", "right": "520 mm", "up": "560 mm"}, "takes": ["reservoir", "pump"]}  # fmt: skip
    zones = {**{name: copy.deepcopy({**bank, "at": at}) for name, at in places.items()}, "grille": grille, "wing": wing}
    brief["bay"] = {"zones": zones, "tolerance": "5 mm"}
    return brief


@cache
def twins() -> Sheet:
    """Two cores side by side, each in a zone of its own."""
    parts = {
        "cores": ("core-280-sturdy",), "exchangers": ("exchanger-640-slim",), "pumps": ("pump-70-strong",),
        "reservoirs": ("reservoir-0.7-bottle", "reservoir-1-round"),
    }  # fmt: skip
    held = {kind: [shipped_part(part) for part in of] for kind, of in parts.items()}
    return sheet(_two_banks(), small_shelf(**held, wyes=shipped("wyes")))


@cache
def no_kit() -> Sheet:
    """The hatch with an aim that none of them meets."""
    return sheet(example("hatch", aim__charge_air="40 degC"), shelf(), "--no-ways-out")


@cache
def unmeasured() -> Sheet:
    """The hatch whose bay nobody has measured."""
    return sheet(example("hatch", bay="unmeasured"), shelf())


@cache
def hostile() -> Sheet:
    """Every name as bad and as long as a file may have it."""
    brief = example("hatch", brief=(HOSTILE + "B" * 200)[:200])
    brief["bay"].pop("runs", None)
    zones = brief["bay"]["zones"]
    brief["bay"]["zones"] = {(HOSTILE + name * 20)[:100] if name == "nose" else name: zones[name] for name in zones}
    for obstacle in brief["bay"]["obstacles"]:
        obstacle["name"] = (HOSTILE + "O" * 100)[:100]
    stretch = {"lasts": "20 s", "share": "80 %", "speed": "65 km/h"}
    brief["driving"] = {"name": (HOSTILE + "D" * 200)[:200], "stretches": [stretch], "total": "40 s"}
    return sheet(brief, shelf((HOSTILE + "W" * 200)[:200]))
