"""Records as JSON and back: every one of the shipped catalogue comes back equal, and equal in its repr."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.brief.tables import Tables
from configurator.files.find_catalogue import shipped_catalogue
from configurator.files.load_catalogue import load_catalogue
from configurator.files.plain_records import read_plainly, written_plainly
from configurator.foundations.records import Record
from configurator.foundations.units import Figure
from configurator.parts.kinds import Cap, Hose, Pump
from configurator.parts.shelf import Catalogue, make_catalogue


@pytest.fixture(scope="module")
def shipped() -> tuple[Catalogue, Tables]:
    return load_catalogue(shipped_catalogue())


def back(value: Any) -> Any:
    return read_plainly(written_plainly(value))


def told(value: Any) -> Any:
    """All that a value is, type by type: what `==` and repr do not look at as well."""
    if isinstance(value, Figure):
        return ("figure", float(value).hex(), value.text, value.standing, value.source)
    if isinstance(value, Record):
        inside = [(name, told(inner)) for name, inner in vars(value).items()]
        return (type(value), sorted(value.model_fields_set), inside)
    if isinstance(value, tuple):
        return ("tuple", [told(inner) for inner in value])
    if isinstance(value, dict):
        return ("dict", [(key, told(inner)) for key, inner in value.items()])
    return (type(value), repr(value))


def test_every_record_of_the_shipped_catalogue_comes_back_as_it_was(shipped: tuple[Catalogue, Tables]) -> None:
    catalogue, tables = shipped
    records = [*catalogue.parts.values(), *catalogue.layouts]
    records += [record for table in vars(tables).values() for record in table.values() if isinstance(record, Record)]
    assert len(records) > 300 and {type(record).__name__ for record in records} >= {"Core", "Charger", "Layout", "Soak"}
    for record, again in zip(records, back(tuple(records)), strict=True):
        assert again == record and repr(again) == repr(record)
        assert told(again) == told(record)
        assert again.model_dump_json(by_alias=True) == record.model_dump_json(by_alias=True)
    again = make_catalogue(back(tuple(catalogue.parts.values())), back(catalogue.layouts))
    assert again.fingerprint == catalogue.fingerprint


def test_a_change_of_any_part_would_be_seen(shipped: tuple[Catalogue, Tables]) -> None:
    """The case that shows that the comparison above can fail."""
    part = shipped[0].parts["pump-50-medium"]
    other = part.model_copy(update={"mass_kg": Figure(float(part.mass_kg or 0), "the same, written otherwise")})
    assert other == part, "figures are compared by what they say"
    assert told(other) != told(part)


figures = st.builds(
    Figure,
    st.floats(allow_nan=False),
    st.text(max_size=8),
    st.none() | st.sampled_from(["measured", "published"]),
    st.none() | st.text(max_size=8),
)
scalars = st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False) | st.text(max_size=8)
values = st.recursive(
    scalars | figures,
    lambda inner: st.lists(inner, max_size=5).map(tuple) | st.dictionaries(st.text(max_size=4), inner, max_size=5),
    max_leaves=25,
)


@given(st.lists(values, max_size=6).map(tuple))
def test_whatever_stands_in_records_comes_back(value: tuple[Any, ...]) -> None:
    """Figures as written, numbers of each kind, texts of any script, tuples within tuples."""
    assert told(back(value)) == told(value)


@pytest.mark.parametrize("alike", [(1, 1.0, True), (0.0, -0.0), (Figure(0.0, "0 mm"), Figure(-0.0, "0 mm")), ((), {})])
def test_values_that_are_equal_and_not_the_same_stay_apart(alike: tuple[Any, ...]) -> None:
    assert told(back(tuple((one,) for one in alike))) == told(tuple((one,) for one in alike))


def test_what_is_not_kept_is_said() -> None:
    with pytest.raises(TypeError, match="set"):
        written_plainly(({1, 2},))


def test_a_record_that_came_back_is_frozen_and_closed(shipped: tuple[Catalogue, Tables]) -> None:
    for kind in (Pump, Cap, Hose):
        again = back((shipped[0].of(kind)[0],))[0]
        with pytest.raises(ValueError, match="frozen"):
            again.name = "another"
