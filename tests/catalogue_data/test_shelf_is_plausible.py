"""The shipped cores and front exchangers are what such parts usually are; an implausible one is named.

Standing of the bounds: common practice, no published source, as `catalogue/bounds.yaml` says of each.
"""

from __future__ import annotations

import copy
import math
from collections.abc import Iterator, Sequence
from itertools import permutations
from typing import Any

import pytest
from pydantic import ValidationError

from configurator.foundations.verdicts import State, Verdict
from configurator.parts.bounds import Bounds, FaceTable, PriceBounds
from configurator.parts.kinds import Core, Exchanger, RigidPart
from configurator.prediction.measured_points import point_ua
from configurator.prediction.plausibility import (
    Claim,
    claims,
    judge,
    usual_face_ua,
)
from configurator.prediction.surfaces import core_surface, exchanger_surface
from tests.catalogue_data.heat_parts import (
    BOUNDS,
    CORE_ROWS,
    CORES,
    EXCHANGER_ROWS,
    EXCHANGERS,
    box_mm,
    changed,
)

SHELF: list[Core | Exchanger] = [*CORES.values(), *EXCHANGERS.values()]
POINT = ("performance", "measured", 0)


def judge_shelf(parts: Sequence[Any], bounds: Bounds) -> tuple[Verdict, ...]:
    """All judgements of the cores and front exchangers among `parts`, in the order of the parts; then prices."""
    cores = [part for part in parts if isinstance(part, Core)]
    exchangers = [part for part in parts if isinstance(part, Exchanger)]
    return (
        *(judge(part.id, claim) for part in (*cores, *exchangers) for claim in claims(part, bounds)),
        *(verdict for part in (*cores, *exchangers) for verdict in judge_surface(part, bounds)),
        *judge_prices(cores, bounds.price),
        *judge_prices(exchangers, bounds.price),
    )


def judge_surface(part: Core | Exchanger, bounds: Bounds) -> Iterator[Verdict]:
    """Whether several measured points can be those of one surface."""
    if len(part.performance.measured) > 1:
        surface = core_surface(part) if isinstance(part, Core) else exchanger_surface(part)
        worst = Claim(("performance",), "points-disagree", surface.worst_misfit, bounds.points_disagree, "%", 0.01)
        yield judge(part.id, worst)


def judge_prices(parts: Sequence[RigidPart], limits: PriceBounds) -> tuple[Verdict, ...]:
    """Each pair of parts of one kind of which one is larger every way: the larger is not much the cheaper."""
    least, times = 1.0 - float(limits.cheaper_by), 1.0 + float(limits.larger_by)
    found = []
    for small, large in permutations(parts, 2):
        sides = zip(box_mm(large), box_mm(small), strict=True)
        if all(a >= times * b for a, b in sides) and small.price:
            ratio = large.price / small.price
            state: State = "kept" if ratio >= least else "broken"
            found.append(Verdict("price-and-size", state, (large.id, small.id), ratio, least, "-"))
    return tuple(found)


def broken(parts: list[Any]) -> list[Verdict]:
    """Every verdict that is not kept."""
    return [verdict for verdict in judge_shelf(parts, BOUNDS) if verdict.state != "kept"]


def unmixed(n: float, c: float) -> float:
    """Effectiveness of one pass, both streams unmixed, by the usual approximation (good to about 1 %):
    1 - exp((exp(-C* N^0.78) - 1) N^0.22 / C*). Published: Incropera, Fundamentals of Heat and Mass Transfer,
    table of effectiveness relations; from memory.
    """
    return 1 - math.exp((math.exp(-c * n**0.78) - 1) * n**0.22 / c)


