"""Where things lie in the checkout, from wherever a test stands."""

from __future__ import annotations

from pathlib import Path

ROOT = Path(__file__).parents[1]
FIXTURES = ROOT / "fixtures"
