"""Settings that all tests share: hypothesis runs from fixed seeds, so that a red test is red again."""

from __future__ import annotations

from hypothesis import HealthCheck, settings

settings.register_profile(
    "steady", derandomize=True, deadline=None, print_blob=True, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("steady")