def test_every_shipped_part_keeps_every_bound() -> None:
    verdicts = judge_shelf(SHELF, BOUNDS)
    assert [verdict.text for verdict in verdicts if verdict.state != "kept"] == []
    judged = {(verdict.rule, verdict.subjects[0]) for verdict in verdicts}
    for part in SHELF:
        assert {("conductance", part.id), ("mass", part.id), ("metal-and-coolant", part.id)} <= judged
        if part.performance.measured:
            assert {("effectiveness", part.id), ("coolant-loss", part.id)} <= judged
        if len(part.performance.measured) > 1:
            assert ("points-disagree", part.id) in judged


@pytest.mark.parametrize(
    ("part", "at", "value", "rule"),
    [
        ("core-230-short", (*POINT, "effectiveness"), "97 %", "effectiveness"),
        ("core-230-short", (*POINT, "effectiveness"), "40 %", "effectiveness"),
        ("core-230-short", (*POINT, "charge_loss"), "21 kPa", "charge-loss"),
        ("core-230-short", (*POINT, "charge_loss"), "0.5 kPa", "charge-loss"),
        ("core-230-short", (*POINT, "coolant_loss"), "24 kPa", "coolant-loss"),
        ("core-230-short", (*POINT, "effectiveness"), "90 %", "points-disagree"),
        ("core-420-plain", (*POINT, "air"), "1.2 kg/s", "conductance"),
        ("core-230-short", ("mass",), "39 kg", "mass"),
        ("core-230-short", ("coolant", "volume"), "4 L", "metal-and-coolant"),
        ("core-178-square", ("performance", "fins", "pitch"), "9 mm", "conductance"),
        ("exchanger-460-plain", (*POINT, "effectiveness"), "95 %", "effectiveness"),
        ("exchanger-460-plain", (*POINT, "coolant_loss"), "0.2 kPa", "coolant-loss"),
        ("exchanger-450-slim", (*POINT, "effectiveness"), "67 %", "conductance"),
        ("exchanger-450-slim", (*POINT, "effectiveness"), "25 %", "conductance"),
        ("exchanger-460-plain", (*POINT, "effectiveness"), "50 %", "points-disagree"),
        ("exchanger-460-plain", ("mass",), "0.4 kg", "mass"),
        ("exchanger-460-plain", ("coolant", "volume"), "3 L", "metal-and-coolant"),
        ("exchanger-395-slim", ("performance", "fins", "pitch"), "6 mm", "conductance"),
    ],
)
def test_an_implausible_part_is_named(part: str, at: tuple[str | int, ...], value: str, rule: str) -> None:
    rows, model = (CORE_ROWS, Core) if part in CORE_ROWS else (EXCHANGER_ROWS, Exchanger)
    planted = model.model_validate(changed(rows[part], at, value))
    found = broken([planted if shipped.id == part else shipped for shipped in SHELF])
    assert rule in {verdict.rule for verdict in found}
    assert {verdict.subjects for verdict in found} == {(part,)}


def test_a_point_that_no_size_reaches_claims_no_conductance() -> None:
    """A trickle of 2 L/min cannot cool 0.48 kg/s by 89 %: by hand, water takes up 138 W/K, air gives 487 W/K, so
    that at most 28 % of the charge's rise is taken.
    """
    trickle = Core.model_validate(changed(CORE_ROWS["core-400-sturdy"], (*POINT, "coolant"), "2 L/min"))
    with pytest.raises(ValueError, match="cannot be reached"):
        point_ua(trickle, trickle.performance.measured[0])
    points = {claim.at[2] for claim in claims(trickle, BOUNDS) if claim.rule == "conductance"}
    assert points == set(range(1, len(trickle.performance.measured)))


def test_a_large_part_at_a_small_price_is_named_with_the_one_it_undercuts() -> None:
    large = Core.model_validate(changed(CORE_ROWS["core-400-sturdy"], ("price",), 150))
    found = broken([large if part.id == large.id else part for part in SHELF])
    assert {verdict.rule for verdict in found} == {"price-and-size"}
    assert ("core-400-sturdy", "core-160-short") in {verdict.subjects for verdict in found}
    assert {verdict.subjects[0] for verdict in found} == {"core-400-sturdy"}


