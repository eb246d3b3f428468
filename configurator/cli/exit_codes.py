"""What each exit code says."""

from __future__ import annotations

ALL_WELL = 0
"""A kit, or all well."""
ANSWER_IS_NO = 1
"""It ran, and the answer is no."""
USAGE = 2
"""The command line itself is wrong."""
BAD_INPUT = 3
"""A file that the user wrote cannot be used."""
UNDECIDED = 4
"""Stopped early, fit not decided, bay unmeasured, or nothing proven."""
INTERRUPTED = 130
"""Ctrl-C, as shells number it; typer ends with the same."""
