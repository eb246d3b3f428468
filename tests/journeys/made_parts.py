"""Parts made for a law: a front of any finned face, a tank of any volume."""

from __future__ import annotations

from typing import Any

from tests.journeys.kitwright import Tree, shipped_part


def tank(litres: float) -> Tree:
    """One box of one mass with more or less in it."""
    return shipped_part("reservoir-8-plain", id=f"tank-{litres:g}", coolant__volume=f"{litres:g} L")


def front(
    made_of: str, wide_mm: int, high_mm: int, name: str = "front", *, around: tuple[int, int] = (64, 20), **changes: Any
) -> Tree:
    """A front of a given finned face, its box that much wider and higher, as deep as the shipped part `made_of`.

    Metal and liquid go with the face, 25 kg and 7.1 L per square metre.
    """
    face = wide_mm * high_mm / 1e6
    deep = shipped_part(made_of)["size"]["x"]
    middle = f"{float(deep.split()[0]) / 2:g} mm"
    return shipped_part(
        made_of,
        id=name,
        size={"x": deep, "y": f"{wide_mm + around[0]} mm", "z": f"{high_mm + around[1]} mm"},
        face={"wide": f"{wide_mm} mm", "high": f"{high_mm} mm"},
        mass=f"{25 * face:.4f} kg",
        coolant__volume=f"{7.1 * face:.4f} L",
        coolant__ends=[
            {"name": end, "form": "spigot", "size": "19 mm", "barb": True, "bore": "15.5 mm", "face": side,
             "at": {"x": middle, "z": at}}
            for end, side, at in (("in", "-y", "60 mm"), ("out", "+y", f"{high_mm - 40} mm"))
        ],
        **changes,
    )  # fmt: skip
