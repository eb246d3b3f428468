"""The schemas for editors: made from the models, so they know every key and allow what the readers allow."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from configurator.errors import CannotWrite
from configurator.files.load_catalogue import SECTIONS
from configurator.files.schemas import brief_schema, catalogue_schema, write_schemas


def _all_keys(value: Any) -> set[str]:
    if isinstance(value, dict):
        return set(value).union(*map(_all_keys, value.values()))
    if isinstance(value, list):
        return set().union(*map(_all_keys, value))
    return set()


def test_the_brief_by_its_written_keys() -> None:
    schema = brief_schema()
    assert set(schema["required"]) == {"brief", "engine", "site", "driving", "aim", "bay"}
    assert schema["additionalProperties"] is False
    assert set(schema["$defs"]["Site"]["properties"]) == {"air", "humidity", "altitude", "coldest"}
    assert {"const": "unmeasured"} in schema["properties"]["bay"]["anyOf"]
    assert "power_w" not in _all_keys(schema)


def test_the_catalogue_has_every_section() -> None:
    schema = catalogue_schema()
    assert list(schema["properties"]) == list(SECTIONS)
    core = schema["$defs"]["Core"]
    assert {"id", "name", "price", "mass", "size", "charge", "coolant", "arrangement"} <= set(
        core["required"]
    )
    assert schema["$defs"]["End"]["properties"]["size"]["type"] == ["string", "number"]
    for passage, keys in (("Passage", set()), ("LossPassage", {"loss", "loss_at"}), ("BoredPassage", {"bore"})):
        properties = schema["$defs"][passage]["properties"]
        assert {"loss", "loss_at", "bore"} & set(properties) == keys
        assert "bar" in json.dumps(properties["working"])


def test_nothing_is_ever_written_as_null() -> None:
    for schema in (brief_schema(), catalogue_schema()):
        assert "null" not in json.dumps(schema)


def test_every_reference_leads_somewhere() -> None:
    for schema in (brief_schema(), catalogue_schema()):
        text = json.dumps(schema)
        named = {part.split('"')[0] for part in text.split('"#/$defs/')[1:]}
        assert named
        assert named <= set(schema["$defs"])


def test_they_are_written_over_older_ones_and_the_same_each_time(tmp_path: Path) -> None:
    first = [path.read_bytes() for path in write_schemas(tmp_path)]
    assert [path.read_bytes() for path in write_schemas(tmp_path)] == first
    assert all(json.loads(text)["$schema"].startswith("https://json-schema.org/") for text in first)
    with pytest.raises(CannotWrite):
        write_schemas(tmp_path / "none")
