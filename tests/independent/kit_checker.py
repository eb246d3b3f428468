"""A checker of whole kits from the JSON answer and the YAML parts alone: joints, ratings, places, sums.

Rules are typed again here. Ends: SAE J1926-1 and J514, ASME B1.20.1, ISO 228-1, ISO 6149-1 (published; a thread mates
its own size of the other sex). Hose on spigot by outside over inside 0.98 to 1.06, held by bead or barb; overshoot of a
quarter and at least 0.3 bar; cap tolerance 1.1; 0.1 bar per metre over 0.5 m at least: common practice, no source.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import combinations

from tests.independent.boiling import air_faults, boiling_faults
from tests.independent.charge_checker import charge_faults, is_before, is_wye
from tests.independent.failures import failure_faults
from tests.independent.plain import liquid_metres, part_in, part_of, si, stub_metres
from tests.independent.room_checker import room_faults
from tests.journeys.kitwright import Tree, shelf_part

THREADS = {"orb", "flare37", "npt", "g", "metric"}
KEEP_OFF_MM = {"plain": 0.0, "crash": 0.0, "moving": 25.0, "hot": 50.0}
CHARGE_HOLDS_K = 0.5


def faults(brief: Tree, kit: Tree) -> list[str]:
    """Everything wrong with a kit, in words that begin with the sort of fault; none where it is sound."""
    found = [*_joints(brief, kit), *_suction(kit), *_ratings(brief, kit), *_temperatures(brief, kit)]
    found += [*boiling_faults(brief, kit), *air_faults(brief, kit), *room_faults(brief, kit)]
    found += failure_faults(brief, kit)
    return [*found, *_placements(brief, kit), *_sums(brief, kit), *_limits(brief, kit)]


# --- joints -----------------------------------------------------------------------------------------------------------


def _joints(brief: Tree, kit: Tree) -> Iterator[str]:
    slots = [slot for slot in ("reservoir", "pump", "core", "exchanger") if slot in kit["parts"]]
    wanted = {(one, other) for one, other in zip(slots, [*slots[1:], slots[0]], strict=True)}
    if kit["bypass"] is not None:
        wanted -= {("core", "exchanger"), ("exchanger", "reservoir")}
        wanted |= {("core", "valve"), ("valve", "exchanger"), ("exchanger", "wye-1"), ("valve", "wye-1")}
        wanted |= {("wye-1", "reservoir")}
    made = {(joint["from"].split(".")[0], joint["to"].split(".")[0]) for joint in kit["joints"] if joint["hose"]}
    if made != wanted:
        yield f"joint: the loop is not closed once round: {sorted(made ^ wanted)}"
    for joint in kit["joints"]:
        if joint["hose"] is None:
            continue
        where = f"{joint['from']} to {joint['to']}"
        start, finish = (_end(brief, kit, joint[side]) for side in ("from", "to"))
        if start is None or finish is None:
            yield f"joint: {where} names an end that is not there"
            continue
        between = [shelf_part(piece)["through"]["ends"] for piece in joint["through"]]
        pieces = [ends for ends in between if len(ends) == 2]  # a valve or wye is where a run begins or ends
        stubs = [hose for hose, _ in stub_metres(joint)]
        if not _chain(start, pieces, finish, [joint["hose"]], stubs):
            yield f"joint: {where} does not go together through {joint['through']} and {joint['hose']}"
        yield from _clamps(joint, where, start, finish)
    yield from charge_faults(brief, kit)


def _end(brief: Tree, kit: Tree, word: str) -> Tree | None:
    slot, name = word.split(".", 1)
    if slot in ("valve", "wye-1"):
        part = kit["bypass"]["valve"] if slot == "valve" else kit["joints"][6]["through"][0]
        return next((dict(end) for end in shelf_part(part)["through"]["ends"] if end["name"] == name), None)
    ends = part_in(brief, kit, slot)["coolant"]["ends"]
    return next((dict(end) for end in ends if end["name"] == name), None)


def _ways(ends: list[Tree]) -> list[tuple[Tree, Tree]]:
    return [(ends[0], ends[1]), (ends[1], ends[0])]


def _threads_mate(a: Tree, b: Tree) -> bool:
    alike = a["form"] == b["form"] and str(a["size"]) == str(b["size"]) and a["form"] in THREADS
    return alike and {a.get("sex"), b.get("sex")} == {"male", "female"}


def _hose_fits(hose: str, end: Tree) -> bool:
    held = end["form"] == "spigot" and bool(end.get("bead", False) or end.get("barb", False))
    return held and 0.98 <= round(si(end["size"]) / si(shelf_part(hose)["bore"]), 6) <= 1.06


def _chain(here: Tree, pieces: list[list[Tree]], finish: Tree, main: list[str], stubs: list[str]) -> bool:
    """Whether pieces in flow order lead from one end to the other, with the main hose once and every stub used."""
    following = [(piece_in, out, pieces[1:]) for piece_in, out in _ways(pieces[0])] if pieces else [(finish, None, [])]
    for entry, out, rest in following:
        links = [(main, stubs)] if _threads_mate(here, entry) else []
        links += [([], stubs) for hose in main if _hose_fits(hose, here) and _hose_fits(hose, entry)]
        links += [
            (main, [*stubs[:at], *stubs[at + 1 :]])
            for at, hose in enumerate(stubs)
            if _hose_fits(hose, here) and _hose_fits(hose, entry)
        ]
        for main_left, stubs_left in links:
            if out is None:
                if not main_left and not stubs_left:
                    return True
            elif _chain(out, rest, finish, main_left, stubs_left):
                return True
    return False


def _clamps(joint: Tree, where: str, start: Tree, finish: Tree) -> Iterator[str]:
    clamps = [(shelf_part(need["part"]), need["quantity"]) for need in joint["needs"] if need["item"] == "clamp"]
    needed = 2 * (1 + len(stub_metres(joint)))
    if sum(count for _, count in clamps) < needed:
        yield f"joint: {where} has fewer clamps than the {needed} ends of its hoses"
    sleeve = shelf_part(joint["hose"])
    for end in (start, finish):
        if end["form"] != "spigot":
            continue
        od = si(end["size"]) + 2 * si(sleeve["wall"])
        if not any(si(clamp["least"]) <= od + 1e-9 and od - 1e-9 <= si(clamp["most"]) for clamp, _ in clamps):
            yield f"joint: {where} has no clamp that closes on {od * 1000:.1f} mm"


def _suction(kit: Tree) -> Iterator[str]:
    """Before the pump a hose over 3/4 inch is wired or made for vacuum, or it is sucked flat.

    Common practice, no source.
    """
    for joint in kit["joints"]:
        if joint["to"].startswith("pump"):
            for hose in (joint["hose"], *(name for name, _ in stub_metres(joint))):
                if si(shelf_part(hose)["bore"]) > 19.1e-3 and not shelf_part(hose).get("vacuum", False):
                    yield f"suction: '{hose}' before the pump is not made for vacuum"


# --- ratings ----------------------------------------------------------------------------------------------------------


def rated(passage: Tree) -> float | None:
    """What a passage may work at [Pa gauge]; proof is 1.5 times that, burst 4 times (common practice)."""
    for key, over in (("working", 1.0), ("proof", 1.5), ("burst", 4.0)):
        if key in passage:
            return None if passage[key] == "unknown" else si(passage[key]) / over
    return None


def designs(brief: Tree, kit: Tree) -> dict[str, float]:
    """What each place of a kit may see [Pa gauge]."""
    boost = si(brief["engine"]["boost"])
    cap = si(part_in(brief, kit, "cap")["opens"]) if "cap" in kit["parts"] else 0.0
    still = 1.1 * cap + 0.1e5 * liquid_metres(brief)
    pumped = still + max(si(point["head"]) for point in part_in(brief, kit, "pump")["curve"])
    slots = {"reservoir": still, "pump": pumped, "core": pumped, "exchanger": pumped}
    return {"charge": max(1.25 * boost, boost + 0.3e5), "cap": 1.1 * cap, "suction": still, "run": pumped, **slots}


def silicone(celsius: float) -> float:
    """What a silicone coupler keeps of its pressure: all at 23 degC, 0.7 at 150, 0.6 at 175 and falling on.

    Common practice, no source.
    """
    if celsius <= 150:
        return 1.0 - 0.3 * max(celsius - 23.0, 0.0) / 127.0
    return 0.7 - 0.1 * (celsius - 150.0) / 25.0


def coupler_celsius(brief: Tree, kit: Tree, joint: Tree, before_couplers_k: float) -> float:
    """Couplers are chosen for the charge before the core in whole steps of 5 K, behind it for the aim."""
    if is_before(joint):
        arrives_k = kit["thermal"]["charge_in_c"] + 273.15 - before_couplers_k
        return 5.0 * -(-arrives_k // 5.0) - 273.15
    aim = brief["aim"]
    if "charge_air" in aim:
        return si(aim["charge_air"])
    return si(brief["site"]["air"]) + float(aim["above_air"].split()[0])


def _members(brief: Tree, kit: Tree, before_couplers_k: float) -> Iterator[tuple[str, str, float | None]]:
    """Every member of both boundaries: what it is, where it sits and what it may work at, couplers as hot."""
    for slot in kit["parts"]:
        part = part_in(brief, kit, slot)
        yield part["id"], slot, rated(part["coolant"])
        if "charge" in part:
            yield part["id"], "charge", rated(part["charge"])
    for joint in kit["joints"]:
        place = "charge" if joint["hose"] is None else "suction" if joint["from"].startswith("reservoir") else "run"
        share = silicone(coupler_celsius(brief, kit, joint, before_couplers_k)) if place == "charge" else 1.0
        for piece in joint["through"]:
            told = rated(shelf_part(piece)["through"])
            yield piece, place, None if told is None else told * (1.0 if is_wye(piece) else share)
        for hose in ([joint["hose"]] if joint["hose"] else []) + [name for name, _ in stub_metres(joint)]:
            yield hose, place, rated(shelf_part(hose))


def _ratings(brief: Tree, kit: Tree) -> list[str]:
    """What is wrong with the ratings. What couplers add to the charge's heat, under 1 K, may shift a step of 5 K."""
    return min((list(_ratings_at(brief, kit, less)) for less in (0.0, 1.0)), key=len)


