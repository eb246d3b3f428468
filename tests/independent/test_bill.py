"""The bill, counted again from the JSON answer alone: what the kit's joints, pump, heights and ports call for.

Allowances (a tenth more hose, 15 % more coolant, a clip every 350 mm) are common practice, no source; the counter has
them from the guide, not from the code. Nothing of the program is imported.
"""

from __future__ import annotations

import copy
import math
from collections import Counter
from functools import cache
from typing import Any

import pytest

from tests.journeys.checks import check
from tests.journeys.kitwright import EXAMPLES, all_kits, example, opened, shelf_part, shipped, small_shelf, suggest

Tree = dict[str, Any]
HOSE_PLUG = "plug for a hose off the reservoir, for the leak test"
BRIEFS = ("hatch", "retro", "road", "wagon", "roadster", "drag", "track")


@cache
def kits(name: str) -> list[Tree]:
    """The five kits that the command offers for an example."""
    answer = suggest(name, "--json").answer
    return list(answer["kits"] or answer["closest"])


def wanted(kit: Tree, outlets: int = 1) -> Counter[tuple[str, str]]:
    """What must be on the bill, in tenths, by beginning of the item and id: counted from the rest of the kit.

    `outlets`: how many the charger has.
    """
    need: Counter[tuple[str, str]] = Counter()
    runs: Counter[str] = Counter()
    stubs: Counter[str] = Counter()
    for slot, ids in kit["parts"].items():
        for part in ids:
            need[kind_of(slot), part] += 10
    for joint in kit["joints"]:
        for piece in joint["through"]:
            need["adapter", piece] += 10
        if joint["hose"]:
            runs[joint["hose"]] += joint["hose_length_m"]
        for item in joint["needs"]:
            if item["unit"] == "m":
                stubs[item["part"]] += item["quantity"]
            else:
                need[item["item"], item["part"] or ""] += round(10 * item["quantity"])
    for part in {*runs, *stubs}:  # one length of each hose, for all that is cut from it
        item_of = "hose stub" if part not in runs else "hose and stubs" if part in stubs else "hose"
        need[item_of, part] += math.ceil(round((runs[part] + stubs[part]) * 1.1 * 10, 6))
    for used in runs:
        ways = [
            max(joint["hose_length_m"], joint.get("route_length_m", 0.0))
            for joint in kit["joints"]
            if joint["hose"] == used
        ]
        bought = math.ceil(round((runs[used] + stubs[used]) * 1.1 * 10, 6))
        laid_m = sum(ways) + stubs[used]
        if laid_m > bought / 10 + 1e-6:
            need[f"more {used} as routed, not in the price", ""] = math.ceil(round(laid_m * 1.1 * 10, 6)) - bought
    need["pressure tap", ""] += 10 * (outlets + 1)  # one at each outlet of the charger, one at the throttle
    return need + _whatever_the_joints(kit) + _open_charge_ends(kit, outlets)


def _open_charge_ends(kit: Tree, outlets: int) -> Counter[tuple[str, str]]:
    """What the charge's joints take where no bore is told: wyes where one pipe and two have to meet, else couplers."""
    cores = len(kit["parts"]["core"])
    held = {joint[side].split(".")[0] for joint in kit["joints"] for side in ("from", "to")}
    pipes: Counter[tuple[str, str]] = Counter()
    for side, end, alike in (("before", "charger outlet", cores == outlets), ("behind", "throttle", cores == 1)):
        told = any(f"engine.{end}" in name for joint in kit["joints"] for name in (joint["from"], joint["to"]))
        for slot in kit["zones"]:
            if kind_of(slot) == "core" and alike and not told:
                pipes[f"couplers and clamps for the charge pipe {side} {spoken(slot)}", ""] += 10
    open_ones = (cores != outlets and "charge-wye-in" not in held) + (cores == 2 and "charge-wye-out" not in held)
    return pipes + Counter({("charge wye", ""): 10 * open_ones})


