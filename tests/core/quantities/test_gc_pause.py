"""The collector of cycles is held back where values are made in bulk, and left as it was found."""

from __future__ import annotations

import gc

import pytest

from darby.quantities.gc_pause import in_bulk


def test_the_collector_is_off_inside_and_on_again_behind() -> None:
    assert gc.isenabled()
    with in_bulk():
        assert not gc.isenabled()
        with in_bulk():
            assert not gc.isenabled()
        assert not gc.isenabled()
    assert gc.isenabled()


def test_the_collector_is_on_again_after_an_error() -> None:
    @in_bulk()
    def fails() -> None:
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        fails()
    assert gc.isenabled()


def test_a_collector_that_somebody_switched_off_stays_off() -> None:
    gc.disable()
    try:
        with in_bulk():
            pass
        assert not gc.isenabled()
    finally:
        gc.enable()
