"""The answer to "why is this part in, or out?": records of what was found, told in words elsewhere."""

from __future__ import annotations

from dataclasses import dataclass

from configurator.foundations.verdicts import Verdict
from configurator.parts.kit import Joint
from configurator.parts.layouts import Twins
from configurator.search.job import Exclusion
from configurator.search.loosening import Change
from configurator.search.pairings import Pairing


@dataclass(frozen=True)
class Behind:
    """What puts kit 1 before another kit: the deciding step of the ordinary order, and both kits' figures in it.

    Figures are of the low-end margin [K], the room [mm] or the price [cents]; none of `proven` and `ids`.
    """

    step: str
    winner: float | None
    this: float | None


@dataclass(frozen=True)
class BestKit:
    """The best kit that holds a part; of a part that is out, the nearest one.

    `rank` among all `of` kits, `listed` among one for each core + exchanger choice, `stands`: whether it is this very
    kit that stands there; None where it misses something. `joints`: those of the part. `shortfalls`: what it misses,
    each with what was found and the limit.
    """

    parts: tuple[tuple[str, str], ...]
    zones: tuple[tuple[str, str], ...]
    joints: tuple[Joint, ...]
    layout: str
    price_cents: int
    margin_k: float
    proven: bool
    shortfalls: tuple[Verdict, ...] = ()
    rank: int | None = None
    of: int = 0
    listed: int | None = None
    stands: bool = False
    behind: Behind | None = None


@dataclass(frozen=True)
class PartStory:
    """One part's whole story.

    `reasons`: every rule it breaks alone, or the one reason that was found in company; empty for a part that is in.
    `zones`: those that it fits when alone. `pairings` and `crowd` (zone, and who was in it) only where it passes alone
    and is in no loop. `fewer`: the kit with it that misses the fewest things, where the nearest one misses more.
    """

    part: str
    name: str
    kind: str
    reasons: tuple[Exclusion, ...]
    alone: bool = False
    kits: int = 0
    zones: tuple[str, ...] = ()
    pairings: tuple[Pairing, ...] = ()
    crowd: tuple[str, tuple[str, ...]] | None = None
    best: BestKit | None = None
    fewer: BestKit | None = None

    @property
    def is_in(self) -> bool:
        """Whether some kit holds it."""
        return not self.reasons

    @property
    def is_proven(self) -> bool:
        """Whether a kit that is known to fit and to hold its pressure holds it."""
        return self.best is not None and self.best.rank is not None and self.best.proven


@dataclass(frozen=True)
class Beside:
    """The few parts of the loop that were looked at in the place of a large shelf.

    `choices`: how many it has; `stopped`: whether time ended a search for the best, so that a better kit may be left.
    """

    choices: int
    parts: int
    stopped: bool


@dataclass(frozen=True)
class Whys:
    """Stories of the parts asked for; without any, one reason for every part that is out.

    `rises_from_k`: the outside air, where the aim is a rise over it; None for a ceiling. `beside`: what of a large
    shelf was looked at; `kits`, ranks and what parts go with are of that.
    """

    brief_name: str
    currency: str
    kits: int
    every_part: bool
    rises_from_k: float | None
    stories: tuple[PartStory, ...]
    beside: Beside | None = None

    @property
    def out(self) -> tuple[PartStory, ...]:
        """The parts that are in no kit."""
        return tuple(story for story in self.stories if not story.is_in)


@dataclass(frozen=True)
class FirstKit:
    """A kit of the short list as the order sees it, and what puts kit 1 before it; None of kit 1 itself."""

    twins: Twins
    parts: tuple[tuple[str, str], ...]
    margin_low_k: float
    clearance_mm: float
    price_cents: int
    behind: Behind | None


@dataclass(frozen=True)
class Flip:
    """The least move of one figure that puts another kit first: its parts and what they cost now, and its place on the
    short list where it is that very kit. `part`: of a price, whose."""

    change: Change
    twins: Twins
    parts: tuple[tuple[str, str], ...]
    price_cents: int
    place: int | None
    part: str = ""


@dataclass(frozen=True)
class WhyFirst:
    """Why kit 1 stands first, and what would put another kit there; no kits where none keeps every demand."""

    brief_name: str
    currency: str
    kits: tuple[FirstKit, ...]
    flips: tuple[Flip, ...]
