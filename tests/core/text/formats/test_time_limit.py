"""What takes too long is cut short, and said so."""

from __future__ import annotations

import contextlib
import signal
import sys
import threading
import time

import pytest

from darby.text import files
from darby.text.formats import time_limit
from darby.text.formats.time_limit import TooLongError, at_most, over

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="no timers of that kind")


def spin() -> None:
    while True:
        with contextlib.suppress(Exception):  # as a library that catches all
            sum(range(1000))


def test_what_takes_too_long_is_cut_short_and_what_does_not_is_not() -> None:
    before = signal.getsignal(signal.SIGPROF)
    with pytest.raises(TooLongError), at_most(1):
        spin()
    with at_most(60):
        pass
    assert signal.getitimer(signal.ITIMER_PROF) == (0.0, 0.0)
    assert signal.getsignal(signal.SIGPROF) == before


def test_one_limit_within_another_leaves_the_outer_one_alone() -> None:
    with at_most(60):
        with at_most(1):
            assert signal.getitimer(signal.ITIMER_PROF)[0] > 30
        assert signal.getitimer(signal.ITIMER_PROF)[0] > 30


def test_in_another_thread_nothing_is_cut_short_but_between_pages() -> None:
    told = []

    def work() -> None:
        with at_most(1):
            told.append(signal.getitimer(signal.ITIMER_PROF)[0])

    thread = threading.Thread(target=work)
    thread.start()
    thread.join()
    assert told == [0]
    over(time.process_time())
    with pytest.raises(TooLongError):
        over(time.process_time() - 500)


def test_a_document_that_takes_too_long_is_an_error_with_a_way_out(monkeypatch: pytest.MonkeyPatch) -> None:
    from darby.text.formats import pdf

    def never(_: bytes) -> tuple[str, tuple[str, ...]]:
        raise TooLongError

    monkeypatch.setattr(pdf, "text_of", never)
    source, (told,) = files.decode(b"%PDF-1.7", "spec.pdf")
    assert source is None
    assert told.code == "file-no-text"
    assert told.message.endswith(f"that takes more than {time_limit.ALLOWANCE} seconds.")
    assert told.help
