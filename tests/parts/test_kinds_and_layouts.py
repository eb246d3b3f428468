"""Parts of each kind, the shelf that holds them, and layouts: what their own checks let through."""

from __future__ import annotations

import copy
import itertools
from collections.abc import Callable
from typing import Any

import pytest
from pydantic import ValidationError

from configurator.parts.kinds import Adapter, Clamp, Fan, Pump, Reservoir, Valve, Wye
from configurator.parts.layouts import Layout, flow_order_rules
from configurator.parts.performance import Arrangement, FinGeometry
from configurator.parts.shelf import make_catalogue

PUMP: dict[str, Any] = {
    "id": "pump-a",
    "name": "A",
    "price": 90.13,
    "size": {"x": "120 mm", "y": "80 mm", "z": "60 mm"},
    "coolant": {
        "ends": [
            {"name": "in", "form": "hose", "size": "19 mm", "face": "-x", "at": {"y": "40 mm", "z": "30 mm"}},
            {"name": "out", "form": "hose", "size": "19 mm", "face": "+x", "at": {"y": "40 mm", "z": "30 mm"}},
        ]
    },
    "curve": [{"flow": "0 L/min", "head": "60 kPa"}, {"flow": "40 L/min", "head": "5 kPa"}],
    "volts": 12,
    "current": "4 A",
}
LAYOUT: dict[str, Any] = {
    "id": "twin",
    "name": "two exchangers side by side",
    "slots": [
        {"slot": "reservoir", "kind": "reservoir", "least": 1, "most": 1},
        {"slot": "pump", "kind": "pump", "least": 1, "most": 1},
        {"slot": "core", "kind": "core", "least": 1, "most": 1},
        {"slot": "exchanger-1", "kind": "exchanger", "least": 1, "most": 1},
        {"slot": "exchanger-2", "kind": "exchanger", "least": 1, "most": 1},
        {"slot": "cap", "kind": "cap", "least": 0, "most": 1, "path": "on reservoir"},
    ],
    "loop": ["reservoir", "pump", "core", ["exchanger-1", "exchanger-2"]],
}


def _changed(data: dict[str, Any], change: Callable[[dict[str, Any]], None]) -> dict[str, Any]:
    data = copy.deepcopy(data)
    change(data)
    return data


@pytest.mark.parametrize("price", [90.126, 0.004, 1e-9, 999_999.999, float("nan"), float("inf"), -1.0])
def test_a_price_with_parts_of_a_cent_is_none(price: float) -> None:
    """Eight pieces at 1.349 came to 10.80, not 10.79: each was rounded before it was multiplied."""
    with pytest.raises(ValidationError):
        Pump.model_validate({**PUMP, "price": price})


@pytest.mark.parametrize(("price", "cents"), [(0, 0), (0.01, 1), (1.1, 110), (8.29, 829), (999_999.99, 99_999_999)])
def test_a_price_of_whole_cents_is_that_of_so_many(price: float, cents: int) -> None:
    assert Pump.model_validate({**PUMP, "price": price}).price_cents == cents


def test_a_pump_as_it_is_written() -> None:
    pump = Pump.model_validate(PUMP)
    assert pump.price_cents == 9013
    assert pump.dead_head_pa == pytest.approx(60_000)
    assert list(pump.passages()) == ["coolant"]
    with pytest.raises(ValidationError, match="frozen"):
        pump.price = 1.0  # type: ignore[misc]