def _whatever_the_joints(kit: Tree) -> Counter[tuple[str, str]]:
    need: Counter[tuple[str, str]] = Counter()
    for item in ("fuse", "relay", "wire", "fuse holder", "relay base", "switch or controller", "connectors"):
        need[item, ""] += 10
    need["wire", ""] += 50  # three metres there and three back
    for item in ("charge temperature sensor", "plugged boss", "drain plug"):
        need[item, ""] += 10 * len(kit["parts"]["core"])
    for item in ("strainer", "coolant temperature sensor", "level sensor", "drain tap", "bleed funnel", "leak-test"):
        need[item, ""] += 10
    need["coolant temperature sensor", ""] += 10
    need["overflow or catch bottle", ""] += 10
    if all(shelf_part(cap)["opens"] == "0 bar" for cap in kit["parts"]["cap"]):
        ends = [joint[side].split(".")[0] for joint in kit["joints"] if joint["hose"] for side in ("from", "to")]
        need[HOSE_PLUG, ""] += 10 * ends.count("reservoir")
    tops = {slot: heights[1] for slot, heights in kit["fit"]["heights_mm"].items()}
    above: list[str] = []
    for slot in high_points(kit):
        need[f"bleed {slot}", ""] += 10
        if slot in tops and "reservoir" in tops and tops[slot] > tops["reservoir"]:
            above.append(slot)
    if above:
        highest = max(reversed(above), key=lambda slot: tops[slot])
        need[f"fill tower at the top of {spoken(highest)}", ""] += 10
    hoses = [joint for joint in kit["joints"] if joint["hose"]]
    metres = sum(max(joint["hose_length_m"], joint.get("route_length_m", 0.0)) for joint in hoses)
    need["P-clips", ""] += 10 * math.ceil(round(metres / 0.35, 6))
    need["grommets", ""] += 10
    return need


def kind_of(slot: str) -> str:
    """`core` for `core-1`: twins are numbered."""
    return slot.rstrip("12").rstrip("-")


def spoken(slot: str) -> str:
    """`the core`, but `core-1`: a numbered slot is called by its name."""
    return slot if slot[-1].isdigit() else f"the {slot}"


def slots_of(kit: Tree, kind: str) -> list[str]:
    """The slots that the parts of a kind fill."""
    count = len(kit["parts"][kind])
    return [kind] if count == 1 else [f"{kind}-{number}" for number in range(1, count + 1)]


def high_points(kit: Tree) -> list[str]:
    """Slots to bleed: tops not below their neighbours'; cores and exchangers with a port or of unknown height."""
    kinds = [slot for slot in kit["parts"] if slot != "cap"]
    flow = [slot for kind in kinds for slot in slots_of(kit, kind)]
    with_port = {port["slot"] for port in kit["idle_ports"] if port["end"] == "bleed"}
    tops = {slot: heights[1] for slot, heights in kit["fit"]["heights_mm"].items()}
    found = []
    for place, slot in enumerate(flow):
        around = [flow[place - 1], flow[(place + 1) % len(flow)]]
        if slot == "reservoir":
            continue
        if kind_of(slot) in ("core", "exchanger") and slot in with_port:
            found.append(slot)
        elif all(name in tops for name in (slot, *around)):
            if all(tops[slot] >= tops[name] for name in around):
                found.append(slot)
        elif kind_of(slot) in ("core", "exchanger"):
            found.append(slot)
    return found


def missing(kit: Tree, outlets: int = 1) -> list[str]:
    """What the bill of a kit lacks or has too much of. Empty: the bill is whole."""
    have: Counter[tuple[str, str]] = Counter()
    for line in kit["lines"]:
        tenths = round(10 * line["quantity"])
        if line["item"].startswith("bleed ") and "funnel" not in line["item"]:
            have[f"bleed {line['place']}", ""] += tenths
        elif line["item"] == line["place"]:
            have[kind_of(line["item"]), line["part"]] += tenths
        elif line["item"].startswith(("overflow bottle", "catch bottle")):
            have["overflow or catch bottle", ""] += tenths
        elif line["item"].endswith(f" mm {HOSE_PLUG}"):
            have[HOSE_PLUG, ""] += tenths
        else:
            have[line["item"], line["part"] or ""] += tenths
    found = []
    for (item, part), count in wanted(kit, outlets).items():
        alike = sum(
            tenths
            for (name, of), tenths in have.items()
            if (name == item or (not part and name.startswith(item + " ")) or name.startswith((item + ",", item + ":")))
            and (not part or of == part)
        )
        if item == "fuse":
            alike -= have_of(have, "fuse holder")
        if item == "relay":
            alike -= have_of(have, "relay base")
        if alike != count:
            found.append(f"{item} {part}: {alike / 10:g} on the bill, {count / 10:g} wanted")
    found += _ports(kit) + _mounts(kit) + _fill(kit)
    if sum(line["price_cents"] for line in kit["lines"]) != kit["price_cents"]:
        found.append("the lines do not add up to the price")
    return found