def _ratings_at(brief: Tree, kit: Tree, before_couplers_k: float) -> Iterator[str]:
    seen = designs(brief, kit)
    least: dict[bool, float] = {}
    for name, place, rating in _members(brief, kit, before_couplers_k):
        if rating is None:
            if kit["proven"]:
                yield f"rating: '{name}' states none and the kit is called proven"
            continue
        if rating < seen[place] - 1:
            yield f"rating: '{name}' at {place} holds {rating:.0f} Pa and may see {seen[place]:.0f} Pa"
        side = place == "charge"
        least[side] = min(least.get(side, 1e9), rating / max(seen[place], 1.0))
    for side, word in ((True, "charge"), (False, "coolant")):
        told = kit["pressure"][word]
        if told["rating_pa_gauge"] is None or abs(told["margin"] - least[side]) > 0.002 * least[side]:
            yield f"rating: the {word} side is said to have margin {told['margin']}, it is {least[side]:.3f}"
        hot, cold = told["derated_at_c"], told["rating_cold_pa_gauge"]
        if hot is not None and abs(cold * silicone(hot) - told["rating_pa_gauge"]) > 5:  # 0.01 K is up to 4 Pa
            yield f"rating: {cold} Pa cold is not {told['rating_pa_gauge']} Pa at {hot} degC"
    if abs(kit["pressure"]["charge"]["design_pa_gauge"] - seen["charge"]) > 1:
        yield "rating: the charge side's design pressure is another one"
    if abs(kit["pressure"]["coolant"]["design_most_pa_gauge"] - seen["run"]) > 1:
        yield "rating: the coolant side's design pressure is another one"