@pytest.mark.parametrize("axis", "xyz")
@pytest.mark.parametrize("side", "+-")
def test_an_end_lies_in_its_face_up_to_the_edge_and_no_further(axis: str, side: str) -> None:
    extent = {"x": 120, "y": 80, "z": 60}
    first, second = (other for other in "xyz" if other != axis)
    corners = itertools.product((0, extent[first]), (0, extent[second]))

    def place(a: float, b: float) -> dict[str, Any]:
        at = {first: f"{a} mm", second: f"{b} mm"}
        return _changed(PUMP, lambda d: d["coolant"]["ends"][0].update(face=side + axis, at=at))

    for a, b in corners:
        assert Pump.model_validate(place(a, b)).coolant.ends[0].face == side + axis
    for a, b in ((extent[first] + 1, 0), (0, extent[second] + 1)):
        with pytest.raises(ValidationError, match="is off its face"):
            Pump.model_validate(place(a, b))
    with pytest.raises(ValidationError, match="-1 mm"):
        Pump.model_validate(
            _changed(place(0, 0), lambda d: d["coolant"]["ends"][0]["at"].update({first: "-1 mm"}))
        )


def test_an_end_of_a_rigid_part_needs_a_place() -> None:
    for key in ("face", "at"):
        data = copy.deepcopy(PUMP)
        del data["coolant"]["ends"][0][key]
        with pytest.raises(ValidationError, match="needs the face it sits on and where"):
            Pump.model_validate(data)


def test_turns_that_allow_no_way_round_are_refused() -> None:
    for turns, allowed in (({"up": ["+z"], "front": ["-z"]}, False), ({"up": ["+z"], "front": ["-z", "+x"]}, True)):
        data = _changed(PUMP, lambda d, turns=turns: d.update(turns=turns))
        if allowed:
            assert Pump.model_validate(data).turns.up == ("+z",)
        else:
            with pytest.raises(ValidationError, match="allow no way round"):
                Pump.model_validate(data)


def test_every_rise_of_a_curve_is_found() -> None:
    curve = [("0 L/min", "60 kPa"), ("10 L/min", "60 kPa"), ("20 L/min", "50 kPa"), ("30 L/min", "55 kPa")]
    points = [{"flow": flow, "head": head} for flow, head in curve]
    with pytest.raises(ValidationError) as refusal:
        Pump.model_validate(_changed(PUMP, lambda d: d.update(curve=points)))
    faults = refusal.value.errors()[0]["ctx"]["faults"]
    assert [fault.at for fault in faults] == [("curve", 1, "head"), ("curve", 3, "head")]


FAN = {key: PUMP[key] for key in ("id", "name", "price", "size", "volts", "current")}


def test_a_fan_curve_falls() -> None:
    falling = [{"flow": "0 m3/h", "rise": "200 Pa"}, {"flow": "900 m3/h", "rise": "0 Pa"}]
    assert Fan.model_validate({**FAN, "curve": falling}).curve[1].flow_m3_per_s == pytest.approx(0.25)
    with pytest.raises(ValidationError, match="flows must rise: 0 m3/h comes after 900 m3/h"):
        Fan.model_validate({**FAN, "curve": falling[::-1]})
    with pytest.raises(ValidationError, match="rises: rise 200 Pa at 900 m3/h is not below 200 Pa at 0 m3/h"):
        Fan.model_validate({**FAN, "curve": [falling[0], {"flow": "900 m3/h", "rise": "200 Pa"}]})


def test_a_fan_curve_starts_at_no_flow_as_that_of_a_pump_does() -> None:
    late = [{"flow": "100 m3/h", "rise": "200 Pa"}, {"flow": "900 m3/h", "rise": "0 Pa"}]
    with pytest.raises(ValidationError, match=r"starts at no flow: its first point is \{flow: 0 m3/h, rise: \.\.\.\}"):
        Fan.model_validate({**FAN, "curve": late})


def test_a_reservoir_needs_its_volume() -> None:
    data = {key: PUMP[key] for key in ("id", "name", "price", "size", "coolant")} | {"air_space": "15 %"}
    with pytest.raises(ValidationError, match="needs its volume"):
        Reservoir.model_validate(data)
    full = _changed(data, lambda d: d["coolant"].update(volume="3 L"))
    assert Reservoir.model_validate(full).coolant.volume_m3 == pytest.approx(0.003)


