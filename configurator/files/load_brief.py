"""A brief file as a checked request, with every name in it looked up, or every problem it has."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from configurator.brief.driving import Driving
from configurator.brief.joined_zones import with_joined_zones
from configurator.brief.request import Brief
from configurator.brief.tables import Tables
from configurator.errors import BadInput, Problem
from configurator.files.other_file import refuse_a_kit_file
from configurator.files.part_entries import another_part, read_part_entry
from configurator.files.problems import KeyPath, nearest, not_known
from configurator.files.read_record import empty_values, read_record
from configurator.files.read_yaml import Document, read_yaml
from configurator.files.spoken_words import SPOKEN_FUELS, spoken_chargers
from configurator.parts.kinds import PART_KINDS, Part
from configurator.parts.own import OwnPart
from configurator.parts.shelf import Catalogue
from configurator.standards.articles import with_article

DRY_ICE = (
    "dry ice is refused: it turns to some 800 times its volume of gas, bursts a closed tank, and suffocates people in "
    "cabin or garage; use ice of water"
)

_NO_ZONE_HERE = (
    "an own part names no zone: one that stays takes no room of the bay, any other is placed by the search; for the "
    "air of a front exchanger that stays write front_in: its zone under bay"
)

WANTED_KINDS = ("core", "exchanger", "pump", "reservoir")
"""Kinds of which every kit holds one; all other pieces follow from these."""


@dataclass(frozen=True)
class LoadedBrief:
    """A brief with its names looked up: the driving pattern, and the customer's own parts."""

    brief: Brief
    driving: Driving
    own: tuple[OwnPart, ...]
    fingerprint: str


def load_brief(path: Path, catalogue: Catalogue, tables: Tables) -> LoadedBrief:
    """Read a brief and look its names up in a catalogue. Raises BadInput with every problem of the file."""
    return brief_of(read_yaml(path), catalogue, tables)


def brief_of(document: Document, catalogue: Catalogue, tables: Tables) -> LoadedBrief:
    """The same of a document that has been read."""
    problems = list(document.problems)
    if document.root is None:
        raise BadInput(tuple(problems))
    if not isinstance(document.data, dict):
        words = "a brief is keys and values, beginning with 'brief: a name for it'"
        raise BadInput((*problems, document.problem((), words)))
    refuse_a_kit_file(document)
    problems += empty_values(document)
    brief, found = read_record(Brief, document.data, document, ())
    problems += found
    problems += _unknown_names(document, catalogue, tables)
    if brief is not None and brief.aim.after_s is not None and not tables.soak:
        words = "the catalogue's list of 'soak' is empty: nothing says what the bay does to a loop that stands in it"
        problems.append(document.problem(("aim", "after"), words))
    own, found = _own_parts(document, catalogue)
    problems += found
    problems += _wanted_in_vain(document, catalogue, own)
    front_in = None if brief is None or brief.bay is None else brief.bay.front_in
    if front_in is not None and not any(held.fitted and held.part.kind == "exchanger" for held in own):
        words = "front_in is the zone of a front exchanger that stays: none under own has fitted: true"
        problems.append(document.problem(("bay", "front_in"), words))
    if problems or brief is None:
        raise BadInput(tuple(sorted(set(problems))))
    driving = tables.driving[brief.driving] if isinstance(brief.driving, str) else brief.driving
    if brief.bay is not None:
        brief = brief.model_copy(update={"bay": with_joined_zones(brief.bay)})
    fingerprint = hashlib.sha256(document.text.encode()).hexdigest()[:16]
    return LoadedBrief(brief, driving, own, fingerprint)


def _unknown_names(document: Document, catalogue: Catalogue, tables: Tables) -> list[Problem]:
    """Names that stand for something of the catalogue: each must be there."""
    data = document.data
    found = []
    engine = data.get("engine") if isinstance(data.get("engine"), dict) else {}
    fuel, charger = (
        word if isinstance(word, str) else None for word in (engine.get("fuel"), engine.get("charger"))
    )
    if fuel is not None and fuel not in tables.fuels:
        found.append(document.problem(("engine", "fuel"), not_known("fuel", fuel, tables.fuels, spoken=SPOKEN_FUELS)))
    if charger is not None and charger not in tables.chargers:
        words = not_known("charger", charger, tables.chargers, spoken=spoken_chargers(tables.chargers))
        found.append(document.problem(("engine", "charger"), words))
    elif charger is not None and fuel in tables.fuels and fuel not in tables.chargers[charger].consumption:
        known = ", ".join(sorted(tables.chargers[charger].consumption))
        words = f"charger '{charger}' has no consumption for fuel '{fuel}' (it has: {known})"
        found.append(document.problem(("engine", "charger"), words))
    driving = data.get("driving")
    if isinstance(driving, str) and driving not in tables.driving:
        found.append(document.problem(("driving",), not_known("driving", driving, tables.driving)))
    ice = data.get("ice") if isinstance(data.get("ice"), dict) else {}
    kind = ice.get("kind")
    if isinstance(kind, str) and kind not in tables.ice:
        words = DRY_ICE if is_dry(kind) else not_known("ice", kind, tables.ice)
        found.append(document.problem(("ice", "kind"), words))
    known_layouts = {layout.id: layout for layout in catalogue.layouts}
    for index, word in enumerate(_listed(data, "layouts")):
        if isinstance(word, str) and word not in known_layouts:
            found.append(document.problem(("layouts", index), not_known("layout", word, known_layouts)))
    for index, word in enumerate(_listed(data, "without")):
        if isinstance(word, str) and word not in catalogue.parts and word not in PART_KINDS:
            advice = nearest(word, [*PART_KINDS, *catalogue.parts])
            words = f"'{word}' is neither the id of a part nor a kind of part{advice} (kinds: {', '.join(PART_KINDS)})"
            found.append(document.problem(("without", index), another_part(word, catalogue.parts) or words))
    return found


