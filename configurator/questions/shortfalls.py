"""What a kit misses of its brief, and by how much: each demand as a broken rule with what was found and the limit."""

from __future__ import annotations

import math

from configurator.foundations.verdicts import Verdict
from configurator.parts.kinds import Cap, Part, RigidPart
from configurator.parts.passages import Passage
from configurator.prediction.bench import Bench, make_columns
from configurator.prediction.predict import predict
from configurator.search.fill import Candidate
from configurator.search.job import Job

Figures = tuple[float, float | None, str]


def shortfalls(job: Job, bench: Bench, kit: Candidate) -> tuple[Verdict, ...]:
    """A verdict for each demand that a kit misses; `bench` is that of its search.

    Found and limit are kelvin, the brief's money, kilograms, amperes and pascals. Coolant that boils is found so many
    kelvin too hot; where it is hotter than some piece stands, `text` is the id of the one that stands least.
    """
    return tuple(_shortfall(job, bench, kit, demand) for demand in kit.missed)


def _shortfall(job: Job, bench: Bench, kit: Candidate, demand: str) -> Verdict:
    weakest = ""
    limit: float | None
    if demand == "coolant temperature":
        coolant = predict(bench, make_columns(bench, [kit.loop]), job.conditions).coolant_worst_k
        stands, weakest = _stands_least(job, kit)
        found, limit, unit = round(float(coolant[0]), 2), stands, "K"
    else:
        found, limit, unit = _sums(job, kit)[demand]
    return Verdict(demand, "broken", kit.ids, found, None if limit is None else float(limit), unit, weakest)


def _sums(job: Job, kit: Candidate) -> dict[str, Figures]:
    limits, aim, ceiling = job.brief.limits, job.brief.aim, job.conditions.ceiling_k
    return {
        "aim": (round(ceiling - kit.margin_k, 2), round(ceiling, 2), "K"),
        "price": (kit.price_cents / 100, limits.price, "money"),
        "mass": (kit.mass_g / 1000, limits.mass_dry_kg, "kg"),
        "current": (round(kit.current_a, 3), limits.current_a, "A"),
        "charge loss": (kit.charge_loss_pa, aim.charge_loss_pa, "Pa"),
        "coolant boils": (round(-kit.boil_margin_k, 2), 0.0, "K"),
    }


def _stands_least(job: Job, kit: Candidate) -> tuple[float, str]:
    """The coolant [K] that the weakest part or piece of a kit stands, and which it is."""
    sides = [(part_of(job, part), part) for _, part in kit.kit.parts]
    stands: list[tuple[float | None, str]] = [
        (side.hottest_k, part_id)
        for part, part_id in sides
        if isinstance(part, RigidPart | Cap) and isinstance(side := getattr(part, "coolant", None), Passage)
    ]
    stands += [(piece.hottest_k, piece.part) for j in kit.joints if j.medium == "coolant" for piece in j.members]
    return min((math.inf if at is None else round(float(at), 2), part_id) for at, part_id in stands)


def part_of(job: Job, part_id: str) -> Part:
    """A part of the shelf, or the customer's own of that id."""
    held = next((held.part for held in job.own if held.part.id == part_id), None)
    return job.catalogue[part_id] if held is None else held
