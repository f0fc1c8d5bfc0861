"""Beside each module of the core its tests: `tests/core/rules/test_cascade.py`, or several by aspect, `test_cascade_*.py`."""

from __future__ import annotations

from checkout import ROOT

CORE, TESTS = ROOT / "core" / "darby", ROOT / "tests" / "core"