def test_the_air_of_a_reservoir_is_a_share_of_its_inside() -> None:
    """3 L at the fill mark are 80 % of 3.75 L; air alone leaves no room for coolant."""
    data = {key: PUMP[key] for key in ("id", "name", "price", "size", "coolant")} | {"air_space": "20 %"}
    data = _changed(data, lambda d: d["coolant"].update(volume="3 L"))
    assert Reservoir.model_validate(data).air_m3 == pytest.approx(0.75e-3)
    with pytest.raises(ValidationError, match="no coolant is left"):
        Reservoir.model_validate({**data, "air_space": "100 %"})


@pytest.mark.parametrize(("names", "told"), [
    (("suction", "pressure"), "a pump pushes one way: which of 'suction' and 'pressure' is the way in"),
    (("in", "bleed"), "it flows in at one end and out at another"),
    (("outlet", "inlet"), None),
    (("in", "pressure"), None),
])  # fmt: skip
def test_a_pump_says_which_way_it_pushes(names: tuple[str, str], told: str | None) -> None:
    data = copy.deepcopy(PUMP)
    for end, name in zip(data["coolant"]["ends"], names, strict=True):
        end["name"] = name
    if told is None:
        by_role = [Pump.model_validate(data).coolant.end_for(role) for role in ("in", "out")]
        assert {end.name for end in by_role if end is not None} == set(names)
        return
    with pytest.raises(ValidationError, match=told):
        Pump.model_validate(data)


def test_an_adapter_has_two_ends() -> None:
    end = {"form": "hose", "size": "19 mm"}
    for count in (1, 3):
        ends = [{**end, "name": str(n)} for n in range(count)]
        with pytest.raises(ValidationError, match=f"exactly two ends, this one has {count}"):
            Adapter.model_validate(
                {
                    "id": "a",
                    "name": "A",
                    "price": 1,
                    "shape": "coupler",
                    "medium": "coolant",
                    "length": "60 mm",
                    "through": {"ends": ends},
                }
            )


def test_a_clamp_closes_on_a_range() -> None:
    clamp = {"id": "c", "name": "C", "price": 1, "style": "worm", "media": ["coolant"]}
    assert Clamp.model_validate({**clamp, "least": "20 mm", "most": "32 mm"}).most_m == pytest.approx(0.032)
    with pytest.raises(ValidationError, match="most 20 mm is not above least 32 mm"):
        Clamp.model_validate({**clamp, "least": "32 mm", "most": "20 mm"})


def test_above_one_pass_the_order_is_needed() -> None:
    assert Arrangement.model_validate({"flow": "counter-flow", "passes": 1}).pass_order is None
    with pytest.raises(ValidationError, match="pass_order is needed"):
        Arrangement.model_validate({"flow": "counter-flow", "passes": 2})


def test_each_kind_of_fin_needs_its_own_figures() -> None:
    fins = {"pitch": "2 mm", "height": "8 mm", "thickness": "0.1 mm"}
    with pytest.raises(ValidationError, match="also need strip_length"):
        FinGeometry.model_validate({**fins, "kind": "offset strip"})
    with pytest.raises(ValidationError, match="also need louvre_pitch, louvre_length"):
        FinGeometry.model_validate({**fins, "kind": "louvred", "louvre_angle": 27})


@pytest.mark.parametrize("key", ["pitch", "height"])
def test_fins_as_thick_as_they_are_wide_leave_no_way(key: str) -> None:
    """A pitch of 0.0016 mm in place of 1.6 mm ended in a crash."""
    fins = {"kind": "offset strip", "pitch": "2 mm", "height": "8 mm", "thickness": "0.1 mm", "strip_length": "3 mm"}
    with pytest.raises(ValidationError, match=f"fins 0.1 mm thick leave no way at a {key} of 0.1 mm"):
        FinGeometry.model_validate({**fins, key: "0.1 mm"})
    assert FinGeometry.model_validate({**fins, key: "0.11 mm"}).kind == "offset strip"