def _temperatures(brief: Tree, kit: Tree) -> Iterator[str]:
    thermal = kit["thermal"]
    for slot in kit["parts"]:
        part = part_in(brief, kit, slot)
        sees = {"charge": thermal["charge_in_c"] - CHARGE_HOLDS_K, "coolant": thermal["coolant_worst_c"]}
        for passage, hot in sees.items():
            hottest = part.get(passage, {}).get("hottest")
            if hottest is not None and si(hottest) < hot:
                yield f"temperature: '{part['id']}' stands {hottest} on its {passage} side and sees {hot:.0f} degC"
    for joint in kit["joints"]:
        side = "charge_in_c" if is_before(joint) else "charge_out_worst_c"
        hot = thermal["coolant_worst_c"] if joint["hose"] else thermal[side]
        pieces = [shelf_part(piece)["through"] for piece in joint["through"]]
        pieces += [shelf_part(joint["hose"])] if joint["hose"] else []
        if any("hottest" in piece and si(piece["hottest"]) < hot - CHARGE_HOLDS_K for piece in pieces):
            yield f"temperature: a piece of {joint['from']} to {joint['to']} sees {hot:.0f} degC"


# --- places -----------------------------------------------------------------------------------------------------------

Box = list[tuple[float, float]]


def _turned(size: list[float], up: str, front: str) -> list[float] | None:
    """Depth, width and height of a box whose faces `up` and `front` point up and forward; None if they cannot."""
    if up[1] == front[1]:
        return None
    across = next(axis for axis in "xyz" if axis not in (up[1], front[1]))
    return [size["xyz".index(axis)] for axis in (front[1], across, up[1])]


