"""Lines of a trade that is asked the same again in its child while Darby goes on with other work.

They count once it gave the same: whoever called the trade settles them before they go into an estimate.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

from darby.estimate.line_item import LineItem
from darby.plugin_host.isolation.failures import BrokenError


class AskedAgain:
    """What a trade gives when it is asked the same again. `answer` waits for it, and raises BrokenError where it is not the same."""

    def __init__(self, answer: Callable[[], object]) -> None:
        self._answer: Callable[[], object] | None = answer
        self._broken: BrokenError | None = None

    def hear(self) -> None:
        """Wait for the answer, where it is not there yet."""
        if self._answer is not None:
            answer, self._answer = self._answer, None
            try:
                answer()
            except BrokenError as broken:
                self._broken = broken

    def settle(self) -> None:
        """Wait for the answer. Raises BrokenError where it is not the same, whenever it is asked."""
        self.hear()
        if self._broken is not None:
            raise self._broken


class Lines(list[LineItem]):
    """Line items that do not count yet."""

    def __init__(self, items: Iterable[LineItem], again: AskedAgain) -> None:
        super().__init__(items)
        self.again = again
