"""What is wrong with a shelf for other programs: one JSON document, format 1."""

from __future__ import annotations

import json
from collections.abc import Sequence

from configurator.errors import Problem
from configurator.presentation.problems_json import FORMAT
from configurator.questions.shelf_check import Finding


def shelf_check_json(found: Sequence[tuple[Finding, Problem]], parts: int, fingerprint: str) -> str:
    """The findings with their places as JSON text."""
    document = {
        "format": FORMAT,
        "outcome": "found" if found else "all_well",
        "catalogue": fingerprint,
        "of": parts,
        "findings": [
            {
                "code": finding.code,
                "subject": finding.subject,
                "file": problem.file,
                "line": problem.line,
                "column": problem.column,
                "key": problem.key,
                "text": problem.text,
            }
            for finding, problem in found
        ],
    }
    return json.dumps(document, indent=1, ensure_ascii=False, allow_nan=False)