def test_prices_are_compared_over_many_pairs_and_only_where_larger_every_way() -> None:
    """By hand: 210 x 170 x 150 against 160 x 120 x 110 mm is 1.31, 1.42 and 1.36 times as large; 230 x 150 x 130
    is only 1.25 times as wide and is not compared.
    """
    cores: list[RigidPart] = list(CORES.values())
    pairs = {verdict.subjects for verdict in judge_prices(cores, BOUNDS.price)}
    assert ("core-210-short", "core-160-short") in pairs
    assert ("core-230-short", "core-160-short") not in pairs
    assert len(pairs) > 40
    assert len(judge_prices(list(EXCHANGERS.values()), BOUNDS.price)) > 40


def test_within_a_family_a_bigger_box_costs_more() -> None:
    """A family is what shares its id but for the figures. Common practice, no source."""
    families: dict[str, list[Core | Exchanger]] = {}
    for part in SHELF:
        words = "-".join(word for word in part.id.split("-") if not word.isdigit())
        families.setdefault(words, []).append(part)
    assert max(len(members) for members in families.values()) >= 4
    for members in families.values():
        by_box = sorted(members, key=lambda part: math.prod(box_mm(part)))
        prices = [part.price for part in by_box]
        assert prices == sorted(set(prices)), [part.id for part in by_box]


def heat_loss(part: Core | Exchanger) -> tuple[float, float]:
    """Conductance [W/K] and coolant loss [kPa] scaled to 30 L/min with the square, at the first stated point."""
    if isinstance(part, Core):
        core_point = part.performance.measured[0]
        flow, loss = float(core_point.coolant_m3_per_s), float(core_point.coolant_loss_pa)
        return point_ua(part, core_point), loss / 1e3 * (0.5e-3 / flow) ** 2
    point = part.performance.measured[0]
    flow, loss = float(point.coolant_m3_per_s), float(point.coolant_loss_pa)
    return point_ua(part, point), loss / 1e3 * (0.5e-3 / flow) ** 2


@pytest.mark.parametrize("shelf", [CORES, EXCHANGERS], ids=["cores", "exchangers"])
def test_no_part_is_best_in_heat_size_loss_and_price_at_once(shelf: dict[str, Any]) -> None:
    """And what moves most heat is neither the smallest nor the cheapest nor the freest: a choice stays a choice."""
    measured = [part for part in shelf.values() if part.performance.measured]
    best = {
        "heat": max(measured, key=lambda part: heat_loss(part)[0]).id,
        "size": min(measured, key=lambda part: math.prod(box_mm(part))).id,
        "loss": min(measured, key=lambda part: heat_loss(part)[1]).id,
        "price": min(measured, key=lambda part: part.price).id,
    }
    assert best["heat"] not in {best["size"], best["loss"], best["price"]}
    assert best["loss"] != best["size"] or best["loss"] != best["price"]


def test_conductance_of_a_core_by_hand() -> None:
    """The first point of a small plain core, worked with handbook figures (air 1.015 kJ/kg K, water at 40 degC
    992 kg/m3 and 4.18 kJ/kg K, from memory) and the approximation above: its UA gives its effectiveness.
    """
    core = CORES["core-170-plain"]
    point = core.performance.measured[0]
    assert core.arrangement.passes == 1
    assert point.fluid == "water"
    air = float(point.air_kg_per_s) * 1015
    water = float(point.coolant_m3_per_s) * 992 * 4180
    ua = point_ua(core, point)
    assert unmixed(ua / air, air / water) == pytest.approx(float(point.effectiveness), rel=0.012)


