"""The job a search is given: brief, shelf and conditions, side by side; and why a part is out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeVar

from configurator.brief.driving import Driving
from configurator.brief.request import Brief
from configurator.brief.tables import Tables
from configurator.parts.kinds import Adapter, Part
from configurator.parts.layouts import Layout
from configurator.parts.own import OwnPart
from configurator.parts.shelf import Catalogue
from configurator.prediction.conditions import Conditions
from configurator.search.liquid_height import LiquidHeight

P = TypeVar("P", bound=Part)


@dataclass(frozen=True)
class Job:
    """One brief against one shelf, under the conditions that follow from the brief."""

    brief: Brief
    driving: Driving
    own: tuple[OwnPart, ...]
    catalogue: Catalogue
    tables: Tables
    layout: Layout
    conditions: Conditions
    with_common_error: Conditions
    liquid: LiquidHeight

    def fitted(self, kind: str) -> OwnPart | None:
        """The customer's part of this kind that must stay where it is, if there is one."""
        return next((own for own in self.own if own.fitted and own.part.kind == kind), None)

    def is_own(self, part_id: str) -> bool:
        """Whether the customer has this part already: it costs nothing."""
        return any(own.part.id == part_id for own in self.own)

    def wanted(self, kind: str) -> tuple[str, ...]:
        """The parts of a kind of which the brief wants one in the kit; none where any will do."""
        return wanted_of(self.brief, self.own, self.catalogue, kind)

    @property
    def cores(self) -> int:
        """How many cores share the charge."""
        return self.layout.count("core")

    def two_of(self, part: Part) -> bool:
        """Whether two of a part can be bought: not where the customer has one, nor of the last on the shelf."""
        short = self.brief.in_stock and part.stock is not None and part.stock < 2
        return not self.is_own(part.id) and not short

    def adapter(self, part_id: str) -> Adapter:
        """The shelf's adapter of an id."""
        part = self.catalogue[part_id]
        assert isinstance(part, Adapter)
        return part

    def serving(self, kind: type[P]) -> tuple[P, ...]:
        """The shelf's parts of a kind that serves joints or wiring, as far as the brief lets them in, by id."""
        return tuple(part for part in self.catalogue.of(kind) if lets_in(self.brief, self.own, part))


def lets_in(brief: Brief, own: Sequence[OwnPart], part: Part) -> bool:
    """Whether a brief leaves out neither a part nor its kind, and the part is there where it has to be."""
    return not {part.id, part.kind} & set(brief.without) and not out_of_stock(brief, own, part)


def out_of_stock(brief: Brief, own: Sequence[OwnPart], part: Part) -> bool:
    """Whether a part would have to be ordered and the brief takes only what is there: the customer's own is there."""
    return brief.in_stock and part.stock == 0 and not any(held.part.id == part.id for held in own)


def wanted_of(brief: Brief, own: Sequence[OwnPart], catalogue: Catalogue, kind: str) -> tuple[str, ...]:
    """The parts of a kind, of the customer's and of the shelf, of which a brief wants one in the kit."""
    if not brief.wanted:
        return ()
    known = {**catalogue.parts, **{held.part.id: held.part for held in own}}
    return tuple(name for name in brief.wanted if name in known and known[name].kind == kind)


@dataclass(frozen=True, order=True)
class Exclusion:
    """Why a part is out for this brief: rule code, what was found, the limit and their unit.

    `side`: of a part too large for a zone, which wall it misses most. `turned`: whether the zone would take it lying
    on another face, of a part that does not say which faces may look up; `zone`: the one whose room keeps it out.
    `cause`: of ends that do not meet, a code of what something other than a piece would mend.
    """

    part: str
    code: str
    found: float | str | None
    limit: float | str | None
    unit: str
    about: str = ""
    side: str = ""
    turned: bool = False
    zone: str = ""
    cause: str = ""