def test_a_layout_with_a_parallel_group() -> None:
    layout = Layout.model_validate(LAYOUT)
    assert layout.loop == ("reservoir", "pump", "core", ("exchanger-1", "exchanger-2"))
    assert layout.steps == (("reservoir",), ("pump",), ("core",), ("exchanger-1", "exchanger-2"))
    assert (layout.count("exchanger"), layout.count("core")) == (2, 1)
    assert layout.twins == (("exchanger", "parallel"),)


def test_how_twins_lie_is_read_from_the_loop_whatever_its_id_is() -> None:
    row = {**LAYOUT, "id": "fronts-parallel", "loop": ["reservoir", "pump", "core", *TWINS]}
    assert Layout.model_validate(row).twins == (("exchanger", "series"),)


TWINS = ["exchanger-1", "exchanger-2"]


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda d: d.update(loop=["pump", "core"]), "names each slot of the coolant path once"),
        (lambda d: d["loop"].append("core"), "names each slot of the coolant path once"),
        (lambda d: d["loop"].append("cap"), "names each slot of the coolant path once"),
        (lambda d: d["slots"].append(d["slots"][5]), "two slots are named 'cap'"),
        (lambda d: d["slots"][0].update(least=2), "most 1 is below least 2"),
        (lambda d: d["slots"][3].update(slot="left"), "a slot is named by its kind: 'exchanger', or 'exchanger-1'"),
    ],
)
def test_layouts_that_do_not_close(change: Callable[[dict[str, Any]], None], words: str) -> None:
    with pytest.raises(ValidationError, match=words):
        Layout.model_validate(_changed(LAYOUT, change))


@pytest.mark.parametrize(
    "loop",
    [
        ["reservoir", "pump", TWINS, "core"],
        ["reservoir", "pump", "core", *TWINS],
        ["reservoir", "pump", "exchanger-1", "core", "exchanger-2"],
        ["core", TWINS, "reservoir", "pump"],
    ],
)
def test_either_order_of_core_and_exchanger_is_sound(loop: list[Any]) -> None:
    """A loop that runs for ever gives the same heat in either order: an energy balance, recomputed by hand."""
    layout = Layout.model_validate({**LAYOUT, "loop": loop})
    assert {verdict.state for verdict in flow_order_rules(layout)} == {"kept"}
    assert layout.steps[:2] == (("reservoir",), ("pump",))


@pytest.mark.parametrize(
    ("loop", "rule", "words"),
    [
        (["reservoir", "core", "pump", TWINS], "pump-not-fed-by-reservoir", "the pump is fed by core"),
        (["reservoir", TWINS, "pump", "core"], "pump-not-fed-by-reservoir", "fed by exchanger-1 and exchanger-2"),
        (["pump", "reservoir", "core", TWINS], "reservoir-on-pump-outlet", "the reservoir lies on the pump's outlet"),
        (["reservoir", "pump", ["core", "exchanger-1"], "exchanger-2"], "core-beside-exchanger", "lie side by side"),
        (["reservoir", ["pump", "core"], *TWINS], "not-side-by-side", "only two cores or two exchangers"),
        (["reservoir", "pump", ["core"], TWINS], None, ""),
    ],
)
def test_flow_orders_that_are_refused(loop: list[Any], rule: str | None, words: str) -> None:
    """Common practice, no source: a pump is fed straight from its tank, and no tank lies on its outlet."""
    unchecked = Layout.model_construct(**{**Layout.model_validate(LAYOUT).__dict__, "loop": tuple(
        tuple(step) if isinstance(step, list) else step for step in loop
    )})  # fmt: skip
    broken = {verdict.rule for verdict in flow_order_rules(unchecked) if verdict.state == "broken"}
    if rule is None:
        assert not broken
        return
    assert rule in broken
    with pytest.raises(ValidationError, match=words):
        Layout.model_validate({**LAYOUT, "loop": loop})


def test_a_loop_without_a_core_cools_nothing() -> None:
    data = _changed(LAYOUT, lambda d: (d["slots"].pop(2), d["loop"].pop(2)))
    with pytest.raises(ValidationError, match="no core in the loop"):
        Layout.model_validate(data)


