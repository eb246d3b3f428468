"""The charge side of a kit checked from JSON answer, brief and YAML parts: which ends meet, and through what.

Typed again here: a coupler sits on a pipe of 0.98 to 1.03 times its size that has a bead; a clamp closes on the pipe
and two walls of the coupler, from 1 bar on a T-bolt; one pipe and two meet in one wye, by its stem and its two
branches. Common practice, no source.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from itertools import permutations

from tests.independent.plain import part_of, si
from tests.journeys.kitwright import Tree, shelf_part

WYES = {"before": "charge-wye-in", "behind": "charge-wye-out"}


def charge_joints(kit: Tree) -> list[Tree]:
    """The joints of the charge pipes."""
    return [joint for joint in kit["joints"] if joint["hose"] is None]


def is_wye(piece: str) -> bool:
    """Whether a piece is a wye of the charge side."""
    return shelf_part(piece).get("medium") == "charge" and len(shelf_part(piece)["through"]["ends"]) == 3


def is_before(joint: Tree) -> bool:
    """Whether a joint lies before the core, where the charge is hot."""
    return str(joint["from"]).startswith(("engine", WYES["before"]))


def charge_faults(brief: Tree, kit: Tree) -> list[str]:
    """Everything wrong with how the charge pipes are joined; none where all is sound."""
    if any(isinstance(own, dict) and own.get("fitted") and own.get("kind") == "core" for own in brief.get("own", [])):
        return []
    return [*_ends(brief, kit), *(fault for joint in charge_joints(kit) for fault in _joint(brief, kit, joint))]


def _cores(kit: Tree) -> list[str]:
    count = len(kit["parts"]["core"])
    return ["core"] if count == 1 else [f"core-{number}" for number in range(1, count + 1)]


def _ends(brief: Tree, kit: Tree) -> Iterator[str]:
    """Every pipe end is joined once, and where one pipe meets two there is just one wye."""
    engine, cores, joints = brief["engine"], _cores(kit), charge_joints(kit)
    count = engine.get("charger_outlets", 1)
    outlets = ["engine.charger outlet"] if count == 1 else [f"engine.charger outlet {n}" for n in range(1, count + 1)]
    wanted: Counter[str] = Counter()
    for known, far, side, end in (
        ("charger_outlet", outlets, "before", "in"),
        ("throttle", ["engine.throttle"], "behind", "out"),
    ):
        if known not in engine:
            continue
        wanted.update([*far, *(f"{core}.{end}" for core in cores)])
        here = [joint for joint in joints if is_before(joint) == (side == "before")]
        wyes = [piece for joint in here for piece in joint["through"] if is_wye(piece)]
        if len(wyes) != (len(far) != len(cores)):
            yield f"joint: {len(wyes)} wyes {side} the core for {len(far)} pipes and {len(cores)} cores"
        if len(far) != len(cores):
            wanted.update(f"{WYES[side]}.{name}" for name in ("stem", "left", "right"))
            stem = [joint for joint in here if f"{WYES[side]}.stem" in (joint["from"], joint["to"])]
            if [piece for joint in stem for piece in joint["through"] if is_wye(piece)] != wyes:
                yield f"joint: the wye {side} the core is not at its stem"
    joined = Counter(end for joint in joints for end in (joint["from"], joint["to"]))
    if joined != wanted:
        yield f"joint: charge pipe ends joined another time than once: {sorted((joined - wanted) + (wanted - joined))}"


def _pipe(brief: Tree, kit: Tree, word: str) -> Tree | None:
    slot, name = word.split(".", 1)
    if slot == "engine":
        bore = brief["engine"]["charger_outlet" if name.startswith("charger outlet") else "throttle"]
        return {"form": "spigot", "size": bore, "bead": True}
    if slot in WYES.values():
        at = [j for j in charge_joints(kit) if f"{slot}.stem" in (j["from"], j["to"])]
        wyes = [piece for joint in at for piece in joint["through"] if is_wye(piece)]
        ends = [end for piece in wyes for end in shelf_part(piece)["through"]["ends"]]
    else:
        ends = part_of(brief, kit["parts"]["core"][0])["charge"]["ends"]
    return next((dict(end) for end in ends if end["name"] == name), None)


def _joint(brief: Tree, kit: Tree, joint: Tree) -> Iterator[str]:
    where = f"{joint['from']} to {joint['to']}"
    pipes = [_pipe(brief, kit, joint[side]) for side in ("from", "to")]
    sleeves = [piece for piece in joint["through"] if not is_wye(piece)]
    if None in pipes or len(sleeves) != 1:
        yield f"joint: {where} does not go together through {joint['through']}"
        return
    coupler = shelf_part(sleeves[0])
    a, b = coupler["through"]["ends"]
    if not any(all(map(_sits, pair, pipes)) for pair in ((a, b), (b, a))):
        yield f"joint: {where} does not go together through {joint['through']}"
    clamps = [
        shelf_part(need["part"])
        for need in joint["needs"]
        if need["item"] == "clamp"
        for _ in range(round(need["quantity"]))
    ]
    outside = [si(pipe["size"]) + 2 * si(coupler.get("wall", "4.5 mm")) for pipe in pipes if pipe is not None]
    if len(clamps) != 2 or not any(all(map(_closes, order, outside)) for order in permutations(clamps)):
        yield f"joint: {where} has not one clamp for each of its two ends"
    if si(brief["engine"]["boost"]) >= 1e5 and any(clamp["style"] != "T-bolt" for clamp in clamps):
        yield f"joint: {where} is held by another clamp than a T-bolt at 1 bar or more"


def _sits(sleeve: Tree, pipe: Tree | None) -> bool:
    assert pipe is not None
    held = pipe["form"] == "spigot" and bool(pipe.get("bead") or pipe.get("barb")) and sleeve["form"] == "coupler"
    return held and 0.98 <= round(si(pipe["size"]) / si(sleeve["size"]), 6) <= 1.03


def _closes(clamp: Tree, od_m: float) -> bool:
    return bool(si(clamp["least"]) - 1e-9 <= od_m <= si(clamp["most"]) + 1e-9)



def is_branch(joint: Tree) -> bool:
    """Whether a joint carries half of the charge: from one of two outlets, to or from one of two cores."""
    slots = {word.split(".")[0] for word in (joint["from"], joint["to"])}
    stem = any(word.endswith(".stem") for word in (joint["from"], joint["to"]))
    return not stem and bool(slots & {"core-1", "core-2", *WYES.values()})


def per_m4(brief: Tree, kit: Tree, joint: Tree) -> float:
    """K / A² of a joint on its own flow [1/m4]: its change of bore, and its wye; of pipes 1.5 mm thick.

    Sudden contraction 0.5 (1 - s), enlargement (1 - s)², on the smaller of the two areas, s their ratio: handbooks.
    """
    bores = []
    for side in ("from", "to"):
        pipe = _pipe(brief, kit, joint[side])
        assert pipe is not None
        bores.append(si(pipe["bore"]) if "bore" in pipe else si(pipe["size"]) - 3e-3)
    ratio = (min(bores) / max(bores)) ** 2
    factor = 0.5 * (1 - ratio) if bores[1] < bores[0] else (1 - ratio) ** 2
    found = factor / (math.pi / 4 * min(bores) ** 2) ** 2
    for piece in joint["through"]:
        if is_wye(piece):
            stem = bores[0] if joint["from"].endswith(".stem") else bores[1]
            found += float(shelf_part(piece)["loss_factor"]) / (math.pi / 4 * stem**2) ** 2
    return found
