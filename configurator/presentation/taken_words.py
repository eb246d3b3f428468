"""What is taken for the keys that a part's file leaves out, key by key: told when the part is added."""

from __future__ import annotations

from collections.abc import Iterator

from configurator.joining.mating_verdict import UNWIRED_MOST
from configurator.joining.words import mm_words
from configurator.parts.kinds import Adapter, Core, Exchanger, Hose, Part, Pump, RigidPart
from configurator.parts.passages import Passage
from configurator.prediction.estimates import fin_depth_m
from configurator.presentation.shelf_show_text import TIERS, row
from configurator.questions.shelf_mates import FLOWS
from configurator.questions.shelf_show import heat_of, passages_of
from configurator.questions.when_it_fails import LEAST_SUCTION_PA


def taken_lines(part: Part) -> list[str]:
    """A heading and a row for each key; none where the file states all that matters."""
    rows = [line for key, words in taken(part) for line in row(key, words)]
    return ["Taken where its file does not say:", *rows] if rows else []


def taken(part: Part) -> Iterator[tuple[str, str]]:
    """Key, and what stands for it as long as it is left out. What `shelf check` finds missing is not told here."""
    if part.mass_kg is None:
        yield "mass", "counts as nothing"
    if isinstance(part, RigidPart):
        yield from _of_the_box(part)
    for medium, passage in passages_of(part):
        yield from _of_a_passage(part, medium, passage)
    if isinstance(part, Core | Exchanger) and not part.performance.model_fields_set:
        heat = heat_of(part)
        told = f"{TIERS.get(heat.tier, 'estimated')}: ± {100 * heat.ua_band:.0f} % on conductance"
        yield "performance", f"{told}, ± {100 * heat.loss_band:.0f} % on losses"
    if isinstance(part, Pump):
        if part.heat_to_coolant is None:
            yield "heat_to_coolant", "100 %: all of its electrical power ends in the coolant"
        if part.npsh_required_pa is None:
            yield "npsh_required", f"{LEAST_SUCTION_PA / 1e3:.0f} kPa above boiling"
    if isinstance(part, Hose):
        if part.vacuum is None:
            yield "vacuum", f"not known: over {UNWIRED_MOST} it is not laid before the pump"
        if part.roughness_m is None:
            yield "roughness", "that of smooth rubber"


def _of_the_box(part: RigidPart) -> Iterator[tuple[str, str]]:
    if part.up_unsaid:
        yield "turns", "stands on its low face only, +z up; where it may lie or hang, say so: turns: {up: [+z, -y]}"
    if isinstance(part, Exchanger):
        if part.turns.air is None:
            yield "turns: air", "either way round through its fins"
        if part.fin_depth_m is None:
            yield "fin_depth", f"nine tenths of its box, {mm_words(fin_depth_m(part))}"
    if not part.mounts:
        yield "mounts", "none of its faces: each keeps the gap of its zone"


def _of_a_passage(part: Part, medium: str, passage: Passage) -> Iterator[tuple[str, str]]:
    silent = [key for key, kelvin in (("hottest", passage.hottest_k), ("coldest", passage.coldest_k)) if kelvin is None]
    if silent:
        against = " or ".join({"hottest": "heat", "coldest": "frost"}[key] for key in silent)
        yield f"{medium}: {', '.join(silent)}", f"nothing: it is not held against {against}"
    if medium == "coolant" and passage.volume_m3 is None and isinstance(part, RigidPart):
        inside = "estimated from its box and channels" if isinstance(part, Core | Exchanger) else "counts as nothing"
        yield "coolant: volume", inside
    stated = part.through.bore_m if isinstance(part, Adapter) else None
    bare = [end.name for end in passage.ends if end.bore_m is None and stated is None and end.role in FLOWS]
    if bare:
        yield f"{medium}: bore", f"of {', '.join(bare)}: what is usual for an end of that size"
