"""The kit for whoever writes a trade: cases as data, and one conformance check that every trade must pass.

With pytest installed, files named `*.cases.toml` are collected and run wherever they lie; `darby.testing.cases` says what
they hold. The conformance check runs from such a file too (`[conformance]`), or from a test of your own:

    from darby.testing import Bench, faults

    def test_our_trade_conforms() -> None:
        assert faults(Bench.of("our_trade", specification="Walls: one layer of felt.")) == []
"""

from __future__ import annotations

from darby.testing.bench import Bench
from darby.testing.conformance import CHECKS, faults

__all__ = ["CHECKS", "Bench", "faults"]
