"""Settings that all tests share: hypothesis runs from fixed seeds, so that a red test is red again.

Answers of the command that several workers ask for are kept in one folder for the length of a run, and so are the
catalogues that the command keeps: nothing is written into the user's own cache.
"""

from __future__ import annotations

import os
import signal
import tempfile

import pytest
from hypothesis import HealthCheck, settings

settings.register_profile(
    "steady", derandomize=True, deadline=None, print_blob=True, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("steady")


def pytest_configure(config: pytest.Config) -> None:
    """The folders are made, and taken away, by the process that starts the workers; they inherit their names.

    A run that a shell has put into the background ignores Ctrl-C and hands that on: here it is heeded again, so that
    the commands that tests start heed it too.
    """
    if signal.getsignal(signal.SIGINT) == signal.SIG_IGN:
        signal.signal(signal.SIGINT, signal.default_int_handler)
    if not hasattr(config, "workerinput"):
        for name in ("KITWRIGHT_TEST_ANSWERS", "XDG_CACHE_HOME"):
            folder = tempfile.TemporaryDirectory(prefix="kitwright-tests-")
            os.environ[name] = folder.name
            config.add_cleanup(folder.cleanup)