def test_conductance_of_an_exchanger_by_hand() -> None:
    """The first point of a plain exchanger, worked with handbook figures (air 1.006 kJ/kg K; 30 % ethylene glycol
    by volume near 50 degC about 1030 kg/m3 and 3.75 kJ/kg K, from memory).
    """
    exchanger = EXCHANGERS["exchanger-640-slim"]
    point = exchanger.performance.measured[0]
    assert point.fluid == "ethylene glycol 30 %"
    face = float(exchanger.face.wide_m) * float(exchanger.face.high_m)
    air = float(point.face_speed_m_per_s) * face * 101325 / 287 / float(point.air_in_k) * 1006
    liquid = float(point.coolant_m3_per_s) * 1030 * 3750
    ua = point_ua(exchanger, point)
    small, large = min(air, liquid), max(air, liquid)
    assert unmixed(ua / small, small / large) * small / air == pytest.approx(float(point.effectiveness), rel=0.015)


@pytest.mark.parametrize(
    ("depth_mm", "speed", "kw"),
    [(26, 4, 3.3), (60, 10, 8.3), (34, 4, 4.05), (26, 5, 3.45), (12, 2, 2.0), (80, 6, 7.3)],
)
def test_usual_conductance_of_a_face(depth_mm: float, speed: float, kw: float) -> None:
    """Figures of the table, half way between them by hand, and its edges."""
    found = usual_face_ua(BOUNDS.exchanger.usual_face_ua, depth_mm / 1000, speed)
    assert found == pytest.approx(kw * 1e3)


def test_a_verdict_says_which_limit() -> None:
    limits = BOUNDS.exchanger.face_ua_over_usual

    def judged(found: float) -> Verdict:
        return judge("x", Claim(("at",), "conductance", found, limits, "of usual"))

    low, inside, high = (judged(found) for found in (0.59, 0.7, 1.61))
    assert (low.state, low.limit) == ("broken", 0.6)
    assert (inside.state, inside.limit) == ("kept", 0.6)
    assert (high.state, high.limit) == ("broken", 1.6)
    assert [judged(edge).state for edge in (0.6, 1.6)] == ["kept", "kept"]
    assert judged(math.nan).state == "broken"


@pytest.mark.parametrize(
    ("at", "value"),
    [
        (("fin_depths",), ["16 mm", "42 mm", "26 mm", "60 mm"]),
        (("rows", 0, "ua_kw_per_k_m2"), [2.0, 2.6, 3.9]),
        (("rows", 0, "ua_kw_per_k_m2"), [2.0, 2.6, 3.9, -5.2]),
        (("rows", 1, "face_speed"), "2 m/s"),
    ],
)
def test_a_table_that_is_not_one_is_refused(at: tuple[str | int, ...], value: Any) -> None:
    row = {
        "fin_depths": ["16 mm", "26 mm", "42 mm", "60 mm"],
        "rows": [
            {"face_speed": "2 m/s", "ua_kw_per_k_m2": [2.0, 2.6, 3.9, 5.2]},
            {"face_speed": "4 m/s", "ua_kw_per_k_m2": [2.5, 3.3, 4.8, 6.5]},
        ],
        "standing": "common practice",
        "source": "exchanger-practice",
    }
    FaceTable.model_validate(copy.deepcopy(row))
    with pytest.raises(ValidationError):
        FaceTable.model_validate(changed(row, at, value))


def test_bounds_carry_their_standing_and_source() -> None:
    limits = [
        BOUNDS.core.effectiveness, BOUNDS.core.charge_loss, BOUNDS.core.coolant_loss, BOUNDS.price,
        BOUNDS.core.ua_w_per_k_per_box_litre, BOUNDS.exchanger.usual_face_ua, BOUNDS.points_disagree,
    ]
    assert {entry.standing for entry in limits} == {"common practice"}
    assert isinstance(BOUNDS, Bounds)
    assert float(BOUNDS.core.effectiveness.least) == pytest.approx(0.55)
    assert float(BOUNDS.exchanger.face_ua_over_usual.most) == pytest.approx(1.6)