def _placements(brief: Tree, kit: Tree) -> Iterator[str]:
    zones, boxes = brief["bay"]["zones"], []
    rigid = {slot for slot in kit["parts"] if slot != "cap"} - {
        own["kind"] for own in brief.get("own", []) if own.get("fitted")
    }
    if {place["slot"] for place in kit["fit"]["placements"]} != rigid:
        yield "place: not every part of the kit has one"
    for place in kit["fit"]["placements"]:
        name, zone = place["part"], zones[place["zone"]]
        part = part_of(brief, name)
        turns = part.get("turns", {})
        if place["slot"] not in zone["takes"]:
            yield f"place: zone {place['zone']} does not take '{name}'"
        fronts = turns.get("air", ["-x", "+x"] if place["slot"] == "exchanger" else None) or turns.get("front")
        if place["up"] not in turns.get("up", ["+z"]) or (fronts and place["front"] not in fronts):
            yield f"place: '{name}' may not be turned {place['up']} up, {place['front']} to the front"
        drawn = [-(-round(si(part["size"][axis]) * 1e4) // 10) for axis in "xyz"]
        if _turned(drawn, place["up"], place["front"]) != place["size_mm"]:
            yield f"place: '{name}' does not take {place['size_mm']} mm in that turn"
        in_car = place["frame"] == "car"
        corner = [si(zone["at"][key]) * 1000 if in_car else 0.0 for key in ("back", "right", "up")]
        low = [at - zero for at, zero in zip(place["at_mm"], corner, strict=True)]
        box = [(a, a + long) for a, long in zip(low, place["size_mm"], strict=True)]
        room = [si(zone[key]) * 1000 for key in ("deep", "wide", "high")]
        if any(a < -1e-6 or b > wall + 1e-6 for (a, b), wall in zip(box, room, strict=True)):
            yield f"place: '{name}' is not inside {place['zone']}"
        for obstacle in brief["bay"].get("obstacles", []):
            if obstacle["in"] == place["zone"] and _overlap(box, _obstacle(obstacle, room)):
                yield f"place: '{name}' runs into the {obstacle['name']}"
        boxes.append((name, place["zone"], box))
    for (one, zone, box), (other, other_zone, other_box) in combinations(boxes, 2):
        if zone == other_zone and _overlap(box, other_box):
            yield f"place: '{one}' runs into '{other}'"


def _obstacle(obstacle: Tree, room: list[float]) -> Box:
    grown = si(obstacle["clearance"]) * 1000 if "clearance" in obstacle else KEEP_OFF_MM[obstacle["kind"]]
    off, box = obstacle["from"], []
    for wall, low, high, extent in zip(room, ("front", "left", "floor"), ("back", "right", "top"),
                                       ("deep", "wide", "high"), strict=True):  # fmt: skip
        long = si(obstacle[extent]) * 1000
        at = si(off[low]) * 1000 if low in off else wall - si(off[high]) * 1000 - long
        keep = 0.0 if obstacle["kind"] in ("plain", "crash") else grown
        box.append((at - keep, at + long + keep))
    return box


def _overlap(one: Box, other: Box) -> bool:
    return all(a < d - 1e-6 and c < b - 1e-6 for (a, b), (c, d) in zip(one, other, strict=True))


# --- sums and limits --------------------------------------------------------------------------------------------------


def _sums(brief: Tree, kit: Tree) -> Iterator[str]:
    lines = kit["lines"]
    if sum(line["price_cents"] for line in lines) != kit["price_cents"]:
        yield "price: it is not the sum of its lines"
    mine = {own["id"] if isinstance(own, dict) else own for own in brief.get("own", [])}
    bought: Counter[str] = Counter()
    for line in lines:
        if line["part"] is None:
            continue
        bought[line["part"]] += line["quantity"]
        each = 0.0 if line["part"] in mine else float(part_of(brief, line["part"])["price"])
        if abs(each * line["quantity"] * 100 - line["price_cents"]) > 1:
            yield f"price: {line['quantity']} of '{line['part']}' at {each} is not {line['price_cents'] / 100}"
    needed: Counter[str] = Counter(part for parts in kit["parts"].values() for part in parts if part not in mine)
    for joint in kit["joints"]:
        needed.update(joint["through"])
        for hose, metres in [(joint["hose"], joint["hose_length_m"])] * bool(joint["hose"]) + stub_metres(joint):
            needed[hose] += metres
        for need in joint["needs"]:
            if need["item"] == "clamp":
                needed[need["part"]] += need["quantity"]
    for part, quantity in needed.items():
        if bought[part] < quantity - 1e-9:
            yield f"bill: {quantity:g} of '{part}' are needed, {bought[part]:g} are on it"
    if not {"relay", "fuse", "wire"} <= {line["item"] for line in lines}:
        yield "bill: the pump's relay, fuse or wire is not on it"
    fitted = {own["id"] for own in brief.get("own", []) if isinstance(own, dict) and own.get("fitted")}
    for line in lines:
        if line["item"] in ("relay", "fuse", "wire") and line["part"] is not None:
            needed[line["part"]] += line["quantity"]
    grams = sum(
        quantity * si(part_of(brief, part).get("mass", "0 kg")) * 1000
        for part, quantity in needed.items()
        if part not in fitted
    )
    if abs(grams - kit["mass_dry_g"]) > 4:
        yield f"mass: the parts weigh {grams:.0f} g, {kit['mass_dry_g']} g are told"


def _limits(brief: Tree, kit: Tree) -> Iterator[str]:
    limits, thermal = brief.get("limits", {}), kit["thermal"]
    if kit["price_cents"] > limits.get("price", 1e9) * 100:
        yield "limit: the kit costs more than it may"
    if kit["mass_dry_g"] > si(limits.get("mass_dry", "1e9 kg")) * 1000:
        yield "limit: the kit weighs more than it may"
    if kit["current_a"] > si(limits.get("current", "1e9 A")):
        yield "limit: the kit draws more than it may"
    aim, worst = brief["aim"], thermal["charge_out_worst_c"]
    rise = float(aim.get("above_air", "0 K").split()[0])
    ceiling = si(aim["charge_air"]) if "charge_air" in aim else si(brief["site"]["air"]) + rise
    if worst > ceiling + 0.005 or abs(ceiling - worst - thermal["margin_k"]) > 0.011:
        yield "limit: the aim is missed, or its margin is another one"