def have_of(have: Counter[tuple[str, str]], begins: str) -> int:
    """How many tenths of the items that begin so."""
    return sum(tenths for (name, _), tenths in have.items() if name.startswith(begins))


def _ports(kit: Tree) -> list[str]:
    """Every idle port is bled, drained or plugged."""
    idle = Counter((port["slot"], port["is"]) for port in kit["idle_ports"])
    closed: Counter[tuple[str, str]] = Counter()
    for line in kit["lines"]:
        for slot, words in idle:
            if line["place"] != slot:
                continue
            if line["item"] == f"plug for {words} ({slot})" or (
                line["item"].endswith(f"({words})") and line["item"].startswith(("bleed", "drain tap"))
            ):
                closed[slot, words] += round(line["quantity"])
    return [f"port {port}: {closed[port]} closed of {count}" for port, count in idle.items() if closed[port] != count]


def _mounts(kit: Tree) -> list[str]:
    """Brackets for every part that has a zone, isolators for what shakes or must not be shaken, a sealed exchanger."""
    lines = Counter((line["place"], line["item"].split(",")[0].split(" for ")[0]) for line in kit["lines"])
    found = []
    for slot in kit["zones"]:
        asked = ["brackets"]
        asked += ["rubber isolators"] if kind_of(slot) in ("pump", "reservoir", "core") else []
        asked += ["duct sheet", f"stone guard mesh before {spoken(slot)}"] if kind_of(slot) == "exchanger" else []
        found += [f"{item} of {slot}" for item in asked if lines[slot, item] != 1]
    return found


def _ice_kg(ice: Tree) -> float:
    """The tank is filled up after the loop was cooled and after each pass; after the last that is not needed."""
    before_the_last = float(ice["pull_down_kg"] + (ice["passes"] - 1) * ice["per_pass_kg"])
    return before_the_last + float(max(ice["start_kg"], ice["per_pass_kg"]))


def _fill(kit: Tree) -> list[str]:
    """Concentrate and water together are the fill and 15 %, each rounded up to a tenth of a litre; and the ice."""
    litres = sum(line["quantity"] for line in kit["lines"] if line["group"] == "fill" and line["unit"] == "L")
    fill = kit["coolant_l"] * 1.15
    found = [] if fill - 0.01 <= litres <= fill + 0.21 else [f"{litres} L on the bill, {fill:.2f} L wanted"]
    ice = sum(line["quantity"] for line in kit["lines"] if line["group"] == "fill" and line["unit"] == "kg")
    asked = 0 if kit["ice"] is None else math.ceil(round(_ice_kg(kit["ice"]), 3))
    return found if ice == asked else [*found, f"{ice} kg of ice on the bill, {asked} kg wanted"]


@pytest.mark.parametrize("name", BRIEFS)
def test_the_bill_is_whole(name: str) -> None:
    assert kits(name), "an example without a kit shows nothing"
    for kit in kits(name):
        assert missing(kit) == [], kit["rank"]


