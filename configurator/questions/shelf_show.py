"""Everything that is known of one part of the shelf, what it does at a stated working point, and what it can join."""

from __future__ import annotations

from dataclasses import dataclass

from configurator.brief.tables import Tables
from configurator.joining.words import bar_words
from configurator.parts.kinds import Adapter, Cap, Core, Exchanger, Part, RigidPart, Valve, Wye
from configurator.parts.passages import BURST_OVER_WORKING, PROOF_OVER_WORKING, Passage
from configurator.parts.shelf import Catalogue
from configurator.prediction.surfaces import core_surface, exchanger_surface
from configurator.prediction.working_point import CORE_POINT, EXCHANGER_POINT, AtWork, WorkingPoint, at_work
from configurator.questions.shelf_list import KeyFigure, key_figures
from configurator.questions.shelf_mates import EndMates, Mates


@dataclass(frozen=True)
class Heat:
    """How well a core or exchanger is known, and what it does at the point: nominal, low end, high end.

    `impossible`: why no estimate can be made, empty where one can.
    """

    tier: str
    ua_band: float
    loss_band: float
    point: WorkingPoint
    nominal: AtWork | None = None
    low: AtWork | None = None
    high: AtWork | None = None
    impossible: str = ""


@dataclass(frozen=True)
class Shown:
    """One part: its record, key figures, passages by medium, ends with what goes on them, heat, source in words."""

    part: Part
    kind: str
    figures: tuple[KeyFigure, ...]
    passages: tuple[tuple[str, Passage], ...]
    ends: tuple[EndMates, ...]
    heat: Heat | None
    source: str


def shelf_show(part: Part, catalogue: Catalogue, tables: Tables) -> Shown:
    """Gather what is known of a part of this shelf."""
    heat = heat_of(part) if isinstance(part, Core | Exchanger) else None
    source = tables.sources.get(part.source, part.source) if part.source else ""
    kind = part.kind
    return Shown(part, kind, key_figures(part), passages_of(part), Mates(catalogue).of(part), heat, source)


def heat_of(part: Core | Exchanger) -> Heat:
    """The tier of a part and what it does where parts are told side by side."""
    point = CORE_POINT if isinstance(part, Core) else EXCHANGER_POINT
    try:
        surface = core_surface(part) if isinstance(part, Core) else exchanger_surface(part)
    except ValueError as error:
        return Heat("", 0.0, 0.0, point, impossible=str(error))
    low, nominal, high = (at_work(part, point, end) for end in (-1, 0, 1))
    return Heat(surface.tier, float(surface.ua_band), float(surface.loss_band), point, nominal, low, high)


def rating_words(passage: Passage) -> str:
    """What a passage may work at, and from which statement that follows."""
    rating = passage.rating
    if rating.working_pa_gauge is None:
        return "not stated: unproven"
    share = {"proof": PROOF_OVER_WORKING, "burst": BURST_OVER_WORKING}.get(rating.stated_as)
    told = "stated" if share is None else f"{rating.stated_as} pressure / {share:g}"
    return f"{bar_words(rating.working_pa_gauge)} ({told})"


def passages_of(part: Part) -> tuple[tuple[str, Passage], ...]:
    """The passages of any part with what flows through each, `charge` or `coolant`; none of clamps, wires and such."""
    if isinstance(part, RigidPart):
        return tuple(part.passages().items())
    if isinstance(part, Adapter | Wye):
        return ((part.medium, part.through),)
    if isinstance(part, Valve):
        return (("coolant", part.through),)
    return (("coolant", part.coolant),) if isinstance(part, Cap) else ()
