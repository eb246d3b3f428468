"""What a price list changes, for other programs: one JSON document, format 1."""

from __future__ import annotations

import json

from configurator.presentation.problems_json import FORMAT
from configurator.questions.shelf_prices import PriceChanges


def shelf_prices_json(found: PriceChanges, backup: str | None) -> str:
    """The changes as JSON text; `backup`: the folder with what the files were, None where nothing was written."""
    document = {
        "format": FORMAT,
        "rows": found.rows,
        "written": backup is not None,
        "backup": backup,
        "changes": [
            {
                "part": change.part,
                "key": change.key,
                "old": change.old,
                "new": float(change.new) if change.key == "price" else int(change.new),
                "jumps": change.jumps,
                "line": change.line,
            }
            for change in found.changes
        ],
        "not_on_shelf": [{"named": row.named, "line": row.line} for row in found.unknown],
        "not_in_list": list(found.lacking),
        "discontinued": list(found.discontinued),
    }
    return json.dumps(document, indent=1, ensure_ascii=False, allow_nan=False)
