"""The points of a loop in words: where each is, what flows there, at which pressure and how warm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from configurator.joining.ratings import HEAD_PA_PER_M
from configurator.joining.words import bar_words, celsius_words
from configurator.prediction.points import LoopPoints, Point

_SIDES: Final = {"in": "inlet", "out": "outlet"}
_IN_MINUTES_FROM_S: Final = 180.0
HEADS: Final = ("where", "point", "flow", "pressure", "temp.")


@dataclass(frozen=True)
class PointFacts:
    """One point as strings; `slots` and `side` as its loop has them."""

    number: str
    slots: tuple[str, ...]
    side: str
    where: str
    flow: str
    pressure: str
    warmth: str

    @property
    def cells(self) -> tuple[str, ...]:
        """Its row in the table."""
        return self.where, self.number, self.flow, self.pressure, self.warmth


@dataclass(frozen=True)
class LoopFacts:
    """A loop as strings. `through`: what a slot's coolant meets, as it comes and as it leaves."""

    when: str
    points: tuple[PointFacts, ...]
    through: tuple[tuple[str, tuple[str, str]], ...]
    notes: tuple[str, ...]


def loop_facts(told: LoopPoints, cap_pa_gauge: float) -> LoopFacts:
    """The points of a loop worded; `cap_pa_gauge`: what its cap opens at, 0 for a vented loop."""
    charge = told.charge
    cores = tuple(dict.fromkeys(slot for point in told.points for slot in point.slots if slot.startswith("core")))
    core_lines = (f"charge in {celsius_words(charge.in_k)}", f"charge out {celsius_words(charge.out_k)}")
    fronts = [
        (front.slot, (f"air in {celsius_words(front.in_k)}", f"air out {celsius_words(front.out_k)}"))
        for front in told.fronts
    ]
    return LoopFacts(
        when=f"At the worst moment of the drive, after {_after(told.at_s)}: {100 * told.share:.0f} % of full power, "
        f"{told.speed_m_per_s * 3.6:.0f} km/h",
        points=tuple(_point(number, point) for number, point in enumerate(told.points, start=1)),
        through=(*((slot, core_lines) for slot in cores), *fronts),
        notes=tuple(_notes(told, cores, cap_pa_gauge)),
    )


def _point(number: int, point: Point) -> PointFacts:
    each = " each" if len(point.slots) > 1 else ""
    return PointFacts(
        str(number),
        point.slots,
        point.side,
        f"{' and '.join(point.slots)} {_SIDES[point.side]}",
        f"{point.flow_m3_per_s * 60e3:.1f} L/min{each}",
        f"{round(point.over_reservoir_pa / 1e3, 1) + 0.0:+.1f} kPa",
        celsius_words(point.kelvin),
    )


def _notes(told: LoopPoints, cores: Sequence[str], cap_pa_gauge: float) -> list[str]:
    air = "the outside air, as the loop is vented"
    if cap_pa_gauge > 0.0:
        air = f"0 to {bar_words(cap_pa_gauge)} over the outside air, by how warm the loop is under its cap"
    charge = told.charge
    both = f", half through each of {' and '.join(cores)}" if len(cores) > 1 else ""
    return [
        f"Pressure is told over that of the reservoir's air space ({air}), all points at one height: add "
        f"{HEAD_PA_PER_M / 1e4:.1f} kPa for each 0.1 m that a point lies below the liquid's surface. At the pump's "
        "inlet it is suction.",
        f"Charge: {1000 * charge.kg_per_s:.0f} g/s{both}; {bar_words(charge.in_pa_gauge)} before the core, "
        f"{bar_words(charge.out_pa_gauge)} behind it.",
        "Temperatures at one moment: the loop is not settled, so what a core takes up has not reached every point yet.",
    ]


def _after(seconds: float) -> str:
    return f"{seconds:.0f} s" if seconds <= _IN_MINUTES_FROM_S else f"{seconds / 60:.1f} min"
