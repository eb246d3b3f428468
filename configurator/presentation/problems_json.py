"""Problems of what the user wrote for other programs, and the number of the format that every document states."""

from __future__ import annotations

import json
from collections.abc import Sequence

from configurator.errors import Problem

FORMAT = 1


def problems_json(problems: Sequence[Problem]) -> str:
    """Bad input for other programs."""
    document = {"format": FORMAT, "outcome": "bad_input", "problems": problems_listed(problems)}
    return json.dumps(document, indent=1, ensure_ascii=False)


def problems_listed(problems: Sequence[Problem]) -> list[dict[str, str | int]]:
    """Each problem with its place."""
    return [{"file": p.file, "line": p.line, "column": p.column, "key": p.key, "text": p.text} for p in problems]
