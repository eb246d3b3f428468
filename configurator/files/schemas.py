"""JSON schemas of a brief and of a catalogue file, made from the models, so that an editor completes keys."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any, Final

from pydantic.json_schema import models_json_schema

from configurator.brief.request import Brief
from configurator.files.load_catalogue import PART_SECTIONS, TABLE_SECTIONS
from configurator.files.write_file import refuse_to_overwrite, write_whole

BRIEF_SCHEMA_FILE: Final = "kitwright-brief.schema.json"
CATALOGUE_SCHEMA_FILE: Final = "kitwright-catalogue.schema.json"
_DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"


def brief_schema() -> dict[str, Any]:
    """The schema of a brief file."""
    schema: dict[str, Any] = _without_null(Brief.model_json_schema(by_alias=True))
    bay = schema["properties"]["bay"]
    schema["properties"]["bay"] = {"anyOf": [bay, {"const": "unmeasured"}]}
    entry = {"type": "object", "properties": {"id": {"type": "string"}, "fitted": {"type": "boolean"}}}
    schema["properties"]["own"]["items"] = {"anyOf": [{"type": "string"}, {**entry, "required": ["id"]}]}
    return {"$schema": _DIALECT, "title": "kitwright brief", **schema}


def catalogue_schema() -> dict[str, Any]:
    """The schema of a catalogue file: any of the sections, each a list of its records."""
    sections = {**PART_SECTIONS, **TABLE_SECTIONS}
    of_model, shared = models_json_schema(
        [(model, "validation") for model in dict.fromkeys(sections.values())], by_alias=True
    )
    listed = {
        name: {"type": "array", "items": _without_null(of_model[model, "validation"])}
        for name, model in sections.items()
    }
    return {
        "$schema": _DIALECT,
        "title": "kitwright catalogue file",
        "type": "object",
        "properties": {
            **listed,
            "sources": {"type": "object", "additionalProperties": {"type": "string"}},
            "bounds": {"type": "object"},
        },
        "additionalProperties": False,
        **_without_null(shared),
    }


def write_schemas(folder: Path, *, force: bool) -> tuple[Path, Path]:
    """Write both schemas into a folder, with `force` over older ones. Raises CannotWrite before any is replaced."""
    written = (folder / BRIEF_SCHEMA_FILE, folder / CATALOGUE_SCHEMA_FILE)
    for path in written:
        refuse_to_overwrite(path, force=force)
    for path, schema in zip(written, (brief_schema(), catalogue_schema()), strict=True):
        write_whole(path, json.dumps(schema, indent=1, sort_keys=True) + "\n", force=force)
    return written


def _without_null(schema: Any) -> Any:
    """A key that may be left out is never written as null: take that alternative and such defaults away."""
    if isinstance(schema, list):
        return [_without_null(item) for item in schema]
    if not isinstance(schema, dict):
        return schema
    kept = {
        key: _without_null(item)
        for key, item in schema.items()
        if key != "default" or isinstance(item, bool | str)
    }
    choices = kept.get("anyOf")
    if isinstance(choices, list):
        kept["anyOf"] = [choice for choice in choices if choice != {"type": "null"}]
        if len(kept["anyOf"]) == 1:
            return {**kept.pop("anyOf")[0], **kept}
    return kept
