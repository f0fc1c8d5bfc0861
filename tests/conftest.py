"""What holds for all tests."""

from __future__ import annotations

import atexit
import gc
import os
import shutil
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, settings
from xdist.remote import Producer
from xdist.scheduler import WorkStealingScheduling

from real_readers import CHROMIUM, program

if TYPE_CHECKING:
    from playwright.sync_api import Browser

os.environ.setdefault("DARBY_ALLOWANCE", "600")  # seconds that a part of a plugin may take
os.environ.pop("CI", None)  # replays of the tests go on where they were stopped
os.environ["XDG_STATE_HOME"] = tempfile.mkdtemp(prefix="darby-state-")
atexit.register(shutil.rmtree, os.environ["XDG_STATE_HOME"], ignore_errors=True)
if os.environ.pop("PYTHONDONTWRITEBYTECODE", ""):
    # No bytecode is wanted beside the sources. Without any, hundreds of processes would compile all of Darby each anew.
    os.environ["PYTHONPYCACHEPREFIX"] = sys.pycache_prefix = str(
        Path(__file__).parents[1] / ".pytest_cache" / "bytecode"
    )
    sys.dont_write_bytecode = False
# No test hangs on how fast the machine is, or on what else it has to do.
settings.register_profile("darby", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("darby")


def pytest_collection_finish() -> None:
    """The thousands of collected tests stay to the end: the collector of garbage need not look at them again and again, nor after
    every few hundred values of a text that is read."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(20_000, 10, 10)


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Producer) -> object:
    """Neighbors stay together, so that what a module shares is made once, and whoever is done takes some of the others' work."""
    return WorkStealingScheduling(config, log) if config.getoption("dist") == "load" else None


@pytest.fixture
def browser(_browser: Browser) -> Iterator[Browser]:
    """A real browser, in which nothing is open: pages that a test left would go on asking and drawing."""
    yield _browser
    for context in _browser.contexts:
        context.close()


@pytest.fixture(scope="session")
def _browser() -> Iterator[Browser]:
    """One for all tests of a process."""
    chromium = program(CHROMIUM, "Chromium")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        yield opened
        opened.close()
