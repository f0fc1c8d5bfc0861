"""Plugins: loaded one by one, checked, blocked, replaced; what one breaks costs its own contribution only."""

from __future__ import annotations

import subprocess
import sys

from darby.text.diagnostics import Severity
from entries import GOOD, FakeEntry, codes, fails, load, names


def test_plugins_are_blocked_by_name_before_they_are_loaded() -> None:
    bad = FakeEntry("bad", fails(ImportError("x")))
    plugins = load(*GOOD, bad, without=["bad", "alpha"])
    assert (names(plugins), codes(plugins), plugins.failed) == (["z"], [], ())
    plugins = load(*GOOD, bad, only=["alpha"])
    assert (names(plugins), codes(plugins), plugins.names) == (["a"], [], (("alpha", "1.2"),))
    assert load(*GOOD, only=[]).names == ()


def test_blocking_an_unknown_plugin_is_the_users_mistake_and_names_the_nearest() -> None:
    plugins = load(*GOOD, without=["alfa"], only=["alpha", "zulu", "mike"])
    assert [(d.code, d.severity, d.help) for d in plugins.diagnostics] == [
        ("plugin-unknown", Severity.ERROR, "Did you mean alpha?"),
        ("plugin-unknown", Severity.ERROR, "The plugins are: alpha, zulu."),
    ]
    assert names(plugins) == ["a", "z"]


def test_loading_the_module_loads_no_pluggy() -> None:
    script = "import sys, darby.plugin_host.loader; print('pluggy' in sys.modules)"
    done = subprocess.run((sys.executable, "-c", script), capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"