def is_dry(kind: str) -> bool:
    """Whether a name of ice speaks of frozen carbon dioxide."""
    words = re.split(r"[^a-z0-9]+", kind.lower())
    return "dry" in words or "co2" in words or "dioxide" in words


def _wanted_in_vain(document: Document, catalogue: Catalogue, own: Sequence[OwnPart]) -> Iterator[Problem]:
    """Parts that are wanted and that no kit of the brief can hold, whatever else is on the shelf.

    An own part whose entry has mistakes is known all the same: those are told, and are what is to be mended.
    """
    parts = {**catalogue.parts, **{held.part.id: held.part for held in own}}
    may_be = [name for name, part in parts.items() if part.kind in WANTED_KINDS]
    own_ids = [item.get("id") for item in _listed(document.data, "own") if isinstance(item, dict)]
    for index, word in enumerate(_listed(document.data, "wanted")):
        if word in own_ids and word not in parts:
            continue
        if isinstance(word, str) and word not in may_be:
            kinds = f"{', '.join(WANTED_KINDS[:-1])} or {WANTED_KINDS[-1]}"
            words = another_part(word, {name: parts[name] for name in may_be})
            words = words or f"'{word}' is the id of no {kinds} on this shelf{nearest(word, may_be)}"
            if word in parts:
                words = f"'{word}' is {with_article(parts[word].kind)}: only a {kinds} can be wanted"
            yield document.problem(("wanted", index), words)
        elif isinstance(word, str):
            words = _in_vain(word, parts[word].kind, document.data, catalogue, own)
            if words:
                yield document.problem(("wanted", index), words)


def _in_vain(word: str, kind: str, data: Any, catalogue: Catalogue, own: Sequence[OwnPart]) -> str:
    """What else in a brief keeps a part out that it wants; nothing where all is well."""
    without, layouts = (set(map(str, _listed(data, key))) for key in ("without", "layouts"))
    if {word, kind} & without:
        return f"'{word}' is wanted here and not wanted under without"
    stays = next((held.part.id for held in own if held.fitted and held.part.kind == kind), None)
    if stays is not None:
        return "" if stays == word else f"'{stays}' stays in the car (fitted: true): no other {kind} goes in"
    if kind == "exchanger" and data.get("ice"):
        bypassed = any(layout.bypass is not None for layout in catalogue.layouts if layout.id in layouts)
        return "" if bypassed else f"'{word}' would warm the ice: with ice no front exchanger is bought"
    return ""


def _listed(data: Any, key: str) -> list[Any]:
    listed = data.get(key)
    return listed if isinstance(listed, list) else []


_ONE_STAYS = ("core", "exchanger", "pump", "reservoir", "cap", "fan", "timer")
"""Kinds of which one part can stay in the car: a second would have no place in a kit."""


def _own_parts(document: Document, catalogue: Catalogue) -> tuple[tuple[OwnPart, ...], list[Problem]]:
    own: list[OwnPart] = []
    problems: list[Problem] = []
    for index, item in enumerate(_listed(document.data, "own")):
        if ("own", index) in document.blamed:
            continue
        part, fitted, found = _own_part(item, index, document, catalogue)
        problems += found
        if part is None:
            continue
        if any(part.id == other.part.id for other in own):
            problems.append(document.problem(("own", index), f"'{part.id}' is listed twice under own"))
            continue
        stays = next((other.part.id for other in own if other.fitted and other.part.kind == part.kind), None)
        if fitted and stays is not None and part.kind in _ONE_STAYS:
            words = f"'{stays}' stays in the car already (fitted: true): of a kind one part can, take it off this one"
            problems.append(document.problem(("own", index, "fitted"), words))
            continue
        own.append(OwnPart(part, fitted))
    return tuple(own), problems


def _own_part(
    item: Any, index: int, document: Document, catalogue: Catalogue
) -> tuple[Part | None, bool, list[Problem]]:
    """One entry: an id, `{id: x, fitted: true}`, or a whole part with its kind."""
    path: KeyPath = ("own", index)
    if not isinstance(item, str | dict):
        words = "an own part is an id, or {id: pump-x, fitted: true}, or a whole part with its kind"
        return None, False, [document.problem(path, words)]
    fitted = item.get("fitted", False) if isinstance(item, dict) else False
    problems = []
    if not isinstance(fitted, bool):
        problems.append(document.problem((*path, "fitted"), "write true or false"))
    if isinstance(item, dict) and "in" in item:
        problems.append(document.problem((*path, "in"), _NO_ZONE_HERE))
    rest = item if isinstance(item, str) else {k: v for k, v in item.items() if k not in ("fitted", "in")}
    part, found = read_part_entry(rest, path, document, catalogue.parts)
    return part, fitted is True, problems + found
