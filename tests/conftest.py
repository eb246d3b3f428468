"""Settings that all tests share: hypothesis runs from fixed seeds, so that a red test is red again.

Answers of the command that several workers ask for are kept in one folder for the length of a run.
"""

from __future__ import annotations

import os
import tempfile

import pytest
from hypothesis import HealthCheck, settings

settings.register_profile(
    "steady", derandomize=True, deadline=None, print_blob=True, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("steady")


def pytest_configure(config: pytest.Config) -> None:
    """The folder is made, and taken away, by the process that starts the workers; they inherit its name."""
    if not hasattr(config, "workerinput"):
        folder = tempfile.TemporaryDirectory(prefix="kitwright-answers-")
        os.environ["KITWRIGHT_TEST_ANSWERS"] = folder.name
        config.add_cleanup(folder.cleanup)
