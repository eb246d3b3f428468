"""What is on the shelf: each part with its price, its stock and the figures by which one of its kind is told apart."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Final

from configurator.joining.words import end_words
from configurator.parts.ends import End
from configurator.parts.kinds import (
    PART_KINDS,
    Adapter,
    Cap,
    Clamp,
    Core,
    Exchanger,
    Fan,
    Fuse,
    Hose,
    Part,
    Pump,
    Relay,
    Reservoir,
    RigidPart,
    Timer,
    Valve,
    Wire,
    Wye,
)
from configurator.parts.shelf import Catalogue


@dataclass(frozen=True)
class KeyFigure:
    """One figure of a part in SI, with its name for programs; a list of them where it has several; None: not said."""

    name: str
    value: float | str | bool | tuple[float | None, ...] | tuple[str, ...] | None


@dataclass(frozen=True)
class Listed:
    """A part with its key figures."""

    part: Part
    kind: str
    figures: tuple[KeyFigure, ...]

    def figure(self, name: str) -> Any:
        """A figure by its name."""
        return next(figure.value for figure in self.figures if figure.name == name)


def shelf_list(
    catalogue: Catalogue, kind: str | None = None, *, in_stock: bool = False, under: float | None = None
) -> tuple[Listed, ...]:
    """The parts of a shelf, kind by kind in the fixed order of kinds, in each by id.

    `in_stock` leaves out what has a stock of 0, as `in_stock` of a brief does; `under`: only what costs less.
    """
    kinds = PART_KINDS if kind is None else {kind: PART_KINDS[kind]}
    return tuple(
        Listed(part, name, key_figures(part))
        for name, record in kinds.items()
        for part in catalogue.of(record)
        if not (in_stock and part.stock == 0) and (under is None or part.price < under)
    )


def key_figures(part: Part) -> tuple[KeyFigure, ...]:
    """The figures of a part's kind, always the same ones in the same order."""
    box = (_box(part),) if isinstance(part, RigidPart) else ()
    return (*box, *(figure for kind, of in _FIGURES.items() if isinstance(part, kind) for figure in of(part)))


def _box(part: RigidPart) -> KeyFigure:
    return KeyFigure("box_m", tuple(float(side) for side in (part.size.x_m, part.size.y_m, part.size.z_m)))


def _core(part: Core) -> tuple[KeyFigure, ...]:
    sizes = tuple(end.size_m for end in part.charge.ends if end.role in ("in", "out", "either"))
    return (KeyFigure("charge_ends_m", sizes),)


def _exchanger(part: Exchanger) -> tuple[KeyFigure, ...]:
    return (KeyFigure("face_m", (float(part.face.wide_m), float(part.face.high_m))),)


def _pump(part: Pump) -> tuple[KeyFigure, ...]:
    last = part.curve[-1]
    return (
        KeyFigure("most_flow_m3_per_s", float(last.flow_m3_per_s)),
        KeyFigure("head_there_pa", float(last.head_pa)),
        KeyFigure("dead_head_pa", part.dead_head_pa),
    )


def _reservoir(part: Reservoir) -> tuple[KeyFigure, ...]:
    return KeyFigure("volume_m3", float(part.coolant.volume_m3 or 0.0)), KeyFigure("ice", part.ice)


def _cap(part: Cap) -> tuple[KeyFigure, ...]:
    return KeyFigure("opens_pa_gauge", float(part.opens_pa_gauge)), KeyFigure("ends", _ends(part.coolant.ends))


def _hose(part: Hose) -> tuple[KeyFigure, ...]:
    working = None if part.working_pa_gauge is None else float(part.working_pa_gauge)
    return (
        KeyFigure("bore_m", float(part.bore_m)),
        KeyFigure("working_pa_gauge", working),
        KeyFigure("hottest_k", float(part.hottest_k)),
    )


def _through(part: Adapter | Wye) -> tuple[KeyFigure, ...]:
    return KeyFigure("medium", part.medium), KeyFigure("ends", _ends(part.through.ends))


def _valve(part: Valve) -> tuple[KeyFigure, ...]:
    return (KeyFigure("ends", _ends(part.through.ends)),)


def _clamp(part: Clamp) -> tuple[KeyFigure, ...]:
    return KeyFigure("style", part.style), KeyFigure("closes_on_m", (float(part.least_m), float(part.most_m)))


def _fan(part: Fan) -> tuple[KeyFigure, ...]:
    return (
        KeyFigure("most_flow_m3_per_s", float(part.curve[-1].flow_m3_per_s)),
        KeyFigure("most_rise_pa", float(part.curve[0].rise_pa)),
    )


def _ends(ends: tuple[End, ...]) -> tuple[str, ...]:
    return tuple(end_words(end) for end in ends)


_FIGURES: Final[dict[type[Part], Callable[[Any], tuple[KeyFigure, ...]]]] = {
    Core: _core,
    Exchanger: _exchanger,
    Pump: _pump,
    Reservoir: _reservoir,
    Cap: _cap,
    Hose: _hose,
    Adapter: _through,
    Wye: _through,
    Valve: _valve,
    Clamp: _clamp,
    Fan: _fan,
    Timer: lambda part: (KeyFigure("runs_s", float(part.runs_s)),),
    Fuse: lambda part: (KeyFigure("rated_a", float(part.rated_a)),),
    Relay: lambda part: (KeyFigure("rated_a", float(part.rated_a)),),
    Wire: lambda part: (KeyFigure("area_m2", float(part.area_m2)),),
}
