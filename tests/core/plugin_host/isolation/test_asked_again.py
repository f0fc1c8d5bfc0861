"""What a trade gives when it is asked the same again is waited for once, and remembered."""

from __future__ import annotations

import pytest

from darby.estimate.line_item import LineItem
from darby.plugin_host.isolation.asked_again import AskedAgain, Lines
from darby.plugin_host.isolation.failures import BrokenError
from darby.quantities.amounts import Amount


def test_an_answer_is_waited_for_once() -> None:
    heard: list[str] = []
    again = AskedAgain(lambda: heard.append("same"))
    for _ in range(2):
        again.hear()
        again.settle()
    assert heard == ["same"]


def test_one_that_is_not_the_same_raises_whenever_it_is_settled() -> None:
    def other() -> None:
        raise BrokenError("gave other lines")

    again = AskedAgain(other)
    again.hear()
    for _ in range(2):
        with pytest.raises(BrokenError, match="gave other lines"):
            again.settle()


def test_lines_are_a_list_and_know_what_they_wait_for() -> None:
    again = AskedAgain(lambda: None)
    item = LineItem("hook", Amount.of(2))
    lines = Lines([item], again)
    assert lines == [item]
    assert lines.again is again
