"""The shipped shelf is complete, in order, and holds together: every port and every spigot can be joined."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml

from configurator.parts.ends import End
from configurator.parts.kinds import PART_KINDS, Adapter, Clamp, Hose, Part
from configurator.parts.passages import Passage

CATALOGUE = Path(__file__).parents[2] / "catalogue"
SECTIONS = {kind + ("es" if kind.endswith("h") else "s"): model for kind, model in PART_KINDS.items()}
TABLES = ("fuels", "chargers", "driving", "coolants", "ice", "layouts", "soak")

# A hose or coupler holds on a spigot a little larger than its bore. Common practice, no source.
HOSE_OVER_BORE = (0.98, 1.06)
COUPLER_OVER_BORE = (0.98, 1.03)
THREADED = ("orb", "flare37", "npt", "g", "metric")


def read_all() -> dict[str, list[dict[str, Any]]]:
    """Every list of every file, as written."""
    found: dict[str, list[dict[str, Any]]] = {}
    for path in sorted(CATALOGUE.glob("*.yaml")):
        for section, entries in yaml.safe_load(path.read_text(encoding="utf-8")).items():
            if isinstance(entries, list):
                found.setdefault(section, []).extend(entries)
    return found


WRITTEN = read_all()
PARTS: dict[str, Part] = {
    row["id"]: model.model_validate(row)
    for section, model in SECTIONS.items()
    for row in WRITTEN.get(section, [])
}
HOSES = [part for part in PARTS.values() if isinstance(part, Hose)]
CLAMPS = [part for part in PARTS.values() if isinstance(part, Clamp)]
ADAPTERS = [part for part in PARTS.values() if isinstance(part, Adapter)]


def ends_of(medium: str) -> Iterator[tuple[Part, End]]:
    """Every end of every part on one side, adapters included."""
    for part in PARTS.values():
        through = isinstance(part, Adapter) and part.medium == medium
        passage = getattr(part, "through" if through else medium, None)
        if isinstance(passage, Passage):
            yield from ((part, end) for end in passage.ends)


@pytest.mark.parametrize(
    ("section", "least"),
    [
        ("cores", 24), ("exchangers", 24), ("pumps", 14), ("reservoirs", 12), ("hoses", 10), ("adapters", 60),
        ("caps", 8), ("clamps", 8), ("fans", 5), ("fuses", 9), ("relays", 3), ("timers", 3), ("wires", 5),
    ],
)
def test_the_shelf_offers_a_choice_of_every_kind(section: str, least: int) -> None:
    assert len(WRITTEN.get(section, [])) >= least


@pytest.mark.parametrize("section", [*SECTIONS, *TABLES])
def test_ids_of_a_section_are_unique_and_sorted(section: str) -> None:
    ids = [row["id"] for row in WRITTEN[section]]
    assert ids == sorted(set(ids))


def test_no_id_and_no_spoken_name_is_used_twice() -> None:
    rows = [row for section in SECTIONS for row in WRITTEN[section]]
    for key in ("id", "name"):
        values = [row[key] for row in rows]
        assert sorted({value for value in values if values.count(value) > 1}) == []


def test_every_name_can_be_spoken_and_is_not_the_id() -> None:
    for part in PARTS.values():
        assert part.name != part.id
        assert part.name[0].isalnum()
        assert "_" not in part.name


def sources_cited(value: object) -> Iterator[str]:
    """Every source key below a piece of a file."""
    if isinstance(value, dict):
        for key, below in value.items():
            if key == "source":
                yield str(below)
            else:
                yield from sources_cited(below)
    elif isinstance(value, list):
        for below in value:
            yield from sources_cited(below)


def test_every_source_key_stands_for_a_text_and_every_text_is_used() -> None:
    texts = yaml.safe_load((CATALOGUE / "sources.yaml").read_text(encoding="utf-8"))["sources"]
    cited: set[str] = set()
    for path in CATALOGUE.glob("*.yaml"):
        cited |= set(sources_cited(yaml.safe_load(path.read_text(encoding="utf-8"))))
    assert sorted(cited - set(texts)) == []
    assert sorted(set(texts) - cited) == []
    assert all(isinstance(text, str) and len(text) > 20 for text in texts.values())


def test_files_of_parts_say_first_that_all_is_invented() -> None:
    for path in CATALOGUE.glob("*.yaml"):
        text = path.read_text(encoding="utf-8")
        if set(yaml.safe_load(text)) & set(SECTIONS):
            first = text.splitlines()[0].lower()
            assert first.startswith("#"), path.name
            assert "invented" in first, path.name
            assert "generic" in first, path.name


def test_every_threaded_port_has_an_adapter_that_leads_to_a_spigot() -> None:
    """The opposite sex of the same thread on one end, a spigot on the other."""
    opposite = {"male": "female", "female": "male"}
    to_spigot = {
        (a.form, a.size, a.sex)
        for adapter in ADAPTERS
        for a, b in (adapter.through.ends, adapter.through.ends[::-1])
        if b.form == "spigot"
    }
    stranded = [
        f"{part.id} {end.name}: {end.form} {end.size} {end.sex}"
        for part, end in ends_of("coolant")
        if end.form in THREADED and not isinstance(part, Adapter)
        and (end.form, end.size, opposite[end.sex or "male"]) not in to_spigot
    ]
    assert stranded == []


def test_every_coolant_spigot_has_a_hose_that_holds_and_a_clamp_that_closes() -> None:
    least, most = HOSE_OVER_BORE
    bare = []
    for part, end in ends_of("coolant"):
        if end.form != "spigot":
            continue
        size = end.size_m or 0.0
        fits = [hose for hose in HOSES if least <= size / hose.bore_m <= most and "coolant" in hose.media]
        if not fits:
            bare.append(f"{part.id} {end.name}: no hose for {end.size}")
        for hose in fits:
            fitted = size + 2 * hose.wall_m
            if not any("coolant" in c.media and c.least_m <= fitted <= c.most_m for c in CLAMPS):
                bare.append(f"{part.id} {end.name}: no clamp for {hose.id} on {end.size}")
    assert bare == []


def test_every_charge_spigot_has_a_straight_coupler_and_a_clamp_for_it() -> None:
    least, most = COUPLER_OVER_BORE
    bare = []
    for part, end in ends_of("charge"):
        if end.form != "spigot":
            continue
        size = end.size_m or 0.0
        fits = [
            a for a in ADAPTERS
            if a.shape == "coupler" and least <= size / (a.through.ends[0].size_m or 1.0) <= most
        ]
        if not fits:
            bare.append(f"{part.id} {end.name}: no coupler for {end.size}")
        for coupler in fits:
            assert coupler.wall_m is not None
            fitted = size + 2 * coupler.wall_m
            if not any("charge" in c.media and c.least_m <= fitted <= c.most_m for c in CLAMPS):
                bare.append(f"{part.id} {end.name}: no clamp for {coupler.id} on {end.size}")
    assert bare == []


@pytest.mark.parametrize("medium", ["coolant", "charge"])
def test_clamps_leave_no_gap_between_their_ranges(medium: str) -> None:
    """From 8 mm (a bleed line) for coolant, from 51 mm for charge, up to 50 mm and 120 mm fitted diameter."""
    ranges = sorted((float(c.least_m), float(c.most_m)) for c in CLAMPS if medium in c.media)
    reach = {"coolant": 0.008, "charge": 0.051}[medium]
    for low, high in ranges:
        assert low <= reach + 1e-9
        reach = max(reach, high)
    assert reach >= {"coolant": 0.050, "charge": 0.120}[medium]


def test_every_neck_of_a_reservoir_has_caps_that_open_at_different_pressures() -> None:
    """At least two steps for each neck, so that a tank is not tied to one cap."""
    opens: dict[str, set[float]] = {}
    for row in WRITTEN["caps"]:
        for end in row["coolant"]["ends"]:
            opens.setdefault(end["size"], set()).add(float(PARTS[row["id"]].opens_pa_gauge))  # type: ignore[attr-defined]
    necks = {end.size for part, end in ends_of("coolant") if end.form == "neck" and end.sex == "male"}
    assert necks
    assert all(len(opens[neck]) >= 2 for neck in necks)
