"""The course of one drive as CSV: every half second, all that an energy balance needs."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping


def trace_csv(records: Iterable[Mapping[str, float]]) -> str:
    """CSV text with a header; figures to seven digits."""
    text = io.StringIO()
    writer: csv.DictWriter[str] | None = None
    for record in records:
        if writer is None:
            writer = csv.DictWriter(text, fieldnames=list(record), lineterminator="\n")
            writer.writeheader()
        writer.writerow({key: f"{value:.7g}" for key, value in record.items()})
    return text.getvalue()