@pytest.mark.parametrize(("charger", "lines"), [("compound", 1), ("roots", 0), ("driven by exhaust", 1)])
def test_hot_iron_of_any_charger_has_its_heat_shield_and_no_other(charger: str, lines: int) -> None:
    """A blower and a turbo in series had none on its bill, nor had a turbo that the shelf calls otherwise."""
    other = {**next(one for one in shipped("chargers") if one["id"] == "turbo"), "id": "driven by exhaust"}
    on = small_shelf(
        cores=[shelf_part("core-260-short")],
        pumps=[shelf_part("pump-40-small")],
        exchangers=[shelf_part("exchanger-350-slim")],
        reservoirs=[shelf_part("reservoir-8-cube")],
        chargers=[*shipped("chargers"), other],
    )
    engine = {"engine__charger": charger, "engine__boost": "0.7 bar"}
    brief = opened(example("hatch", **engine, aim={"charge_air": "160 degC"}, limits=None))
    kit = suggest(brief, "--json", shelf=on).kits[0]
    box = {"kit": "the same", "parts": sorted({part for ids in kit["parts"].values() for part in ids})}
    for bill in (kit["lines"], check(box, "--json", brief=brief, shelf=on).answer["to_buy"]):
        assert sum(line["item"].startswith("heat shield") for line in bill) == lines


@pytest.mark.parametrize("name", BRIEFS)
def test_without_any_one_line_it_is_not(name: str) -> None:
    """Also without any: turbines have their heat shield, which the brief alone tells; it is counted apart."""
    kit = kits(name)[0]
    shields = [line for line in kit["lines"] if line["item"].startswith("heat shield")]
    turbo = "charger: turbo" in (EXAMPLES / f"{name}.yaml").read_text(encoding="utf-8")
    assert len(shields) == (1 if turbo else 0)
    unnoticed = []
    for place, line in enumerate(kit["lines"]):
        less = copy.deepcopy(kit)
        del less["lines"][place]
        if not missing(less) and line not in shields:
            unnoticed.append(line["item"])
    assert unnoticed == []


def test_every_line_has_its_group_and_who_brings_it() -> None:
    groups = ("charge side", "coolant side", "electrical", "mounting", "fill")
    for name in BRIEFS:
        for kit in kits(name):
            order = [groups.index(line["group"]) for line in kit["lines"]]
            assert order == sorted(order) and set(order) == set(range(len(groups)))
            for line in kit["lines"]:
                assert line["bring_yourself"] is (line["price_cents"] == 0), line
                assert line["quantity"] > 0


def test_other_variants_are_whole_as_well() -> None:
    """All variants of the small car, every fifth: other pumps, caps and reservoirs."""
    some = all_kits("retro")[::5]
    assert len(some) > 5
    for slot in ("pump", "cap", "reservoir"):
        assert len({tuple(kit["parts"][slot]) for kit in some}) > 1, slot
    for kit in some:
        assert missing(kit) == [], kit["rank"]


def test_twins_are_called_by_their_numbers() -> None:
    items = [line["item"] for kit in kits("roadster") for line in kit["lines"]]
    assert any(item.endswith(" exchanger-1") for item in items) and any(item.endswith(" the core") for item in items)
    assert [item for item in items if " the core-" in item or " the exchanger-" in item] == []


def test_both_front_exchangers_of_the_roadster_have_their_bleed() -> None:
    bleeds = {line["place"] for line in kits("roadster")[0]["lines"] if line["item"].startswith("bleed screw or line")}
    assert {"exchanger-1", "exchanger-2", "core"} <= bleeds


def test_hose_that_its_way_takes_beyond_the_price_says_what_it_comes_to() -> None:
    """Metres at the shelf's price; a cylinder of the hose's bore for what more goes in."""
    kit = kits("retro")[0]
    (line,) = [line for line in kit["lines"] if line["item"].startswith("more ")]
    hose = shelf_part(line["item"].split()[1])
    bore_m = float(hose["bore"].removesuffix(" mm")) / 1000
    longer = [
        joint["route_length_m"] - joint["hose_length_m"]
        for joint in kit["joints"]
        if joint["hose"] == hose["id"] and joint.get("route_length_m", 0.0) > joint["hose_length_m"]
    ]
    litres = 1000 * math.pi / 4 * bore_m**2 * sum(longer)
    assert line["item"].endswith(f": {line['quantity'] * hose['price']:.2f}, and {litres:.1f} L more to fill")
    assert litres > 0.3
