"""The base of every model that a file is read into: frozen, and closed against unknown keys."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Record(BaseModel):
    """A frozen record read from a file. Fields carry the unit in their name, keys of the file are the alias."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=False, hide_input_in_errors=True)
