"""Every run through up to four adapters, spelled out one by one, and random shelves to try it on."""

from __future__ import annotations

import math
import random
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from configurator.joining.run_refusal import RunConditions
from configurator.parts.ends import End
from configurator.parts.kinds import Adapter, Hose
from configurator.parts.kit import Joint
from configurator.physics.pipe_flow import bend_factor, pipe_loss
from tests.joining.made_parts import adapter, clamp, end, hose

WARM = RunConditions(hottest_k=373.15, coldest_k=253.15, design_pa_gauge=2e5)
SUCTION = RunConditions(hottest_k=373.15, coldest_k=253.15, design_pa_gauge=1e5, suction=True)
CLAMPS = [clamp("small", 20, 30), clamp("large", 26, 36, price=3), clamp("small-dear", 20, 30, price=9)]
BORES = {"-10": 12.3, "-12": 15.5, "-16": 21.4, "1/2": 13.5}
FLOW = 20e-3 / 60


@dataclass(frozen=True)
class Stack:
    """Adapters on an end, spelled out: tip, pieces, bores in mm with and without stubs, sleeves on spigots."""

    tip: End
    pieces: tuple[Adapter | Hose, ...]
    bores: tuple[float, ...]
    every: tuple[float, ...]
    sleeves: tuple[tuple[End, Hose], ...]

    @property
    def adapters(self) -> list[Adapter]:
        """The adapters without the stubs."""
        return [piece for piece in self.pieces if isinstance(piece, Adapter)]


def bore_mm(some_end: End) -> float:
    """Usual bores typed by hand: of threads by size, of spigots 3.5 mm less than outside."""
    if some_end.bore_m is not None:
        return float(some_end.bore_m) * 1e3
    return BORES[some_end.size] if some_end.sex else (some_end.size_m or 0) * 1e3 - 3.5


def inner_mm(part: Adapter) -> float:
    """The bore of an adapter: its own, else that of its narrower end."""
    own = part.through.bore_m
    return float(own) * 1e3 if own is not None else min(bore_mm(e) for e in part.through.ends)


def holds(pipe: Hose, spigot: End) -> bool:
    """A hose holds on a barbed spigot of 0.98 to 1.06 of its bore."""
    return spigot.form == "spigot" and 0.98 <= round((spigot.size_m or 0) / float(pipe.bore_m), 6) <= 1.06


def stacks(bare: Stack, hoses: list[Hose], adapters: list[Adapter], most: int) -> Iterator[Stack]:
    """Every stack of up to `most` adapters on a stack, this one first."""
    yield bare
    for part in adapters if most else ():
        inner = inner_mm(part)
        for near, far in (part.through.ends, part.through.ends[::-1]):
            if bare.tip.form == near.form == "spigot":
                for stub in (h for h in hoses if holds(h, near) and holds(h, bare.tip)):
                    on = ((bare.tip, stub), (near, stub))
                    longer = Stack(
                        far,
                        (*bare.pieces, part, stub),
                        (*bare.bores, inner),
                        (*bare.every, float(stub.bore_m) * 1e3, inner),
                        (*bare.sleeves, *on),
                    )
                    yield from stacks(longer, hoses, adapters, most - 1)
            elif (near.form, near.size) == (bare.tip.form, bare.tip.size) and {near.sex, bare.tip.sex} == {
                "male",
                "female",
            }:
                longer = Stack(far, (*bare.pieces, part), (*bare.bores, inner), (*bare.every, inner), bare.sleeves)
                yield from stacks(longer, hoses, adapters, most - 1)


def area(mm: float) -> float:
    """Area [m²] of a bore in mm."""
    return math.pi / 4 * (mm / 1e3) ** 2


def step(a: float, b: float) -> float:
    """K / A² of a step in flow direction: 0.5 (1 - sigma) into the smaller, (1 - sigma)² into the larger bore."""
    sigma = min(a, b) ** 2 / max(a, b) ** 2
    return (0.5 * (1 - sigma) if b < a else (1 - sigma) ** 2) / area(min(a, b)) ** 2


def turns(stack: Stack, pipe: Hose) -> float:
    """The adapters' own factors; a smooth bend of the hose unless an elbow turns the run."""
    own = sum((part.loss_factor or 0.0) / area(inner_mm(part)) ** 2 for part in stack.adapters)
    if any(part.shape == "elbow" for part in stack.adapters):
        return own
    return own + float(bend_factor(float(pipe.bore_m))) / area(float(pipe.bore_m) * 1e3) ** 2


def working(part: Adapter | Hose) -> float | None:
    """Working pressure [Pa gauge]."""
    return part.through.rating.working_pa_gauge if isinstance(part, Adapter) else part.working_pa_gauge


@dataclass(frozen=True, order=True)
class Score:
    """What orders runs: less is better."""

    unproven: bool
    stacked: bool
    pieces: int
    loss_pa: int
    price_cents: int


