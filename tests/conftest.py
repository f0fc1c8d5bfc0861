"""What holds for all tests."""

from __future__ import annotations

import gc
import os

from hypothesis import HealthCheck, settings

os.environ.setdefault("DARBY_ALLOWANCE", "600")  # seconds that a part of a plugin may take
# No test hangs on how fast the machine is, or on what else it has to do.
settings.register_profile("darby", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("darby")


def pytest_collection_finish() -> None:
    """The thousands of collected tests stay to the end: the collector of garbage need not look at them again and again."""
    gc.collect()
    gc.freeze()