WYE: dict[str, Any] = {
    "id": "wye-a",
    "name": "A wye",
    "price": 15,
    "shape": "wye",
    "medium": "coolant",
    "loss_factor": 0.7,
    "through": {
        "working": "6 bar",
        "ends": [
            {"name": "stem", "form": "spigot", "size": "25 mm", "barb": True},
            {"name": "left", "form": "spigot", "size": "19 mm", "barb": True},
            {"name": "right", "form": "spigot", "size": "19 mm", "barb": True},
        ],
    },
}


def test_a_wye_has_a_stem_and_two_branches_alike() -> None:
    wye = Wye.model_validate(WYE)
    assert (wye.stem.size, [end.name for end in wye.branches]) == ("25 mm", ["left", "right"])


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda d: d["through"]["ends"].pop(), "three ends: one named 'stem'"),
        (lambda d: d["through"]["ends"][0].update(name="in"), "three ends: one named 'stem'"),
        (lambda d: d["through"]["ends"][2].update(size="16 mm"), "the branches of a wye are alike"),
        (lambda d: d["through"]["ends"][2].update(bore="12 mm"), "the branches of a wye are alike"),
    ],
)
def test_wyes_that_divide_nothing_evenly(change: Callable[[dict[str, Any]], None], words: str) -> None:
    with pytest.raises(ValidationError, match=words):
        Wye.model_validate(_changed(WYE, change))


VALVE = {
    "id": "valve-a", "name": "A valve", "price": 30, "loss_factor": 1.2,
    "through": {
        "working": "6 bar",
        "ends": [{"name": name, "form": "spigot", "size": "19 mm", "barb": True} for name in ("in", "out", "bypass")],
    },
}  # fmt: skip


def test_a_bypass_valve_has_one_way_in_and_two_ways_out() -> None:
    assert Valve.model_validate(VALVE).end("bypass").size == "19 mm"
    for spoilt in (
        lambda d: d["through"]["ends"].pop(),
        lambda d: d["through"]["ends"][1].update(name="left"),
    ):
        with pytest.raises(ValidationError, match="three ends, named 'in', 'out' and 'bypass'"):
            Valve.model_validate(_changed(VALVE, spoilt))


def one_of_each(**changes: Any) -> dict[str, Any]:
    slots = [
        {"slot": kind, "kind": kind, "least": 1, "most": 1} for kind in ("reservoir", "pump", "core", "exchanger")
    ]
    loop = ["reservoir", "pump", "core", "exchanger"]
    return {"id": "passed", "name": "passed", "slots": slots, "loop": loop, "bypass": "exchanger", **changes}


@pytest.mark.parametrize(
    "spoilt",
    [
        {"bypass": "core"},
        {"bypass": "exchanger-1"},
        {"loop": ["reservoir", "pump", "exchanger", "core"]},
        {**LAYOUT, "bypass": "exchanger-1"},
    ],
)
def test_only_a_single_exchanger_behind_a_core_has_a_bypass(spoilt: dict[str, Any]) -> None:
    assert Layout.model_validate(one_of_each()).bypass == "exchanger"
    optional = one_of_each()
    optional["slots"][3]["least"] = 0
    for data in (one_of_each(**spoilt), optional):
        with pytest.raises(ValidationError, match="only a single exchanger that must be there"):
            Layout.model_validate(data)


def test_the_shelf_is_in_id_order_whatever_order_it_was_filled_in() -> None:
    pumps = [Pump.model_validate({**PUMP, "id": name}) for name in ("b", "c", "a")]
    shelves = [make_catalogue(order, []) for order in itertools.permutations(pumps)]
    assert list(shelves[0].parts) == ["a", "b", "c"]
    assert len({shelf.fingerprint for shelf in shelves}) == 1
    assert [pump.id for pump in shelves[3].of(Pump)] == ["a", "b", "c"]
    assert shelves[0].of(Fan) == ()
