"""What is said of two ends, and the figures at which the saying changes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from configurator.foundations.verdicts import Caution
from configurator.parts.kit import Medium, Need
from configurator.standards.forms import RINGS

MatingVerdict = Literal["direct", "adapter", "refuse", "ask"]
MatingMedium = Literal[Medium, "fuel"]


@dataclass(frozen=True)
class MatingLimits:
    """Where a fit ends. Common practice, no source; G 1/2 in M22x1.5 is a published hazard.

    `plain_coupler_k`: above 175 degC silicone needs a fluoro lining.
    """

    hose_slack: float = 0.90
    hose_least: float = 0.98
    hose_most: float = 1.06
    coupler_most: float = 1.03
    sleeve_forced: float = 1.15
    bead_above_pa_gauge: float = 0.5e5
    depth_least: float = 0.10
    depth_most: float = 1.15
    depth_weak: float = 0.60
    pitch_most: float = 0.22
    pitch_alike: float = 0.005
    unwired_suction_m: float = 19.1e-3
    plain_coupler_k: float = 448.15


LIMITS: Final = MatingLimits()

UNWIRED_MOST: Final = f"{LIMITS.unwired_suction_m * 1000:.0f} mm"
"""The widest hose that may lie before the pump without being wired, in words."""


@dataclass(frozen=True)
class Mating:
    """The verdict on two ends, the rule it comes from, and what follows.

    `hazard`: what happens if it is tried all the same (refuse). `needs`: what a direct joint takes besides the ends.
    `remedy`: the way out where no adapter is one. `question`: what must be known first (ask).
    """

    verdict: MatingVerdict
    rule: str
    why: str
    hazard: str = ""
    needs: tuple[Need, ...] = ()
    cautions: tuple[Caution, ...] = ()
    remedy: str = ""
    question: str = ""


def ring_caution(medium: MatingMedium) -> Caution:
    """What a joint with a rubber ring wants said. NBR to 100 degC: SAE J20, class B (published), said of hose."""
    rubber, _ = RINGS[medium]
    text = f"Take rings and bonded washers of {rubber}: NBR ones, as come with many fittings, harden above 100 degC."
    return Caution("ring-rubber", f"{text} Mineral oil swells EPDM." if rubber == "EPDM" else text)


def refuse(rule: str, why: str, hazard: str, remedy: str = "") -> Mating:
    """Two ends that must not be put together."""
    return Mating("refuse", rule, why, hazard, remedy=remedy)


def adapter(rule: str, why: str, remedy: str = "") -> Mating:
    """Two ends that nobody would take for a fit."""
    return Mating("adapter", rule, why, remedy=remedy)


def ask(rule: str, why: str, question: str) -> Mating:
    """Two ends of which too little is known."""
    return Mating("ask", rule, why, question=question)
