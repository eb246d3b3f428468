"""One part of the shelf in words, 80 columns wide."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from configurator.foundations.units import celsius
from configurator.joining.words import celsius_words, end_words, mm_words
from configurator.parts.kinds import Adapter, Core, Exchanger, Fan, Hose, Part, Pump, Reservoir, RigidPart
from configurator.prediction.working_point import WorkingPoint
from configurator.presentation.harmless import hanging, harmless
from configurator.presentation.lines import WIDTH
from configurator.presentation.shelf_list_text import figure_cells, plain
from configurator.questions.shelf_list import Listed
from configurator.questions.shelf_mates import EndMates
from configurator.questions.shelf_show import Heat, Shown, rating_words

TIERS: Final = {
    "several points": "measured at several points",
    "one point": "measured once",
    "geometry": "estimated from its fins and channels",
    "size": "estimated from its size alone",
}
_FEW: Final = 6


def shelf_show_text(shown: Shown, next_command: str) -> str:
    """The whole screen."""
    blocks = [_heading(shown)]
    for title, rows in (
        ("Ratings", _ratings(shown)),
        ("Ends", _ends(shown)),
        ("Performance", _performance(shown)),
        ("What it can join on this shelf", _joins(shown)),
    ):
        lines = [line for label, text in rows for line in row(label, text)]
        if lines:
            blocks.append("\n".join([title, *lines]))
    return "\n\n".join([*blocks, f"Next: {next_command}"]) + "\n"


def row(label: str, text: str) -> list[str]:
    """A label with its text beside it, wrapped under itself."""
    label = harmless(label, 40)
    wide = 24
    if len(label) >= wide - 2:
        return [*hanging(label, WIDTH, "  ", "  "), *hanging(text, WIDTH, " " * wide, " " * wide)]
    return hanging(text, WIDTH, f"  {label:<{wide - 2}}", " " * wide)


def _heading(shown: Shown) -> str:
    part = shown.part
    lines = hanging(f"{part.id}: {harmless(part.name)} ({shown.kind})", WIDTH)
    return "\n".join([*lines, *(line for label, text in _facts(shown) for line in row(label, text))])


def _facts(shown: Shown) -> Iterator[tuple[str, str]]:
    part = shown.part
    per = " for one metre" if isinstance(part, Hose) or shown.kind == "wire" else ""
    yield "price", f"{part.price:,.2f}{per}"
    yield "stock", "not stated" if part.stock is None else "0, to be ordered" if part.stock == 0 else str(part.stock)
    if part.lead_days is not None:
        yield "lead", f"{part.lead_days} days"
    yield "mass", "not stated" if part.mass_kg is None else f"{plain(float(part.mass_kg))} kg{per}"
    if isinstance(part, RigidPart):
        yield "box", f"{_box(part)} (x, y, z as drawn)"
        unsaid = " (no turns stated: taken to stand on its low face only)" if part.up_unsaid else ""
        yield "may look up", ", ".join(part.turns.up) + unsaid
        for label, faces in (("to the front", part.turns.front), ("into the air", part.turns.air)):
            if faces is not None:
                yield label, ", ".join(faces)
        if part.mounts:
            yield "mounted by", ", ".join(part.mounts)
    else:
        yield from figure_cells(Listed(part, shown.kind, shown.figures))
    yield from _of_kind(part)
    if part.note:
        yield "note", harmless(part.note, 600)
    yield "source", harmless(shown.source, 600) if shown.source else "none stated"


def _box(part: RigidPart) -> str:
    return " x ".join(plain(float(side) * 1e3, 1) for side in (part.size.x_m, part.size.y_m, part.size.z_m)) + " mm"


def _of_kind(part: Part) -> Iterator[tuple[str, str]]:
    if isinstance(part, Exchanger):
        yield "face of the fins", f"{mm_words(part.face.wide_m)} wide, {mm_words(part.face.high_m)} high"
    if isinstance(part, Core | Exchanger):
        way = part.arrangement
        order = f", {way.pass_order}" if way.pass_order else ""
        yield "arrangement", f"{way.flow}, {way.passes} {'pass' if way.passes == 1 else 'passes'}{order}"
    if isinstance(part, Pump | Fan):
        yield "electrical", f"{plain(part.volts)} V, {plain(float(part.current_a))} A at most"
    if isinstance(part, Pump) and part.npsh_required_pa is not None:
        yield "needs at its inlet", f"{plain(float(part.npsh_required_pa) / 1e3, 1)} kPa above boiling"
    if isinstance(part, Reservoir):
        kept = [word for word, so in (("vented", part.vented), ("takes ice", part.ice), ("screen", part.screen)) if so]
        yield "air space", ", ".join([f"{100 * float(part.air_space):.0f} %", *kept])
    if isinstance(part, Adapter) and part.lined:
        yield "lining", "fluoro"
    if isinstance(part, Hose):
        vacuum = {True: "stands vacuum", False: "is sucked flat", None: "vacuum not stated"}[part.vacuum]
        yield "class", f"{harmless(part.hose_class)}, wall {mm_words(part.wall_m)}, {vacuum}"
        yield "bend radius", f"{mm_words(part.bend_radius_m)} to the inside of the bend"


def _ratings(shown: Shown) -> Iterator[tuple[str, str]]:
    for medium, passage in shown.passages:
        told = [rating_words(passage)]
        for word, kelvin in (("hottest", passage.hottest_k), ("coldest", passage.coldest_k)):
            told.append(f"{word} {'not stated' if kelvin is None else celsius_words(float(kelvin))}")
        if passage.volume_m3 is not None:
            told.append(f"holds {plain(float(passage.volume_m3) * 1e3, 3)} L")
        if passage.bans:
            told.append(f"never {', '.join(passage.bans)}")
        yield medium, "; ".join(told)


def _ends(shown: Shown) -> Iterator[tuple[str, str]]:
    for mates in shown.ends:
        end = mates.end
        told = [end_words(end)]
        told += [word for word, so in (("bead", end.bead), ("barb", end.barb), ("swivel", end.swivel)) if so]
        if end.bore_m is not None:
            told.append(f"bore {mm_words(float(end.bore_m))}")
        if end.face is not None and end.at is not None:
            places = (("x", end.at.x_m), ("y", end.at.y_m), ("z", end.at.z_m))
            at = ", ".join(f"{axis} {plain(float(place) * 1e3, 1)}" for axis, place in places if place is not None)
            told.append(f"on face {end.face} at {at} mm")
        role = "" if end.role == end.name else f"; {end.role}" if end.role != "either" else "; in or out"
        yield f"{mates.medium} {end.name}", harmless(", ".join(told) + role, 300)


def _performance(shown: Shown) -> Iterator[tuple[str, str]]:
    part = shown.part
    if isinstance(part, Pump):
        points = [(float(point.head_pa) / 1e3, float(point.flow_m3_per_s) * 60e3) for point in part.curve]
        yield "curve", ", ".join(f"{plain(head, 1)} kPa at {plain(flow, 1)}" for head, flow in points) + " L/min"
    if isinstance(part, Fan):
        rises = [(float(point.rise_pa), float(point.flow_m3_per_s) * 3600) for point in part.curve]
        yield "curve", ", ".join(f"{plain(rise, 0)} Pa at {plain(flow, 0)}" for rise, flow in rises) + " m3/h"
    if shown.heat is not None:
        yield from _heat(shown.heat)


def _heat(heat: Heat) -> Iterator[tuple[str, str]]:
    if heat.impossible or heat.nominal is None or heat.low is None or heat.high is None:
        yield "impossible", f"{harmless(heat.impossible, 300)}; no kit will hold it until that is mended"
        return
    ends = (heat.low, heat.nominal, heat.high)
    ua, loss = 100 * heat.ua_band, 100 * heat.loss_band
    yield "known", f"{TIERS[heat.tier]}: ± {ua:.0f} % on conductance, ± {loss:.0f} % on losses"
    yield "at this point", point_words(heat.point)
    yield "effectiveness", _span([one.effectiveness * 100 for one in ends], " %")
    yield "conductance (UA)", _span([one.ua_w_per_k for one in ends], " W/K")
    yield "heat", _span([one.heat_w / 1e3 for one in ends], " kW", 1)
    charge = [one.charge_loss_pa / 1e3 for one in ends if one.charge_loss_pa is not None]
    yield "charge out" if charge else "air out", _span([celsius(one.air_out_k) for one in ends], " degC")
    if charge:
        yield "charge loss", _span(charge, " kPa", 1)
    yield "coolant loss", _span([one.coolant_loss_pa / 1e3 for one in ends], " kPa", 1)


def _span(ends: Sequence[float], unit: str, decimals: int = 0) -> str:
    """The nominal figure with its least and its most; `ends`: low end, nominal, high end."""
    return f"{ends[1]:.{decimals}f}{unit} ({min(ends):.{decimals}f} to {max(ends):.{decimals}f})"


def point_words(point: WorkingPoint) -> str:
    """A working point in words."""
    inlet = celsius_words(point.air_in_k)
    if point.air_kg_per_s is not None:
        air = f"charge {plain(point.air_kg_per_s)} kg/s, in at {inlet} and {plain(point.air_pa_gauge / 1e5, 2)} bar"
    else:
        air = f"air {plain(point.face_speed_m_per_s or 0.0)} m/s on the face, in at {inlet}"
    flow = plain(point.coolant_m3_per_s * 60e3, 1)
    share = f" {100 * point.coolant.glycol_by_volume:.0f} %" if point.coolant.glycol_by_volume else ""
    return f"{air}; coolant {flow} L/min of {point.coolant.kind}{share}, in at {celsius_words(point.coolant_in_k)}"


def _joins(shown: Shown) -> Iterator[tuple[str, str]]:
    for mates in shown.ends:
        yield f"{mates.medium} {mates.end.name}", harmless(join_words(mates), 600)


def join_words(mates: EndMates) -> str:
    """What goes on one end, counted; the ids where they are few."""
    if not mates.pieces:
        return "nothing goes straight on it" + (f"; {mates.missing}" if mates.missing else "")
    told = [f"straight on: {', '.join(_counted(kind, ids) for kind, ids in mates.pieces)}"]
    if mates.pipes_m:
        told.append(f"couplers lead to pipes of {', '.join(plain(size * 1e3, 1) for size in mates.pipes_m)} mm")
    if mates.by_hose:
        told.append(f"by hose alone: {_loop_parts(len(mates.by_hose))}")
    if mates.with_adapter:
        count = len(mates.with_adapter)
        told.append(f"by hose and adapters: {f'{count} more' if mates.by_hose else _loop_parts(count)}")
    if mates.missing:
        told.append(mates.missing)
    return "; ".join(told)


def _loop_parts(count: int) -> str:
    return f"{count} {'part' if count == 1 else 'parts'} of a loop"


def _counted(kind: str, ids: Sequence[str]) -> str:
    plural = kind if len(ids) == 1 else f"{kind}{'es' if kind.endswith('h') else 's'}"
    return f"{len(ids)} {plural}" + (f" ({', '.join(ids)})" if len(ids) <= _FEW else "")


