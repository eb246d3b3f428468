"""The schemas for editors: made from the models, so they know every key and allow what the readers allow."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from configurator.errors import CannotWrite
from configurator.files.load_catalogue import SECTIONS
from configurator.files.schemas import (
    BRIEF_SCHEMA_FILE,
    CATALOGUE_SCHEMA_FILE,
    brief_schema,
    catalogue_schema,
    write_schemas,
)
from tests.journeys.kitwright import command


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
    first = [path.read_bytes() for path in write_schemas(tmp_path, force=False)]
    assert [path.read_bytes() for path in write_schemas(tmp_path, force=True)] == first
    assert all(json.loads(text)["$schema"].startswith("https://json-schema.org/") for text in first)
    with pytest.raises(CannotWrite):
        write_schemas(tmp_path / "none", force=False)


@pytest.mark.parametrize("taken", [BRIEF_SCHEMA_FILE, CATALOGUE_SCHEMA_FILE])
def test_a_file_that_is_there_stays_unless_force_is_said(taken: str, tmp_path: Path) -> None:
    (tmp_path / taken).write_text("mine", encoding="utf-8")
    run = command("suggest", "--schemas", tmp_path)
    assert run.code == 3 and f"{taken}' is there already; nothing was written" in run.err and "--force" in run.err
    assert [(path.name, path.read_text(encoding="utf-8")) for path in tmp_path.iterdir()] == [(taken, "mine")]
    assert command("suggest", "--schemas", tmp_path, "--force").code == 0
    assert len([json.loads(path.read_text(encoding="utf-8")) for path in tmp_path.iterdir()]) == 2