def score(a: Stack, b: Stack, pipe: Hose, length: float, case: RunConditions) -> Score | None:
    """The score of two stacks over a hose, None where it must not be made."""
    pieces = (pipe, *a.pieces, *b.pieces)
    ratings = [working(part) for part in pieces]
    bores = (*a.bores, *b.bores[::-1])
    if any(rating is not None and rating < case.design_pa_gauge for rating in ratings):
        return None
    if case.suction and any(isinstance(p, Hose) and p.bore_m > 19.1e-3 and not p.vacuum for p in pieces):
        return None
    if case.suction and min(round(min(x, y) ** 2 / max(x, y) ** 2, 6) for x, y in pairwise(bores)) < 0.80:
        return None
    price = round(pipe.price_cents * length)
    for spigot, sleeve in (*a.sleeves, (a.tip, pipe), *b.sleeves, (b.tip, pipe)):
        od = round((spigot.size_m or 0) * 1e3 + 2e3 * float(sleeve.wall_m), 3)
        fitting = [c.price_cents for c in CLAMPS if c.least_m * 1e3 <= od <= c.most_m * 1e3]
        if not fitting:
            return None
        price += min(fitting)
    price += sum(p.price_cents if isinstance(p, Adapter) else round(p.price_cents * 0.1) for p in pieces[1:])
    way = (*a.every, float(pipe.bore_m) * 1e3, *b.every[::-1])
    steps = sum(step(x, y) for x, y in pairwise(way)) + turns(a, pipe) + turns(b, pipe)
    wall = float(pipe_loss(FLOW, length, float(pipe.bore_m), 1e-5, 1000.0, 1e-3))
    stacked = max(len(a.adapters), len(b.adapters)) > 1
    return Score(None in ratings, stacked, len(pieces) - 1, round(500.0 * FLOW**2 * steps + wall), price)


def bare(some_end: End) -> Stack:
    """No adapter at all."""
    return Stack(some_end, (), (bore_mm(some_end),), (bore_mm(some_end),), ())


def every_run(start: End, finish: End, hoses: list[Hose], adapters: list[Adapter], case: RunConditions) -> list[Score]:
    """The score of every run with up to four adapters."""
    into = list(stacks(bare(finish), hoses, adapters, 4))
    return [
        found
        for a in stacks(bare(start), hoses, adapters, 4)
        for pipe in hoses
        if holds(pipe, a.tip)
        for b in into
        if len(a.adapters) + len(b.adapters) <= 4 and holds(pipe, b.tip)
        if (found := score(a, b, pipe, 0.8, case)) is not None
    ]


def of_joint(joint: Joint, stacked: bool) -> Score:
    """The score of a joint, from what the joint tells; it does not tell which end its adapters sit on."""
    stubs = round(sum(need.quantity for need in joint.needs if need.item == "hose stub") / 0.1)
    wall = float(pipe_loss(FLOW, joint.hose_length_m, joint.hose_bore_m, 1e-5, 1000.0, 1e-3))
    loss = round(500.0 * FLOW**2 * joint.loss_per_m4 + wall)
    unproven = any(member.working_pa_gauge is None for member in joint.members)
    return Score(unproven, stacked, len(joint.through) + stubs, loss, joint.price_cents)


def random_shelf(seed: int) -> tuple[list[Hose], list[Adapter], End, End, RunConditions]:
    """A few hoses and adapters, unions between threads among them, and two ends, from a fixed seed."""
    pick = random.Random(seed)
    wired = random.Random(-1 - seed)
    hoses = [
        hose(
            f"h-{bore}-{n}",
            bore,
            wall=pick.choice([3.5, 4, 4, 6]),
            working=pick.choice([1.5, 3, 4, 4, 4, None]),
            vacuum=wired.random() < 0.6,
        )
        for bore in pick.choice([[19], [19, 25], [16, 19]])
        for n in "ab"[: pick.choice([1, 1, 2])]
    ]
    spigots = [f"spigot {bore} barb" for bore in (16, 19, 19, 25)]
    threads = ["orb -12", "flare37 -12", "flare37 -12"]
    wanted = [f"{pick.choice(threads[:2])} female" if pick.random() < 0.75 else pick.choice(spigots) for _ in "ab"]
    useful = ["flare37 -12 female", *(text.replace("female", "male") for text in wanted if "female" in text)]
    adapters = []
    if pick.random() < 0.4:
        wanted[0] = "orb -12 female"
        adapters += [
            adapter("dear", "orb -12 male", "spigot 19 barb", price=60),
            adapter("union", "orb -12 male", "flare37 -12 male", price=1, bore=pick.choice([14, 15.5])),
            adapter("barb", "flare37 -12 female", "spigot 19 barb", price=1, working=pick.choice([1.5, 10])),
        ]
    for n in range(len(adapters), pick.randint(4, 6)):
        kind = "piece" if n == 0 and pick.random() < 0.7 else pick.choice(["barb", "barb", "union"])
        a, b = pick.choice(useful), pick.choice(spigots)
        if kind == "piece":
            a = pick.choice(spigots)
        elif kind == "union":
            a, b = a.replace("flare37 -12 female", "orb -12 male"), f"{pick.choice(threads)} male"
        more: dict[str, Any] = {"shape": "elbow", "loss_factor": 1.2} if pick.random() < 0.2 else {}
        bore = pick.choice([None, None, 12.0, 14.0, 15.5])
        more |= {
            "working": pick.choice([None, 1.5, 10, 10, 10]),
            "price": pick.choice([1, 60] if kind == "barb" else [1, 5]),
        }
        adapters.append(adapter(f"a{n}", a, b, bore=bore, **more))
    return hoses, adapters, end(wanted[0]), end(wanted[1]), pick.choice([WARM, WARM, SUCTION])
